// Powers with a fixed exponent, for every number type, without libm.
#pragma once

#include <fitwright/number/exponential.hpp>

namespace fitwright::number {

// x^p for x > 0; 0 with derivative 0 for x <= 0. Relative error about 2e-16 (1 + |p ln x|), since
// the logarithm is rounded before it is multiplied.
namespace detail {
template <class T>
FITWRIGHT_INLINE T power_of(const T& x, double p) {
    const auto above = x > T(0.0);
    return select(above, exp(log(select(above, x, T(1.0))) * p), T(0.0));
}
} // namespace detail
FITWRIGHT_INLINE double power(double x, double p) { return detail::power_of(x, p); }
template <class T>
T power(const T& x, double p) {
    return detail::power_of(x, p);
}

} // namespace fitwright::number
