#include "asked.hpp"
#include <fitwright/study/system.hpp>

namespace {

using namespace fitwright;
using namespace fitwright::study;

System single(const std::string& model, const std::vector<const materials::Entry*>& metals,
              const std::vector<int>& choices) {
    SingleModel made{&fields::model_named(model), {}, choices};
    for (const materials::Entry* metal : metals)
        made.materials.push_back(*metal);
    return System(made);
}

} // namespace

void bind_system(py::module_& m) {
    py::class_<System> system(m, "System");
    system.def(py::init<const job::Job&>(), py::arg("job"))
        .def_static("single", &single, py::arg("model"), py::arg("materials"), py::arg("choices"))
        .def(
            "at",
            [](const System& s, const std::string& level) { return s.at(level_named(level)); },
            py::arg("level"))
        .def("level", [](const System& s) { return level_names[static_cast<int>(s.level())]; })
        .def(
            "level_of",
            [](const System& s, int output) {
                return level_names[static_cast<int>(s.level_of(output))];
            },
            py::arg("output"));
    bind_asked(system);
    py::implicitly_convertible<job::Job, System>();
}
