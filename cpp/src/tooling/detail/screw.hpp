// A screw that pushes: its torque, its own stress, its threads, its buckling.
#pragma once

#include "column.hpp"

namespace fitwright::rules {
extern const number::Rule column_range;
} // namespace fitwright::rules

namespace fitwright::tooling {

// The same thread as the models of the room threads take it; its point rubs at a mean diameter.
template <class T>
threads::Nut<T> as_nut(const Screw<T>& screw) {
    const T point = fields::given(screw.point_diameter, screw.diameter * 0.4);
    threads::Nut<T> nut = threads::thread_of(screw, screw.lead, screw.engagement);
    nut.face_inside = point * 0.999;
    nut.face_outside = point * 1.001 + 1e-9;
    nut.face_friction = screw.point_friction;
    nut.face_friction_low = screw.point_friction_low;
    nut.face_friction_high = screw.point_friction_high;
    return nut;
}
FITWRIGHT_INLINE threads::NutKind screw_kind(int form) {
    constexpr int forms[] = {threads::trapezoidal, threads::acme, threads::square_thread,
                             threads::iso_metric, threads::unified};
    return {threads::right, forms[form], threads::mean};
}

template <class T>
struct ScrewStrength {
    T torque, torque_high, lowering, self_locking; // torques at the load
    T body_factor, column_factor, thread_factor;
    T slenderness, flank_pressure, root_area, modulus;
    T twisting; // thread torque at the high end of the friction
};
// `partner` is the metal its nut is cut in, at 20 degC like the screw.
template <class T>
ScrewStrength<T> screw_strength(const Screw<T>& screw, const T& load, int form,
                                const materials::Material& metal,
                                const materials::Material& partner, Faults<T>& faults) {
    const threads::Nut<T> nut = as_nut(screw);
    const threads::ThreadGeometry<T> g =
        threads::thread_geometry(nut, T(0.0), faults, screw_kind(form));
    const threads::TorqueEnds<T> k = threads::torque_ends(nut, g, faults);
    ScrewStrength<T> s;
    s.torque = load * k.nominal;
    s.torque_high = load * k.high_friction;
    s.lowering = load * (threads::thread_part(g, nut.thread_friction_low, false, faults) +
                         threads::face_part(g, nut.face_friction_low));
    s.self_locking = nut.thread_friction_low - g.lead / threads::flank_factor(g);
    const T cold(materials::reference_temperature);
    s.modulus = materials::at(metal.modulus, cold) * screw.modulus_factor;
    const T yield = fields::given(screw.yield_strength, materials::at(metal.yield, cold));
    s.root_area = square(g.root_diameter) * (fields::pi / 4.0);
    s.twisting = load * threads::thread_part(g, nut.thread_friction_high, true, faults);
    s.body_factor =
        times(yield, combined(T(load / s.root_area),
                              T(s.twisting * 16.0 / (cube(g.root_diameter) * fields::pi))));
    const T off =
        fields::given(screw.eccentricity, larger(screw.length * 0.01, screw.diameter * 0.02));
    const ColumnStrength<T> c =
        column_strength(round_strut(g.root_diameter, T(0.0), s.modulus, yield),
                        T(screw.length * screw.end_factor), off, faults);
    s.slenderness = c.slenderness;
    faults.require(c.slenderness <= T(slenderness_limit), rules::column_range,
                   T(screw.length * screw.end_factor));
    s.column_factor = times(c.capacity, load);

    threads::StrippingInputs<T> strip{};
    strip.nut = nut;
    strip.preload = load;
    strip.external_major = strip.external_pitch = strip.internal_minor = strip.internal_pitch =
        T(1e301);
    strip.shaft_temperature = strip.nut_temperature = cold;
    strip.shaft_bore = T(0.0);
    threads::StrippingOutputs<T> stripped;
    threads::strip(stripped, strip, g, metal, partner, faults);
    s.flank_pressure = stripped.flank_pressure;
    constexpr double per_root3 = 0.57735026918962576;
    const T shears = smaller(stripped.external_area * yield,
                             stripped.internal_area * materials::at(partner.yield, cold)) *
                     per_root3;
    // The first threads carry two to three times the mean: half is counted (threads/stripping.hpp).
    s.thread_factor = times(T(shears * 0.5), load);
    return s;
}

} // namespace fitwright::tooling
