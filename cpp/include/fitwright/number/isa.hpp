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

// Two native registers: one leaves the processor waiting (a study at v3 took 30 % longer), four make a
// formula four times as long to compile. Results do not depend on it.
template <class Level>
constexpr int two_registers(int at_most) {
    return 2 * Level::register_width < at_most ? 2 * Level::register_width : at_most;
}
// Samples that run through a formula side by side.
template <class Level>
inline constexpr int pack_width = two_registers<Level>(lane_count);
// Derivative directions carried at once.
template <class Level>
inline constexpr int direction_count = two_registers<Level>(FITWRIGHT_DIRECTIONS);

} // namespace fitwright::number
