// What a job says of rings and faces out of square.
#pragma once

#include <fitwright/stack/squareness.hpp>

// Angles are read on the shaft, one way round, from one mark.
#define FITWRIGHT_RING_RUNOUT(FIELD)                                                               \
    FIELD(wedge, fine, from_to(0.0, 1e-3), 0.0,                                                    \
          "faces out of parallel: thickest less thinnest place, read at the outside")              \
    FIELD(wedge_angle, angle, from_to(-62.9, 62.9), 0.0, "where it is thickest, on the shaft")     \
    FIELD(runout, fine, from_to(0.0, 1e-2), 0.0,                                                   \
          "full reading of an indicator on the outside, turned on the bore")                       \
    FIELD(runout_angle, angle, from_to(-62.9, 62.9), 0.0, "its high spot, on the shaft")
#define FITWRIGHT_SHOULDER_RUNOUT(FIELD)                                                           \
    FIELD(shoulder_runout, fine, from_to(0.0, 1e-3), 0.0,                                          \
          "full reading of an indicator on the shoulder face, at the outside of the first ring")   \
    FIELD(shoulder_angle, angle, from_to(-62.9, 62.9), 0.0, "where it stands out most")
#define FITWRIGHT_NUT_RUNOUT(FIELD)                                                                \
    FIELD(face_runout, fine, from_to(0.0, 1e-3), 0.0,                                              \
          "full reading on the nut's face against its thread, at the outside of that face")        \
    FIELD(face_angle, angle, from_to(-62.9, 62.9), 0.0,                                            \
          "where it stands out most when the nut is tight")

#define FITWRIGHT_SQUARE_STATE(FIELD, RANGED, PART, CHOICE)                                        \
    FIELD(kink, slope, unlimited(), 1e-4, "all faces together: angle the closed faces ask for")    \
    FIELD(bend_moment, torque, unlimited(), 1.0, "bending moment of shaft and rings")              \
    FIELD(bending_stress, stress, unlimited(), 1e6, "greatest bending stress of the shaft")        \
    FIELD(end_tilt, slope, unlimited(), 1e-4, "tilt of the shaft at the nut")                      \
    FIELD(end_runout, fine, unlimited(), 1e-6, "runout of the shaft at the nut, full reading")     \
    FIELD(opening_force, force, unlimited(), 1e3,                                                  \
          "clamp below which that moment opens a face on one side")                                \
    FIELD(opening_margin, force, at_least(0.0), 1e3,                                               \
          "least force under the nut less that clamp; faces near the shoulder may carry less "     \
          "(job.squareness takes the least of the history)")
FITWRIGHT_DECLARE(job, SquareState, false, "a stack out of square in a state",
                  FITWRIGHT_SQUARE_STATE)
#define FITWRIGHT_SQUARE_RING_STATE(FIELD, RANGED, PART, CHOICE)                                   \
    FIELD(runout, fine, unlimited(), 1e-6, "runout of its outside on the shaft, full reading")     \
    FIELD(face_runout, fine, unlimited(), 1e-6, "axial runout of its faces at the outside")        \
    FIELD(tilt, slope, unlimited(), 1e-4, "tilt of the ring by its faces")
FITWRIGHT_DECLARE(job, SquareRingState, false, "a ring out of square in a state",
                  FITWRIGHT_SQUARE_RING_STATE)
