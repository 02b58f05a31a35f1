// Interval: every value a number may have, with ends rounded outwards. What is worked out with it
// holds for the exact operation and for the rounded one: rounding to nearest is monotonic and errs
// by half an ulp at most, and every end is moved by one ulp or more.
//
// Ends beyond `unbounded` count as infinite; they are held there, so that zero times one of them is
// zero. Results below 1e-300 count as zero: nothing with a unit is that small.
// Baseline only: it is not a number for level files.
#pragma once

#include <fitwright/number/number.hpp>

namespace fitwright::number {

inline constexpr double unbounded = 1e280;

struct Interval {
    double low, high;

    Interval() = default;
    constexpr Interval(double x)
        : low(x)
        , high(x) {}
    constexpr Interval(double from, double to)
        : low(from)
        , high(to) {}
    double middle() const { return low + (high - low) * 0.5; }
    double width() const { return high - low; }
    double size() const { return larger(abs(low), abs(high)); }
    bool holds(double x) const { return low <= x && x <= high; }
    bool holds(const Interval& x) const { return low <= x.low && x.high <= high; }
};

// By one ulp at least; an exact zero stays.
FITWRIGHT_INLINE double below(double x) { return x - abs(x) * 0x1p-52; }
FITWRIGHT_INLINE double above(double x) { return x + abs(x) * 0x1p-52; }
FITWRIGHT_INLINE double held(double x) {
    return x < -unbounded ? -unbounded : x > unbounded ? unbounded : x;
}
// Ends of a result whose error is `ulp` ulp at most (one more for the ends themselves).
FITWRIGHT_INLINE Interval outwards(double low, double high, double ulp = 0.0) {
    const double e = (ulp + 1.0) * 0x1p-52;
    return {held(low - abs(low) * e), held(high + abs(high) * e)};
}

FITWRIGHT_INLINE Interval hull(const Interval& x, const Interval& y) {
    return {smaller(x.low, y.low), larger(x.high, y.high)};
}
// The common part; x where there is none (rounding cannot make one empty, a caller's slip can).
FITWRIGHT_INLINE Interval common(const Interval& x, const Interval& y) {
    const Interval both{larger(x.low, y.low), smaller(x.high, y.high)};
    return both.low <= both.high ? both : x;
}

FITWRIGHT_INLINE Interval operator-(const Interval& x) { return {-x.high, -x.low}; }
FITWRIGHT_INLINE Interval operator+(const Interval& x, const Interval& y) {
    return outwards(x.low + y.low, x.high + y.high);
}
FITWRIGHT_INLINE Interval operator-(const Interval& x, const Interval& y) {
    return outwards(x.low - y.high, x.high - y.low);
}
FITWRIGHT_INLINE Interval operator*(const Interval& x, const Interval& y) {
    const double a = x.low * y.low;
    const double b = x.low * y.high;
    const double c = x.high * y.low;
    const double d = x.high * y.high;
    return outwards(smaller(smaller(a, b), smaller(c, d)), larger(larger(a, b), larger(c, d)));
}
FITWRIGHT_INLINE Interval inverse(const Interval& x) {
    if (x.low > 0.0 || x.high < 0.0)
        return outwards(1.0 / x.high, 1.0 / x.low);
    if (x.low == 0.0 && x.high > 0.0)
        return outwards(1.0 / x.high, unbounded);
    if (x.high == 0.0 && x.low < 0.0)
        return outwards(-unbounded, 1.0 / x.low);
    return {-unbounded, unbounded};
}
FITWRIGHT_INLINE Interval operator/(const Interval& x, const Interval& y) {
    if (y.low > 0.0 || y.high < 0.0) {
        const double a = x.low / y.low;
        const double b = x.low / y.high;
        const double c = x.high / y.low;
        const double d = x.high / y.high;
        return outwards(smaller(smaller(a, b), smaller(c, d)), larger(larger(a, b), larger(c, d)));
    }
    return x * inverse(y);
}
FITWRIGHT_INLINE Interval square(const Interval& x) {
    const double a = x.low * x.low;
    const double b = x.high * x.high;
    return outwards(x.holds(0.0) ? 0.0 : smaller(a, b), larger(a, b));
}

// Functions that rise all along, from their ends.
FITWRIGHT_INLINE Interval sqrt(const Interval& x) {
    return outwards(sqrt(positive(x.low)), sqrt(positive(x.high)));
}
FITWRIGHT_INLINE Interval exp(const Interval& x) { return outwards(exp(x.low), exp(x.high), 1.0); }
FITWRIGHT_INLINE Interval log(const Interval& x) {
    constexpr double least = 2.3e-308;
    return outwards(log(larger(x.low, least)), log(larger(x.high, least)), 1.0);
}
FITWRIGHT_INLINE Interval expm1_over(const Interval& x) {
    return outwards(expm1_over(x.low), expm1_over(x.high), 2.0);
}
FITWRIGHT_INLINE Interval cbrt(const Interval& x) {
    return outwards(cbrt(x.low), cbrt(x.high), 1.0);
}
FITWRIGHT_INLINE Interval atan(const Interval& x) {
    return outwards(atan(x.low), atan(x.high), 2.0);
}
FITWRIGHT_INLINE Interval abs(const Interval& x) {
    if (x.low >= 0.0)
        return x;
    return x.high <= 0.0 ? -x : Interval{0.0, x.size()};
}
// Within a half turn in which they run one way; beyond it anything from -1 to 1.
FITWRIGHT_INLINE Interval sin(const Interval& x) {
    constexpr double quarter = 1.5707963;
    if (x.low < -quarter || x.high > quarter)
        return {-1.0, 1.0};
    return outwards(sin(x.low), sin(x.high), 1.0);
}
FITWRIGHT_INLINE Interval cos(const Interval& x) {
    constexpr double half = 3.1415926;
    if (x.low < 0.0 || x.high > half)
        return {-1.0, 1.0};
    return outwards(cos(x.high), cos(x.low), 1.0);
}

} // namespace fitwright::number
