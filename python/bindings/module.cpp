#include "bindings.hpp"
#include <fitwright/fields/error.hpp>
#include <fitwright/fields/level.hpp>

namespace {
// What was read letter by letter may end within one.
py::str text_of(const std::string& text) {
    return py::reinterpret_steal<py::str>(
        PyUnicode_DecodeUTF8(text.data(), static_cast<Py_ssize_t>(text.size()), "replace"));
}
} // namespace

PYBIND11_MODULE(_core, m, py::mod_gil_not_used()) {
    py::register_exception_translator([](std::exception_ptr p) {
        try {
            if (p)
                std::rethrow_exception(p);
        } catch (const fitwright::DomainError& e) {
            py::list problems;
            for (const fitwright::Problem& problem : e.problems())
                problems.append(py::make_tuple(problem.path, text_of(problem.text)));
            const py::object type =
                py::module_::import("fitwright.fields.errors").attr("InputError");
            py::set_error(type, problems);
        }
    });
    m.def("version", [] { return FITWRIGHT_VERSION; });
    m.def("compiler", [] {
#ifdef __clang__
        return "clang " __clang_version__;
#else
        return "g++ " __VERSION__;
#endif
    });
    m.def("active_level", &fitwright::fields::active_level);
    m.def("usable_levels", &fitwright::fields::usable_levels);
    m.def("force_level", &fitwright::fields::force_level, py::arg("level"));
    bind_materials(m); // first: later signatures name its class
    bind_sizes(m);
    bind_bearings(m);
    bind_balls(m);
    bind_fields(m);
    bind_heat(m);
    bind_stack(m);
    bind_job(m);
    bind_bodies(m); // names the job's class
    bind_system(m);
    bind_study(m);
    bind_inverse(m);
    bind_indices(m);
    bind_rare(m);
    bind_explain(m);
}
