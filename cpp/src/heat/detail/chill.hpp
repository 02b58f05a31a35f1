// seat (1 + free growth of the shaft) must fall to bore (1 + free growth of the ring) less the slip
// clearance. The ring is heated as far as it may before the shaft is asked.
#pragma once

#include "materials/range.hpp"
#include "oven.hpp"
#include <fitwright/heat/chill.hpp>

namespace fitwright::rules {
extern const number::Rule chill_in_material_range, chill_opens, interference_told_twice;
} // namespace fitwright::rules

namespace fitwright::heat {

inline constexpr double dry_ice = -78.5;   // degC, sublimes (from memory)
inline constexpr double nitrogen = -195.8; // degC, boils (from memory)

template <class T>
void Chill::run(const T* inputs, T* outputs, const fields::Context& context, Faults<T>& faults) {
    const auto& in = *reinterpret_cast<const ChillInputs<T>*>(inputs);
    const materials::Material& ms = *context.materials[0];
    const materials::Material& mr = *context.materials[1];
    const T measured = in.shaft.seat - in.ring.bore;
    const T interference = fields::given(in.interference, measured);
    faults.require((measured == T(0.0)) | (abs(interference - measured) <= T(1e-9)),
                   rules::interference_told_twice, interference);
    const T bore = in.shaft.seat - interference;
    const T slip = slip_clearance_or_usual(in.slip_clearance, in.shaft.seat);
    const T limit = fields::given(in.heating_limit, T(mr.heating_limit));
    const T lowest = fields::given(in.shaft_lowest, T(ms.lowest));
    faults.require(lowest >= T(ms.lowest), rules::chill_in_material_range, lowest);
    faults.place = 1;
    materials::require_in_range(ms, in.shaft_temperature, faults);
    faults.place = 2;
    materials::require_in_range(mr, limit, faults);
    faults.place = 0;

    const auto shaft_growth = [&](const T& t) {
        return materials::free_growth(ms, in.shaft.expansion_factor, t);
    };
    const auto bore_opened = [&](const T& t) {
        return bore * materials::free_growth(mr, in.ring.expansion_factor, t);
    };
    ChillOutputs<T> out;
    const T as_it_is = shaft_growth(in.shaft_temperature);
    const T alone = rings::temperature_for_growth(
        mr, in.ring.expansion_factor, (interference + in.shaft.seat * as_it_is + slip) / bore);
    const T at_limit = bore_opened(limit);
    out.opening_at_limit = at_limit - interference - in.shaft.seat * as_it_is;
    // Closed by more than the ring gives at its limit: the shaft gives the rest.
    const auto enough = out.opening_at_limit >= slip;
    out.ring_temperature = select(enough, smaller(alone, limit), limit);
    const T needed = rings::temperature_for_growth(
        ms, in.shaft.expansion_factor, (at_limit - interference - slip) / in.shaft.seat);
    out.shaft_needed = select(enough, in.shaft_temperature, smaller(needed, in.shaft_temperature));
    const auto margin_at = [&](const T& t) {
        return at_limit - interference - in.shaft.seat * shaft_growth(t) - slip;
    };
    const T coldest = smaller(lowest, in.shaft_temperature);
    faults.require(margin_at(coldest) >= T(-1e-12), rules::chill_opens, -margin_at(coldest));
    out.chill = in.shaft_temperature - out.shaft_needed;
    out.chill_margin = out.shaft_needed - coldest;
    out.dry_ice_margin = margin_at(larger(T(dry_ice), coldest));
    out.nitrogen_margin = margin_at(larger(T(nitrogen), coldest));
    *reinterpret_cast<ChillOutputs<T>*>(outputs) = out;
}

} // namespace fitwright::heat
