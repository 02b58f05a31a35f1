#include "bindings.hpp"
#include <fitwright/sizes/bearing_classes.hpp>
#include <fitwright/sizes/iso286.hpp>

namespace {

using namespace fitwright::sizes;

std::pair<Column, Column> limits_of_many(const std::string& class_text, const Column& nominal) {
    const ToleranceClass wanted = parse_class(class_text);
    const std::vector<py::ssize_t> shape(nominal.shape(), nominal.shape() + nominal.ndim());
    Column lower(shape);
    Column upper(shape);
    const auto count = static_cast<std::size_t>(nominal.size());
    const std::span<const double> from(nominal.data(), count);
    const std::span<double> low(lower.mutable_data(), count);
    const std::span<double> high(upper.mutable_data(), count);
    {
        const py::gil_scoped_release release;
        limits_of(wanted, from, low, high);
    }
    return {lower, upper};
}

} // namespace

void bind_sizes(py::module_& m) {
    py::class_<Limits>(m, "SizeLimits")
        .def_readonly("name", &Limits::name)
        .def_property_readonly("hole", [](const Limits& s) { return s.feature == Feature::hole; })
        .def_readonly("nominal", &Limits::nominal)
        .def_readonly("lower", &Limits::lower)
        .def_readonly("upper", &Limits::upper)
        .def_property_readonly("lower_deviation",
                               [](const Limits& s) { return s.deviations.lower; })
        .def_property_readonly("upper_deviation",
                               [](const Limits& s) { return s.deviations.upper; });
    py::class_<Fit>(m, "SizeFit")
        .def_readonly("name", &Fit::name)
        .def("hole", [](const Fit& f) { return f.hole; })
        .def("shaft", [](const Fit& f) { return f.shaft; })
        .def_readonly("interference_least", &Fit::interference_least)
        .def_readonly("interference_greatest", &Fit::interference_greatest);
    m.def("size_limits", [](const std::string& size) { return limits(size); }, py::arg("size"));
    m.def("size_fit", [](const std::string& text) { return fit(text); }, py::arg("text"));
    m.def(
        "size_fit_of", [](const Limits& hole, const Limits& shaft) { return fit(hole, shaft); },
        py::arg("hole"), py::arg("shaft"));
    m.def("size_limits_of", &limits_of_many, py::arg("class_"), py::arg("nominal"));
    m.def("standard_tolerance", &standard_tolerance, py::arg("grade"), py::arg("nominal"));
    m.def("bearing_bore", &bearing_bore, py::arg("nominal"), py::arg("class_"));
    m.def("bearing_outside", &bearing_outside, py::arg("nominal"), py::arg("class_"));
    m.def(
        "bearing_clearance",
        [](double bore, const std::string& group) {
            const Clearance c = bearing_clearance(bore, group);
            return std::pair{c.least, c.greatest};
        },
        py::arg("bore"), py::arg("group"));
    m.def("tolerance_classes", [] {
        std::vector<std::string> names;
        for (const ToleranceClass& c : tolerance_classes())
            names.push_back(text(c));
        return names;
    });
}
