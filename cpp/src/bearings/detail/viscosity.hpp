// The oil at its running temperature, and what the speed asks of it.
#pragma once

#include <fitwright/bearings/rows.hpp>
#include <fitwright/fields/formula.hpp>
#include <fitwright/number/number.hpp>

namespace fitwright::rules {
extern const number::Rule viscosity_falls, viscosity_known;
} // namespace fitwright::rules

namespace fitwright::bearings {

using namespace number;
using fields::is_given;

// ASTM D341 (ISO 3448 leans on it): ln ln (nu + 0.7), nu in mm^2/s, falls straight with ln of the
// absolute temperature. The simple form holds from 2 mm^2/s upwards.
template <class T>
T oil_viscosity(const Lubricant<T>& oil, const T& temperature, Faults<T>& faults) {
    const auto told = is_given(oil.viscosity);
    const auto by_two = is_given(oil.viscosity_40) & is_given(oil.viscosity_100);
    faults.require(told | by_two, rules::viscosity_known, oil.viscosity);
    const auto falls = oil.viscosity_100 < oil.viscosity_40;
    faults.require(told | !by_two | falls, rules::viscosity_falls, oil.viscosity_100);
    const auto usable = by_two & falls;
    const T warm = select(usable, oil.viscosity_40, T(100e-6)) * 1e6;
    const T hot = select(usable, oil.viscosity_100, T(10e-6)) * 1e6;
    const T at_warm = log(log(warm + 0.7));
    const T at_hot = log(log(hot + 0.7));
    constexpr double zero = 273.15;
    const T along =
        log((temperature + zero) / (40.0 + zero)) / log(T((100.0 + zero) / (40.0 + zero)));
    // Stiffer than any oil that still flows.
    const T doubled = smaller(at_warm + along * (at_hot - at_warm), T(4.0));
    const T worked_out = exp(exp(doubled)) - 0.7;
    return select(told, oil.viscosity, worked_out * 1e-6);
}

// ISO 281, nu1 in mm^2/s with n in r/min and the pitch diameter in mm: 45000 n^-0.83 d^-0.5 below
// 1000 r/min, 4500 n^-0.5 d^-0.5 from there (the two meet within 2.3 %). Below a thousandth of a
// turn a minute nothing changes.
template <class T>
T reference_viscosity(const T& speed, const T& pitch_diameter, Faults<T>& faults) {
    const T turns = larger(speed * (30.0 / fields::pi), T(1e-3));
    const auto slow = turns < T(1000.0 - 1e-9); // 1000 rpm told in rad/s is 1000
    faults.kink(abs(turns - 1000.0) <= T(1e-9));
    const T by_speed = select(slow, power(turns, -0.83) * 45000.0, 4500.0 / sqrt(turns));
    return by_speed / sqrt(pitch_diameter * 1e3) * 1e-6;
}

} // namespace fitwright::bearings
