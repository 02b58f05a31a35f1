// From what the quick level knows of a stack (members, washer, nut body) to a history: the job fills
// the same structures for both.
#pragma once

#include "bodies/detail/strip.hpp"
#include "quick.hpp"
#include <fitwright/stack/history.hpp>

namespace fitwright::stack {

// What is under and in the nut, beside the members.
template <class T>
struct HistoryEnd {
    const Washer<T>* washer; // null: none
    T washer_softness, washer_settling;
    const NutBody<T>& body;
    T nut_softness, nut_settling;
    T nut_height;
    T tightening_force;
    T thread_force; // 0: not checked
};

// The parts, from the members of the first state. `friction` of a seat is the nominal one here, with
// its overhang; whoever wants an end of its range gives members that have it.
template <class T>
void history_parts(History<T>& history, const Member<T>* members, int count,
                   const HistoryEnd<T>& end, int inner_first, int inner_last) {
    history.parts.clear();
    for (int i = 0; i < count; ++i) {
        const Member<T>& m = members[i];
        history.parts.push_back(
            {m.length, m.contact_length,
             m.friction * (m.overhang * rings::overhang_excess(m.joint, m.overhang_length) + 1.0),
             bodies::shear_softness(m.joint, m.contact_length), m.face_softness, m.settling,
             T(0.0)});
    }
    if (end.washer != nullptr)
        history.parts.push_back({end.washer->thickness, T(0.0), T(0.0), T(0.0), end.washer_softness,
                                 end.washer_settling, T(0.0)});
    history.nut = {end.nut_softness, end.nut_settling, end.thread_force};
    history.touch_force = end.tightening_force * 1e-3;
    history.thrust_inner = inner_first;
    history.thrust_outer = inner_last;
}

// One state, from its members. `opening` is how far the nut moves off its flanks.
template <class T>
HistoryState<T> history_state(const Member<T>* members, int count, const HistoryEnd<T>& end,
                              const T& nut_warm, const T& opening, const T& speed, const T& thrust,
                              const T& settled) {
    HistoryState<T> state;
    for (int i = 0; i < count; ++i)
        state.strips.push_back(bodies::strip_of(members[i].joint, speed));
    const rings::Joint<T>& last = members[count - 1].joint;
    if (end.washer != nullptr)
        state.strips.push_back(bodies::loose_strip(end.washer->section, end.washer->warm,
                                                   last.shaft, last.shaft_warm, speed));
    const T shaft_strain = last.shaft_warm + rings::strain_by_speed(last.shaft, speed);
    state.nut_compliance = end.body.compliance;
    state.nut_free = end.nut_height * 0.5 *
                         (nut_warm + rings::strain_by_speed(end.body.nut, speed) - shaft_strain) -
                     opening;
    state.thrust = thrust;
    state.settled = settled;
    return state;
}

} // namespace fitwright::stack
