// One register function per room.
#pragma once

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
void bind_study(py::module_& m);
void bind_inverse(py::module_& m);
void bind_indices(py::module_& m);

using Column = py::array_t<double, py::array::c_style | py::array::forcecast>;
inline Column column(const std::vector<double>& values) {
    return Column(static_cast<py::ssize_t>(values.size()), values.data());
}
