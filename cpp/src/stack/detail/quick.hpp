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
    T gained; // free length of the rings over that of the shaft
};

// Builds the loop of forces of one state. `thrust` presses the rings up to number `thrust_last`
// against the shoulder; `opening` is what the nut gives way, `settled` the share (0 or 1) of the
// embedding that has happened.
template <class T>
void make_loop(Loop<T>& loop, const Member<T>* members, int count, const Washer<T>* washer,
               const T& washer_softness, const T& nut_softness, const NutBody<T>& body,
               const T& nut_height, const T& nut_warm, const T& speed, const T& first_force,
               const T& thrust, int thrust_last) {
    LoopEquation<T>& e = loop.equation;
    e.links = loop.links;
    e.value_links = loop.value_links;
    e.count = count;
    e.first_force = first_force;
    e.thrust = thrust;
    e.compliance = body.compliance;
    e.nut_faces = washer_softness + nut_softness;
    e.shoulder_faces = T(0.0);
    T thrust_shortening(0.0);
    T gained(0.0);
    T shaft_strain(0.0); // of the shaft under the member of the moment
    T shaft_area_modulus(1.0);
    for (int i = 0; i < count; ++i) {
        const Member<T>& m = members[i];
        const rings::Joint<T>& j = m.joint;
        const bool pressed = i <= thrust_last;
        const T ring_area_modulus = rings::section_area(j.ring) * j.ring.modulus;
        shaft_area_modulus = rings::section_area(j.shaft) * j.shaft.modulus;
        e.compliance += m.length / ring_area_modulus + m.length / shaft_area_modulus;
        shaft_strain = j.shaft_warm + rings::strain_by_speed(j.shaft, speed);
        gained += m.length * (j.ring_warm + rings::strain_by_speed(j.ring, speed) - shaft_strain);
        loop.links[i] = {j.interference, j.ring_force_loss + j.shaft_force_loss, j.flexibility,
                         m.length * j.length_coupling};
        if (pressed) {
            loop.links[i].left -= j.ring_force_loss * thrust;
            thrust_shortening += m.length / ring_area_modulus * thrust;
            e.shoulder_faces += m.face_softness;
        } else {
            e.nut_faces += m.face_softness;
        }
        loop.value_links[i] = {to_double(loop.links[i].left), to_double(loop.links[i].loss),
                               to_double(loop.links[i].flexibility),
                               to_double(loop.links[i].shortening)};
    }
    if (washer != nullptr) {
        const T modulus_area = rings::section_area(washer->section) * washer->section.modulus;
        e.compliance += washer->thickness / modulus_area + washer->thickness / shaft_area_modulus;
        gained += washer->thickness *
                  (washer->warm + rings::strain_by_speed(washer->section, speed) - shaft_strain);
    }
    gained += nut_height * 0.5 * (nut_warm - shaft_strain);
    loop.gained = gained - thrust_shortening;
    e.wanted = T(0.0);
}

// What tightening to first_force locks into the loop: its length when nothing has moved yet.
template <class T>
T locked_in(const Loop<T>& loop) {
    return loop_at(loop.equation, T(0.0)) - loop.gained;
}

// Friction that the seats can add up to, at the pressures of axial force `nut_force`.
template <class T>
struct Capacity {
    T nominal, high;
};
template <class T>
Capacity<T> grip_capacity(const Loop<T>& loop, const Member<T>* members, int count,
                          const T& nut_force) {
    Capacity<T> c{T(0.0), T(0.0)};
    for (int i = 0; i < count; ++i) {
        const Member<T>& m = members[i];
        const T p = positive(loop.links[i].left - loop.links[i].loss * nut_force) /
                    loop.links[i].flexibility;
        const T seat = p * m.joint.diameter * m.contact_length * fields::pi;
        const T excess = rings::overhang_excess(m.joint, m.contact_length);
        c.nominal += seat * m.friction;
        c.high += seat * m.friction_high * (m.overhang_high * excess + 1.0);
    }
    return c;
}

// First tightening: from the nut to the shoulder, ring by ring.
template <class T>
ShoulderOutputs<T> first_tightening(const Member<T>* members, int count, const T& nut_force) {
    T low = nut_force;
    T high = nut_force;
    for (int i = count - 1; i >= 0; --i) {
        const Member<T>& m = members[i];
        low = force_passed(m.joint, m.contact_length, m.friction_high, m.overhang_high, low);
        high = force_passed(m.joint, m.contact_length, m.friction_low, m.overhang_low, high);
    }
    return {low, high, nut_force};
}

// Any later state: only equilibrium is certain.
template <class T>
ShoulderOutputs<T> later_state(const T& nut_force, const T& thrust, const T& capacity) {
    const T free = nut_force + thrust;
    return {positive(free - capacity), positive(free + capacity), positive(free)};
}

} // namespace fitwright::stack
