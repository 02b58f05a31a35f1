// A job's steps on parts in section: the history of the bars with what they know of each part taken out, and
// what the meshed parts ask for put in.
#pragma once

#include "steps.hpp"
#include <fitwright/stack/section_history.hpp>

namespace fitwright::job {

// At 20 degC at rest, of each slice; a washer has no seat.
template <class T>
std::vector<std::vector<T>> cold_interference(const Inputs<T>& job, const Scene<T>& scene) {
    const Layout& at = job.at;
    std::vector<std::vector<T>> all;
    for (int i = 0; i < at.rings; ++i) {
        const T told = job.seat(at.ring_seat[i]).diameter - job.ring(i).bore;
        all.emplace_back();
        for (int m = at.first_member[i]; m < at.first_member[i + 1]; ++m)
            all.back().push_back(told - scene.members[m].joint.smoothing_loss);
    }
    if (at.has_lock)
        all.push_back({T(0.0)});
    return all;
}

template <class T>
stack::SectionState<T> section_state_of(const Scene<T>& scene, const Layout& at, const T& speed) {
    const rings::Joint<T>& first = scene.members[0].joint;
    const T squared = speed * speed;
    stack::SectionState<T> s;
    s.warm.push_back(first.shaft_warm);
    s.spin.push_back(squared * first.shaft.density);
    for (int i = 0; i < at.rings; ++i) {
        const rings::Joint<T>& j = scene.members[at.first_member[i]].joint;
        s.warm.push_back(j.ring_warm);
        s.spin.push_back(squared * j.ring.density);
    }
    if (at.has_lock) {
        s.warm.push_back(scene.washer.warm);
        s.spin.push_back(squared * scene.washer.section.density);
    }
    s.gradient.assign(s.warm.size(), T(0.0));
    return s;
}

template <class T>
stack::SectionHistory<T> section_history_of(const Inputs<T>& job, End end, Faults<T>& faults) {
    const Layout& at = job.at;
    stack::SectionHistory<T> h;
    h.plan = history_of(job, end, faults);
    h.plan.shoulder_compliance = T(0.0); // it is meshed
    for (int i = 0; i < at.rings; ++i) { // ends of short rings are meshed too
        const Ring<T>& r = job.ring(i);
        h.plan.parts[static_cast<std::size_t>(i)].friction = end == End::low    ? r.friction_low
                                                             : end == End::high ? r.friction_high
                                                                                : r.friction;
    }
    const Assembly<T> assembly = assemble(job, faults);
    const Nut<T>& nut = job.nut();
    const T root_area =
        (square(assembly.thread.root_diameter) - square(job.rotor().bore)) * (fields::pi / 4.0);
    Scene<T> scene;
    for (int s = 0; s < at.states; ++s) {
        const T& speed = job.state(s).speed;
        set_scene(scene, job, s, assembly, faults);
        if (s == 0)
            h.interference = cold_interference(job, scene);
        h.states.push_back(section_state_of(scene, at, speed));
        // The shaft in the nut is meshed: its half height is neither a spring nor growth of the nut.
        stack::HistoryState<T>& state = h.plan.states[static_cast<std::size_t>(s)];
        const rings::Joint<T>& last = scene.members[at.members - 1].joint;
        state.strips.clear();
        state.nut_compliance =
            scene.body.compliance - nut.height * 0.5 / (last.shaft.modulus * root_area);
        state.nut_free +=
            nut.height * 0.5 * (last.shaft_warm + rings::strain_by_speed(last.shaft, speed));
    }
    return h;
}

} // namespace fitwright::job
