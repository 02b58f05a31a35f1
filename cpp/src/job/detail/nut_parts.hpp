// The nut of a job beside its clamp: threads, hand of thread, lock tabs.
#pragma once

#include "job/detail/inputs.hpp"
#include "threads/detail/locking.hpp"
#include "threads/detail/stripping.hpp"
#include <fitwright/job/nut_parts.hpp>

namespace fitwright::job {

// At the greatest force of the state, which the frictions of tightening raise in later states as in
// the first (springs of the joint), and the least overlap of the threads: as measured, else by class.
template <class T>
void write_strength(NutStrength<T>& out, const Inputs<T>& job, int s,
                    const threads::ThreadGeometry<T>& g, const T& force, Faults<T>& faults) {
    const Layout& at = job.at;
    const T shaft_temperature = job.state(s).shaft_temperature;
    const Nut<T>& nut = job.nut();
    const sizes::ThreadSlack& slack = at.thread_slack;
    threads::StrippingInputs<T> in;
    in.nut = job.thread();
    in.preload = force;
    in.external_major = fields::given(nut.external_major, nut.diameter - slack.external_major);
    in.external_pitch = fields::given(nut.external_pitch, g.pitch_diameter - slack.external_pitch);
    in.internal_minor = fields::given(nut.internal_minor, g.minor_diameter + slack.internal_minor);
    in.internal_pitch = fields::given(nut.internal_pitch, g.pitch_diameter + slack.internal_pitch);
    in.shaft_temperature = shaft_temperature;
    in.nut_temperature = shaft_temperature + job.lag(s, at.lag_of_nut);
    in.shaft_bore = job.rotor().bore;
    threads::StrippingOutputs<T> found;
    threads::strip(found, in, g, *at.shaft, *at.nut, faults);
    out.force_high = force;
    out.shaft_thread_use = found.external_use;
    out.nut_thread_use = found.internal_use;
    out.stripping_force = found.stripping_force;
    out.flank_pressure = found.flank_pressure;
    out.face_pressure_high = found.face_pressure;
    // The washer, else the last ring; their temperatures are checked where they are used.
    const materials::Material& under = at.has_lock ? *at.lock : *at.ring_materials[at.rings - 1];
    const T under_temperature =
        shaft_temperature + job.lag(s, at.has_lock ? at.lag_of_lock : at.rings - 1);
    out.face_use = found.face_pressure / smaller(materials::at(at.nut->yield, in.nut_temperature),
                                                 materials::at(under.yield, under_temperature));
}

// What a stop of a state comes down from: its own speed; a machine that stands has come down from the
// fastest it knows, and has not run yet in the first state.
template <class T>
T stop_begins_at(const Inputs<T>& job, int s) {
    T fastest(0.0);
    for (int k = 0; s > 0 && k < job.at.states; ++k)
        fastest = larger(fastest, job.state(k).speed);
    const T& own = job.state(s).speed;
    return fields::given(job.state(s).trip_speed, select(own > T(0.0), own, fastest));
}

// After the bearing, whose friction drags its inner ring: whether or not grip and faces hold that
// ring, the nut is asked to hold the whole of it. `outputs`: of the state.
template <class T>
void write_drive(T* outputs, const Inputs<T>& job, int s, const threads::ThreadGeometry<T>& g,
                 const T& least_force, Faults<T>& faults) {
    const Layout& at = job.at;
    auto& out = *reinterpret_cast<NutDrive<T>*>(outputs + at.drive_at);
    const Rotor<T>& rotor = job.rotor();
    faults.place = s * Place::per_state + Place::nut;
    out.bearing_drag = at.has_service
                           ? reinterpret_cast<const ServiceOutputs<T>*>(outputs + at.service_out_at)
                                 ->friction_torque
                           : T(0.0);
    out.stop_from = stop_begins_at(job, s);
    threads::HandInputs<T> in;
    in.nut = job.thread();
    in.preload = least_force;
    in.drag_torque = job.state(s).drag_torque + out.bearing_drag;
    in.speed = job.state(s).speed;
    in.start_time = rotor.start_time;
    in.trip_time = rotor.trip_time;
    in.trip_speed = out.stop_from;
    in.shaft_bore = rotor.bore;
    threads::HandOutputs<T> found;
    threads::hand_of(found, in, g, at.hand, at.rotation == 2, *at.nut, faults);
    out.sense = found.sense;
    out.thread_hold = found.thread_hold;
    out.undoing_torque = found.loosening_torque;
    out.start_torque = found.start_torque;
    out.trip_torque = found.trip_torque;
    out.drag_margin = found.drag_margin;
    out.start_margin = found.start_margin;
    out.trip_margin = found.trip_margin;
    out.creep_margin = found.creep_margin;
}

// `compliance`: of the whole joint as built, at the force of the torque. Without a window the torque
// itself is the least one.
template <class T>
void write_lock(T* outputs, const Inputs<T>& job, const threads::ThreadGeometry<T>& g,
                const T& compliance, Faults<T>& faults) {
    const Layout& at = job.at;
    const Nut<T>& nut = job.nut();
    const threads::TorqueEnds<T> k = threads::torque_ends(job.thread(), g, faults);
    const T turn(static_cast<double>(at.meetings_per_turn));
    const T whole_step(2.0 * fields::pi / at.meetings_per_turn);
    threads::LockTabsOutputs<T> found;
    threads::lock_tabs(
        found, turn, g, k,
        threads::TabWindow<T>{nut.torque, nut.torque, nut.torque, compliance, whole_step});
    auto& meetings = *reinterpret_cast<Meetings<T>*>(outputs + at.meetings_at);
    meetings.meetings_per_turn = turn;
    meetings.meeting_angle = whole_step;
    meetings.preload_step = found.preload_step;
    meetings.torque_step = found.torque_step;
    meetings.preload_next = found.next_preload;
    meetings.torque_next = found.next_torque;
    meetings.stone_per_degree = found.stone_per_degree;
    if (!at.has_window)
        return;
    const T& told_miss = job.lock().miss;
    const auto measured = fields::is_given(told_miss);
    const T miss = fields::given(told_miss, whole_step);
    threads::lock_tabs(found, turn, g, k,
                       threads::TabWindow<T>{nut.torque_window_low, nut.torque_window_high,
                                             nut.torque_window_high, compliance, miss});
    auto& window = *reinterpret_cast<TorqueWindow<T>*>(outputs + at.window_at);
    const T* told = &found.window_low;
    for (int i = 0; i < Inputs<T>::template size<TorqueWindow>() - 1; ++i)
        outputs[at.window_at + i] = told[i];
    window.meeting_torque = found.next_torque;
    // A meeting that is measured lies in the window or does not: there is no chance in it.
    const auto certain = [&](T& chance, const T& torque_per_force) {
        const T torque =
            nut.torque_window_low + miss * threads::per_radian(g) / compliance * torque_per_force;
        chance = select(measured, select(torque <= nut.torque_window_high, T(1.0), T(0.0)), chance);
    };
    certain(window.chance, k.nominal);
    certain(window.chance_low, k.high_friction);
    certain(window.chance_high, k.low_friction);
}

template <class T>
void write_torque_held(T* outputs, const Inputs<T>& job) {
    const Nut<T>& nut = job.nut();
    reinterpret_cast<TorqueHeld<T>*>(outputs + job.at.torque_held_at)->window_margin =
        smaller(T(nut.torque - nut.torque_window_low), T(nut.torque_window_high - nut.torque));
}

} // namespace fitwright::job
