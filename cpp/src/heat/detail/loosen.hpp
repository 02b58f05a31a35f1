// One march with the joint closed: heated until it opens by the loose clearance, then left alone until
// the shaft has caught up.
#pragma once

#include "oven.hpp"
#include "warming.hpp"
#include <fitwright/heat/loosen.hpp>

namespace fitwright::rules {
extern const number::Rule bath_in_material_range, grip_to_free, heat_frees, interference_told_twice;
} // namespace fitwright::rules

namespace fitwright::heat {

inline constexpr double patience = 36000.0; // s of heating

template <class T>
void loosen_outputs(const LoosenInputs<T>& in, LoosenOutputs<T>& out, bool bath,
                    const materials::Material& ms, const materials::Material& mr,
                    Faults<T>& faults) {
    const T measured = in.shaft.seat - in.ring.bore;
    const T told = fields::given(in.interference, measured);
    faults.require((measured == T(0.0)) | (abs(told - measured) <= T(1e-9)),
                   rules::interference_told_twice, told);
    require_heat_data(ms, 1, faults);
    require_heat_data(mr, 2, faults);
    const rings::Joint<T> joint = rings::joint_of(
        rings::JointInputs<T>{in.shaft.bore, in.shaft.modulus_factor, in.shaft.expansion_factor,
                              in.shaft_temperature, in.shaft.seat, in.shaft.roughness, told, T(0.0),
                              in.shaft_temperature},
        in.ring, ms, mr, rings::JointPlaces{1, 2}, faults);
    faults.place = 0;
    const T left = told - joint.smoothing_loss;
    const T slip = slip_clearance_or_usual(in.loose_clearance, in.shaft.seat);
    const T limit = fields::given(in.heating_limit, T(mr.heating_limit));
    const auto grips = joint.interference > T(0.0);
    faults.require(grips, rules::grip_to_free, joint.interference);
    const auto bath_known = (in.bath >= T(mr.lowest)) & (in.bath <= T(mr.highest));
    if (bath)
        faults.require(bath_known, rules::bath_in_material_range, in.bath);
    if (!grips || (bath && !bath_known) || !materials::told(ms.conductivity) ||
        !materials::told(mr.conductivity)) {
        out = LoosenOutputs<T>{};
        return;
    }
    RingOnShaft<T> pair;
    assemble(pair, in, left, Taking<T>{in.air_film, in.standing_gap, in.contact_factor}, limit, ms,
             mr, faults);
    Chain<T>& c = pair.chain;
    pair.together();
    const Film<T> air = c.films[films::ring_outside];
    const T face = in.ring.outside * fields::pi;
    if (bath)
        c.films[films::ring_outside] = {in.bath_film, T(0.0), in.bath};
    else
        heat_skin(c, pair.ring_first, pair.ring_cells,
                  (in.ring.outside - in.shaft.seat) * (0.5 / pair.ring_cells), true, in.heat_flux,
                  face, in.skin_depth);
    March<T> m(c, value_of(in.tolerance) * 100.0, 1e-3);
    pair.start(m, in.shaft_temperature, in.shaft_temperature);
    m.settle();
    const T before = pair.heat_content(m);
    double least = value_of(joint.interference);
    const auto watched = [&](const March<T>& at) {
        least = smaller(least, value_of(at.chain.template interference<T>(at.now)));
    };
    const Reached<T> loose =
        march_to(m, Watch<T>{Event::interference, T(0.0), T(0.0)}, patience, watched);
    const Reached<T> free =
        loose.happened
            ? march_to(m, Watch<T>{Event::interference, -slip, T(0.0)}, patience, watched)
            : loose;
    // Slow heat warms all of it and frees nothing: then that is what is told.
    const bool known =
        (!free.happened && m.converged) || require_ring_known(c, 1, m.now, mr, faults);
    require_solved(m.converged, m.time, faults);
    faults.require(T(free.happened ? 1.0 : 0.0) > T(0.0), rules::heat_frees, slip + T(least));
    if (!known || !free.happened) {
        out = LoosenOutputs<T>{};
        return;
    }
    out.time_to_loose = loose.time;
    out.time_to_free = free.time;
    T then[node_limit] = {};
    for (int i = 0; i < c.nodes; ++i)
        then[i] = c.is_cell(i) ? m.now[i] + m.rate(i) * free.lateness : m.now[i];
    out.hottest = hottest_of_body(c, 1, then);
    out.ring_at_free = mean_of_body(c, 1, then);
    out.shaft_at_free = mean_of_body(c, 0, then);
    out.difference_at_free = out.ring_at_free - out.shaft_at_free;
    out.limit_margin = limit - out.hottest;
    const T put_in = bath ? T(0.0) : in.heat_flux * face * m.time;

    // The heater is off from then on: the state is that of the moment, whenever it is.
    for (int i = 0; i < c.nodes; ++i)
        m.now[i] = then[i];
    c.films[films::ring_outside] = air;
    for (int i = 0; i < c.nodes; ++i)
        c.source[i] = T(0.0);
    m.settle();
    m.step = smaller(m.step, 1e-3);
    const double until = value_of(m.time);
    const Reached<T> again =
        march_to(m, Watch<T>{Event::interference, T(0.0), T(0.0)}, until + long_enough, NoRecord{});
    require_solved(m.converged, again.time, faults);
    out.time_free = again.time - until;
    const T change = pair.heat_content(m) - before;
    out.energy_error = abs(change + m.given_off - put_in) /
                       larger(larger(abs(change), abs(m.given_off)), larger(put_in, T(1e-9)));
}

template <class T>
void Loosen::run(const T* inputs, T* outputs, const fields::Context& context, Faults<T>& faults) {
    if constexpr (is_lanes<T>)
        lane_by_lane(&Loosen::alone, inputs, static_cast<int>(sizeof(LoosenInputs<T>) / sizeof(T)),
                     outputs, static_cast<int>(sizeof(LoosenOutputs<T>) / sizeof(T)), context,
                     faults);
    else
        loosen_outputs(*reinterpret_cast<const LoosenInputs<T>*>(inputs),
                       *reinterpret_cast<LoosenOutputs<T>*>(outputs), context.choices[0] == 1,
                       *context.materials[0], *context.materials[1], faults);
}

} // namespace fitwright::heat
