// The stack at quick level: first tightening by the gripped law at both ends of friction, later
// states by equilibrium, the friction-free answer beside them.
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
    T settling;
    T overhang_length; // in contact, of the whole ring: its end effect is that of its ends
};

// The washer under the nut; it does not touch the seat.
template <class T>
struct Washer {
    rings::Section<T> section;
    T thickness, warm;
};

// The values of a link for the solve that precedes the derivatives; lanes have no use for it.
template <class T>
FITWRIGHT_INLINE double to_double(const T& x) {
    if constexpr (has_derivatives<T>)
        return x.value;
    else
        return 0.0;
}

template <class T>
struct Loop {
    Link<T> links[part_limit];
    Link<double> value_links[part_limit];
    LoopEquation<T> equation;
    T softness[part_limit]; // of each ring alone
    T gained;               // free length of the rings over that of the shaft
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
};

// Thrust carried by member i: towards the shoulder it enters at the first half of the inner ring,
// away from it at the last.
template <class T>
FITWRIGHT_INLINE T thrust_on(int i, const T& thrust, int inner_first, int inner_last) {
    if (i <= inner_first)
        return thrust;
    return i <= inner_last ? -positive(-thrust) : T(0.0);
}

// Linear springs, and the faces at force n.
template <class T>
FITWRIGHT_INLINE T joint_compliance(const LoopEquation<T>& e, const T& n) {
    return e.compliance + (e.nut_faces + e.shoulder_faces + e.split_faces) / n;
}

// Builds the loop of forces of one state.
template <class T>
void make_loop(Loop<T>& loop, const Member<T>* members, int count, const LoopParts<T>& parts) {
    LoopEquation<T>& e = loop.equation;
    e.links = loop.links;
    e.value_links = loop.value_links;
    e.count = count;
    e.first_force = parts.first_force;
    e.thrust = thrust_on(0, parts.thrust, parts.inner_first, parts.inner_last);
    e.split_thrust = thrust_on(parts.inner_last, parts.thrust, parts.inner_first, parts.inner_last);
    e.has_split = parts.inner_last > parts.inner_first;
    e.compliance = parts.body.compliance;
    e.nut_faces = parts.washer_softness + parts.nut_softness;
    e.shoulder_faces = T(0.0);
    e.split_faces = T(0.0);
    e.wanted = T(0.0);
    T thrust_shortening(0.0);
    T gained(0.0);
    T shaft_strain(0.0); // of the shaft under the member of the moment
    T shaft_area_modulus(1.0);
    for (int i = 0; i < count; ++i) {
        const Member<T>& m = members[i];
        const rings::Joint<T>& j = m.joint;
        const T thrust = thrust_on(i, parts.thrust, parts.inner_first, parts.inner_last);
        const T ring_area_modulus = rings::section_area(j.ring) * j.ring.modulus;
        shaft_area_modulus = rings::section_area(j.shaft) * j.shaft.modulus;
        loop.softness[i] = m.length / ring_area_modulus;
        e.compliance += loop.softness[i] + m.length / shaft_area_modulus;
        thrust_shortening += loop.softness[i] * thrust;
        shaft_strain = j.shaft_warm + rings::strain_by_speed(j.shaft, parts.speed);
        gained +=
            m.length * (j.ring_warm + rings::strain_by_speed(j.ring, parts.speed) - shaft_strain);
        loop.links[i] = {j.interference - j.ring_force_loss * thrust,
                         j.ring_force_loss + j.shaft_force_loss, j.flexibility,
                         m.contact_length * j.length_coupling / j.flexibility};
        if (i <= parts.inner_first)
            e.shoulder_faces += m.face_softness;
        else if (i <= parts.inner_last)
            e.split_faces += m.face_softness;
        else
            e.nut_faces += m.face_softness;
        loop.value_links[i] = {to_double(loop.links[i].left), to_double(loop.links[i].loss),
                               to_double(loop.links[i].flexibility),
                               to_double(loop.links[i].shortening)};
    }
    if (parts.washer != nullptr) {
        const Washer<T>& w = *parts.washer;
        const T area_modulus = rings::section_area(w.section) * w.section.modulus;
        e.compliance += w.thickness / area_modulus + w.thickness / shaft_area_modulus;
        gained +=
            w.thickness * (w.warm + rings::strain_by_speed(w.section, parts.speed) - shaft_strain);
    }
    gained += parts.nut_height * 0.5 *
              (parts.nut_warm + rings::strain_by_speed(parts.body.nut, parts.speed) - shaft_strain);
    loop.gained = gained - thrust_shortening;
}

