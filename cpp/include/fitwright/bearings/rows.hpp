// What ratings and lives ask of a bearing: rows of balls or rollers, the oil, and how a ring is
// held. No material: the standards rate through-hardened bearing steel.
#pragma once

#include <fitwright/fields/field.hpp>

#define FITWRIGHT_BALL_ROW(FIELD, RANGED, PART, CHOICE)                                            \
    FIELD(balls, count, from_to(3.0, 500.0), required, "number of balls in a row")                 \
    FIELD(ball_diameter, size, from_to(1e-5, 1.0), required, "diameter of a ball")                 \
    FIELD(pitch_diameter, size, from_to(1e-5, 6.3), required,                                      \
          "diameter of the circle the ball centres run on")                                        \
    FIELD(inner_curvature, ratio, from_to(0.501, 0.6), 0.52,                                       \
          "groove radius of the inner ring (shaft washer) over the ball diameter")                 \
    FIELD(outer_curvature, ratio, from_to(0.501, 0.6), 0.53,                                       \
          "groove radius of the outer ring (housing washer) over the ball diameter")               \
    FIELD(contact_angle, angle, from_to(0.0, 1.5707963267948966), 0.0, "nominal contact angle")    \
    FIELD(rows, count, from_to(1.0, 8.0), 1.0, "number of rows, or of bearings side by side")      \
    CHOICE(kind, "radial|thrust", "radial up to a contact angle of 45 deg, thrust above")          \
    CHOICE(arrangement, "tandem|opposed",                                                          \
           "tandem (also one row): every row carries the thrust; opposed: one of the two does")    \
    CHOICE(grooves, "standard|measured",                                                           \
           "standard: grooves tighter than the standard's gain nothing; measured: rated as they "  \
           "are")
FITWRIGHT_DECLARE(bearings, BallRow, false, "rows of balls as they are rated", FITWRIGHT_BALL_ROW)

#define FITWRIGHT_ROLLER_ROW(FIELD, RANGED, PART, CHOICE)                                          \
    FIELD(rollers, count, from_to(3.0, 500.0), required, "number of rollers in a row")             \
    FIELD(roller_diameter, size, from_to(1e-5, 1.0), required,                                     \
          "diameter of a roller, at the middle of a tapered one")                                  \
    FIELD(effective_length, size, from_to(1e-5, 2.0), required,                                    \
          "length of a roller in contact, without chamfers and undercuts")                         \
    FIELD(pitch_diameter, size, from_to(1e-5, 6.3), required,                                      \
          "diameter of the circle the middles of the rollers run on")                              \
    FIELD(contact_angle, angle, from_to(0.0, 1.5707963267948966), 0.0,                             \
          "nominal contact angle; 0 for cylindrical radial, 90 deg for cylindrical thrust")        \
    FIELD(rows, count, from_to(1.0, 8.0), 1.0, "number of rows")                                   \
    CHOICE(kind, "radial|thrust", "radial up to a contact angle of 45 deg, thrust above")          \
    CHOICE(arrangement, "tandem|opposed",                                                          \
           "tandem (also one row): every row carries the thrust; opposed: one of the two does")
FITWRIGHT_DECLARE(bearings, RollerRow, false, "rows of rollers as they are rated",
                  FITWRIGHT_ROLLER_ROW)

#define FITWRIGHT_LUBRICANT(FIELD, RANGED, PART, CHOICE)                                           \
    FIELD(viscosity_40, viscosity, from_to(2e-6, 1e-1), worked_out, "of the oil at 40 degC")       \
    FIELD(viscosity_100, viscosity, from_to(2e-6, 1e-1), worked_out, "of the oil at 100 degC")     \
    FIELD(viscosity, viscosity, from_to(1e-7, 10.0), worked_out,                                   \
          "at the running temperature; by those at 40 and 100 degC when left out")
FITWRIGHT_DECLARE(bearings, Lubricant, false, "the oil, or the base oil of a grease",
                  FITWRIGHT_LUBRICANT)

#define FITWRIGHT_HELD_RING(FIELD, RANGED, PART, CHOICE)                                           \
    FIELD(pressure, stress, from_to(0.0, 2e9), 0.0, "of the fit on its seat, in this state")       \
    FIELD(seat_diameter, size, from_to(1e-5, 10.0), required, "of the seat or pocket")             \
    FIELD(length, size, from_to(0.0, 10.0), required, "of the seat under pressure")                \
    FIELD(friction, ratio, from_to(0.0, 1.0), 0.12, "of the seat; the low end, for holding")       \
    FIELD(clamp_force, force, from_to(0.0, 1e8), 0.0, "axial force that clamps the ring")          \
    FIELD(faces, count, from_to(0.0, 2.0), 2.0,                                                    \
          "clamped faces whose partner cannot turn against the seat")                              \
    FIELD(face_diameter, size, from_to(0.0, 10.0), worked_out,                                     \
          "mean diameter of the clamped faces; the seat's when left out")                          \
    FIELD(face_friction, ratio, from_to(0.0, 1.0), 0.1, "of a clamped face; the low end")
FITWRIGHT_DECLARE(bearings, HeldRing, false, "what keeps a ring from turning on its seat",
                  FITWRIGHT_HELD_RING)

namespace fitwright::bearings {

// How a row is to be read; the choices of a BallRow or RollerRow in their order.
enum class BearingKind : int { radial, thrust };
enum class Arrangement : int { tandem, opposed };
enum class Grooves : int { standard, measured };

// The ring that turns against the load.
enum class TurningRing : int { inner, outer };

} // namespace fitwright::bearings
