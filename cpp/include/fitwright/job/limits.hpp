// How much a job may hold. Told once: arrays are this large, plans and job files are held to it before
// anything is laid out.
#pragma once

#include <span>

namespace fitwright::job {

inline constexpr int ring_limit = 48; // rings, and slices of rings, on one shaft
inline constexpr int slice_limit = 8; // of one ring
inline constexpr int seal_limit = 16;
inline constexpr int seat_limit = ring_limit;
inline constexpr int state_limit = 100;
// The usual sequence of the largest job fits: four for each ring, lock, nut on, tighten, lock the nut,
// each state, and cold again.
inline constexpr int step_limit = 320;
static_assert(4 * ring_limit + 4 + state_limit <= step_limit);
// Steps that repeat steps, each counted as often as it is done: a history takes its time.
inline constexpr int repeat_limit = 20'000;
inline constexpr int tab_limit = 360;
inline constexpr int name_limit = 60; // letters

// The same as a table, with what only a job file has.
struct CountLimit {
    const char* name;
    int most;
    const char* what; // "states in a job"
};
std::span<const CountLimit> count_limits();

} // namespace fitwright::job
