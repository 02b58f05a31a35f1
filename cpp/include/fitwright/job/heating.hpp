// How a job's rings are heated, carried, seated and taken off again: what only a job declares.
#pragma once

#include <fitwright/heat/seating.hpp>
#include <fitwright/heat/slip_on.hpp>
#include <fitwright/heat/take_off.hpp>

#define FITWRIGHT_WORKSHOP(FIELD, RANGED, PART, CHOICE)                                            \
    FITWRIGHT_AIR(FIELD, RANGED)                                                                   \
    FITWRIGHT_JOINT_HEAT(FIELD, RANGED)                                                            \
    RANGED(breakaway, ratio, from_to(0.5, 10.0), 1.5, 1.0, 2.5,                                    \
           "force that breaks a joint away over the force it holds")                               \
    FIELD(gauge_uncertainty, fine, from_to(0.0, 1e-3), 2e-6,                                       \
          "uncertainty (two deviations) of depth micrometer or indicator")                         \
    FIELD(thinnest_leaf, fine, from_to(1e-6, 1e-3), 30e-6, "thinnest leaf of the feeler gauge")
FITWRIGHT_DECLARE(job, Workshop, false, "the air, the joint and the gauges while rings go on",
                  FITWRIGHT_WORKSHOP)

// Fields of a ring that is put on hot.
#define FITWRIGHT_HANDLING(FIELD)                                                                  \
    FIELD(carry_time, time, from_to(0.0, 3600.0), 5.0,                                             \
          "from the oven until the ring is over its seat")                                         \
    FIELD(slide_time, time, from_to(0.0, 3600.0), 5.0,                                             \
          "from there until it stands against its neighbour")                                      \
    FIELD(allowed_gap, fine, from_to(0.0, 1e-3), 5e-6,                                             \
          "gap to its neighbour that may stay after the press")

#define FITWRIGHT_HEATED_OUTPUTS(FIELD, RANGED, PART, CHOICE)                                      \
    PART(heat::SlipOnOutputs, slip_on)                                                             \
    PART(heat::SeatingOutputs, seating)                                                            \
    PART(heat::TakeOffOutputs, take_off)
FITWRIGHT_DECLARE(job, HeatedOutputs, false, "a ring that is put on hot and taken off again",
                  FITWRIGHT_HEATED_OUTPUTS)
