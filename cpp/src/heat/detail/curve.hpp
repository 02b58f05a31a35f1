// A property against temperature, piece by piece: a transient asks for the same table some million
// times, near the same temperature. The same numbers as materials::at, from value, slope and
// integral at the start of each piece.
#pragma once

#include <fitwright/materials/table.hpp>

namespace fitwright::heat {

using namespace number;

struct Curve {
    int pieces;
    double from[materials::table_limit + 1];
    double value[materials::table_limit + 1];
    double slope[materials::table_limit + 1];
    double integral[materials::table_limit + 1]; // from the first piece's start
};

FITWRIGHT_INLINE Curve curve_of(const materials::Table& table) {
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
