// The end effect of a short ring on a longer shaft.
#pragma once

#include "fit.hpp"
#include <fitwright/rings/overhang.hpp>

namespace fitwright::rules {
extern const number::Rule overhang_range;
} // namespace fitwright::rules

namespace fitwright::rings {

// Shortest ring, over the seat diameter, that the end effect was measured on.
inline constexpr double shortest_overhang = 0.125;

// Mean pressure of a ring with the shaft going on at both sides, over Lame's, less one:
//   (0.1114 + 0.094 q - 0.0761 q^2) S/(L/d + 0.0947 - 0.1464 S),  q = di/d,  S = Cs/(Cs + Cr)
// Fitted to finite elements (docs/theory-rings.md): within 1 % of the pressure for L from d/8 to d,
// q from 0 to 0.75, outsides of 1.25 and 1.5 d, S to 0.53. Below d/8 the value there is kept.
template <class T>
T overhang_excess(const Joint<T>& j, const T& contact_length) {
    const T q = j.shaft.inner / j.shaft.outer;
    const T kappa = q * 0.094 - q * q * 0.0761 + 0.1114;
    const T shaft_share = (square(j.shaft.outer) * 2.0 * j.shaft_span - (1.0 + j.shaft.poisson)) *
                          j.shaft_compliance * j.diameter / j.flexibility;
    return kappa * shaft_share /
           (larger(contact_length / j.diameter, T(shortest_overhang)) + 0.0947 -
            smaller(shaft_share, T(0.55)) * 0.1464);
}

// Hoop stress and use of yield at the bore under another pressure and axial force than in the plain fit;
// speed and heat stay. With the end effect: on the evidence of one length (docs/theory-rings.md).
template <class T>
struct Raised {
    T hoop, von_mises, yield_use;
};
template <class T>
Raised<T> raised(const Joint<T>& j, const FitOutputs<T>& plain, const T& pressure,
                 const T& ring_force, const materials::Material& mr, const T& temperature) {
    const T more = pressure - plain.pressure;
    const T per_pressure = (square(j.ring.outer) + square(j.ring.inner)) * j.ring_span;
    const Stresses<T> s{-pressure, plain.ring_hoop + more * per_pressure,
                        -ring_force * j.ring_span * (1.0 / fields::pi)};
    const T mises = von_mises(s);
    return {s.hoop, mises, mises / materials::at(mr.yield, temperature)};
}

template <class T>
void Overhang::run(const T* inputs, T* outputs, const fields::Context& context, Faults<T>& faults) {
    // The fit's inputs come first, in its order.
    const auto& in = *reinterpret_cast<const OverhangInputs<T>*>(inputs);
    const auto& fit = *reinterpret_cast<const FitInputs<T>*>(inputs);
    auto& out = *reinterpret_cast<OverhangOutputs<T>*>(outputs);
    const Joint<T> j = joint_of_fit(fit, *context.materials[0], *context.materials[1], faults);
    const T contact = fields::given(in.ring.contact_length, in.ring.length);
    faults.place = 2;
    faults.require(contact >= j.diameter * shortest_overhang, rules::overhang_range, contact);
    faults.place = 0;
    const FitOutputs<T> plain =
        fit_outputs(j, fit.ring, fit.axial_force, fit.axial_force, fit.speed, *context.materials[0],
                    *context.materials[1], fit.shaft_temperature, fit.ring_temperature, faults);

    const T excess = in.overhang * overhang_excess(j, contact);
    out.factor = 1.0 + excess;
    const T more = plain.pressure * excess;
    out.pressure = plain.pressure + more;
    out.holding_force = plain.holding_force * out.factor;
    out.torque_capacity = plain.torque_capacity * out.factor;
    // What the pressure does, grows with it; speed, heat and clamp stay.
    const Raised<T> high =
        raised(j, plain, out.pressure, in.axial_force, *context.materials[1], fit.ring_temperature);
    out.ring_hoop = high.hoop;
    out.ring_von_mises = high.von_mises;
    out.ring_yield_use = high.yield_use;
    out.outside_growth = plain.outside_growth + more * 4.0 * square(j.ring.inner) * j.ring.outer *
                                                    j.ring_span * j.ring_compliance;
}

} // namespace fitwright::rings
