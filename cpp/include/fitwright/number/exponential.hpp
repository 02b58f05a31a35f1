// exp, log, (e^x - 1)/x and the cube root for every number type, without libm: its results differ
// between processors with and without fused multiply-add. Branch-free, so the lanes of a pack and
// a plain double run the same operations and agree to the bit.
//
// Errors were measured against __float128 over 3 million arguments a range and are bounds that
// tests/cpp/number_functions.test.cpp checks. Polynomials are minimax fits (Remez exchange).
#pragma once

#include <fitwright/number/basic.hpp>

namespace fitwright::number {

// The types whose bits can be taken apart: a double and a pack of them. Keeps an int from being
// taken for a number by the templates below.
template <class T>
inline constexpr bool is_plain = false;
template <>
inline constexpr bool is_plain<double> = true;
template <int W, class L>
inline constexpr bool is_plain<Lanes<W, L>> = true;
template <class T>
concept Plain = is_plain<T>;

// polynomial(x, c0, c1, ...) = c0 + c1 x + ..., by Horner's rule. Literals instead of an array: an
// array would be an untagged symbol of the level file.
template <Plain T>
FITWRIGHT_INLINE T polynomial(const T&, double c) {
    return T(c);
}
template <Plain T, class... C>
FITWRIGHT_INLINE T polynomial(const T& x, double c, double next, C... more) {
    return polynomial(x, next, more...) * x + c;
}
// The same for eight coefficients by Estrin's scheme, whose chain is half as long: for the
// functions of the sampling loop. Coefficients are the same for all lanes, or lane by lane.
template <Plain T, class C>
FITWRIGHT_INLINE T polynomial_7(const T& x, const C& c0, const C& c1, const C& c2, const C& c3,
                                const C& c4, const C& c5, const C& c6, const C& c7) {
    const T x2 = x * x;
    return ((x * c1 + c0) + x2 * (x * c3 + c2)) + x2 * x2 * ((x * c5 + c4) + x2 * (x * c7 + c6));
}

// A function on one number, from its body detail::name_of: inline on double, which has no level in its
// name, and once for each kind of pack, out of line.
#define FITWRIGHT_FUNCTION(name)                                                                   \
    FITWRIGHT_INLINE double name(double x) { return detail::name##_of(x); }                        \
    template <int W, class L>                                                                      \
    Lanes<W, L> name(const Lanes<W, L>& x) {                                                       \
        return detail::name##_of(x);                                                               \
    }

namespace detail {

// Adding this leaves a number of size up to 2^51 rounded to a whole number in the low bits.
inline constexpr double round_shift = 6755399441055744.0; // 1.5 * 2^52
inline constexpr std::int64_t one_bits = 0x3ff0000000000000;
inline constexpr double ln2_high = 0.693147180559663; // 41 bits: times an exponent it is exact
inline constexpr double ln2_low = 2.8235290563031577e-13;

// x = k ln 2 + r + c, |r| <= ln(2)/2. `shifted` holds k in its low bits; e^r = 1 + r + p.
template <class T>
struct ExponentParts {
    T shifted, k, r, half_and_more, c;
};
template <Plain T>
FITWRIGHT_INLINE ExponentParts<T> exponent_parts(const T& x) {
    ExponentParts<T> e;
    e.shifted = x * 1.4426950408889634 + round_shift;
    e.k = e.shifted - round_shift;
    const T exact = x - e.k * ln2_high;
    const T rest = e.k * ln2_low;
    e.r = exact - rest;
    e.c = (exact - e.r) - rest;
    // (e^r - 1 - r) / r
    e.half_and_more =
        e.r * polynomial(e.r, 0.5, 0.16666666666666685, 0.041666666666602716, 0.00833333333331392,
                         0.0013888888927302678, 0.00019841269904927593, 2.48015080456632e-05,
                         2.7557226069927554e-06, 2.762543933114198e-07, 2.511509630543993e-08);
    return e;
}

} // namespace detail

// e^x. Error <= 1 ulp. The argument is held within [-708.396..., 709.782...], where the result
// is a normal number: beyond, the result is the smallest or largest such number, not 0 or infinity.
namespace detail {
template <Plain T>
FITWRIGHT_INLINE T exp_of(const T& x) {
    constexpr double lowest = -708.3964185322641;
    constexpr double highest = 709.782712893384;
    // This way round a NaN stays one.
    const T above = select(x < T(lowest), T(lowest), x);
    const auto e = exponent_parts(select(T(highest) < above, T(highest), above));
    const T y = (e.r + (e.r * e.half_and_more + e.c)) + 1.0;
    return from_bits(add_bits(to_bits(y), shift_left(to_bits(e.shifted), 52)));
}
} // namespace detail
FITWRIGHT_FUNCTION(exp)

// ln x for positive normal numbers (2.3e-308 to 1.8e308). Error <= 0.9 ulp. For anything else the
// result is finite and meaningless; the formula checks its argument.
namespace detail {
template <Plain T>
FITWRIGHT_INLINE T log_of(const T& x) {
    // x = 2^k m with m in [sqrt(1/2), sqrt(2)): the offset carries into the exponent from there on.
    constexpr std::int64_t root_half_bits = 0x3fe6a09e667f3bcd;
    const auto moved = add_bits(to_bits(x), one_bits - root_half_bits);
    const T m = from_bits(add_bits(moved & 0x000fffffffffffff, root_half_bits));
    // A whole number below 2^52 put into the fraction of 2^52 is that double plus 2^52.
    const T k =
        from_bits(shift_right(moved, 52) | 0x4330000000000000) - (4503599627370496.0 + 1023.0);
    const T f = m - 1.0;
    // ln(1 + f) = 2 artanh(s) = f - f^2/2 + s (f^2/2 + R), s = f/(2 + f), R from the series in s^2.
    const T s = f / (f + 2.0);
    const T z = s * s;
    const T half_square = f * f * 0.5;
    const T series = z * polynomial_7(z, 0.6666666666666666, 0.4000000000000478, 0.2857142856937027,
                                      0.22222222623790328, 0.18181776354228174, 0.15387097895890864,
                                      0.1324932725873329, 0.1326286338659812);
    const T small = s * (half_square + series) + k * ln2_low;
    return k * ln2_high - ((half_square - small) - f);
}
} // namespace detail
FITWRIGHT_FUNCTION(log)

// (e^x - 1) / x, 1 at x = 0. Error <= 2 ulp for |x| <= 50. The exponential is held within
// |x| <= 700.
namespace detail {
template <Plain T>
FITWRIGHT_INLINE T expm1_over_of(const T& x) {
    const T above = select(x < T(-700.0), T(-700.0), x);
    const auto e = exponent_parts(select(T(700.0) < above, T(700.0), above));
    const auto near = e.k == T(0.0);
    const T power = from_bits(add_bits(shift_left(to_bits(e.shifted), 52), one_bits));
    const T minus_one = e.r + (e.r * e.half_and_more + e.c);
    // 2^k - 1 loses nothing where it matters: it is exact up to 2^53.
    const T far = (power * minus_one + (power - 1.0)) / select(near, T(1.0), x);
    return select(near, e.half_and_more + 1.0, far);
}
} // namespace detail
FITWRIGHT_FUNCTION(expm1_over)

// The cube root, for any sign. Error <= 0.7 ulp. Below the smallest normal number it is 0.
namespace detail {
template <Plain T>
FITWRIGHT_INLINE T cbrt_of(const T& x) {
    const T size = abs(x);
    const auto nothing = size < T(2.2250738585072014e-308);
    const auto bits = to_bits(select(nothing, T(1.0), size));
    // size = 2^(3q) z with z in [1, 8): q is the nearest whole number to (exponent - 1)/3.
    const T biased = from_bits(shift_right(bits, 52) | 0x4330000000000000) - 4503599627370496.0;
    const T shifted = (biased - 1024.0) * 0.3333333333333333 + round_shift;
    const auto q = shift_left(to_bits(shifted), 52);
    const T z = from_bits(bits - add_bits(q, add_bits(q, q)));
    T t = polynomial(z, 0.6273023786507737, 0.4491843090709667, -0.08377139414184977,
                     0.00958326053433989, -0.0004320721762663571); // within 0.002 of it
    const T triple = t * t * t;
    t = t * ((triple + z * 2.0) / (triple * 2.0 + z)); // Halley's step: within 5e-9
    // Rounded to 23 bits its square is exact, so that the last step sees its true error.
    t = from_bits(add_bits(to_bits(t), 0x20000000) & ~std::int64_t{0x3fffffff});
    const T quotient = z / (t * t);
    t = t + t * ((quotient - t) / (t * 2.0 + quotient));
    t = from_bits(add_bits(to_bits(t), q));
    return select(nothing, T(0.0), select(x < T(0.0), -t, t));
}
} // namespace detail
FITWRIGHT_FUNCTION(cbrt)

template <int N, class L>
Dual<N, L> exp(const Dual<N, L>& x) {
    const double e = exp(x.value);
    return x.chain(e, e);
}
template <int N, class L>
Dual<N, L> log(const Dual<N, L>& x) {
    return x.chain(log(x.value), 1.0 / x.value);
}
// The slope is (e^x - g)/x; within |x| < 1, where that cancels, its series sum n x^(n-1) / (n+1)!.
template <int N, class L>
Dual<N, L> expm1_over(const Dual<N, L>& x) {
    const double v = x.value;
    const double g = expm1_over(v);
    const bool near = abs(v) < 1.0;
    const double z = select(near, v, 0.0);
    const double series = polynomial(
        z, 1.0 / 2, 2.0 / 6, 3.0 / 24, 4.0 / 120, 5.0 / 720, 6.0 / 5040, 7.0 / 40320, 8.0 / 362880,
        9.0 / 3628800, 10.0 / 39916800, 11.0 / 479001600, 12.0 / 6227020800, 13.0 / 87178291200,
        14.0 / 1307674368000, 15.0 / 20922789888000, 16.0 / 355687428096000);
    return x.chain(g, select(near, series, (exp(v) - g) / select(near, 1.0, v)));
}
// Derivative 0 at 0, where the cube root has none.
template <int N, class L>
Dual<N, L> cbrt(const Dual<N, L>& x) {
    const double c = cbrt(x.value);
    const bool nothing = c == 0.0;
    return x.chain(c, select(nothing, 0.0, 1.0 / (3.0 * select(nothing, 1.0, c * c))));
}

} // namespace fitwright::number
