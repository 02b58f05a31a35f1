// What a formula may do with a plain double, under the same names as with lanes and duals.
// Everything here is forced inline: a level file must not leave an untagged symbol behind.
#pragma once

#include <cstdint>
#include <fitwright/number/isa.hpp>

namespace fitwright::number {

FITWRIGHT_INLINE double select(bool m, double x, double y) { return m ? x : y; }
FITWRIGHT_INLINE bool any(bool m) { return m; }
FITWRIGHT_INLINE double sqrt(double x) { return __builtin_sqrt(x); }
FITWRIGHT_INLINE double abs(double x) { return x < 0.0 ? -x : x; }

FITWRIGHT_INLINE std::int64_t to_bits(double x) {
    std::int64_t b = 0;
    __builtin_memcpy(&b, &x, sizeof b);
    return b;
}
FITWRIGHT_INLINE double from_bits(std::int64_t b) {
    double x = 0;
    __builtin_memcpy(&x, &b, sizeof x);
    return x;
}
// Through unsigned: a sum of bits wraps around (a NaN's does), and a shift may push into or bring down
// the sign bit.
FITWRIGHT_INLINE std::int64_t add_bits(std::int64_t x, std::int64_t y) {
    return static_cast<std::int64_t>(static_cast<std::uint64_t>(x) + static_cast<std::uint64_t>(y));
}
FITWRIGHT_INLINE std::int64_t shift_left(std::int64_t x, int n) {
    return static_cast<std::int64_t>(static_cast<std::uint64_t>(x) << n);
}
FITWRIGHT_INLINE std::int64_t shift_right(std::int64_t x, int n) {
    return static_cast<std::int64_t>(static_cast<std::uint64_t>(x) >> n);
}

} // namespace fitwright::number
