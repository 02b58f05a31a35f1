// From a uniform number to the value of an input. Nothing here calls libm.
#pragma once

#include "study/chunk.hpp"
#include <fitwright/number/number.hpp>
#include <fitwright/study/study.hpp>

namespace fitwright::study {

using namespace number;

// Hermite interpolation between two nodes of a tabulated quantile.
FITWRIGHT_INLINE double table_value(const Stream& s, double score) {
    const double place = (score + table_reach) * table_steps;
    const double most = table_nodes - 2;
    const double cell = place < 0.0 ? 0.0 : place > most ? most : double(int(place));
    const double* node = s.table + 2 * int(cell);
    const double t = place - cell < 0.0 ? 0.0 : place - cell > 1.0 ? 1.0 : place - cell;
    const double step = 1.0 / table_steps;
    const double rise = node[2] - node[0];
    return node[0] + t * (step * node[1] + t * (3.0 * rise - step * (2.0 * node[1] + node[3]) +
                                                t * (step * (node[1] + node[3]) - 2.0 * rise)));
}
// Which reading; the rest of u is a uniform number of its own for the gauge.
struct Reading {
    double value, rest;
};
FITWRIGHT_INLINE Reading reading_at(const Stream& s, double u) {
    const double place = u * s.table_size;
    const int k = int(place) < s.table_size ? int(place) : s.table_size - 1;
    const double rest = place - k;
    return {s.table[k], rest < 1e-12 ? 1e-12 : rest > 1.0 - 1e-12 ? 1.0 - 1e-12 : rest};
}

// Whether the value comes from the normal score of the uniform number and from nothing else of it.
FITWRIGHT_INLINE bool comes_from_score(const Stream& s) {
    const auto shape = static_cast<Shape>(s.shape);
    return shape == Shape::normal || shape == Shape::lognormal || shape == Shape::beta;
}
// What a normal score stands for; beta is any quantile told as a table.
template <class T>
T value_of_score(const Stream& s, const T& score) {
    switch (static_cast<Shape>(s.shape)) {
    case Shape::lognormal: // low: mean of the logarithm of value over mean, high: its deviation
        return exp(score * s.high + s.low) * s.middle;
    case Shape::beta:
        return each_lane(score, [&](double z) { return table_value(s, z); });
    default:
        return score * s.deviation + s.middle;
    }
}

template <class T>
T value_at(const Stream& s, const T& u) {
    if (comes_from_score(s))
        return value_of_score(s, normal_quantile(u));
    switch (static_cast<Shape>(s.shape)) {
    case Shape::truncated_normal: // beyond its middle, turned round (stream_of)
        return normal_quantile(u * (s.probability_high - s.probability_low) + s.probability_low) *
                   s.deviation +
               s.middle;
    case Shape::uniform:
        return u * (s.high - s.low) + s.low;
    case Shape::measured: {
        const T value = each_lane(u, [&](double x) { return reading_at(s, x).value; });
        if (s.deviation == 0.0)
            return value;
        return value +
               normal_quantile(each_lane(u, [&](double x) { return reading_at(s, x).rest; })) *
                   s.deviation;
    }
    default: // triangular
        break;
    }
    const double width = s.high - s.low;
    const double rise = s.middle - s.low;
    const double fall = s.high - s.middle;
    const auto rises = u * width < T(rise);
    const T from_end = root0(select(rises, u * (width * rise), (1.0 - u) * (width * fall)));
    return select(rises, from_end + s.low, T(s.high) - from_end);
}

} // namespace fitwright::study
