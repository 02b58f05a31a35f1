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

// Samples that are drawn and added up side by side. The same at every level: it is part of the
// promise that every level gives the same bits.
inline constexpr int lane_count = FITWRIGHT_LANES;

// Samples that run through a formula side by side: as many as a native register holds, since a pack of
// more only makes the formula longer. Results do not depend on it.
template <class Level>
inline constexpr int pack_width =
    Level::register_width < lane_count ? Level::register_width : lane_count;

// Derivative directions carried at once: two native registers. Results do not depend on it.
template <class Level>
inline constexpr int direction_count =
    2 * Level::register_width < FITWRIGHT_DIRECTIONS ? 2 * Level::register_width
                                                     : FITWRIGHT_DIRECTIONS;

} // namespace fitwright::number
