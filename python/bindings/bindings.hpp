// One register function per room.
#pragma once

#include <fitwright/fields/between.hpp>
#include <fitwright/fields/error.hpp>
#include <pybind11/numpy.h>
#include <pybind11/pybind11.h>
#include <pybind11/stl.h>

namespace py = pybind11;

void bind_fields(py::module_& m);
void bind_heat(py::module_& m);
void bind_materials(py::module_& m);
void bind_sizes(py::module_& m);
void bind_stack(py::module_& m);
void bind_bodies(py::module_& m);
void bind_bearings(py::module_& m);
void bind_balls(py::module_& m);
void bind_job(py::module_& m);
void bind_system(py::module_& m);
void bind_study(py::module_& m);
void bind_inverse(py::module_& m);
void bind_indices(py::module_& m);
void bind_rare(py::module_& m);
void bind_explain(py::module_& m);

// Ctrl-C for a long call, which runs without the interpreter's lock.
inline fitwright::fields::Between keyboard() {
    return [] {
        const py::gil_scoped_acquire locked;
        if (PyErr_CheckSignals() != 0)
            throw py::error_already_set();
    };
}

// An argument a user gives to a class of the core: one of a wrong kind is told by name.
template <class T>
T argument(const char* name, const py::object& given, const char* rule) {
    try {
        return py::cast<T>(given);
    } catch (const py::cast_error&) {
        throw fitwright::DomainError({fitwright::Problem{
            name, py::cast<std::string>(py::repr(py::type::of(given))) + " must be " + rule}});
    }
}

using Column = py::array_t<double, py::array::c_style | py::array::forcecast>;
inline Column column(const std::vector<double>& values) {
    return Column(static_cast<py::ssize_t>(values.size()), values.data());
}
