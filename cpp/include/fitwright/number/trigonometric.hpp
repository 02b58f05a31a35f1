// sin, cos, tan and atan, asin, acos for every number type, without libm and without branches.
// Errors are bounds that tests/cpp/number_functions.test.cpp checks, measured against __float128.
#pragma once

#include <fitwright/number/exponential.hpp>

namespace fitwright::number {
namespace detail {

inline constexpr double half_pi_high = 1.5707963267948966;
inline constexpr double half_pi_low = 6.123233995736766e-17;
inline constexpr double quarter_pi = 0.7853981633974483;

// sin and cos of the part of x left after whole quarter turns, and the turns.
template <class T>
struct QuarterTurn {
    T sine, cosine, shifted;
};

// Cody and Waite: pi/2 in two parts of 42 bits, whose multiples by up to 2^10 are exact, and a rest.
template <Plain T>
FITWRIGHT_INLINE QuarterTurn<T> quarter_turn(const T& x) {
    const T shifted = x * 0.6366197723675814 + round_shift;
    const T k = shifted - round_shift;
    const T first = x - k * 1.570796326794607;
    const T second = k * 2.8960739716218175e-13;
    const T r = first - second;
    const T c = ((first - r) - second) - k * 1.6446256936324258e-26;
    const T z = r * r;
    // sin(r + c) = r + r^3 S(r^2) + c cos r
    const T s =
        z * polynomial(z, -0.16666666666666666, 0.008333333333333325, -0.00019841269841256137,
                       2.7557319214377193e-06, -2.5052104891743444e-08, 1.6058357736222988e-10,
                       -7.578023310787446e-13);
    const T half = z * 0.5;
    const T sine = r + (r * s + (c - c * half));
    // cos(r + c) = 1 - r^2/2 + r^4 C(r^2) - c r, with what 1 - r^2/2 loses put back
    const T p = z * z *
                polynomial(z, 0.04166666666666665, -0.0013888888888882816, 2.4801587294605744e-05,
                           -2.755731573025875e-07, 2.0875896367140662e-09, -1.1367900016364881e-11);
    const T near_one = 1.0 - half;
    const T cosine = near_one + (((1.0 - near_one) - half) + (p - r * c));
    return {sine, cosine, shifted};
}

// -1 where the given bit (0 or 1) of the number of turns is set, else 1.
template <int Bit, Plain T>
FITWRIGHT_INLINE T turn_sign(const T& shifted) {
    return from_bits(shift_left(shift_right(to_bits(shifted), Bit), 63) | one_bits);
}

// What asin and acos share. Up to 1/2: s = |x|; above: s = sqrt((1 - |x|)/2), so that
// acos |x| = 2 asin s. asin s = s + more, and c = the error of s itself.
template <class T>
struct ArcParts {
    Truth<T> large;
    T s, more, c;
};
template <Plain T>
FITWRIGHT_INLINE ArcParts<T> arc_parts(const T& x) {
    const T size = abs(x);
    const T a = select(T(1.0) < size, T(1.0), size);
    const auto large = a > T(0.5);
    const T z = select(large, (1.0 - a) * 0.5, a * a);
    const T root = sqrt(select(large, z, T(0.25)));
    const T more = z * polynomial(z, 0.16666666666666702, 0.07499999999984425, 0.04464285716374379,
                                  0.030381943138356467, 0.02237220513378923, 0.01735175262508424,
                                  0.013979523139196908, 0.011406698306671079, 0.01075076066874353,
                                  0.003770024437513895, 0.021656878473508567, -0.021060057740096186,
                                  0.03274148371013727);
    // The root's upper half squares exactly; what is left of z gives the lower half.
    const T upper = from_bits(to_bits(root) & ~std::int64_t{0xffffffff});
    const T sum = root + upper;
    const T lower = (z - upper * upper) / select(sum == T(0.0), T(1.0), sum);
    return {large, select(large, upper, a), select(large, root, a) * more,
            select(large, lower, T(0.0))};
}

} // namespace detail

// Error of sin and cos <= 0.9 ulp for |x| <= 1000, also beside their zeros.
namespace detail {
template <Plain T>
FITWRIGHT_INLINE T sin_of(const T& x) {
    const auto q = quarter_turn(x);
    const auto odd = turn_sign<0>(q.shifted) < T(0.0);
    return select(odd, q.cosine, q.sine) * turn_sign<1>(q.shifted);
}
} // namespace detail
FITWRIGHT_FUNCTION(sin)
namespace detail {
template <Plain T>
FITWRIGHT_INLINE T cos_of(const T& x) {
    const auto q = quarter_turn(x);
    const T sign = turn_sign<0>(q.shifted);
    const auto odd = sign < T(0.0);
    return select(odd, q.sine, q.cosine) * (sign * turn_sign<1>(q.shifted));
}
} // namespace detail
FITWRIGHT_FUNCTION(cos)
// Error <= 2.5 ulp for |x| <= 1000. No double is a pole, so the result is finite.
namespace detail {
template <Plain T>
FITWRIGHT_INLINE T tan_of(const T& x) {
    const auto q = quarter_turn(x);
    const auto odd = turn_sign<0>(q.shifted) < T(0.0);
    return select(odd, -q.cosine, q.sine) / select(odd, q.sine, q.cosine);
}
} // namespace detail
FITWRIGHT_FUNCTION(tan)

// Any argument, also infinite. Error <= 1.5 ulp.
namespace detail {
template <Plain T>
FITWRIGHT_INLINE T atan_of(const T& x) {
    const T a = abs(x);
    // Turned back by 0, pi/4 or pi/2 the tangent is at most 1/2.
    const auto large = a > T(3.0);
    const auto middle = a > T(0.5);
    const T z = select(large, T(-1.0), select(middle, a - 1.0, a)) /
                select(large, a, select(middle, a + 1.0, T(1.0)));
    const T high = select(large, T(half_pi_high), select(middle, T(quarter_pi), T(0.0)));
    const T low = select(large, T(half_pi_low), select(middle, T(half_pi_low * 0.5), T(0.0)));
    const T w = z * z;
    const T series =
        w * polynomial(w, -0.3333333333333333, 0.19999999999999737, -0.14285714285673054,
                       0.1111111110806843, -0.09090908962961447, 0.07692304290354451,
                       -0.06666605798196705, 0.058815913213866075, -0.0525633947003677,
                       0.04717742296406716, -0.04140646679120364, 0.033016597608095985,
                       -0.020391941798443003, 0.0068931481554556015);
    const T r = high + (z + (z * series + low));
    return select(x < T(0.0), -r, r);
}
} // namespace detail
FITWRIGHT_FUNCTION(atan)

// Range [-1, 1]; beyond, the value at the end. Error <= 0.9 ulp.
namespace detail {
template <Plain T>
FITWRIGHT_INLINE T asin_of(const T& x) {
    const auto p = arc_parts(x);
    const T beyond = quarter_pi - ((p.more + p.c) * 2.0 - half_pi_low - (quarter_pi - p.s * 2.0));
    const T r = select(p.large, beyond, p.s + p.more);
    return select(x < T(0.0), -r, r);
}
} // namespace detail
FITWRIGHT_FUNCTION(asin)
namespace detail {
template <Plain T>
FITWRIGHT_INLINE T acos_of(const T& x) {
    const auto p = arc_parts(x);
    const auto negative = x < T(0.0);
    const T near = p.more + p.c;
    const T right = (p.s + near) * 2.0;
    const T left = (half_pi_high - (p.s + (near - half_pi_low))) * 2.0;
    const T signed_more = select(negative, -p.more, p.more);
    const T middle = half_pi_high - (select(negative, -p.s, p.s) - (half_pi_low - signed_more));
    return select(p.large, select(negative, left, right), middle);
}
} // namespace detail
FITWRIGHT_FUNCTION(acos)

template <int N, class L>
Dual<N, L> sin(const Dual<N, L>& x) {
    return x.chain(sin(x.value), cos(x.value));
}
template <int N, class L>
Dual<N, L> cos(const Dual<N, L>& x) {
    return x.chain(cos(x.value), -sin(x.value));
}
template <int N, class L>
Dual<N, L> tan(const Dual<N, L>& x) {
    const double t = tan(x.value);
    return x.chain(t, 1.0 + t * t);
}
template <int N, class L>
Dual<N, L> atan(const Dual<N, L>& x) {
    return x.chain(atan(x.value), 1.0 / (1.0 + x.value * x.value));
}

namespace detail {
// d asin/dx. At the ends the tangent is vertical and there is no derivative: 0 stands for it.
FITWRIGHT_INLINE double arc_slope(double x) {
    const double square = (1.0 - x) * (1.0 + x);
    const bool inside = square > 0.0;
    return select(inside, 1.0 / sqrt(select(inside, square, 1.0)), 0.0);
}
} // namespace detail

template <int N, class L>
Dual<N, L> asin(const Dual<N, L>& x) {
    return x.chain(asin(x.value), detail::arc_slope(x.value));
}
template <int N, class L>
Dual<N, L> acos(const Dual<N, L>& x) {
    return x.chain(acos(x.value), -detail::arc_slope(x.value));
}

} // namespace fitwright::number
