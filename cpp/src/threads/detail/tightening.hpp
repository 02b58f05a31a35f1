//   T = F [d2/2 (tan l + mu_n)/(1 - mu_n tan l) + mu_b Dm/2],  tan l = lead/(pi d2)
//   mu_n = mu/cos(alpha_n),  tan alpha_n = tan alpha cos l
// The pitch's part is F lead/(2 pi), the flank's part is the rest of the thread's.
#pragma once

#include "geometry.hpp"
#include "materials/range.hpp"
#include <fitwright/materials/table.hpp>
#include <fitwright/threads/tightening.hpp>

namespace fitwright::threads {

// `force` under the nut while `thread_torque` twists the shaft end.
template <class T>
T thread_von_mises(const ThreadGeometry<T>& g, const T& bore, const T& force,
                   const T& thread_torque, T& tension, T& torsion) {
    tension = named("tension", force / g.stress_area);
    const T ds2 = square(g.stress_diameter);
    const T polar = named("polar moment of the section",
                          (square(ds2) - square(square(bore))) * (fields::pi / 32.0));
    torsion = named("torsion", thread_torque * g.stress_diameter * 0.5 / polar);
    return root0(square(tension) + square(torsion) * 3.0);
}

template <class T>
T yield_at(const materials::Material& m, const T& temperature, Faults<T>& faults) {
    materials::require_in_range(m, temperature, faults);
    return materials::at(m.yield, temperature);
}

// The one friction of thread and face at which the nut lets go by itself: loosening takes no torque,
//   R tan l fs mu^2 + (d2/2 fs + R) mu - d2/2 tan l = 0,  R = Dm/2, fs = mu_n/mu.
template <class T>
T letting_go_friction(const ThreadGeometry<T>& g) {
    const T thread = g.pitch_diameter * 0.5;
    const T face = g.friction_diameter * 0.5;
    const T fs = flank_factor(g);
    const T both = thread * fs + face;
    return thread * g.lead * 2.0 /
           (both + sqrt(square(both) + face * thread * square(g.lead) * fs * 4.0));
}

// Exactly one of torque and preload leads; the other follows.
template <class T>
Tightening<T> tightening(const Nut<T>& nut, const T& bore, const T& leading, bool torque_leads,
                         const materials::Material& shaft, const T& temperature, Faults<T>& faults,
                         NutKind kind = {}) {
    require_frictions(nut, faults);
    const ThreadGeometry<T> g = thread_geometry(nut, bore, faults, kind);
    const T thread =
        named("torque of the thread per force", thread_part(g, nut.thread_friction, true, faults));
    const T per_force = named("torque per force", thread + face_part(g, nut.face_friction));
    Tightening<T> out;
    out.torque = torque_leads ? leading : leading * per_force;
    out.preload = hub(torque_leads ? leading / per_force : leading);
    out.preload_low =
        out.torque / torque_per_force(g, nut.thread_friction_high, nut.face_friction_high, faults);
    const T thread_low = named("torque of the thread per force at low friction",
                               thread_part(g, nut.thread_friction_low, true, faults));
    out.preload_high = out.torque / (thread_low + face_part(g, nut.face_friction_low));
    out.thread_torque = out.preload * thread;
    out.pitch_torque = out.preload * per_radian(g);
    out.flank_torque = out.thread_torque - out.pitch_torque;
    out.face_torque = out.torque - out.thread_torque;
    out.efficiency = per_radian(g) / per_force;
    out.loosening_torque = out.preload * (thread_part(g, nut.thread_friction_low, false, faults) +
                                          face_part(g, nut.face_friction_low));
    out.loosening_torque_high =
        out.preload * (thread_part(g, nut.thread_friction_high, false, faults) +
                       face_part(g, nut.face_friction_high));
    out.lead_angle = atan(g.lead);
    out.self_locking_friction = g.lead / flank_factor(g);
    out.self_locking_margin = nut.thread_friction_low - out.self_locking_friction;
    out.letting_go_friction = letting_go_friction(g);
    out.pitch_diameter = g.pitch_diameter;
    out.root_diameter = g.root_diameter;
    out.stress_area = g.stress_area;
    out.root_area = printed_root_area(g, nut.diameter, nut.pitch, bore, kind.form);
    out.von_mises =
        thread_von_mises(g, bore, out.preload, out.thread_torque, out.tension, out.torsion);
    const T yield = yield_at(shaft, temperature, faults);
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
    *reinterpret_cast<Tightening<T>*>(outputs) =
        tightening(in.nut, in.shaft_bore, in.torque, true, *context.materials[0], in.temperature,
                   faults, nut_kind(context.choices));
}
template <class T>
void Torque::run(const T* inputs, T* outputs, const fields::Context& context, Faults<T>& faults) {
    const auto& in = *reinterpret_cast<const TorqueInputs<T>*>(inputs);
    *reinterpret_cast<Tightening<T>*>(outputs) =
        tightening(in.nut, in.shaft_bore, in.preload, false, *context.materials[0], in.temperature,
                   faults, nut_kind(context.choices));
}

} // namespace fitwright::threads
