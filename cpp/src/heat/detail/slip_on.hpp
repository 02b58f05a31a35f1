// Carried through the air, over the seat, touched, cold: one march with its films and joint changed
// on the way.
#pragma once

#include "in_time.hpp"
#include "materials/range.hpp"
#include "oven.hpp"
#include "ring_on_shaft.hpp"
#include <fitwright/heat/slip_on.hpp>

namespace fitwright::rules {
extern const number::Rule grips_at_room, interference_told_twice, no_convergence, oven_above_room,
    window_opens;
} // namespace fitwright::rules

namespace fitwright::heat {

template <class T>
struct SlipOnPlan {
    T interference, oven, slip, least, start_clearance;
    bool good;
};

template <class T>
SlipOnPlan<T> slip_on_plan(const SlipOnInputs<T>& in, const materials::Material& ms,
                           const materials::Material& mr, Faults<T>& faults) {
    SlipOnPlan<T> p;
    const T measured = in.shaft.seat - in.ring.bore;
    p.interference = fields::given(in.interference, measured);
    faults.require((measured == T(0.0)) | (abs(p.interference - measured) <= T(1e-9)),
                   rules::interference_told_twice, p.interference);
    require_heat_data(ms, 1, faults);
    require_heat_data(mr, 2, faults);
    faults.place = 1;
    materials::require_in_range(ms, in.shaft_temperature, faults);
    faults.place = 0;
    const auto oven = oven_outputs(
        OvenPlan<T>{in.shaft.seat, p.interference,
                    materials::free_growth(ms, in.shaft.expansion_factor, in.shaft_temperature),
                    in.ring.expansion_factor, in.slip_clearance, in.oven, in.heating_limit},
        mr, faults);
    p.oven = fields::given(in.oven, oven.oven_needed);
    p.slip = slip_clearance_or_usual(in.slip_clearance, in.shaft.seat);
    p.least = fields::given(in.least_clearance, p.slip * (1.0 / 3.0));
    p.start_clearance = oven.opening;
    const auto opens = p.start_clearance > p.least;
    faults.require(opens, rules::window_opens, oven.oven_needed);
    const auto cools = p.oven > in.room;
    faults.require(cools, rules::oven_above_room, p.oven);
    const T seat_cold =
        in.shaft.seat * (1.0 + materials::free_growth(ms, in.shaft.expansion_factor, in.room));
    const T bore_cold = (in.shaft.seat - p.interference) *
                        (1.0 + materials::free_growth(mr, in.ring.expansion_factor, in.room));
    const auto grips = seat_cold > bore_cold;
    faults.require(grips, rules::grips_at_room, seat_cold - bore_cold);
    p.good = opens && cools && grips && materials::told(mr.conductivity) &&
             materials::told(ms.conductivity);
    return p;
}

// From the oven to over the seat; false when the event came first.
template <class T, class Record>
Reached<T> carry(RingOnShaft<T>& pair, March<T>& m, const T& carry_time, const Watch<T>& watch,
                 Record&& record) {
    pair.apart();
    m.settle();
    record(m);
    const double until = value_of(carry_time);
    if (until > 0.0) {
        const Reached<T> r = march_to(m, watch, until, record);
        if (r.happened)
            return r;
    }
    if constexpr (has_derivatives<T>) {
        // A longer way: the state is that of later, and the clock too.
        const T longer(0.0, carry_time.d);
        for (int i = 0; i < pair.chain.nodes; ++i)
            if (pair.chain.is_cell(i))
                m.now[i] += m.rate(i) * longer;
        m.time += longer;
    }
    pair.together();
    m.settle();
    m.step = smaller(m.step, 1e-3);
    return {false, m.time, T(0.0)};
}

template <class T, class Record>
void slip_on_run(const SlipOnInputs<T>& in, const SlipOnPlan<T>& p, SlipOnOutputs<T>& out,
                 const Taking<T>& taking, bool only_window, const materials::Material& ms,
                 const materials::Material& mr, Faults<T>& faults, Record&& record) {
    RingOnShaft<T> pair;
    assemble(pair, in, p.interference, taking, p.oven, ms, mr, faults);
    const double span = larger(abs(value_of(p.oven) - value_of(in.shaft_temperature)),
                               abs(value_of(p.oven) - value_of(in.room)));
    March<T> m(pair.chain, value_of(in.tolerance) * span, 1e-3);
    pair.start(m, in.shaft_temperature, p.oven);
    const T before = pair.heat_content(m);
    const Watch<T> window{Event::interference, -p.least, T(0.0)};
    Reached<T> r = carry(pair, m, in.carry_time, window, record);
    const bool in_the_air = r.happened;
    if (!in_the_air)
        r = march_to(m, window, long_enough, record);
    out.window = r.time;
    if (only_window) {
        faults.require(T(m.converged && r.happened ? 1.0 : 0.0) > T(0.0), rules::no_convergence,
                       r.time);
        return;
    }
    if (in_the_air) { // too late to be any good; the rest is told as if it were over its seat now
        pair.together();
        m.settle();
        m.step = smaller(m.step, 1e-3);
    }
    const Watch<T> touch{Event::interference, T(0.0), T(0.0)};
    const Reached<T> grab = march_to(m, touch, long_enough, record);
    out.grab = grab.time;
    T there[node_limit] = {};
    for (int i = 0; i < pair.chain.nodes; ++i)
        there[i] = pair.chain.is_cell(i) ? m.now[i] + m.rate(i) * grab.lateness : m.now[i];
    out.ring_at_touch = mean_of_body(pair.chain, 1, there);
    out.shaft_at_touch = mean_of_body(pair.chain, 0, there);
    const Reached<T> cold =
        march_to(m, Watch<T>{Event::near, in.room_band, in.room}, long_enough, record);
    out.time_to_room = cold.time;
    faults.require(T(m.converged && r.happened && grab.happened && cold.happened ? 1.0 : 0.0) >
                       T(0.0),
                   rules::no_convergence, cold.time);
    const T lost = before - pair.heat_content(m);
    out.energy_error =
        abs(lost - m.given_off) / larger(larger(abs(lost), abs(m.given_off)), T(1e-9));
}

template <class T>
void slip_on_outputs(const SlipOnInputs<T>& in, SlipOnOutputs<T>& out,
                     const materials::Material& ms, const materials::Material& mr,
                     Faults<T>& faults) {
    const SlipOnPlan<T> p = slip_on_plan(in, ms, mr, faults);
    if (!p.good) {
        out = SlipOnOutputs<T>{};
        return;
    }
    SlipOnOutputs<T> fast;
    slip_on_run(in, p, fast,
                Taking<T>{in.air_film_high, in.standing_gap_low, in.contact_factor_high}, true, ms,
                mr, faults, NoRecord{});
    slip_on_run(in, p, out, Taking<T>{in.air_film, in.standing_gap, in.contact_factor}, false, ms,
                mr, faults, NoRecord{});
    out.oven_setting = p.oven;
    out.start_clearance = p.start_clearance;
    out.window_low = fast.window;
    out.time_left = out.window_low - in.carry_time - in.slide_time;
}

template <class T>
void SlipOn::run(const T* inputs, T* outputs, const fields::Context& context, Faults<T>& faults) {
    if constexpr (is_lanes<T>)
        lane_by_lane(&SlipOn::alone, inputs, static_cast<int>(sizeof(SlipOnInputs<T>) / sizeof(T)),
                     outputs, static_cast<int>(sizeof(SlipOnOutputs<T>) / sizeof(T)), context,
                     faults);
    else
        slip_on_outputs(*reinterpret_cast<const SlipOnInputs<T>*>(inputs),
                        *reinterpret_cast<SlipOnOutputs<T>*>(outputs), *context.materials[0],
                        *context.materials[1], faults);
}

} // namespace fitwright::heat