// What tightening to first_force without friction locks into the loop: its length when nothing has
// moved yet.
template <class T>
T locked_in(const Loop<T>& loop) {
    return loop_at(loop.equation, T(0.0)) - loop.gained;
}

// First tightening: from the nut to the shoulder, ring by ring. Friction at its high end also locks
// less length into the loop than the nut's force alone would: `shortfall`.
template <class T>
struct FirstTightening {
    ShoulderOutputs<T> shoulder;
    T shortfall;
};
template <class T>
FirstTightening<T> first_tightening(const Loop<T>& loop, const Member<T>* members, int count,
                                    const T& nut_force) {
    T low = nut_force;
    T high = nut_force;
    T shortfall(0.0);
    for (int i = count - 1; i >= 0; --i) {
        const Member<T>& m = members[i];
        const rings::Joint<T>& j = m.joint;
        const T behind = low;
        low = force_passed(j, m.contact_length, m.friction_high, m.overhang_high, m.overhang_length,
                           low);
        high = force_passed(j, m.contact_length, m.friction_low, m.overhang_low, m.overhang_length,
                            high);
        const T missing = nut_force - (behind + low) * 0.5; // the force falls nearly evenly
        const Link<T>& k = loop.links[i];
        const T grip_at_nut_force = positive(k.left - k.loss * nut_force);
        const T grip = positive(k.left - k.loss * (nut_force - missing));
        shortfall += missing * (loop.softness[i] +
                                m.length / (rings::section_area(j.shaft) * j.shaft.modulus)) -
                     (grip - grip_at_nut_force) * k.shortening -
                     m.face_softness * log(larger(low / nut_force, T(1e-3)));
    }
    return {{low, high, nut_force}, shortfall};
}

// Friction that the seats can add up to, at the pressures of axial force `nut_force`, and the part
// of it that can be missing at the nut: a seat that holds its ring towards the shoulder unloads the
// nut by the share of the joint's compliance between the ring's middle and the shoulder.
template <class T>
struct Capacity {
    T nominal, high, at_nut;
};
template <class T>
Capacity<T> grip_capacity(const Loop<T>& loop, const Member<T>* members, int count,
                          const T& nut_force) {
    const LoopEquation<T>& e = loop.equation;
    const T whole = joint_compliance(e, nut_force);
    Capacity<T> c{T(0.0), T(0.0), T(0.0)};
    T side(0.0);
    for (int i = 0; i < count; ++i) {
        const Member<T>& m = members[i];
        const T p = positive(loop.links[i].left - loop.links[i].loss * nut_force) /
                    loop.links[i].flexibility;
        const T seat = p * m.joint.diameter * m.contact_length * fields::pi;
        const T high = seat * m.friction_high *
                       (m.overhang_high * rings::overhang_excess(m.joint, m.overhang_length) + 1.0);
        side += loop.softness[i] * 0.5 + m.face_softness / nut_force;
        c.nominal += seat * m.friction;
        c.high += high;
        c.at_nut += high * (side / whole);
        side += loop.softness[i] * 0.5;
    }
    return c;
}

// Any later state: only equilibrium is certain. The low bound starts from the low nut force.
template <class T>
ShoulderOutputs<T> later_state(const T& nut_force, const T& nut_force_low, const T& thrust,
                               const T& capacity) {
    return {positive(nut_force_low + thrust - capacity), positive(nut_force + thrust + capacity),
            positive(nut_force + thrust)};
}

} // namespace fitwright::stack
