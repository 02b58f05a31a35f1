// From a uniform number to the value of an input. Nothing here calls libm.
#pragma once

#include "study/chunk.hpp"
#include <fitwright/number/number.hpp>
#include <fitwright/study/study.hpp>

namespace fitwright::study {

using namespace number;

template <class T>
T value_at(const Stream& s, const T& u) {
    switch (static_cast<Shape>(s.shape)) {
    case Shape::normal:
        return normal_quantile(u) * s.deviation + s.middle;
    case Shape::truncated_normal:
        return normal_quantile(u * (s.probability_high - s.probability_low) + s.probability_low) *
                   s.deviation +
               s.middle;
    case Shape::uniform:
        return u * (s.high - s.low) + s.low;
    case Shape::triangular:
        break;
    }
    const double width = s.high - s.low;
    const double rise = s.middle - s.low;
    const double fall = s.high - s.middle;
    const T up = root0(u * (width * rise)) + s.low;
    const T down = T(s.high) - root0((1.0 - u) * (width * fall));
    return select(u * width < T(rise), up, down);
}

} // namespace fitwright::study
