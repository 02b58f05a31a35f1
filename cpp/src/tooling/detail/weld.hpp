// Fillet welds as lines of throat 0.707 h (Shigley's Mechanical Engineering Design, ch. 9):
//   line        A = 0.707 h d             Iu = d^3/12            Ju = d^3/12
//   two lines   A = 1.414 h d             Iu = d^3/6             Ju = d (3 b^2 + d^2)/6
//   rectangle   A = 1.414 h (b + d)       Iu = d^2 (3 b + d)/6   Ju = (b + d)^3/6
//   circle      A = 1.414 pi h r          Iu = pi r^3            Ju = 2 pi r^3
// All stresses act on the throat as shear, added as vectors.
#pragma once

#include "materials/range.hpp"
#include "verdict.hpp"
#include <fitwright/materials/table.hpp>
#include <fitwright/tooling/weld.hpp>

namespace fitwright::tooling {

inline constexpr double throat = 0.707;

template <class T>
struct WeldStrength {
    T allowable, yield;
};
template <class T>
WeldStrength<T> weld_strength(const T& electrode, const T& electrode_yield, const T& base_yield) {
    return {smaller(electrode * 0.30, base_yield * 0.40),
            smaller(electrode_yield, base_yield) * 0.577};
}

template <class T>
struct WeldLine {
    T length, bending, polar; // of the line: length, Iu, Ju
    T along, across;          // from the middle to the worst place
};
template <class T>
WeldLine<T> weld_line(WeldPattern pattern, const T& d, const T& b) {
    const T d3 = cube(d);
    switch (pattern) {
    case WeldPattern::line:
        return {d, d3 / 12.0, d3 / 12.0, d * 0.5, T(0.0)};
    case WeldPattern::two_lines:
        return {d * 2.0, d3 / 6.0, d * (square(b) * 3.0 + square(d)) / 6.0, d * 0.5, b * 0.5};
    case WeldPattern::rectangle:
        return {(b + d) * 2.0, square(d) * (b * 3.0 + d) / 6.0, cube(b + d) / 6.0, d * 0.5,
                b * 0.5};
    default: {
        const T r3 = d3 * 0.125;
        // Where torsion and shear run the same way.
        return {d * fields::pi, r3 * fields::pi, r3 * (2.0 * fields::pi), T(0.0), d * 0.5};
    }
    }
}

template <class T>
void Weld::run(const T* inputs, T* outputs, const fields::Context& context, Faults<T>& faults) {
    const auto& in = *reinterpret_cast<const WeldInputs<T>*>(inputs);
    auto& out = *reinterpret_cast<WeldOutputs<T>*>(outputs);
    const materials::Material& metal = *context.materials[0];
    const auto pattern = static_cast<WeldPattern>(context.choices[0]);
    materials::require_in_range(metal, in.temperature, faults);
    const WeldLine<T> line = weld_line(pattern, in.length, fields::given(in.distance, in.length));
    const T depth = in.leg * throat * in.welds;
    out.throat_area = in.leg * throat * line.length;
    out.direct_stress = in.shear_force / (line.length * depth);
    const T per_polar = in.torque / (line.polar * depth);
    const T along = per_polar * line.across; // torsion, the way the shear force goes
    const T across = per_polar * line.along;
    out.torsion_stress = norm2(along, across);
    const T bend_arm = in.length * 0.5;
    out.normal_stress = in.axial_force / (line.length * depth) +
                        in.bending_moment * bend_arm / (line.bending * depth);
    out.stress = norm2(norm2(across, out.direct_stress + along), out.normal_stress);
    const T yield = materials::at(metal.yield, in.temperature);
    const WeldStrength<T> s = weld_strength(in.electrode_strength, in.electrode_yield, yield);
    out.allowable = s.allowable;
    out.allowable_use = out.stress / s.allowable;
    out.yield_factor = times(s.yield, out.stress);
}

} // namespace fitwright::tooling
