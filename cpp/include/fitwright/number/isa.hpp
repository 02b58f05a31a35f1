// The vector level is part of every lane type, so that code compiled for a wide unit can never
// be linked into code for a narrow one under the same symbol name.
#pragma once

#define FITWRIGHT_INLINE [[gnu::always_inline]] inline

#ifndef FITWRIGHT_LANES
#define FITWRIGHT_LANES 8
#endif
#ifndef FITWRIGHT_DIRECTIONS
#define FITWRIGHT_DIRECTIONS 16
#endif

namespace fitwright::number {

// Level 0 is the baseline of the target (16-byte vectors); 2, 3, 4 are x86-64-v2, v3, v4.
template <int Level>
struct Isa {
    static constexpr int level = Level;
    // Doubles in one native register.
    static constexpr int register_width = Level == 4 ? 8 : Level == 3 ? 4 : 2;
};

// The number of samples in a pack is the same at every level: it is part of the promise that
// every level gives the same bits.
inline constexpr int lane_count = FITWRIGHT_LANES;

// Derivative directions carried at once; results do not depend on it.
template <class Level>
inline constexpr int direction_count =
    (Level::level == 2 && FITWRIGHT_DIRECTIONS > 8) ? 8 : FITWRIGHT_DIRECTIONS;

} // namespace fitwright::number
