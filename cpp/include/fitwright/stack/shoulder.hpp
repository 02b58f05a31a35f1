// The collar that the first ring stands against: what is told of it, and how it gives way.
#pragma once

#include <fitwright/fields/field.hpp>

#define FITWRIGHT_SHOULDER(FIELD, RANGED, PART, CHOICE)                                            \
    FIELD(outside, size, from_to(1e-5, 6.3), required, "outside diameter of the collar")           \
    FIELD(length, size, from_to(1e-5, 3.15), required, "length of the collar along the shaft")     \
    FIELD(land_inside, size, from_to(1e-5, 6.3), worked_out,                                       \
          "inside diameter of its face, where it begins to bear; the seat with relief and fillet " \
          "on both sides when left out")                                                           \
    FIELD(land_outside, size, from_to(1e-5, 6.3), worked_out,                                      \
          "outside diameter of that face; the outside of the collar when left out")                \
    FIELD(fillet, size, from_to(0.0, 0.1), 0.0, "radius between seat and face")                    \
    FIELD(relief, size, from_to(0.0, 0.1), 0.0,                                                    \
          "radial width of a relief cut into the face from the seat on")                           \
    FIELD(beyond, size, from_to(1e-5, 6.3), worked_out,                                            \
          "outside diameter of the shaft beyond the collar, where it goes on for a diameter or "   \
          "more; left out, the collar ends at a section that stays plane, as half of one that "    \
          "bears on both sides")
FITWRIGHT_DECLARE(stack, Shoulder, false, "the collar that the first ring stands against",
                  FITWRIGHT_SHOULDER)

#define FITWRIGHT_SHOULDER_GIVE(FIELD, RANGED, PART, CHOICE)                                       \
    FIELD(compliance, compliance, unlimited(), 1e-9,                                               \
          "of the shoulder and of the first ring's end on its land, beside bars; 6 to 7 % (rms, "  \
          "30 % at most) by parts in section within reach")                                        \
    FIELD(give, fine, unlimited(), 1e-6, "how far it gives way under the nut's preload")           \
    FIELD(reach, ratio, at_least(1.0), 1.0,                                                        \
          "1 where its sizes lie within those the compliance was fitted on; below 1 it is "        \
          "carried over by theory: job.section tells better")
FITWRIGHT_DECLARE(stack, ShoulderGive, false, "how the shoulder gives way", FITWRIGHT_SHOULDER_GIVE)
