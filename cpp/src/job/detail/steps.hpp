// A job's parts, states and steps as the history of its stack wants them, and back.
#pragma once

#include <fitwright/number/number.hpp>

#include "bodies/detail/strip.hpp"
#include "job/detail/quick.hpp"
#include <fitwright/job/steps.hpp>

namespace fitwright::job {

// Which number of a friction with ends the history runs with.
enum class End { value, low, high };

template <class T>
T seat_friction(const stack::Member<T>& m, End end) {
    const T excess = rings::overhang_excess(m.joint, m.contact_length);
    switch (end) {
    case End::low:
        return m.friction_low * (m.overhang_low * excess + 1.0);
    case End::high:
        return m.friction_high * (m.overhang_high * excess + 1.0);
    default:
        return m.friction * (m.overhang * excess + 1.0);
    }
}

// Whether the ends of a seat's friction or overhang differ: in a sample of a study they do not.
template <class T>
bool has_ends(const Inputs<T>& job) {
    for (int i = 0; i < job.at.rings; ++i) {
        const Ring<T>& r = job.ring(i);
        if (r.friction_low < r.friction || r.friction_high > r.friction ||
            r.overhang_low < r.overhang || r.overhang_high > r.overhang)
            return true;
    }
    return false;
}

template <class T>
stack::HistoryState<T> history_state(const Scene<T>& scene, const Inputs<T>& job, int s) {
    const State<T>& state = job.state(s);
    stack::HistoryState<T> to;
    for (int i = 0; i < job.at.rings; ++i)
        to.strips.push_back(bodies::strip_of(scene.members[i].joint, state.speed));
    const rings::Joint<T>& last = scene.members[job.at.rings - 1].joint;
    if (job.at.has_lock)
        to.strips.push_back(bodies::loose_strip(scene.washer.section, scene.washer.warm, last.shaft,
                                                last.shaft_warm, state.speed));
    const T shaft_strain = last.shaft_warm + rings::strain_by_speed(last.shaft, state.speed);
    const T nut_strain = scene.nut_warm + rings::strain_by_speed(scene.body.nut, state.speed);
    to.nut_free = job.nut().height * 0.5 * (nut_strain - shaft_strain) -
                  stack::nut_opening(scene.body, state.speed, scene.nut_warm, scene.shaft_warm);
    to.thrust = state.thrust;
    to.settled = T(s == 0 ? 0.0 : 1.0); // faces settle once the nut is locked
    return to;
}

template <class T>
void add_parts(stack::History<T>& h, const Scene<T>& scene, const Inputs<T>& job, End end) {
    const Layout& at = job.at;
    for (int i = 0; i < at.rings; ++i) {
        const stack::Member<T>& m = scene.members[i];
        h.parts.push_back({m.length, m.contact_length, seat_friction(m, end),
                           bodies::shear_softness(m.joint, m.length), m.face_softness, m.settling,
                           rings::section_area(m.joint.ring) *
                               materials::at(at.ring_materials[i]->yield, T(20.0))});
    }
    if (at.has_lock)
        h.parts.push_back({job.lock().thickness, T(0.0), T(0.0), T(0.0), scene.washer_softness,
                           job.lock().settling, T(0.0)});
}

template <class T>
void add_steps(stack::History<T>& h, const Inputs<T>& job, const Assembly<T>& assembly,
               Faults<T>& faults) {
    const Layout& at = job.at;
    int on = -1; // last ring that went on
    for (int k = 0; k < at.steps; ++k) {
        const Step<T>& given =
            job.template part<Step>(at.steps_at + k * Inputs<T>::template size<Step>());
        stack::HistoryStep<T> step;
        step.kind = static_cast<stack::StepKind>(at.step_kind[k]);
        step.state = at.step_state[k];
        step.first = at.step_first[k];
        step.last = at.step_last[k];
        step.times = at.step_times[k];
        step.reaction = static_cast<stack::Reaction>(at.step_against[k]);
        if (step.kind == stack::StepKind::slip_on && step.last < at.rings)
            on = step.last;
        if (step.kind == stack::StepKind::press)
            step.force = fields::given(given.force, on < 0 ? T(0.0) : job.ring(on).press);
        if (step.kind == stack::StepKind::tighten)
            step.force =
                threads::tightening(job.thread(), job.rotor().bore,
                                    fields::given(given.torque, job.nut().torque), true, *at.shaft,
                                    job.state(0).shaft_temperature, faults, nut_kind(at))
                    .preload;
        h.steps.push_back(step);
    }
    h.touch_force = assembly.tightened.preload * 1e-3;
}

template <class T>
stack::History<T> history_of(const Inputs<T>& job, End end, Faults<T>& faults) {
    const Layout& at = job.at;
    const Assembly<T> assembly = assemble(job, faults);
    stack::History<T> h;
    Scene<T> scene;
    for (int s = 0; s < at.states; ++s) {
        set_scene(scene, job, s, assembly, faults);
        if (s == 0) {
            add_parts(h, scene, job, end);
            h.nut = {scene.body.compliance, scene.nut_softness, job.nut().settling,
                     assembly.thread.stress_area *
                         materials::at(at.shaft->yield, job.state(0).shaft_temperature)};
        }
        h.states.push_back(history_state(scene, job, s));
    }
    h.thrust_inner = at.inner_first;
    h.thrust_outer = at.inner_last;
    faults.place = Place::nut;
    add_steps(h, job, assembly, faults);
    return h;
}

template <class T>
void write_step(T* out, const stack::StepResult<T>& r, const Layout& at) {
    auto& shoulder = *reinterpret_cast<ShoulderStep<T>*>(out);
    shoulder = {r.faces.front().force, r.faces.front().force, r.faces.front().force,
                r.faces.front().gap};
    out += Inputs<T>::template size<ShoulderStep>();
    *reinterpret_cast<NutStep<T>*>(out) = {r.nut_force, r.nut_force, r.nut_travel};
    out += Inputs<T>::template size<NutStep>();
    *reinterpret_cast<StackStep<T>*>(out) = {r.to_shoulder, r.to_nut, r.to_seats, r.pull_force};
    out += Inputs<T>::template size<StackStep>();
    const int parts = at.rings + (at.has_lock ? 1 : 0);
    for (int i = 0; i < parts; ++i) {
        const auto k = static_cast<std::size_t>(i);
        *reinterpret_cast<PartStep<T>*>(out) = {r.faces[k].force, r.faces[k].gap, r.seat_force[k]};
        out += Inputs<T>::template size<PartStep>();
    }
}

// Least and most over the ends of seat friction, beside what stands there already.
template <class T>
void widen_step(T* out, const stack::StepResult<T>& r) {
    auto& shoulder = *reinterpret_cast<ShoulderStep<T>*>(out);
    shoulder.clamp_least = smaller(shoulder.clamp_least, r.faces.front().force);
    shoulder.clamp_most = larger(shoulder.clamp_most, r.faces.front().force);
    auto& nut = *reinterpret_cast<NutStep<T>*>(out + Inputs<T>::template size<ShoulderStep>());
    nut.clamp_least = smaller(nut.clamp_least, r.nut_force);
}

} // namespace fitwright::job
