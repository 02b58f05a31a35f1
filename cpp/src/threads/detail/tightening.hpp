// ISO metric thread (ISO 68-1): d2 = d - 3 sqrt(3)/8 P, d3 = d - 17 sqrt(3)/24 P,
// stress area pi/4 ((d2 + d3)/2)^2 less the bore.
//   T = F [d2/2 (tan l + mu_n)/(1 - mu_n tan l) + mu_b Dm/2],  tan l = P/(pi d2)
//   mu_n = mu/cos(alpha_n),  tan alpha_n = tan 30deg cos l
//   Dm = 2/3 (D^3 - d^3)/(D^2 - d^2): even pressure under the face
#pragma once

#include <fitwright/fields/rules.hpp>
#include <fitwright/materials/table.hpp>
#include <fitwright/threads/tightening.hpp>

namespace fitwright::threads {

using namespace number;

inline constexpr double pitch_depth = 0.64951905283832899; // 3 sqrt(3)/8
inline constexpr double root_depth = 1.22686932202795475;  // 17 sqrt(3)/24
inline constexpr double tan_flank = 0.57735026918962576;   // tan 30 deg

template <class T>
struct ThreadGeometry {
    T pitch_diameter, root_diameter, stress_diameter, stress_area, lead, friction_diameter;
};

template <class T>
ThreadGeometry<T> thread_geometry(const Nut<T>& nut, const T& bore, Faults<T>& faults) {
    faults.require(nut.pitch * 3.0 < nut.diameter, rules::thread_pitch, nut.pitch);
    faults.require(nut.face_outside > nut.face_inside, rules::face_diameters, nut.face_outside);
    faults.require(nut.outside > nut.diameter, rules::nut_outside, nut.outside);
    ThreadGeometry<T> g;
    g.pitch_diameter = nut.diameter - nut.pitch * pitch_depth;
    g.root_diameter = nut.diameter - nut.pitch * root_depth;
    g.stress_diameter = (g.pitch_diameter + g.root_diameter) * 0.5;
    faults.require(bore < g.root_diameter, rules::thread_hollow, bore);
    g.stress_area = (square(g.stress_diameter) - square(bore)) * (fields::pi / 4.0);
    g.lead = nut.pitch / (g.pitch_diameter * fields::pi);
    const T in = nut.face_inside;
    const T out = nut.face_outside;
    // (D^3 - d^3)/(D^2 - d^2) without the difference of near-equal cubes
    g.friction_diameter = (out * out + out * in + in * in) / (out + in) * (2.0 / 3.0);
    return g;
}

// Torque per force. Tightening climbs the lead, loosening runs down it.
template <class T>
T thread_part(const ThreadGeometry<T>& g, const T& friction, bool tightening, Faults<T>& faults) {
    const T normal = friction * sqrt(T(tan_flank * tan_flank) / (g.lead * g.lead + 1.0) + 1.0);
    faults.require(normal * g.lead < T(1.0), rules::thread_not_self_consistent, friction);
    return tightening ? g.pitch_diameter * 0.5 * (g.lead + normal) / (T(1.0) - normal * g.lead)
                      : g.pitch_diameter * 0.5 * (normal - g.lead) / (normal * g.lead + 1.0);
}
template <class T>
FITWRIGHT_INLINE T face_part(const ThreadGeometry<T>& g, const T& friction) {
    return friction * g.friction_diameter * 0.5;
}

// `force` under the nut while `thread_torque` twists the shaft end.
template <class T>
T thread_von_mises(const ThreadGeometry<T>& g, const T& bore, const T& force,
                   const T& thread_torque, T& tension, T& torsion) {
    tension = force / g.stress_area;
    const T ds2 = square(g.stress_diameter);
    const T polar = (square(ds2) - square(square(bore))) * (fields::pi / 32.0);
    torsion = thread_torque * g.stress_diameter * 0.5 / polar;
    return root0(square(tension) + square(torsion) * 3.0);
}

// Exactly one of torque and preload leads; the other follows.
template <class T>
Tightening<T> tightening(const Nut<T>& nut, const T& bore, const T& leading, bool torque_leads,
                         const materials::Material& shaft, const T& temperature,
                         Faults<T>& faults) {
    faults.require((nut.thread_friction_low <= nut.thread_friction) &
                       (nut.thread_friction <= nut.thread_friction_high) &
                       (nut.face_friction_low <= nut.face_friction) &
                       (nut.face_friction <= nut.face_friction_high),
                   rules::ends_in_order, nut.thread_friction);
    const ThreadGeometry<T> g = thread_geometry(nut, bore, faults);
    const T thread = thread_part(g, nut.thread_friction, true, faults);
    const T per_force = thread + face_part(g, nut.face_friction);
    Tightening<T> out;
    out.torque = torque_leads ? leading : leading * per_force;
    out.preload = hub(torque_leads ? leading / per_force : leading);
    out.preload_low = out.torque / (thread_part(g, nut.thread_friction_high, true, faults) +
                                    face_part(g, nut.face_friction_high));
    const T thread_low = thread_part(g, nut.thread_friction_low, true, faults);
    out.preload_high = out.torque / (thread_low + face_part(g, nut.face_friction_low));
    out.thread_torque = out.preload * thread;
    out.face_torque = out.torque - out.thread_torque;
    out.loosening_torque = out.preload * (thread_part(g, nut.thread_friction_low, false, faults) +
                                          face_part(g, nut.face_friction_low));
    out.pitch_diameter = g.pitch_diameter;
    out.root_diameter = g.root_diameter;
    out.stress_area = g.stress_area;
    out.von_mises =
        thread_von_mises(g, bore, out.preload, out.thread_torque, out.tension, out.torsion);
    faults.require((temperature >= T(shaft.lowest)) & (temperature <= T(shaft.highest)),
                   rules::temperature_in_material_range, temperature);
    const T yield = materials::at(shaft.yield, temperature);
    out.yield_use = out.von_mises / yield;
    T tension, torsion;
    out.yield_use_high = thread_von_mises(g, bore, out.preload_high, out.preload_high * thread_low,
                                          tension, torsion) /
                         yield;
    out.face_pressure =
        out.preload / ((square(nut.face_outside) - square(nut.face_inside)) * (fields::pi / 4.0));
    return out;
}

template <class T>
void Tighten::run(const T* inputs, T* outputs, const fields::Context& context, Faults<T>& faults) {
    const auto& in = *reinterpret_cast<const TightenInputs<T>*>(inputs);
    *reinterpret_cast<Tightening<T>*>(outputs) = tightening(
        in.nut, in.shaft_bore, in.torque, true, *context.materials[0], in.temperature, faults);
}
template <class T>
void Torque::run(const T* inputs, T* outputs, const fields::Context& context, Faults<T>& faults) {
    const auto& in = *reinterpret_cast<const TorqueInputs<T>*>(inputs);
    *reinterpret_cast<Tightening<T>*>(outputs) = tightening(
        in.nut, in.shaft_bore, in.preload, false, *context.materials[0], in.temperature, faults);
}

} // namespace fitwright::threads
