// The models of this room by the names users know, each with its formula (src/all_models.hpp).
#pragma once

// clang-format off
#define FITWRIGHT_HEAT_MODELS(FORMULA, STEPPED) \
    FORMULA(heat, oven, Oven) \
    FORMULA(heat, chill, Chill) \
    STEPPED(heat, body) \
    STEPPED(heat, soak) \
    STEPPED(heat, induction) \
    STEPPED(heat, slip_on) \
    FORMULA(heat, seating, Seating) \
    FORMULA(heat, take_off, TakeOff) \
    STEPPED(heat, loosen)
// clang-format on
