// A job's parts, states and steps as the history of its stack wants them, and back.
#pragma once

#include "job/detail/quick.hpp"
#include "stack/detail/history_scene.hpp"
#include <fitwright/job/steps.hpp>

namespace fitwright::job {

// Which number of a friction with ends the history runs with.
enum class End { value, low, high };

// The members of a scene with their friction and overhang at that end.
template <class T>
void take_end(Scene<T>& scene, int count, End end) {
    for (int i = 0; i < count && end != End::value; ++i) {
        stack::Member<T>& m = scene.members[i];
        m.friction = end == End::low ? m.friction_low : m.friction_high;
        m.overhang = end == End::low ? m.overhang_low : m.overhang_high;
    }
}

// Whether the ends of a seat's friction or overhang differ where a seat can grip: in a sample of a
// study what scatters has none.
template <class T>
bool has_ends(const Inputs<T>& job) {
    for (int i = 0; i < job.at.rings; ++i) {
        const Ring<T>& r = job.ring(i);
        const T& seat = job.seat(job.at.ring_seat[i]).diameter;
        if (seat - r.bore < seat * -2e-4) // some 15 K would have to close it
            continue;
        if (r.friction_low < r.friction || r.friction_high > r.friction ||
            r.overhang_low < r.overhang || r.overhang_high > r.overhang)
            return true;
    }
    return false;
}

template <class T>
stack::HistoryEnd<T> history_end(const Scene<T>& scene, const Inputs<T>& job,
                                 const Assembly<T>& assembly) {
    const Layout& at = job.at;
    return {at.has_lock ? &scene.washer : nullptr,
            scene.washer_softness,
            at.has_lock ? job.lock().settling : T(0.0),
            scene.body,
            scene.nut_softness,
            job.nut().settling,
            job.nut().height,
            assembly.tightened.preload,
            assembly.thread.stress_area *
                materials::at(at.shaft->yield, job.state(0).shaft_temperature)};
}

template <class T>
void add_steps(stack::History<T>& h, const Inputs<T>& job, Faults<T>& faults) {
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
        if (step.kind == stack::StepKind::pull)
            step.down_to = at.step_first[k];
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
}

template <class T>
stack::History<T> history_of(const Inputs<T>& job, End end, Faults<T>& faults) {
    const Layout& at = job.at;
    const Assembly<T> assembly = assemble(job, faults);
    stack::History<T> h;
    Scene<T> scene;
    for (int s = 0; s < at.states; ++s) {
        const State<T>& state = job.state(s);
        set_scene(scene, job, s, assembly, faults);
        take_end(scene, at.members, end);
        T least_area[ring_limit]; // of each ring; then the history knows one section for each
        for (int i = 0; i < at.rings; ++i) {
            const int first = at.first_member[i];
            least_area[i] = rings::section_area(scene.members[first].joint.ring);
            for (int k = first + 1; k < at.first_member[i + 1]; ++k)
                least_area[i] =
                    smaller(least_area[i], rings::section_area(scene.members[k].joint.ring));
            scene.members[i] = even_member(scene.members, first, at.first_member[i + 1]);
        }
        const auto ending = history_end(scene, job, assembly);
        if (s == 0) {
            if (at.has_shoulder)
                h.shoulder_compliance = scene.shoulder.compliance;
            stack::history_parts(h, scene.members, at.rings, ending, at.inner_first, at.inner_last);
            for (int i = 0; i < at.rings; ++i) {
                auto& part = h.parts[static_cast<std::size_t>(i)];
                part.yield_force = least_area[i] * materials::at(at.ring_materials[i]->yield,
                                                                 state.shaft_temperature);
                part.hot = at.ring_grips[i];
            }
        }
        const T opening =
            stack::nut_opening(scene.body, state.speed, scene.nut_warm, scene.shaft_warm);
        // Faces settle once the nut is locked.
        h.states.push_back(stack::history_state(scene.members, at.rings, ending, scene.nut_warm,
                                                opening, state.speed, state.thrust,
                                                T(s == 0 ? 0.0 : 1.0)));
    }
    h.whole_open_parts = true;
    faults.place = Place::nut;
    add_steps(h, job, faults);
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
