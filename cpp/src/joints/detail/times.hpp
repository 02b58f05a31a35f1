// How often a load can be carried.
#pragma once

#include <fitwright/number/number.hpp>

namespace fitwright::joints {

using namespace number;

// 1e6 stands for no load at all.
template <class T>
FITWRIGHT_INLINE T times(const T& can, const T& load) {
    const auto loaded = load > T(0.0);
    const T ratio = can / select(loaded, load, T(1.0));
    return select(loaded, smaller(ratio, T(1e6)), T(1e6));
}

} // namespace fitwright::joints
