#include "bindings.hpp"
#include <fitwright/bearings/life.hpp>

namespace {

using namespace fitwright::bearings;

std::span<const double> span_of(const Column& c) {
    return {c.data(), static_cast<std::size_t>(c.size())};
}

// Inputs and outputs flat, in the order of the declarations of reference_life.
std::vector<double> ring_life_flat(const std::vector<double>& inputs,
                                   const std::vector<int>& choices, const Column& inner_loads,
                                   const Column& outer_loads) {
    ReferenceLifeInputs<double> in;
    constexpr std::size_t count = sizeof in / sizeof(double);
    if (inputs.size() != count || choices.size() != 4)
        throw std::invalid_argument("wrong number of inputs");
    for (std::size_t i = 0; i < count; ++i)
        (&in.row.balls)[i] = inputs[i];
    const auto out =
        ring_life(in, static_cast<BearingKind>(choices[0]), static_cast<Arrangement>(choices[1]),
                  static_cast<Grooves>(choices[2]), static_cast<TurningRing>(choices[3]),
                  span_of(inner_loads), span_of(outer_loads));
    const double* first = &out.dynamic_rating;
    return {first, first + sizeof out / sizeof(double)};
}

} // namespace

void bind_bearings(py::module_& m) {
    m.def("ring_life", &ring_life_flat, py::arg("inputs"), py::arg("choices"),
          py::arg("inner_loads"), py::arg("outer_loads"));
    m.def(
        "duty_life",
        [](const Column& shares, const Column& speeds, const Column& lives) {
            const DutyLife d = duty_life(span_of(shares), span_of(speeds), span_of(lives));
            return py::make_tuple(d.life, d.running_time, d.damage);
        },
        py::arg("shares"), py::arg("speeds"), py::arg("lives"));
}
