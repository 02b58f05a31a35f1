// Lock tabs: n tabs and m slots meet every 2 pi/lcm(n, m), one tab bent. From one meeting to the next
// the nut advances lead/lcm, which the whole joint's compliance turns into force. For a phase that
// may be anything, the chance of a meeting inside is window/step, at most 1.
//
// Hand: a right-hand nut is tightened clockwise, seen from the nut end. What lags behind the shaft
// pushes the nut against the rotation: rings that drag or creep (a loose ring on a turning shaft
// rolls behind it under a load that stands still), and the nut's own inertia while the shaft runs
// up; in a stop the inertia pushes with the rotation. Rings push through the face, so that only the
// thread holds; against inertia thread and face hold together.
#pragma once

#include "nut_body.hpp"
#include "preload.hpp"
#include <fitwright/threads/locking.hpp>

namespace fitwright::rules {
extern const number::Rule surface_speed, torque_limit, torque_window, whole_slots, whole_tabs;
} // namespace fitwright::rules

namespace fitwright::threads {

// Greatest common divisor of whole numbers up to 360, by Euclid, lane by lane. The longest run is
// that of neighbours in Fibonacci's row: 13 steps below 377.
template <class V>
FITWRIGHT_INLINE V common_divisor(V a, V b) {
    for (int i = 0; i < 14; ++i) {
        const auto more = b > V(0.0);
        const V by = select(more, b, V(1.0));
        const V near = nearest_whole(a / by);
        const V part = select(near * by > a, near - 1.0, near);
        const V rest = a - part * by;
        a = select(more, b, a);
        b = select(more, rest, b);
    }
    return a;
}

// From the meetings of a turn on. Window told, limit at or above it, miss at or above 0.
template <class T>
struct TabWindow {
    T torque_low, torque_high, limit;
    T compliance, miss; // infinite miss: a whole step
};
template <class T>
void lock_tabs(LockTabsOutputs<T>& out, const T& meetings_per_turn, const ThreadGeometry<T>& g,
               const TorqueEnds<T>& k, const TabWindow<T>& in) {
    out.meetings_per_turn = meetings_per_turn;
    out.meeting_angle = T(2.0 * fields::pi) / out.meetings_per_turn;
    const T per_angle = per_radian(g) / in.compliance; // force
    out.preload_step = out.meeting_angle * per_angle;
    out.torque_step = out.preload_step * k.nominal;
    out.window_low = in.torque_low / k.nominal;
    out.window_high = in.torque_high / k.nominal;
    out.step_over_preload = out.preload_step / out.window_low;
    const T window = in.torque_high - in.torque_low;
    const auto expected = [&](const T& torques, const T& torque_per_force) {
        return torques / (torque_per_force * out.preload_step);
    };
    out.window_angle = window / (k.nominal * per_angle);
    out.meetings_in_window = expected(window, k.nominal);
    out.chance = smaller(out.meetings_in_window, T(1.0));
    out.chance_low = smaller(expected(window, k.high_friction), T(1.0));
    out.chance_high = smaller(expected(window, k.low_friction), T(1.0));
    out.chance_to_limit = smaller(expected(in.limit - in.torque_low, k.nominal), T(1.0));
    const T reach = smaller(out.preload_step, out.window_high - out.window_low);
    out.preload_greatest = out.window_low + reach;
    out.preload_mean = out.window_low + reach * 0.5;

    const T miss = fields::given(in.miss, out.meeting_angle);
    out.next_preload = out.window_low + miss * per_angle;
    out.next_torque = out.next_preload * k.nominal;
    out.window_margin = in.torque_high - out.next_torque;
    out.limit_margin = in.limit - out.next_torque;
    out.stone_per_degree = per_radian(g) * (fields::pi / 180.0);
    out.stone_least = positive(miss - out.window_angle) * per_radian(g);
    out.stone_middle = positive(miss - out.window_angle * 0.5) * per_radian(g);
}

template <class T>
void LockTabs::run(const T* inputs, T* outputs, const fields::Context& context, Faults<T>& faults) {
    const auto& in = *reinterpret_cast<const LockTabsInputs<T>*>(inputs);
    auto& out = *reinterpret_cast<LockTabsOutputs<T>*>(outputs);
    const ThreadGeometry<T> g =
        thread_geometry(in.nut, in.shaft_bore, faults, nut_kind(context.choices));
    const TorqueEnds<T> k = torque_ends(in.nut, g, faults);
    faults.require(is_whole(in.tabs), rules::whole_tabs, in.tabs);
    faults.require(is_whole(in.slots), rules::whole_slots, in.slots);
    faults.require(in.torque_high > in.torque_low, rules::torque_window, in.torque_high);
    const T limit = fields::given(in.torque_limit, in.torque_high);
    faults.require(limit >= in.torque_high, rules::torque_limit, limit);
    const T tabs = nearest_whole(in.tabs);
    const T slots = nearest_whole(in.slots);
    const T meetings = tabs * slots / T(common_divisor(value_of(tabs), value_of(slots)));
    lock_tabs(out, meetings, g, k,
              TabWindow<T>{in.torque_low, in.torque_high, limit, in.compliance, in.miss});
}

// `in.nut` with geometry g; the rest of the inputs as declared.
template <class T>
void hand_of(HandOutputs<T>& out, const HandInputs<T>& in, const ThreadGeometry<T>& g, int hand,
             bool anticlockwise, const materials::Material& metal, Faults<T>& faults) {
    require_frictions(in.nut, faults);
    const T trip_speed = fields::given(in.trip_speed, in.speed);
    const T fastest = larger(in.speed, trip_speed);
    faults.require(fastest * in.nut.outside <= T(rings::surface_speed_limit), rules::surface_speed,
                   fastest);
    const double sense = (hand == right) == anticlockwise ? 1.0 : -1.0;
    out.sense = T(sense);
    out.thread_hold = in.preload * thread_part(g, in.nut.thread_friction_low, false, faults);
    out.loosening_torque = out.thread_hold + in.preload * face_part(g, in.nut.face_friction_low);
    out.face_torque = in.preload * face_part(g, in.nut.face_friction_high);
    const T drag = smaller(in.drag_torque, out.face_torque);
    out.drag_torque = drag * sense;
    out.creep_torque = out.face_torque * sense;
    out.reverse_drag_torque = drag * -sense;
    // The whole ring from the pitch diameter out, as a full cylinder of its height.
    const T inertia = (square(square(in.nut.outside)) - square(square(g.pitch_diameter))) *
                      in.nut.height * density_in(metal.density * fields::pi / 32.0, in.nut.height);
    out.start_torque = inertia * in.speed / in.start_time * sense;
    out.trip_torque = inertia * trip_speed / in.trip_time * -sense;
    out.drag_margin = out.thread_hold + out.drag_torque;
    out.creep_margin = out.thread_hold + out.creep_torque;
    out.start_margin = out.loosening_torque + out.start_torque;
    out.trip_margin = out.loosening_torque + out.trip_torque;
    out.reverse_margin = out.thread_hold + out.reverse_drag_torque;
    out.reverse_creep_margin = out.thread_hold - out.creep_torque;
}

template <class T>
void Handed::run(const T* inputs, T* outputs, const fields::Context& context, Faults<T>& faults) {
    const auto& in = *reinterpret_cast<const HandInputs<T>*>(inputs);
    const NutKind kind = nut_kind(context.choices);
    const ThreadGeometry<T> g = thread_geometry(in.nut, in.shaft_bore, faults, kind);
    hand_of(*reinterpret_cast<HandOutputs<T>*>(outputs), in, g, kind.hand, context.choices[3] == 1,
            *context.materials[0], faults);
}

} // namespace fitwright::threads
