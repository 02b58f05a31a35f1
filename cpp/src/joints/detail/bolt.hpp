// A bolt as a spring and as a thread: what one joint and a plate with many bolts share.
//   with ends   d = L_head/(E A_N) + shank + free thread/(E A3) + engaged thread/(E A3) + L_nut/(E A_N)
//               L_head = d/2, engaged thread d/2, L_nut = 0.4 d, tapped 0.33 d (VDI 2230-1, from memory)
//   grip only   d = shank/(E A) + free thread/(E As) (textbooks)
#pragma once

#include "materials/range.hpp"
#include "threads/detail/preload.hpp"
#include "threads/detail/stripping.hpp"
#include <fitwright/joints/bolted_joint.hpp>

namespace fitwright::rules {
extern const number::Rule head_above_hole, hole_above_bolt, shank_within_grip, torque_or_preload;
} // namespace fitwright::rules

namespace fitwright::joints {

using namespace number;

// A bolt with what was left out worked out.
template <class T>
struct BoltSize {
    T shank, head, hole, yield, tensile;
};

template <class T>
BoltSize<T> bolt_size(const Bolt<T>& bolt, const materials::Material& metal, Faults<T>& faults) {
    materials::require_in_range(metal, bolt.temperature, faults);
    BoltSize<T> s;
    s.shank = fields::given(bolt.shank_diameter, bolt.diameter);
    s.head = fields::given(bolt.head_diameter, bolt.diameter * 1.5);
    s.hole = fields::given(bolt.hole, bolt.diameter * 1.1);
    s.yield = fields::given(bolt.yield_strength, materials::at(metal.yield, bolt.temperature));
    s.tensile = fields::given(bolt.tensile_strength, s.yield / 0.9);
    faults.require(s.head > s.hole, rules::head_above_hole, s.head);
    // A threaded rod in a hole of its own size is where textbooks begin.
    faults.require(s.hole >= bolt.diameter * (1.0 - 1e-9), rules::hole_above_bolt, s.hole);
    return s;
}

// The same thread as the models of the room threads take it.
template <class T>
threads::Nut<T> as_nut(const Bolt<T>& bolt, const BoltSize<T>& size, const T& engagement) {
    threads::Nut<T> nut = threads::thread_of(bolt, bolt.pitch, engagement);
    nut.face_inside = size.hole;
    nut.face_outside = size.head;
    nut.face_friction = bolt.head_friction;
    nut.face_friction_low = bolt.head_friction_low;
    nut.face_friction_high = bolt.head_friction_high;
    return nut;
}

template <class T>
FITWRIGHT_INLINE T disc_area(const T& diameter) {
    return square(diameter) * (fields::pi / 4.0);
}

// Stretch per force over a grip; `through` has a nut, else the thread is in a part of modulus
// `partner`.
template <class T>
T bolt_compliance(const Bolt<T>& bolt, const BoltSize<T>& size, const threads::ThreadGeometry<T>& g,
                  const T& grip, const T& modulus, const T& partner, bool through, bool with_ends,
                  Faults<T>& faults) {
    faults.require(bolt.shank_length <= grip * (1.0 + 1e-9), rules::shank_within_grip,
                   bolt.shank_length);
    const T plain = bolt.shank_length / disc_area(size.shank);
    const T threaded = positive(grip - bolt.shank_length);
    if (!with_ends)
        return (plain + threaded / g.stress_area) / modulus;
    const T root = disc_area(g.root_diameter);
    const T nominal = disc_area(bolt.diameter);
    const T half = bolt.diameter * 0.5;
    return (plain + (threaded + half) / root + half / nominal) / modulus +
           bolt.diameter * (through ? 0.4 : 0.33) / (nominal * (through ? modulus : partner));
}

// Force by torque, or as told, at its ends; and the torque of the thread that goes with them.
template <class T>
struct BoltPreload {
    T nominal, low, high, torque, thread_torque_high;
};
template <class T>
BoltPreload<T> bolt_preload(const threads::Nut<T>& nut, const threads::ThreadGeometry<T>& g,
                            const T& torque, const T& told, const T& scatter, Faults<T>& faults) {
    faults.require(threads::one_of(torque, told), rules::torque_or_preload,
                   fields::given(told, T(0.0)));
    const threads::TorqueEnds<T> k = threads::torque_ends(nut, g, faults);
    const auto by_torque = threads::is_given(torque);
    const T set = fields::given(torque, T(1.0));
    BoltPreload<T> p;
    p.nominal = select(by_torque, set / k.nominal, fields::given(told, T(1.0)));
    p.torque = select(by_torque, set, p.nominal * k.nominal);
    p.low = select(by_torque, set / k.high_friction, p.nominal) * (1.0 - scatter);
    p.high = select(by_torque, set / k.low_friction, p.nominal) * (scatter + 1.0);
    // What is told as a force twists the thread by its usual friction, a torque by the least: there
    // the force is greatest.
    p.thread_torque_high =
        select(by_torque, p.high * threads::thread_part(g, nut.thread_friction_low, true, faults),
               p.high * threads::thread_part(g, nut.thread_friction, true, faults));
    return p;
}

// Settling by faces: threads, head and nut, and `between` the clamped parts.
template <class T>
FITWRIGHT_INLINE T usual_embedding(bool through, double between) {
    return T(3e-6 + (through ? 5e-6 : 2.5e-6) + 1.5e-6 * between);
}

} // namespace fitwright::joints
