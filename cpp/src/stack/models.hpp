// The models of this room by the names users know, each with its formula (src/all_models.hpp).
#pragma once

// clang-format off
#define FITWRIGHT_STACK_MODELS(FORMULA, STEPPED) \
    FORMULA(stack, wedge, Squareness)
// clang-format on
