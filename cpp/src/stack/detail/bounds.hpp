// What is certain of the clamp. Friction remembers, so that S (the tension of the shaft, locked.hpp) may
// run along the stack in any way that the seats can hold. Over all of those, and over the ends of all that
// is told with ends:
//
//   first tightening  every ring slides towards the shoulder: S falls from the nut on by the gripped law.
//                     Where it is used up before a face, the gap that cooling left there may still be open.
//   later             the loop keeps its length. What grows with S anywhere is least at one end when S is as
//                     great as the seats can make it everywhere else: one equation for each end. An open face
//                     only makes the loop longer. A softer loop than bars gains less by heat (loop_error).
//
// Nothing here depends on what happened between: any number of states may lie before.
#pragma once

#include "quick.hpp"

namespace fitwright::stack {

// What the nut was tightened with, and what the faces settle afterwards.
template <class T>
struct TightenedBy {
    T nominal, low, high;
    T settling, settling_low, settling_high;
};

// Widest gap that cooling can leave at the shoulder side of a ring: it grips at its nut side first, and all
// of its shrinking goes on after that. Where the grip is even it is half of this (docs/theory-heat.md).
template <class T>
T widest_gap(const Member<T>& m) {
    const rings::Joint<T>& j = m.joint;
    const T left = positive(j.interference);
    return named("widest gap by cooling",
                 m.length * (left / j.diameter + left / j.flexibility * j.length_coupling));
}

// Least mean of S along a seat that was not slid as a whole: friction may draw at it from both ends.
template <class T>
T least_mean(const SeatFriction<T>& f, const T& nut_side) {
    const T most = f.capacity * (1.0 + f.x); // where S is below 0 it grips a little harder
    const auto grips = most > T(0.0);
    const T share = select(grips, nut_side / select(grips, most, T(1.0)), T(1.0));
    const T drawn = positive(1.0 - share) * 0.5; // part of the seat, from its shoulder end
    const T rest = 1.0 - drawn;
    return nut_side * rest - most * (square(drawn) + square(rest)) * 0.5;
}

// The force of the nut followed from ring to ring, at the most that seats can take.
template <class T>
struct Chain {
    T at_shoulder;
    T locked_in; // least length in the loop, beside what the parts have gained by then
    T seated;    // 1: every ring is sure to have been slid home; 0: not
};
template <class T>
Chain<T> chain(const Loop<T>& loop, const Member<T>* members, const SeatFriction<T>* friction,
               const T& nut_force) {
    const LoopEquation<T>& e = loop.equation;
    const T touch = touch_of(nut_force);
    T s = nut_force;
    Chain<T> c;
    c.locked_in = e.nut_compliance * s + e.nut_faces * log(s / touch + 1.0) - loop.gained;
    c.seated = T(1.0);
    T gap(0.0); // of the slices of a ring, until its face
    for (int i = e.count - 1; i >= 0; --i) {
        const Link<T>& k = loop.links[i];
        const SeatFriction<T>& f = friction[i];
        speaks_of(i, s);
        const T behind = s;
        s = force_passed(f, behind);
        const auto slid = s > T(0.0);
        s = named("tension of the shaft past the seat", s);
        const T mean = named("mean tension under the ring",
                             select(slid, s + f.room(s) * f.mean, least_mean(f, behind)));
        c.locked_in += k.compliance * mean + positive(k.left - k.loss * mean) * k.shortening;
        gap += widest_gap(members[i]);
        if (!k.has_face)
            continue;
        c.locked_in += k.face * log(s / touch + 1.0) - select(slid, T(0.0), gap);
        c.seated = select(slid, c.seated, T(0.0));
        gap = T(0.0);
    }
    if (e.shoulder_gives)
        c.locked_in += e.shoulder * s;
    speaks_of(-1, s);
    c.at_shoulder = named("force that reaches the shoulder", s);
    c.locked_in = named("length locked in", c.locked_in);
    return c;
}

// The state the nut is tightened in.
template <class T>
struct FirstTightening {
    ShoulderOutputs<T> shoulder;
    Chain<T> low, nominal;
    T even, greatest; // lengths in the loop without friction, at the nominal and the greatest force
    T by_fits;        // part of it that the fits take
};
template <class T>
FirstTightening<T> first_tightening(const Loop<T>& loop, const Member<T>* members,
                                    const TightenedBy<T>& by) {
    FirstTightening<T> f;
    f.low = chain(loop, members, loop.high, by.low);
    f.nominal = chain(loop, members, loop.nominal, by.nominal);
    LoopEquation<T> even = loop.equation;
    even.wanted = loop.gained;
    even.first_force = by.nominal;
    f.even = even(by.nominal).value;
    f.by_fits = length_by_fits(loop, by.nominal);
    // How much of the greatest force the seats take is not certain: a ring that a press has closed up
    // already is not slid again. A press may leave as much as itself.
    T greatest = by.high;
    for (int i = 0; i < loop.equation.count; ++i)
        greatest = larger(greatest, members[i].press);
    // Where a rough face begins to carry goes with the force of each (touch_of).
    even.first_force = by.high;
    f.greatest = even(greatest).value;
    f.shoulder = {f.low.at_shoulder, greatest, f.nominal.at_shoulder, by.nominal};
    return f;
}

// The locked nut in a later state: without friction, and both ends over all that friction can do.
template <class T>
struct Later {
    ShoulderOutputs<T> shoulder;
    T nut, nut_low, nut_high;
};

// The share of what a loop gains that it may have less, where its shoulder is told.
template <class T>
T error_share(const Loop<T>& loop, const T& force) {
    const T error =
        loop.equation.shoulder * give_error / joint_compliance(loop, force) + bars_error;
    return error / (1.0 + error);
}

// Least clamp at the shoulder for a loop of this length: S grows from there to the nut.
template <class T>
T least_at_shoulder(LoopEquation<T>& e, const SeatFriction<T>* friction,
                    const SeatFriction<double>* values, const Chain<T>& locked, const T& longer,
                    const T& thrust, const T& start, Faults<T>& faults) {
    e.profile = Profile::from_shoulder;
    e.friction = friction;
    e.value_friction = values;
    e.wanted = locked.locked_in + longer;
    T held(0.0); // under an open nut: seats that hold a thrust towards the shoulder
    for (int i = e.count - 1; i >= 0; --i)
        held = (held - friction[i].capacity * friction[i].rise) /
               (1.0 - friction[i].x * friction[i].rise);
    held = named("tension held by seats under an open nut", held);
    return positive(larger(solve_loop(e, start, faults).told, held) + thrust) * locked.seated;
}

// `longer`: free length gained less the nut's opening, whole; `last_pulled`: the last member that a thrust
// away from the shoulder goes through.
template <class T>
Later<T> later_state(Loop<T>& loop, const FirstTightening<T>& first, const TightenedBy<T>& by,
                     const T& longer, const T& thrust, int last_pulled, Faults<T>& faults) {
    LoopEquation<T>& e = loop.equation;
    const T pulls = positive(-thrust);
    Later<T> out;

    e.profile = Profile::even;
    e.first_force = by.nominal;
    e.wanted = first.even + longer - by.settling;
    // Once the faces before the bearing are open the nut carries all of it.
    out.nut =
        hub(named("force of the nut", larger(solve_loop(e, e.first_force, faults).told, pulls)));
    out.shoulder.clamp_free = positive(out.nut + thrust);

    // A loop that is softer than its bars makes less of what it gains, and loses less.
    const T gains = named("length gained with the fits",
                          longer + first.by_fits - length_by_fits(loop, out.nut));
    T less, more;
    const auto err_by = [&](const auto& share) {
        less = named("least length gained", longer - positive(gains) * share);
        more = named("greatest length gained", longer + positive(-gains) * share);
    };
    if (e.shoulder_gives)
        err_by(error_share(loop, by.nominal));
    else
        err_by(loop_error / (1.0 + loop_error));
    e.first_force = by.nominal;
    out.shoulder.clamp_nominal =
        least_at_shoulder(e, loop.nominal, loop.nominal_values, first.nominal, less - by.settling,
                          thrust, out.nut, faults);
    e.first_force = by.low;
    out.shoulder.clamp_low = least_at_shoulder(e, loop.high, loop.high_values, first.low,
                                               less - by.settling_high, thrust, out.nut, faults);
    e.profile = Profile::from_nut;
    const T at_nut = solve_loop(e, out.nut, faults).told;
    // Greatest: S grows towards the end that is asked for, from the other.
    e.first_force = by.high;
    e.wanted = first.greatest + more - by.settling_low;
    const T most_at_shoulder = solve_loop(e, out.nut, faults).other;
    e.profile = Profile::from_shoulder;
    const T most_at_nut = solve_loop(e, out.nut, faults).other;

    // A face only pushes. Beyond an open one S starts from nothing, or from the thrust that opened it, and
    // seats change it by no more than they can.
    T past_seats = pulls; // what reaches the nut of a thrust that has opened the faces before it
    T to_nut = pulls;     // at the nut, grown from an open shoulder
    T to_shoulder(0.0);   // at the shoulder, grown from an open face
    for (int i = 0; i < e.count; ++i) {
        const SeatFriction<T>& f = loop.high[i];
        to_nut += f.room(to_nut) * f.rise;
        if (i >= last_pulled)
            past_seats = force_passed(f, past_seats);
    }
    for (int i = e.count - 1; i >= 0; --i) {
        to_shoulder += loop.high[i].room(to_shoulder) * loop.high[i].rise;
        if (i == last_pulled)
            to_shoulder = larger(to_shoulder, pulls);
    }
    out.shoulder.clamp_high = positive(larger(most_at_shoulder, to_shoulder) + thrust);
    out.nut_low = hub(larger(positive(at_nut), past_seats));
    out.nut_high = hub(larger(most_at_nut, to_nut));
    return out;
}

} // namespace fitwright::stack
