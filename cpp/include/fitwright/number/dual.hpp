// Dual<N, Level>: a value with its exact derivatives in N directions. The directions are a pack,
// tagged and compiled per level like lanes. Mixed operators with double exist so that a constant
// costs no arithmetic on zero derivatives.
#pragma once

#include <fitwright/number/lanes.hpp>
#include <fitwright/number/scalar.hpp>

namespace fitwright::number {

template <int N, class Level>
struct Dual {
    using Directions = Lanes<N, Level>;
    static constexpr int directions = N;
    double value;
    Directions d;

    Dual() = default;
    FITWRIGHT_INLINE Dual(double x)
        : value(x)
        , d(0.0) {}
    FITWRIGHT_INLINE Dual(double x, const Directions& dx)
        : value(x)
        , d(dx) {}

    // f(value), with the slope f'(value): the chain rule.
    FITWRIGHT_INLINE Dual chain(double f, double slope) const { return {f, d * slope}; }

    FITWRIGHT_INLINE friend Dual operator+(const Dual& x, const Dual& y) {
        return {x.value + y.value, x.d + y.d};
    }
    FITWRIGHT_INLINE friend Dual operator+(const Dual& x, double y) { return {x.value + y, x.d}; }
    FITWRIGHT_INLINE friend Dual operator+(double x, const Dual& y) { return {x + y.value, y.d}; }
    FITWRIGHT_INLINE friend Dual operator-(const Dual& x, const Dual& y) {
        return {x.value - y.value, x.d - y.d};
    }
    FITWRIGHT_INLINE friend Dual operator-(const Dual& x, double y) { return {x.value - y, x.d}; }
    FITWRIGHT_INLINE friend Dual operator-(double x, const Dual& y) { return {x - y.value, -y.d}; }
    FITWRIGHT_INLINE friend Dual operator-(const Dual& x) { return {-x.value, -x.d}; }
    FITWRIGHT_INLINE friend Dual operator*(const Dual& x, const Dual& y) {
        return {x.value * y.value, x.d * y.value + y.d * x.value};
    }
    FITWRIGHT_INLINE friend Dual operator*(const Dual& x, double y) {
        return {x.value * y, x.d * y};
    }
    FITWRIGHT_INLINE friend Dual operator*(double x, const Dual& y) { return y * x; }
    FITWRIGHT_INLINE friend Dual operator/(const Dual& x, const Dual& y) {
        const double q = x.value / y.value;
        return {q, (x.d - y.d * q) * (1.0 / y.value)};
    }
    FITWRIGHT_INLINE friend Dual operator/(const Dual& x, double y) {
        return {x.value / y, x.d * (1.0 / y)};
    }
    FITWRIGHT_INLINE friend Dual operator/(double x, const Dual& y) {
        const double q = x / y.value;
        return {q, y.d * (-q / y.value)};
    }
    FITWRIGHT_INLINE Dual& operator+=(const Dual& y) { return *this = *this + y; }
    FITWRIGHT_INLINE Dual& operator-=(const Dual& y) { return *this = *this - y; }
    FITWRIGHT_INLINE Dual& operator*=(const Dual& y) { return *this = *this * y; }
    FITWRIGHT_INLINE Dual& operator/=(const Dual& y) { return *this = *this / y; }

    // A branch follows the value.
    FITWRIGHT_INLINE friend bool operator<(const Dual& x, const Dual& y) {
        return x.value < y.value;
    }
    FITWRIGHT_INLINE friend bool operator<=(const Dual& x, const Dual& y) {
        return x.value <= y.value;
    }
    FITWRIGHT_INLINE friend bool operator>(const Dual& x, const Dual& y) {
        return x.value > y.value;
    }
    FITWRIGHT_INLINE friend bool operator>=(const Dual& x, const Dual& y) {
        return x.value >= y.value;
    }
    FITWRIGHT_INLINE friend bool operator==(const Dual& x, const Dual& y) {
        return x.value == y.value;
    }

    FITWRIGHT_INLINE friend Dual select(bool m, const Dual& x, const Dual& y) { return m ? x : y; }
    FITWRIGHT_INLINE friend Dual sqrt(const Dual& x) {
        const double r = sqrt(x.value);
        return x.chain(r, 0.5 / r);
    }
    FITWRIGHT_INLINE friend Dual abs(const Dual& x) {
        return x.value < 0.0 ? Dual(-x.value, -x.d) : x;
    }
};

} // namespace fitwright::number
