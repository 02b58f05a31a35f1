// The soft parts of the joint beside rings and shaft: nut and engaged thread, and faces.
#pragma once

#include "threads/detail/nut_body.hpp"
#include "threads/detail/tightening.hpp"
#include <fitwright/stack/parts.hpp>

namespace fitwright::stack {

using namespace number;
using threads::nut_body;
using threads::nut_opening;
using threads::NutBody;

// u0 of two rough faces, 0.4 of the composite rms height; rms is about a fifth of Rz (common
// practice for ground faces).
template <class T>
FITWRIGHT_INLINE T face_softness(const T& roughness, const T& other) {
    return norm2(roughness, other) * (0.4 / 5.0);
}

} // namespace fitwright::stack
