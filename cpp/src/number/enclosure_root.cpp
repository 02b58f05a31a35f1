// The root of an equation on enclosures: where it can lie, and how it moves.
#include <fitwright/number/enclosure.hpp>

#include <algorithm>

namespace fitwright::number {

namespace {

// Where f at the centre of the box changes its sign.
Interval centre_root(const Unknown& e, const Interval& within, double start) {
    double low = within.low;
    double high = within.high;
    double x = std::clamp(start, low, high);
    Interval found{low, high};
    for (int k = 0; k < 200; ++k) {
        const Residual<Enclosure> f = e.at(x);
        const Interval& c = f.value.centre;
        if (c.holds(0.0)) {
            found = x;
            break;
        }
        (c.low > 0.0 ? high : low) = x;
        const double slope = f.slope.centre.middle();
        const double newton = slope > 0.0 ? x - c.middle() / slope : low;
        // Newton's step only where it halves the bracket at least every third time.
        const double next =
            newton > low && newton < high && k % 3 != 2 ? newton : low + (high - low) * 0.5;
        if (next == x || next <= low || next >= high) {
            found = {low, high};
            break;
        }
        x = next;
    }
    // Outwards until the signs differ beyond rounding.
    if (found.low == found.high)
        for (double step = std::max(std::abs(x), 1e-30) * 0x1p-50; step < 1.0; step *= 4.0) {
            const double a = std::max(within.low, x - step);
            const double b = std::min(within.high, x + step);
            const bool left = a == within.low || e.at(a).value.centre.high <= 0.0;
            const bool right = b == within.high || e.at(b).value.centre.low >= 0.0;
            if (left && right)
                return {a, b};
        }
    return found;
}

// The last x from `sure` towards `far` where f can still be 0, by halving; f grows with x.
double end_by_sign(const Unknown& e, double root, double far, bool upper) {
    double open = root;
    double sure = far;
    for (int k = 0; k < 60; ++k) {
        const double x = open + (sure - open) * 0.5;
        if (x == open || x == sure)
            break;
        const Interval f = e.at(x).value.value;
        ((upper ? f.low >= 0.0 : f.high <= 0.0) ? sure : open) = x;
    }
    return sure;
}

} // namespace

Root<Enclosure> enclosed_root(const Unknown& equation, const Interval& within, double start) {
    Box& box = Box::now();
    const int unknown = box.unknown();
    const Likelihood yes = Likelihood::of(true);
    const Interval centre = centre_root(equation, within, start);
    const double c = centre.middle();
    const Interval at_centre = equation.at(c).value.value;
    const auto over = [&](const Interval& x) {
        box.span(unknown, {below(x.low - centre.high), above(x.high - centre.low)});
        const Residual<Enclosure> f = equation.at(Enclosure::input(unknown, x, centre));
        box.span(unknown, 0.0);
        return f;
    };
    const auto slope_of = [&](const Residual<Enclosure>& f) {
        return common(f.slope.value, f.value.slope(unknown));
    };
    Interval x = centre;
    bool proven = false;
    for (int k = 0; k < 10 && !proven; ++k) {
        const Interval slope = slope_of(over(x));
        if (!(slope.low > 0.0))
            break;
        const Interval newton = Interval(c) - at_centre / slope;
        proven = x.holds(newton);
        if (proven) {
            x = newton;
        } else {
            const Interval both = hull(x, newton);
            const double more = both.width() * 0.2 + std::abs(c) * 1e-15 + 1e-300;
            x = {std::max(both.low - more, within.low), std::min(both.high + more, within.high)};
        }
    }
    if (!proven)
        x = {end_by_sign(equation, c, within.low, false),
             end_by_sign(equation, c, within.high, true)};
    for (int k = 0; proven && k < 2; ++k) {
        const Interval slope = slope_of(over(x));
        if (slope.low > 0.0)
            x = common(x, Interval(c) - at_centre / slope);
    }
    const Residual<Enclosure> f = over(x);
    Interval slope = slope_of(f);
    slope.low = std::max(slope.low, 0.0);
    slope.high = std::max(slope.high, slope.low);
    Enclosure implicit = chain(f.value, f.value.value, f.value.centre, -inverse(slope));
    if (implicit.slopes != nullptr) {
        double* const s = box.take();
        std::copy_n(implicit.slopes, 2 * box.directions(), s);
        s[unknown] = s[box.directions() + unknown] = 0.0;
        implicit.slopes = s;
    }
    return {tightened(x, centre, implicit.slopes), yes};
}

} // namespace fitwright::number
