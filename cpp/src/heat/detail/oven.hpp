// The bore opens by bore * alpha_m(t) (t - 20); it must reach seat (at its temperature) plus the
// slip clearance. Mean expansion from 20 degC, so the curve is that of the material table.
#pragma once

#include "materials/range.hpp"
#include "rings/detail/fit.hpp"
#include <fitwright/heat/oven.hpp>

namespace fitwright::rules {
extern const number::Rule interference_told_twice, oven_in_material_range;
} // namespace fitwright::rules

namespace fitwright::heat {

using namespace number;

// Common practice: the larger of 30 um and half a thousandth of the diameter.
template <class T>
FITWRIGHT_INLINE T slip_clearance_or_usual(const T& wanted, const T& seat) {
    return fields::given(wanted, larger(T(30e-6), seat * 0.0005));
}

template <class T>
struct OvenPlan {
    T seat, interference, shaft_growth; // free growth per length of the shaft while slipping on
    T expansion_factor, slip_clearance, oven, heating_limit;
};

template <class T>
OvenOutputs<T> oven_outputs(const OvenPlan<T>& in, const materials::Material& ring,
                            Faults<T>& faults) {
    const T bore = in.seat - in.interference;
    const T slip = slip_clearance_or_usual(in.slip_clearance, in.seat);
    const T limit = fields::given(in.heating_limit, T(ring.heating_limit));
    const T to_open = in.interference + in.seat * in.shaft_growth;
    OvenOutputs<T> out;
    out.oven_needed =
        rings::temperature_for_growth(ring, in.expansion_factor, (to_open + slip) / bore);
    out.oven_margin = limit - out.oven_needed;
    const T oven = fields::given(in.oven, out.oven_needed);
    faults.require((oven >= T(ring.lowest)) & (oven <= T(ring.highest)),
                   rules::oven_in_material_range, oven);
    out.setting_margin = limit - oven;
    out.opening = bore * materials::free_growth(ring, in.expansion_factor, oven) - to_open;
    out.opening_margin = out.opening - slip;
    return out;
}

template <class T>
void Oven::run(const T* inputs, T* outputs, const fields::Context& context, Faults<T>& faults) {
    const auto& in = *reinterpret_cast<const OvenInputs<T>*>(inputs);
    const materials::Material& shaft = *context.materials[0];
    const T measured = in.shaft.seat - in.ring.bore;
    const T interference = fields::given(in.interference, measured);
    faults.require((measured == T(0.0)) | (abs(interference - measured) <= T(1e-9)),
                   rules::interference_told_twice, interference);
    faults.place = 1;
    materials::require_in_range(shaft, in.shaft_temperature, faults);
    faults.place = 0;
    *reinterpret_cast<OvenOutputs<T>*>(outputs) = oven_outputs(
        OvenPlan<T>{in.shaft.seat, interference,
                    materials::free_growth(shaft, in.shaft.expansion_factor, in.shaft_temperature),
                    in.ring.expansion_factor, in.slip_clearance, in.oven, in.heating_limit},
        *context.materials[1], faults);
}

} // namespace fitwright::heat
