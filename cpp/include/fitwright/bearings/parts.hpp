// A single-row ball bearing by its measured dimensions.
#pragma once

#include <fitwright/fields/field.hpp>

// A groove is wider than the ball. Below 0.501 the contact would be a band along the groove and not
// an ellipse; shops grind 0.515 to 0.54. common practice
#define FITWRIGHT_BEARING(FIELD, RANGED, PART, CHOICE)                                             \
    FIELD(balls, count, from_to(3.0, 500.0), required, "number of balls")                          \
    FIELD(ball_diameter, size, from_to(1e-5, 1.0), required, "diameter of a ball at 20 degC")      \
    FIELD(pitch_diameter, size, from_to(1e-5, 6.3), required,                                      \
          "diameter of the circle the ball centres run on")                                        \
    FIELD(inner_curvature, ratio, from_to(0.501, 0.6), required,                                   \
          "groove radius of the inner ring over the ball diameter")                                \
    FIELD(outer_curvature, ratio, from_to(0.501, 0.6), required,                                   \
          "groove radius of the outer ring over the ball diameter")                                \
    FIELD(clearance, fine, from_to(-1e-3, 1e-2), required,                                         \
          "diametral clearance of groove and ball, unmounted at 20 degC; of a split inner ring "   \
          "before the shim was taken out")                                                         \
    FIELD(shim, fine, from_to(0.0, 1e-2), 0.0,                                                     \
          "width of the shim a split inner ring was ground with; 0 for a ring in one piece")       \
    FIELD(inner_raceway, size, from_to(1e-5, 6.3), worked_out,                                     \
          "groove bottom diameter of the inner ring; pitch diameter - ball diameter - half the "   \
          "clearance when left out")                                                               \
    FIELD(modulus_factor, ratio, from_to(0.5, 2.0), 1.0,                                           \
          "Young's modulus of the balls over the table value of their material")                   \
    FIELD(expansion_factor, ratio, from_to(0.5, 2.0), 1.0,                                         \
          "thermal expansion of the balls over the table value of their material")                 \
    FIELD(inner_shoulder, ratio, from_to(0.0, 0.5), 0.2,                                           \
          "height of the inner groove's shoulder over its bottom, on the side that takes the "     \
          "thrust, over the ball diameter (0.2 is common practice of deep grooves)")               \
    FIELD(outer_shoulder, ratio, from_to(0.0, 0.5), 0.2,                                           \
          "height of the outer groove's shoulder over its bottom, on the side that takes the "     \
          "thrust, over the ball diameter")                                                        \
    FIELD(back_shoulder, ratio, from_to(0.0, 0.5), worked_out,                                     \
          "height of the lower of the two shoulders that take thrust the other way, over the "     \
          "ball diameter; 0 for an angular contact bearing, open on that side; as in front when "  \
          "left out")
FITWRIGHT_DECLARE(bearings, Bearing, true, "a ball bearing; the material is that of the balls",
                  FITWRIGHT_BEARING)
