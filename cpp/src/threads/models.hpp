// The models of this room by the names users know, each with its formula (src/all_models.hpp).
#pragma once

// clang-format off
#define FITWRIGHT_THREADS_MODELS(FORMULA, STEPPED) \
    FORMULA(threads, tighten, Tighten) \
    FORMULA(threads, torque, Torque) \
    FORMULA(threads, friction, Friction) \
    FORMULA(threads, breakaway, Breakaway) \
    FORMULA(threads, turn_of_nut, TurnOfNut) \
    FORMULA(threads, stretch, Stretch) \
    FORMULA(threads, scatter, Scatter) \
    FORMULA(threads, stripping, Stripping) \
    FORMULA(threads, nut_growth, NutGrowth) \
    FORMULA(threads, lock_tabs, LockTabs) \
    FORMULA(threads, hand, Handed)
// clang-format on
