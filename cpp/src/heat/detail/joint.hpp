// Heat across the joint of ring and shaft, before and after it touches.
//
//   h = k_gas/(gap + rest) + h_contact,  gap = half the clearance on diameter, not below 0
//   h_contact = 1.25 k m/s (p/H)^0.95     Cooper, Mikic and Yovanovich (1969), Yovanovich's constants
//
// (from memory). `rest` is what the peaks of the surfaces and the temperature jump of the gas keep
// apart. Both parts are continuous at first touch.
#pragma once

#include <fitwright/number/number.hpp>

namespace fitwright::heat {

using namespace number;

template <class T>
struct Joining {
    T seat, bore;                // at 20 degC
    T shaft_factor, ring_factor; // of expansion
    T area;                      // of the seat, as the chain counts it
    T gas, rest;                 // W/(m K), m
    T contact;                   // 1.25 k m/s [W/(m2 K)]
    T hardness;                  // Pa
    T flexibility;               // interference per pressure [m/Pa]
    T radiation;                 // W/(m2 K), across the gap
};

inline constexpr double contact_power = 0.95;
inline constexpr double least_load = 1e-12; // p/H below which nothing touches

template <class X, class T>
FITWRIGHT_INLINE X joint_number(const T& x) {
    if constexpr (has_derivatives<T> && !has_derivatives<X>)
        return value_of(x);
    else
        return x;
}

template <class X, class T>
FITWRIGHT_INLINE X conductance_of(const Joining<T>& j, const X& interference) {
    const X gap = positive(-interference) * 0.5;
    const X load =
        positive(interference) / (joint_number<X>(j.flexibility) * joint_number<X>(j.hardness));
    const X pressed = larger(load, X(least_load));
    const X touch = select(load > X(least_load), exp(log(pressed) * contact_power), X(0.0));
    return joint_number<X>(j.gas) / (gap + joint_number<X>(j.rest)) +
           joint_number<X>(j.contact) * touch + joint_number<X>(j.radiation);
}
// d conductance / d interference
template <class T>
FITWRIGHT_INLINE double conductance_slope(const Joining<T>& j, double interference) {
    if (interference <= 0.0) {
        const double apart = -0.5 * interference + value_of(j.rest);
        return 0.5 * value_of(j.gas) / (apart * apart);
    }
    const double per = value_of(j.flexibility) * value_of(j.hardness);
    const double load = interference / per;
    if (load <= least_load)
        return 0.0;
    return value_of(j.contact) * contact_power * exp(log(load) * (contact_power - 1.0)) / per;
}

} // namespace fitwright::heat
