// What formulas are made of, on enclosures.
#include "enclosure_slopes.hpp"

#include <algorithm>

namespace fitwright::number {

namespace {

Enclosure of_sides(const Interval& value, const Interval& centre, const Enclosure& x,
                   const Enclosure& y) {
    return tightened(value, centre, hull(x.slopes, y.slopes));
}

bool is_hub(const Enclosure& x) {
    if (x.slopes == nullptr)
        return false;
    const Box& box = Box::now();
    for (int k = 0; k < box.hubs(); ++k)
        if (x.slopes[box.inputs() + k] == 1.0 &&
            x.slopes[box.directions() + box.inputs() + k] == 1.0)
            return std::count(x.slopes, x.slopes + 2 * box.directions(), 0.0) ==
                   2 * box.directions() - 2;
    return false;
}

} // namespace

Enclosure operator+(const Enclosure& x, const Enclosure& y) {
    return tightened(x.value + y.value, x.centre + y.centre, mixed(1.0, x.slopes, 1.0, y.slopes));
}
Enclosure operator-(const Enclosure& x, const Enclosure& y) {
    return tightened(x.value - y.value, x.centre - y.centre, mixed(1.0, x.slopes, -1.0, y.slopes));
}
Enclosure operator-(const Enclosure& x) {
    return {-x.value, -x.centre, mixed(-1.0, x.slopes, 0.0, nullptr)};
}
Enclosure operator*(const Enclosure& x, const Enclosure& y) {
    if (&x == &y) // the same number twice
        return square(x);
    return tightened(x.value * y.value, x.centre * y.centre,
                     mixed(y.value, x.slopes, x.value, y.slopes));
}
Enclosure operator/(const Enclosure& x, const Enclosure& y) {
    // Every number has slopes of its own: with the same ones it is the same number.
    if (x.slopes != nullptr && x.slopes == y.slopes && x.value.low == y.value.low &&
        x.value.high == y.value.high && !y.value.holds(0.0))
        return 1.0;
    const Interval quotient = x.value / y.value;
    const Interval one_over = inverse(y.value);
    // (x' - q y')/y. Of two hubs that come from the same inputs the difference is worked out down to
    // them before the wide 1/y comes in.
    if (is_hub(x) && is_hub(y)) {
        const double* const slopes = by_inputs(mixed(1.0, x.slopes, -quotient, y.slopes));
        const Enclosure whole =
            tightened(quotient, x.centre / y.centre,
                      mixed(one_over, x.slopes, -(quotient * one_over), y.slopes));
        return {
            Box::now().restricted() < 0
                ? tightened(whole.value, whole.centre, mixed(one_over, slopes, 0.0, nullptr)).value
                : whole.value,
            whole.centre, mixed(one_over, slopes, 0.0, nullptr)};
    }
    return tightened(quotient, x.centre / y.centre,
                     mixed(one_over, x.slopes, -(quotient * one_over), y.slopes));
}

Likelihood operator<(const Enclosure& x, const Enclosure& y) {
    const Enclosure d = x - y;
    const Likelihood told{d.value.low < 0.0, d.value.high >= 0.0, d.centre.low < 0.0,
                          d.centre.high >= 0.0, nullptr};
    return told.open() ? Likelihood{true, true, told.centre_holds, told.centre_fails, d.slopes}
                       : told;
}
Likelihood operator<=(const Enclosure& x, const Enclosure& y) {
    const Enclosure d = x - y;
    const Likelihood told{d.value.low <= 0.0, d.value.high > 0.0, d.centre.low <= 0.0,
                          d.centre.high > 0.0, nullptr};
    return told.open() ? Likelihood{true, true, told.centre_holds, told.centre_fails, d.slopes}
                       : told;
}

Enclosure select(const Likelihood& m, const Enclosure& x, const Enclosure& y) {
    if (!m.can_fail)
        return x;
    if (!m.can_hold)
        return y;
    const Interval centre = !m.centre_fails   ? x.centre
                            : !m.centre_holds ? y.centre
                                              : hull(x.centre, y.centre);
    return tightened(hull(x.value, y.value), centre, jumping(x.slopes, y.slopes, m.slopes));
}

Enclosure larger(const Enclosure& x, const Enclosure& y) {
    const Interval d = (x - y).value;
    if (d.low > 0.0)
        return x;
    if (d.high < 0.0)
        return y;
    const auto of = [](const Interval& a, const Interval& b) {
        return Interval{std::max(a.low, b.low), std::max(a.high, b.high)};
    };
    return of_sides(of(x.value, y.value), of(x.centre, y.centre), x, y);
}
Enclosure smaller(const Enclosure& x, const Enclosure& y) { return -larger(-x, -y); }
Enclosure positive(const Enclosure& x) {
    if (x.value.low > 0.0)
        return x;
    if (x.value.high < 0.0)
        return 0.0;
    return of_sides({positive(x.value.low), positive(x.value.high)},
                    {positive(x.centre.low), positive(x.centre.high)}, x, 0.0);
}
Enclosure abs(const Enclosure& x) {
    if (x.value.low > 0.0)
        return x;
    if (x.value.high < 0.0)
        return -x;
    return chain(x, abs(x.value), abs(x.centre), {-1.0, 1.0});
}
Enclosure square(const Enclosure& x) {
    return chain(x, square(x.value), square(x.centre), x.value * Interval(2.0));
}
Enclosure sqrt(const Enclosure& x) {
    const Interval root = sqrt(x.value);
    return chain(x, root, sqrt(x.centre), inverse(root) * Interval(0.5));
}
// Derivative 0 below, without bound just above 0.
Enclosure root0(const Enclosure& x) {
    if (x.value.low > 0.0)
        return sqrt(x);
    if (x.value.high < 0.0)
        return 0.0;
    return chain(x, sqrt(x.value), sqrt(x.centre), {0.0, unbounded});
}
Enclosure exp(const Enclosure& x) {
    const Interval e = exp(x.value);
    return chain(x, e, exp(x.centre), e);
}
Enclosure log(const Enclosure& x) {
    return chain(x, log(x.value), log(x.centre), inverse(x.value));
}
// The integral of e^(x t) over t from 0 to 1: its slope rises as well.
Enclosure expm1_over(const Enclosure& x) {
    using D = Dual<2, Isa<0>>;
    const auto slope = [](double at) { return expm1_over(D(at, D::Directions(1.0))).d.lane(0); };
    constexpr double enough = 4096.0; // ulp; its two forms are good to some hundred
    return chain(x, expm1_over(x.value), expm1_over(x.centre),
                 outwards(slope(x.value.low), slope(x.value.high), enough));
}
Enclosure cbrt(const Enclosure& x) {
    const Interval c = cbrt(x.value);
    return chain(x, c, cbrt(x.centre), inverse(square(c) * Interval(3.0)));
}
Enclosure sin(const Enclosure& x) {
    return chain(x, sin(x.value), sin(x.centre),
                 x.value.low >= 0.0 ? cos(x.value) : Interval{-1.0, 1.0});
}
Enclosure cos(const Enclosure& x) { return chain(x, cos(x.value), cos(x.centre), -sin(x.value)); }
Enclosure atan(const Enclosure& x) {
    return chain(x, atan(x.value), atan(x.centre), inverse(square(x.value) + Interval(1.0)));
}

namespace detail {

namespace {

// (D - B)/m, near m = 0 by its series, whose terms are positive and shrink faster than m^k.
Interval sine_cosine_part(double m, const EllipticParts<double>& p) {
    constexpr double ulp = 8.0; // of B and D
    if (m < 0.02) {
        const double series =
            polynomial(m, 1.0, 3.0 / 4.0, 75.0 / 128.0, 245.0 / 512.0, 6615.0 / 16384.0,
                       22869.0 / 65536.0, 1288287.0 / 4194304.0) *
            (3.14159265358979323846 / 16.0);
        const double rest = m * m * m * m * m * m * m; // at most 0.3 times it
        return outwards(series, series + rest, 16.0);
    }
    return (outwards(p.d, p.d, ulp) - outwards(p.b, p.b, ulp)) / Interval(m);
}

} // namespace

EllipticParts<Enclosure> elliptic_parts(const Enclosure& m) {
    constexpr double ulp = 8.0;
    const auto bounded = [](const Interval& x) {
        return Interval{std::clamp(x.low, 0.0, 1.0 - smallest_complement),
                        std::clamp(x.high, 0.0, 1.0 - smallest_complement)};
    };
    const Interval over = bounded(m.value);
    const Interval centre = bounded(m.centre);
    const auto low = elliptic_parts(over.low);
    const auto high = elliptic_parts(over.high);
    const auto first = elliptic_parts(centre.low);
    const auto last = elliptic_parts(centre.high);
    const Interval b = outwards(low.b, high.b, ulp);
    const Interval d = outwards(low.d, high.d, ulp);
    const Interval complement = Interval(1.0) - over;
    const Interval c{sine_cosine_part(over.low, low).low, sine_cosine_part(over.high, high).high};
    const Interval half(0.5);
    const Interval b_over = b / complement;
    EllipticParts<Enclosure> p;
    p.first = chain(m, outwards(low.first, high.first, ulp), outwards(first.first, last.first, ulp),
                    b_over * half);
    p.b = chain(m, b, outwards(first.b, last.b, ulp), c * half);
    p.d = chain(m, d, outwards(first.d, last.d, ulp), (b_over - c) * half);
    p.complement = 1.0 - m;
    return p;
}

} // namespace detail

} // namespace fitwright::number
