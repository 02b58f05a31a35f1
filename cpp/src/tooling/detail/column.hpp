// Columns. Euler  Pe = pi^2 E A/(l/k)^2;  Johnson, below l/k = sqrt(2 pi^2 E/Sy),
// P = A Sy [1 - Sy (l/k)^2/(4 pi^2 E)];  off the axis the edge yields where
//   P/A [1 + e c/k^2 sec(pi/2 sqrt(P/Pe))] = Sy    (Timoshenko, Theory of Elastic Stability)
// solved as x = sqrt(P/Pe) of  x^2 Pe/A (cos(pi x/2) + e c/k^2) = Sy cos(pi x/2), which has no pole.
#pragma once

#include "materials/range.hpp"
#include "verdict.hpp"
#include <fitwright/materials/table.hpp>
#include <fitwright/tooling/column.hpp>

namespace fitwright::rules {
extern const number::Rule no_convergence, outside_of_tube, width_is_greater_side;
} // namespace fitwright::rules

namespace fitwright::tooling {

inline constexpr double half_pi = 1.57079632679489662;
inline constexpr double slenderness_limit = 200.0; // no rod of a tool beyond: common practice

template <class T>
struct Strut {
    T area, gyration, edge; // edge: from the axis to the outermost fibre
    T modulus, yield;
};
template <class T>
Strut<T> round_strut(const T& outside, const T& bore, const T& modulus, const T& yield) {
    const T o2 = square(outside);
    const T b2 = square(bore);
    return {(o2 - b2) * (fields::pi / 4.0), sqrt(o2 + b2) * 0.25, outside * 0.5, modulus, yield};
}

template <class T>
struct EccentricEquation {
    T euler_stress, offset, yield;
    FITWRIGHT_INLINE Residual<T> operator()(const T& x) const {
        const T c = cos(x * half_pi);
        const T s = sin(x * half_pi);
        const T stress = square(x) * euler_stress;
        return {stress * (c + offset) - yield * c,
                x * 2.0 * euler_stress * (c + offset) + s * (yield - stress) * half_pi};
    }
    FITWRIGHT_INLINE EccentricEquation<Value<T>> values() const {
        return {value_of(euler_stress), value_of(offset), value_of(yield)};
    }
};

template <class T>
struct ColumnStrength {
    T slenderness, transition, euler, critical, eccentric, capacity;
};
template <class T>
ColumnStrength<T> column_strength(const Strut<T>& s, const T& effective, const T& eccentricity,
                                  Faults<T>& faults) {
    ColumnStrength<T> c;
    c.slenderness = effective / s.gyration;
    const T pi2_modulus = s.modulus * (fields::pi * fields::pi);
    c.transition = sqrt(pi2_modulus * 2.0 / s.yield);
    // A strut of no length is as strong as its section.
    const T slender2 = larger(square(c.slenderness), T(1e-6));
    c.euler = pi2_modulus * s.area / slender2;
    const T johnson = s.area * s.yield * (1.0 - s.yield * slender2 / (pi2_modulus * 4.0));
    c.critical = select(c.slenderness < c.transition, johnson, c.euler);
    const EccentricEquation<T> equation{c.euler / s.area,
                                        eccentricity * s.edge / square(s.gyration), s.yield};
    const T squash = sqrt(s.yield / equation.euler_stress);
    const T upper = smaller(squash, T(1.0));
    const auto x = root(equation, T(0.0), T(value_of(upper)), T(value_of(upper) * 0.7), T(1e-3));
    faults.require(x.converged, rules::no_convergence, effective);
    c.eccentric = square(x.x) * c.euler;
    c.capacity = smaller(c.critical, c.eccentric);
    return c;
}

template <class T>
void ColumnModel::run(const T* inputs, T* outputs, const fields::Context& context,
                      Faults<T>& faults) {
    const auto& in = *reinterpret_cast<const ColumnInputs<T>*>(inputs);
    auto& out = *reinterpret_cast<ColumnOutputs<T>*>(outputs);
    const materials::Material& metal = *context.materials[0];
    const bool flat = context.choices[0] == static_cast<int>(ColumnSection::rectangle);
    materials::require_in_range(metal, in.temperature, faults);
    const T modulus = materials::at(metal.modulus, in.temperature) * in.modulus_factor;
    const T yield = fields::given(in.yield_strength, materials::at(metal.yield, in.temperature));
    faults.require(in.bore < in.diameter, rules::outside_of_tube, in.diameter);
    const T width = fields::given(in.width, in.diameter);
    faults.require(width >= in.diameter, rules::width_is_greater_side, width);
    constexpr double per_root12 = 0.28867513459481288;
    const Strut<T> s = flat ? Strut<T>{width * in.diameter, in.diameter * per_root12,
                                       in.diameter * 0.5, modulus, yield}
                            : round_strut(in.diameter, in.bore, modulus, yield);
    const ColumnStrength<T> c =
        column_strength(s, T(in.length * in.end_factor), in.eccentricity, faults);
    out.area = s.area;
    out.radius_of_gyration = s.gyration;
    out.slenderness = c.slenderness;
    out.transition = c.transition;
    out.euler_load = c.euler;
    out.critical_load = c.critical;
    out.eccentric_load = c.eccentric;
    out.capacity = c.capacity;
    out.design_factor = times(c.capacity, in.load);
    const T part = smaller(in.load / c.euler, T(0.9999));
    const T bent = cos(sqrt(part) * half_pi);
    out.bow = in.eccentricity * (1.0 / bent - 1.0);
    out.edge_stress =
        in.load / s.area * (in.eccentricity * s.edge / square(s.gyration) / bent + 1.0);
    out.shortening = in.load * in.length / (s.area * modulus);
}

} // namespace fitwright::tooling
