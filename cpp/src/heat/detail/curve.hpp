// A property against temperature, piece by piece: a transient asks for the same table some million
// times, near the same temperature. The same numbers as materials::at, from value, slope and
// integral at the start of each piece. Beyond the data it stays what it is at their end: who gets
// there is refused (rules), but not before the march is over, and a conductivity that went on falling
// would have no solution.
#pragma once

#include <fitwright/materials/table.hpp>

namespace fitwright::heat {

using namespace number;

struct Curve {
    int pieces;
    double from[materials::table_limit + 2] = {};
    double value[materials::table_limit + 2] = {};
    double slope[materials::table_limit + 2] = {};
    double integral[materials::table_limit + 2] = {}; // from the first piece's start
};

FITWRIGHT_INLINE Curve curve_of(const materials::Table& table, double highest) {
    Curve c;
    c.pieces = table.count + 1;
    c.from[0] = table.count > 0 && table.knot[0] < -273.15 ? table.knot[0] : -273.15;
    c.value[0] = table.first;
    c.slope[0] = 0.0;
    c.integral[0] = 0.0;
    for (int k = 0; k < table.count; ++k) {
        const double width = table.knot[k] - c.from[k];
        c.from[k + 1] = table.knot[k];
        c.value[k + 1] = c.value[k] + c.slope[k] * width;
        c.slope[k + 1] = c.slope[k] + table.slope_change[k];
        c.integral[k + 1] = c.integral[k] + (c.value[k] + 0.5 * c.slope[k] * width) * width;
    }
    const int last = c.pieces - 1;
    const double width = highest - c.from[last];
    if (width <= 0.0) {
        c.slope[last] = 0.0;
    } else {
        c.from[c.pieces] = highest;
        c.value[c.pieces] = c.value[last] + c.slope[last] * width;
        c.slope[c.pieces] = 0.0;
        c.integral[c.pieces] =
            c.integral[last] + (c.value[last] + 0.5 * c.slope[last] * width) * width;
        ++c.pieces;
    }
    return c;
}

FITWRIGHT_INLINE int piece_at(const Curve& c, double t) {
    int k = c.pieces - 1;
    while (k > 0 && t < c.from[k])
        --k;
    return k;
}

template <class X>
struct OnCurve {
    X value;
    double slope;
};
template <class X>
FITWRIGHT_INLINE OnCurve<X> on_curve(const Curve& c, const X& t) {
    const int k = piece_at(c, value_of(t));
    return {(t - c.from[k]) * c.slope[k] + c.value[k], c.slope[k]};
}
// Integral of the property up to t.
template <class X>
FITWRIGHT_INLINE X integral_to(const Curve& c, const X& t) {
    const int k = piece_at(c, value_of(t));
    const X u = t - c.from[k];
    return (u * (0.5 * c.slope[k]) + c.value[k]) * u + c.integral[k];
}

} // namespace fitwright::heat
