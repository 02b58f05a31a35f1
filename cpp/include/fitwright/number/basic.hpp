// Small operations every formula needs, written once for every number type, and the traits that
// tell number types apart.
#pragma once

#include <fitwright/number/dual.hpp>

namespace fitwright::number {

// The truth type of a comparison of T.
template <class T>
using Truth = decltype(T(0.0) < T(0.0));

// The value without its derivatives.
FITWRIGHT_INLINE double value_of(double x) { return x; }
template <int W, class L>
FITWRIGHT_INLINE Lanes<W, L> value_of(const Lanes<W, L>& x) {
    return x;
}
template <int N, class L>
FITWRIGHT_INLINE double value_of(const Dual<N, L>& x) {
    return x.value;
}
template <class T>
using Value = decltype(value_of(T(0.0)));

template <class T>
inline constexpr bool has_derivatives = false;
template <int N, class L>
inline constexpr bool has_derivatives<Dual<N, L>> = true;

template <class T>
FITWRIGHT_INLINE T smaller(const T& x, const T& y) {
    return select(x < y, x, y);
}
template <class T>
FITWRIGHT_INLINE T larger(const T& x, const T& y) {
    return select(x < y, y, x);
}
// The part of x above zero. A contact can only push.
template <class T>
FITWRIGHT_INLINE T positive(const T& x) {
    return select(x > T(0.0), x, T(0.0));
}
template <class T>
FITWRIGHT_INLINE T square(const T& x) {
    return x * x;
}
template <class T>
FITWRIGHT_INLINE T cube(const T& x) {
    return x * x * x;
}

// What much else is worked out from (a force, a pressure). Says nothing to numbers and their
// derivatives; bounds take derivatives by it in one step (enclosure.hpp).
template <class T>
FITWRIGHT_INLINE const T& hub(const T& x) {
    return x;
}

// Says what the lines of a shown calculation are called (fitwright/explain): an intermediate value by the
// field's words, and a value that steps of a search led to, whose way there is not shown. Nothing to other
// numbers.
template <class T>
FITWRIGHT_INLINE const T& named(const char*, const T& x) {
    return x;
}
template <class T>
FITWRIGHT_INLINE const T& searched(const char*, const T& x) {
    return x;
}
// Which of several like parts a formula speaks of from here on; -1: of none.
template <class T>
FITWRIGHT_INLINE void speaks_of(int /*part*/, const T& /*like*/) {}
// A constant with a metal's density or modulus in it has its unit; `like` is a number of the formula.
template <class T>
FITWRIGHT_INLINE double density_in(double constant, const T& /*like*/) {
    return constant;
}
template <class T>
FITWRIGHT_INLINE double modulus_in(double constant, const T& /*like*/) {
    return constant;
}

// sqrt with derivative 0 at 0 (and 0 below it), where the plain one has none.
template <class T>
FITWRIGHT_INLINE T root0(const T& x) {
    const auto above = x > T(0.0);
    return select(above, sqrt(select(above, x, T(1.0))), T(0.0));
}
// sqrt(x^2 + y^2) with derivative 0 at the origin.
template <class T>
FITWRIGHT_INLINE T norm2(const T& x, const T& y) {
    return root0(x * x + y * y);
}

} // namespace fitwright::number
