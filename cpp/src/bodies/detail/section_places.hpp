// Where things of a stack in section are: lengths, faces, what counts as a sliver.
#pragma once

#include <algorithm>
#include <cmath>
#include <fitwright/bodies/section.hpp>

namespace fitwright::bodies {

// Diameters from and to.
struct Span {
    double from, to;
};

// Nothing smaller is meshed; diameters of two parts that differ by less are the same place.
inline double sliver_of(const StackSection& stack) {
    double largest = 0.0;
    for (const Slice& s : stack.shaft.slices)
        largest = std::max(largest, s.outside);
    return largest * 5e-4;
}
inline double length_of(const std::vector<Slice>& slices) {
    double sum = 0.0;
    for (const Slice& s : slices)
        sum += s.length;
    return sum;
}
// The slice that ends at x; -1: none.
inline int slice_ending(const std::vector<Slice>& slices, double x, double near) {
    double z = 0.0;
    for (std::size_t i = 0; i < slices.size(); ++i) {
        z += slices[i].length;
        if (std::abs(z - x) < near)
            return static_cast<int>(i);
    }
    return -1;
}
inline double largest_outside(const std::vector<Slice>& slices, double from, double to) {
    double largest = 0.0;
    double z = 0.0;
    for (const Slice& s : slices) {
        if (z < to && z + s.length > from)
            largest = std::max(largest, s.outside);
        z += s.length;
    }
    return largest;
}
inline Span first_face_of(const RingSection& r) {
    return {r.slices.front().bore + 2.0 * r.chamfers.shoulder_bore,
            r.slices.front().outside - 2.0 * r.chamfers.shoulder_outside};
}
inline Span last_face_of(const RingSection& r) {
    return {r.slices.back().bore + 2.0 * r.chamfers.nut_bore,
            r.slices.back().outside - 2.0 * r.chamfers.nut_outside};
}
inline bool has_shoulder(const StackSection& stack) {
    const ShaftSection& s = stack.shaft;
    return stack.start == 0.0 && (s.behind > 0.0 || s.far_end == FarEnd::plane);
}
// What the first ring can stand against; a rigid plane reaches everywhere.
inline Span shoulder_land(const StackSection& stack) {
    const ShaftSection& s = stack.shaft;
    if (s.behind == 0.0)
        return {0.0, 1e9};
    const auto at = static_cast<std::size_t>(slice_ending(s.slices, s.behind, sliver_of(stack)));
    const double corner = s.slices[at + 1].outside + 2.0 * s.fillet;
    return {std::max(corner, s.land_inside),
            s.land_outside > 0.0 ? s.land_outside : s.slices[at].outside};
}

} // namespace fitwright::bodies
