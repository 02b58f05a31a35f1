// The pocket of a job's bearing: what keeps the outer ring from turning, and, where the ring's outside
// is told, the fit that takes or gives running clearance.
#pragma once

#include <fitwright/bearings/rows.hpp>

#define FITWRIGHT_POCKET(FIELD, RANGED, PART, CHOICE)                                              \
    FITWRIGHT_HELD_RING(FIELD, RANGED, PART, CHOICE)                                               \
    FIELD(ring_outside, size, from_to(1e-5, 6.3), worked_out,                                      \
          "outside of the bearing's outer ring at 20 degC; told, its fit in the pocket "           \
          "(seat_diameter, at 20 degC too) counts in the running clearance, and makes the "        \
          "pressure that holds it; left out, the outer ring is free")                              \
    FIELD(housing_outside, size, from_to(1e-5, 10.0), worked_out,                                  \
          "outside of the housing round the pocket as a plain ring; needed with ring_outside")     \
    FIELD(housing_modulus_factor, ratio, from_to(0.5, 2.0), 1.0,                                   \
          "Young's modulus of the housing over the table value of its material")                   \
    FIELD(housing_expansion_factor, ratio, from_to(0.5, 2.0), 1.0,                                 \
          "thermal expansion of the housing over the table value of its material")

#define FITWRIGHT_POCKET_FIT_OUTPUTS(FIELD, RANGED, PART, CHOICE)                                  \
    FIELD(pocket_interference, fine, unlimited(), 1e-6,                                            \
          "of outer ring and pocket, warm, on diameter; negative: loose by that much")             \
    FIELD(pocket_pressure, stress, unlimited(), 1e6,                                               \
          "between outer ring and pocket; 0 when loose")                                           \
    FIELD(outer_growth_spread, fine, unlimited(), 1e-6,                                            \
          "error of the model in the outer raceway's growth: ring taken to its shoulders less "    \
          "ring taken to its groove")
