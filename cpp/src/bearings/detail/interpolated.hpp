// Tables of a standard with a few nodes, as sums of clipped ramps: no look-up, so that every lane
// runs the same operations. Literals instead of an array: an array would be an untagged symbol of a
// level file.
#pragma once

#include <fitwright/number/number.hpp>

namespace fitwright::bearings {

using namespace number;

template <class T>
FITWRIGHT_INLINE T ramps(const T&, double, const T&) {
    return T(0.0);
}
template <class T, class... More>
FITWRIGHT_INLINE T ramps(const T& x, double x0, const T& y0, double x1, const T& y1,
                         const More&... more) {
    const T along = smaller(larger((x - x0) / (x1 - x0), T(0.0)), T(1.0));
    return along * (y1 - y0) + ramps<T>(x, x1, y1, more...);
}
// Through the nodes (x0, y0), (x1, y1), ...; beyond the ends the end values hold.
template <class T, class... More>
FITWRIGHT_INLINE T interpolated(const T& x, double x0, const T& y0, const More&... more) {
    return y0 + ramps<T>(x, x0, y0, more...);
}

} // namespace fitwright::bearings
