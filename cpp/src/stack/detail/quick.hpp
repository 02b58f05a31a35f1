// The stack at quick level: its members, and the loop of forces they make in one state.
#pragma once

#include "compliance.hpp"
#include "locked.hpp"

namespace fitwright::stack {

// One ring between shoulder and nut in the state of the moment.
template <class T>
struct Member {
    rings::Joint<T> joint;
    T length, contact_length;
    T friction, friction_low, friction_high, overhang, overhang_low, overhang_high;
    T face_softness; // of its face towards the shoulder
    bool has_face;   // a slice goes on where the one before it ends
    T settling;
    T press;           // greatest force of a press on its nut side while it is the last part
    T overhang_length; // in contact, of the whole ring: its end effect is that of its ends
};

// The washer under the nut; it does not touch the seat.
template <class T>
struct Washer {
    rings::Section<T> section;
    T thickness, warm;
};

template <class T>
struct Loop {
    Link<T> links[part_limit];
    SeatFriction<T> high[part_limit], nominal[part_limit]; // the most a seat can do
    Link<double> value_links[part_limit];                  // of duals
    SeatFriction<double> high_values[part_limit], nominal_values[part_limit];
    LoopEquation<T> equation;
    T gained; // free length of the rings over that of the shaft, less what the thrust presses
};

// What the loop is made of beside the rings.
template <class T>
struct LoopParts {
    const Washer<T>* washer; // null: none
    T washer_softness, nut_softness;
    const NutBody<T>& body;
    T nut_height, nut_warm;
    T speed, first_force;
    T thrust;                    // towards the shoulder
    int inner_first, inner_last; // rings the thrust enters at; -1: no bearing
    const T* shoulder = nullptr; // its compliance; null: rigid
};

// Thrust carried by member i, at its face towards the shoulder: towards the shoulder it enters at the
// first half of the inner ring, away from it at the last. It enters in the middle of that ring.
template <class T>
FITWRIGHT_INLINE T thrust_on(int i, const T& thrust, int inner_first, int inner_last) {
    if (i <= inner_first)
        return thrust;
    return i <= inner_last ? -positive(-thrust) : T(0.0);
}

// How far bars may be wrong, by finite elements on shafts that go on and collars (docs/theory.md, section 5).
// Bounds count it; until a section body replaces it.
//  - Seats that slide keep up to 6.5 % more from the shoulder than the gripped law: 62.4 kN arrive of 120 kN
//    at the nut where it says 65.8 (two rings, half of the end effect).
//  - The loop gives way up to 23 % more than its bars: 7.36 um of heat make 24.6 kN on a real collar, and 28.6
//    kN on a rigid plane, where bars say 30.4.
inline constexpr double friction_error = 0.065;
inline constexpr double loop_error = 0.25;
//  - With the shoulder told its give is in the loop: bars are then a stack on a rigid plane, 7 % (30.4 for 28.6),
//    and the give may be 30 % from what parts in section have (shoulder.hpp).
inline constexpr double bars_error = 0.07;
inline constexpr double give_error = 0.30;

// Linear springs, and the faces at force n.
template <class T>
T joint_compliance(const Loop<T>& loop, const T& n) {
    const LoopEquation<T>& e = loop.equation;
    T springs = e.nut_compliance;
    T faces = e.nut_faces;
    for (int i = 0; i < e.count; ++i) {
        springs += e.links[i].compliance;
        faces += e.links[i].face;
    }
    if (e.shoulder_gives)
        springs += e.shoulder;
    return springs + faces / (n + touch_of(e.first_force));
}

// The values of a link for the solve that precedes the derivatives; other numbers have no use for it.
template <class T>
FITWRIGHT_INLINE void take_values(Link<double>& to, const Link<T>& of) {
    if constexpr (has_derivatives<T>)
        to = {of.compliance.value, of.left.value, of.beyond.value, of.loss.value,
              of.shortening.value, of.face.value, of.thrust.value, of.has_face};
}
template <class T>
FITWRIGHT_INLINE void take_values(SeatFriction<double>& to, const SeatFriction<T>& of) {
    if constexpr (has_derivatives<T>)
        to = {of.capacity.value, of.x.value, of.rise.value, of.mean.value};
}

// Builds the loop of forces of one state.
template <class T>
void make_loop(Loop<T>& loop, const Member<T>* members, int count, const LoopParts<T>& parts) {
    LoopEquation<T>& e = loop.equation;
    e.links = loop.links;
    e.value_links = loop.value_links;
    e.friction = loop.high;
    e.value_friction = loop.high_values;
    e.count = count;
    e.profile = Profile::even;
    e.first_force = parts.first_force;
    e.nut_compliance = parts.body.compliance;
    e.nut_faces = parts.washer_softness + parts.nut_softness;
    e.wanted = T(0.0);
    e.shoulder_gives = parts.shoulder != nullptr;
    if (e.shoulder_gives)
        e.shoulder = *parts.shoulder;
    loop.gained = T(0.0);
    T shaft_strain(0.0); // of the shaft under the member of the moment
    T shaft_softness(1.0);
    for (int i = 0; i < count; ++i) {
        const Member<T>& m = members[i];
        const rings::Joint<T>& j = m.joint;
        speaks_of(i, m.length);
        const T thrust = thrust_on(i, parts.thrust, parts.inner_first, parts.inner_last);
        const T beyond = thrust_on(i + 1, parts.thrust, parts.inner_first, parts.inner_last);
        const T mean_thrust = (thrust + beyond) * 0.5;
        const T ring_softness =
            named("softness of the ring", 1.0 / (rings::section_area(j.ring) * j.ring.modulus));
        shaft_softness =
            named("softness of the shaft", 1.0 / (rings::section_area(j.shaft) * j.shaft.modulus));
        shaft_strain = named("strain of the shaft",
                             j.shaft_warm + rings::strain_by_speed(j.shaft, parts.speed));
        loop.gained += named("length gained by the ring",
                             m.length * (j.ring_warm + rings::strain_by_speed(j.ring, parts.speed) -
                                         shaft_strain - ring_softness * mean_thrust));
        Link<T>& k = loop.links[i];
        k.compliance = named("compliance of ring and shaft under it",
                             m.length * (ring_softness + shaft_softness));
        k.left =
            named("interference under the thrust", j.interference - j.ring_force_loss * thrust);
        k.beyond =
            named("interference beyond the thrust", j.interference - j.ring_force_loss * beyond);
        k.loss = j.ring_force_loss + j.shaft_force_loss;
        k.shortening = named("length lost per interference",
                             m.contact_length * j.length_coupling / j.flexibility);
        k.face = m.face_softness;
        k.thrust = thrust;
        k.has_face = m.has_face;
        const T left = larger(k.left, k.beyond); // it grips the hardest there
        const T excess =
            named("end effect per overhang", rings::overhang_excess(j, m.overhang_length));
        const auto most = [&](const T& friction, const T& overhang) {
            return seat_friction(j, left, m.contact_length,
                                 friction * (1.0 + friction_error) * (overhang * excess + 1.0));
        };
        loop.high[i] = most(m.friction_high, m.overhang_high);
        loop.nominal[i] = most(m.friction, m.overhang);
        take_values(loop.value_links[i], k);
        take_values(loop.high_values[i], loop.high[i]);
        take_values(loop.nominal_values[i], loop.nominal[i]);
    }
    speaks_of(-1, parts.speed);
    if (parts.washer != nullptr) {
        const Washer<T>& w = *parts.washer;
        const T softness = 1.0 / (rings::section_area(w.section) * w.section.modulus);
        e.nut_compliance += w.thickness * (softness + shaft_softness);
        loop.gained +=
            w.thickness * (w.warm + rings::strain_by_speed(w.section, parts.speed) - shaft_strain);
    }
    loop.gained +=
        parts.nut_height * 0.5 *
        (parts.nut_warm + rings::strain_by_speed(parts.body.nut, parts.speed) - shaft_strain);
    loop.gained = named("length gained by rings over shaft", loop.gained);
}

// Length that the fits take from the rings and give to the shaft where S is n; heat and speed give it back.
template <class T>
T length_by_fits(const Loop<T>& loop, const T& n) {
    T sum(0.0);
    for (int i = 0; i < loop.equation.count; ++i) {
        const Link<T>& k = loop.links[i];
        sum += (positive(k.left - k.loss * n) + positive(k.beyond - k.loss * n)) * k.shortening;
    }
    return sum * 0.5;
}

// Friction that the seats can add up to where S is n, nominal and at the high end.
template <class T>
struct Capacity {
    T nominal, high;
};
template <class T>
Capacity<T> grip_capacity(const Loop<T>& loop, const Member<T>* members, const T& n) {
    Capacity<T> c{T(0.0), T(0.0)};
    for (int i = 0; i < loop.equation.count; ++i) {
        const Member<T>& m = members[i];
        const Link<T>& k = loop.links[i];
        speaks_of(i, n);
        const T pressure = (positive(k.left - k.loss * n) + positive(k.beyond - k.loss * n)) * 0.5 /
                           m.joint.flexibility;
        c.nominal += pressure * m.joint.diameter * m.contact_length * fields::pi * m.friction;
        c.high += loop.high[i].room(n);
    }
    speaks_of(-1, n);
    return c;
}

} // namespace fitwright::stack
