// Does a ring stay put: the bearing's friction torque against what grip and clamped faces hold.
// Friction torque by Palmgren, with the factors tabled in Harris & Kotzalas, Rolling Bearing
// Analysis (from memory; of a range the high end, which drags more).
#pragma once

#include "viscosity.hpp"
#include <fitwright/bearings/running.hpp>

namespace fitwright::rules {
extern const number::Rule load_factor_known;
} // namespace fitwright::rules

namespace fitwright::bearings {

// f1 = z (P0/C0)^y
struct FrictionFactors {
    double viscous, z, y;
};
FITWRIGHT_INLINE double by_supply(OilSupply supply, double bath, double jet, double mist,
                                  double grease) {
    return supply == OilSupply::oil_bath   ? bath
           : supply == OilSupply::oil_jet  ? jet
           : supply == OilSupply::oil_mist ? mist
                                           : grease;
}
FITWRIGHT_INLINE FrictionFactors friction_factors(DraggedBearing bearing, OilSupply supply) {
    switch (bearing) {
    case DraggedBearing::deep_groove:
        return {by_supply(supply, 2.0, 4.0, 1.0, 2.0), 0.0006, 0.55};
    case DraggedBearing::angular_contact:
        return {by_supply(supply, 3.3, 6.6, 1.7, 2.0), 0.001, 0.33};
    case DraggedBearing::thrust_ball:
        return {by_supply(supply, 1.5, 3.0, 0.8, 5.5), 0.0008, 0.33};
    case DraggedBearing::cylindrical_roller:
        return {by_supply(supply, 4.0, 4.0, 2.8, 1.0), 0.0004, 0.0};
    default:
        return {by_supply(supply, 6.0, 10.0, 3.0, 6.0), 0.0004, 0.0};
    }
}

// M0 = 1e-7 f0 (nu n)^(2/3) dm^3 N mm with mm^2/s, r/min and mm; 160 for the power below
// nu n = 2000, so that what is left at rest is not nothing.
template <class T>
FITWRIGHT_INLINE T viscous_torque(const T& factor, const T& viscosity, const T& speed,
                                  const T& pitch_diameter) {
    const T stirred = viscosity * speed * (1e6 * 30.0 / fields::pi);
    const T part = larger(power(stirred, 2.0 / 3.0), T(160.0));
    return factor * part * cube(pitch_diameter * 1e3) * 1e-10;
}
// The load that rolling feels.
template <class T>
T dragging_load(DraggedBearing bearing, const T& angle, const T& radial, const T& axial) {
    // The formula grows without bound as the angle goes; 5 deg is the least it is asked for.
    const T slant = larger(angle, T(5.0 * fields::pi / 180.0));
    const T cotangent = cos(slant) / sin(slant);
    switch (bearing) {
    case DraggedBearing::deep_groove:
        return larger(axial * 3.0 - radial * 0.1, radial);
    case DraggedBearing::angular_contact:
        return larger(axial * cotangent * 0.9 - radial * 0.1, radial);
    case DraggedBearing::thrust_ball:
        return axial;
    case DraggedBearing::cylindrical_roller:
        return radial;
    default:
        return larger(axial * cotangent * 0.8, radial);
    }
}

// mu p pi d^2 L/2 of the grip, mu F Dm/2 of each clamped face.
template <class T>
FITWRIGHT_INLINE T holding_torque(const HeldRing<T>& r) {
    const T face = fields::given(r.face_diameter, r.seat_diameter);
    return r.friction * r.pressure * square(r.seat_diameter) * r.length * (fields::pi * 0.5) +
           r.face_friction * r.clamp_force * r.faces * face * 0.5;
}
template <class T>
FITWRIGHT_INLINE T dragged_share(const T& dragged, const T& held) {
    const auto barely = held * 1e6 < dragged;
    const auto holds = held > T(0.0);
    return select(barely, T(1e6), select(holds, dragged / select(holds, held, T(1.0)), T(0.0)));
}

template <class T>
void Creep::run(const T* inputs, T* outputs, const fields::Context& context, Faults<T>& faults) {
    const auto& in = *reinterpret_cast<const CreepInputs<T>*>(inputs);
    auto& out = *reinterpret_cast<CreepOutputs<T>*>(outputs);
    const auto bearing = static_cast<DraggedBearing>(context.choices[0]);
    const auto factors = friction_factors(bearing, static_cast<OilSupply>(context.choices[1]));
    faults.place = 3;
    const T viscosity = oil_viscosity(in.oil, in.temperature, faults);
    faults.place = 0;
    const auto known = is_given(in.static_rating) & is_given(in.equivalent_static_load);
    const auto told = is_given(in.load_factor);
    faults.require(factors.y > 0.0 ? known | told : known | !known, rules::load_factor_known,
                   in.load_factor);
    const T ratio =
        select(known, in.equivalent_static_load, T(0.0)) / select(known, in.static_rating, T(1.0));
    const T by_kind = factors.y > 0.0 ? power(ratio, factors.y) * factors.z : T(factors.z);

    out.viscous_torque = viscous_torque(fields::given(in.viscous_factor, T(factors.viscous)),
                                        viscosity, in.speed, in.pitch_diameter);
    out.load_torque = fields::given(in.load_factor, by_kind) *
                      dragging_load(bearing, in.contact_angle, in.radial_load, in.axial_load) *
                      in.pitch_diameter;
    out.friction_torque = fields::given(in.failing_torque, T(out.viscous_torque + out.load_torque));
    out.inner_holding = holding_torque(in.inner);
    out.outer_holding = holding_torque(in.outer);
    out.inner_margin = out.inner_holding - out.friction_torque;
    out.outer_margin = out.outer_holding - out.friction_torque;
    out.inner_share = dragged_share(out.friction_torque, out.inner_holding);
    out.outer_share = dragged_share(out.friction_torque, out.outer_holding);
}

} // namespace fitwright::bearings
