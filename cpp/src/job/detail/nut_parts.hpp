// The nut of a job beside its clamp: threads, hand of thread, lock tabs.
#pragma once

#include "job/detail/inputs.hpp"
#include "threads/detail/locking.hpp"
#include "threads/detail/stripping.hpp"
#include <fitwright/job/nut_parts.hpp>

namespace fitwright::job {

// At the greatest force of the state. The frictions of tightening add as much to it in later states
// as in the first: springs of the joint.
template <class T>
void write_strength(NutStrength<T>& out, const Inputs<T>& job, int s,
                    const threads::ThreadGeometry<T>& g, const T& force, Faults<T>& faults) {
    const Layout& at = job.at;
    const T shaft_temperature = job.state(s).shaft_temperature;
    const threads::Nut<T>& nut = job.thread();
    threads::StrippingInputs<T> in;
    in.nut = nut;
    in.preload = force;
    in.external_major = nut.diameter;
    in.external_pitch = in.internal_pitch = g.pitch_diameter;
    in.internal_minor = g.minor_diameter;
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

template <class T>
void write_drive(NutDrive<T>& out, const Inputs<T>& job, int s, const threads::ThreadGeometry<T>& g,
                 const T& least_force, Faults<T>& faults) {
    const Layout& at = job.at;
    const Rotor<T>& rotor = job.rotor();
    threads::HandInputs<T> in;
    in.nut = job.thread();
    in.preload = least_force;
    in.drag_torque = job.state(s).drag_torque;
    in.speed = job.state(s).speed;
    in.start_time = rotor.start_time;
    in.trip_time = rotor.trip_time;
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
    threads::lock_tabs(found, turn, g, k,
                       threads::TabWindow<T>{nut.torque_window_low, nut.torque_window_high,
                                             nut.torque_window_high, compliance, whole_step});
    const T* told = &found.window_low;
    for (int i = 0; i < Inputs<T>::template size<TorqueWindow>(); ++i)
        outputs[at.window_at + i] = told[i];
}

} // namespace fitwright::job
