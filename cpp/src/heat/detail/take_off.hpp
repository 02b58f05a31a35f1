// Peaks that were pressed flat at joining are gone for good: the interference that has to be opened
// is that after smoothing.
#pragma once

#include "oven.hpp"
#include <fitwright/heat/take_off.hpp>

namespace fitwright::rules {
extern const number::Rule contact_within_length, interference_told_twice;
} // namespace fitwright::rules

namespace fitwright::heat {

// Force the grip holds for each unit of friction, unclamped.
template <class T>
T held_by(const rings::Joint<T>& j, const T& length) {
    return rings::pressure_under(j, T(0.0), T(0.0)) * j.diameter * length * fields::pi;
}

template <class T>
void TakeOff::run(const T* inputs, T* outputs, const fields::Context& context, Faults<T>& faults) {
    const auto& in = *reinterpret_cast<const TakeOffInputs<T>*>(inputs);
    auto& out = *reinterpret_cast<TakeOffOutputs<T>*>(outputs);
    const materials::Material& ms = *context.materials[0];
    const materials::Material& mr = *context.materials[1];
    const T measured = in.shaft.seat - in.ring.bore;
    const T interference = fields::given(in.interference, measured);
    faults.require((measured == T(0.0)) | (abs(interference - measured) <= T(1e-9)),
                   rules::interference_told_twice, interference);
    const auto joint = [&](const T& ring_temperature) {
        return rings::joint_of(
            rings::JointInputs<T>{in.shaft.bore, in.shaft.modulus_factor, in.shaft.expansion_factor,
                                  in.shaft_temperature, in.shaft.seat, in.shaft.roughness,
                                  interference, T(0.0), ring_temperature},
            in.ring, ms, mr, rings::JointPlaces{1, 2}, faults);
    };
    const rings::Joint<T> cold = joint(in.shaft_temperature);
    const rings::Joint<T> warm = joint(in.shaft_temperature + in.difference);
    const T length = fields::given(in.ring.contact_length, in.ring.length);
    faults.require(length <= in.ring.length, rules::contact_within_length, length);
    faults.place = 0;
    const T slip = slip_clearance_or_usual(in.loose_clearance, in.shaft.seat);
    const T limit = fields::given(in.heating_limit, T(mr.heating_limit));

    // The bore it has after smoothing, at 20 degC, and what it must grow to.
    const T left = interference - cold.smoothing_loss;
    const T bore = in.shaft.seat - left;
    const T to_open = left + in.shaft.seat * cold.shaft_warm;
    const auto at_opening = [&](const T& clearance) {
        return rings::temperature_for_growth(mr, in.ring.expansion_factor,
                                             (to_open + clearance) / bore);
    };
    out.ring_loose = at_opening(T(0.0));
    out.difference_loose = out.ring_loose - in.shaft_temperature;
    out.ring_free = at_opening(slip);
    out.difference_free = out.ring_free - in.shaft_temperature;
    out.limit_margin = limit - out.ring_free;
    faults.kink((cold.interference == T(0.0)) | (warm.interference == T(0.0)));
    out.cold_pressure = rings::pressure_under(cold, T(0.0), T(0.0));
    const T hold = held_by(cold, length);
    out.cold_pull = hold * in.ring.friction * in.breakaway;
    out.cold_pull_low = hold * in.ring.friction_low * in.breakaway_low;
    out.cold_pull_high = hold * in.ring.friction_high * in.breakaway_high;
    const T warm_hold = held_by(warm, length);
    out.warm_pull = warm_hold * in.ring.friction * in.breakaway;
    out.warm_pull_high = warm_hold * in.ring.friction_high * in.breakaway_high;
    out.opening = bore * (1.0 + warm.ring_warm) - in.shaft.seat * (1.0 + warm.shaft_warm);
}

} // namespace fitwright::heat
