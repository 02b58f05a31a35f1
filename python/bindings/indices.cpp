#include "bindings.hpp"
#include <fitwright/job/job.hpp>
#include <fitwright/study/indices.hpp>
#include <fitwright/study/inverse.hpp>

namespace {

using namespace fitwright;
using namespace fitwright::study;

IndexStudy make_indices(const System& j, const std::vector<Spread>& spreads,
                        const std::vector<int>& outputs, std::uint64_t seed, std::int64_t count,
                        const std::vector<std::tuple<int, int, double>>& correlations) {
    std::vector<Correlation> tied;
    for (const auto& [first, second, value] : correlations)
        tied.push_back({first, second, value});
    return IndexStudy(subject_of(j), spreads, outputs, seed, count, tied, keyboard());
}

} // namespace

void bind_indices(py::module_& m) {
    py::class_<Index>(m, "Index")
        .def_readonly("value", &Index::value)
        .def_readonly("half", &Index::half);
    py::class_<InputIndices>(m, "InputIndices")
        .def_readonly("first", &InputIndices::first)
        .def_readonly("total", &InputIndices::total)
        .def_readonly("count", &InputIndices::count);
    py::class_<IndexStudy>(m, "IndexRun")
        .def(py::init(&make_indices), py::arg("job"), py::arg("spreads"), py::arg("outputs"),
             py::arg("seed"), py::arg("count"),
             py::arg("correlations") = std::vector<std::tuple<int, int, double>>{},
             py::call_guard<py::gil_scoped_release>())
        .def(
            "advance",
            [](IndexStudy& s, std::int64_t samples, int threads) {
                s.advance(samples, threads, keyboard());
            },
            py::arg("samples"), py::arg("threads"), py::call_guard<py::gil_scoped_release>())
        .def_property_readonly("count", &IndexStudy::count)
        .def_property_readonly("done", &IndexStudy::done)
        .def_property_readonly("evaluations", &IndexStudy::evaluations)
        .def_property_readonly("out_of_domain", &IndexStudy::out_of_domain)
        .def("varies", &IndexStudy::varies, py::arg("output"))
        .def_property_readonly("groups", &IndexStudy::groups)
        .def("indices", &IndexStudy::indices, py::arg("output"), py::arg("group"));
}
