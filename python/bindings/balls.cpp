#include "bindings.hpp"
#include <fitwright/bearings/ball_by_ball.hpp>
#include <fitwright/materials/material.hpp>

namespace {

using namespace fitwright;

bearings::BallByBall balls_of(const std::vector<double>& inputs,
                              const std::vector<const materials::Entry*>& materials) {
    constexpr std::size_t count = sizeof(bearings::EquilibriumInputs<double>) / sizeof(double);
    if (inputs.size() != count || materials.size() != 2)
        throw std::invalid_argument("these are not the inputs of bearings.equilibrium");
    return bearings::equilibrium(
        *reinterpret_cast<const bearings::EquilibriumInputs<double>*>(inputs.data()),
        materials[0]->numbers, materials[1]->numbers);
}

py::array_t<double> square(const std::array<double, 25>& matrix) {
    py::array_t<double> a({5, 5});
    std::copy(matrix.begin(), matrix.end(), a.mutable_data());
    return a;
}

} // namespace

void bind_balls(py::module_& m) {
    using bearings::BallByBall;
    py::class_<BallByBall>(m, "BallByBall")
        .def_readonly("inner_load", &BallByBall::inner_load)
        .def_readonly("outer_load", &BallByBall::outer_load)
        .def_readonly("inner_angle", &BallByBall::inner_angle)
        .def_readonly("outer_angle", &BallByBall::outer_angle)
        .def_readonly("inner_peak", &BallByBall::inner_peak)
        .def_readonly("outer_peak", &BallByBall::outer_peak)
        .def_readonly("centrifugal_force", &BallByBall::centrifugal_force)
        .def_readonly("gyroscopic_moment", &BallByBall::gyroscopic_moment)
        .def_property_readonly("stiffness", [](const BallByBall& b) { return square(b.stiffness); })
        .def_readonly("iterations", &BallByBall::iterations);
    m.def("balls_of", &balls_of, py::arg("inputs"), py::arg("materials"));
}
