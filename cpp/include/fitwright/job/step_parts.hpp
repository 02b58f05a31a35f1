// A step of a job in numbers, and what the stack answers after it.
#pragma once

#include <fitwright/fields/field.hpp>
#include <fitwright/stack/step_kind.hpp>

// Words of the job file; kinds in the order of stack::StepKind.
#define FITWRIGHT_STEP_KINDS "slip_on|press|release|nut_on|tighten|lock|state|loosen|pull|repeat"
#define FITWRIGHT_STEP_AGAINST "shaft|outside"

#define FITWRIGHT_STEP(FIELD, RANGED, PART, CHOICE)                                                \
    FIELD(force, force, from_to(0.0, 1e9), worked_out,                                             \
          "force of a press; the ring's own when left out")                                        \
    FIELD(torque, torque, from_to(0.0, 1e7), worked_out,                                           \
          "torque of a tightening; the nut's own when left out")                                   \
    CHOICE(kind, FITWRIGHT_STEP_KINDS, "what is done")                                             \
    CHOICE(                                                                                        \
        against, FITWRIGHT_STEP_AGAINST,                                                           \
        "what a press is held against: the shaft's own nut end, or the far side of the shoulder")
FITWRIGHT_DECLARE(job, Step, false, "one step of assembly or service, in order", FITWRIGHT_STEP)

#define FITWRIGHT_SHOULDER_STEP(FIELD, RANGED, PART, CHOICE)                                       \
    FIELD(clamp, force, unlimited(), 1e3, "force at the shoulder, friction as it is")              \
    FIELD(clamp_least, force, at_least(1e3), 1e3,                                                  \
          "least force at the shoulder over both ends of seat friction")                           \
    FIELD(clamp_most, force, unlimited(), 1e3,                                                     \
          "most force at the shoulder over both ends of seat friction")                            \
    FIELD(face_gap, fine, unlimited(), 1e-6, "gap at the shoulder; 0 when the faces touch")
FITWRIGHT_DECLARE(job, ShoulderStep, false, "the shoulder after a step", FITWRIGHT_SHOULDER_STEP)

#define FITWRIGHT_NUT_STEP(FIELD, RANGED, PART, CHOICE)                                            \
    FIELD(clamp, force, unlimited(), 1e3, "force in the thread, friction as it is")                \
    FIELD(clamp_least, force, at_least(1e3), 1e3,                                                  \
          "least force in the thread over both ends of seat friction")                             \
    FIELD(travel, fine, unlimited(), 1e-6, "how far the nut was turned up since it was put on")
FITWRIGHT_DECLARE(job, NutStep, false, "the nut after a step", FITWRIGHT_NUT_STEP)

#define FITWRIGHT_STACK_STEP(FIELD, RANGED, PART, CHOICE)                                          \
    FIELD(thrust_to_shoulder, force, unlimited(), 1e3,                                             \
          "part of the step's change of thrust that the shoulder took")                            \
    FIELD(thrust_to_nut, force, unlimited(), 1e3, "part that the nut took")                        \
    FIELD(thrust_to_seats, force, unlimited(), 1e3, "part that the seats took by friction")        \
    FIELD(pull_force, force, unlimited(), 1e3, "largest force of a pull")
FITWRIGHT_DECLARE(job, StackStep, false, "the stack after a step", FITWRIGHT_STACK_STEP)

#define FITWRIGHT_PART_STEP(FIELD, RANGED, PART, CHOICE)                                           \
    FIELD(face_force, force, unlimited(), 1e3, "force at its face towards the shoulder")           \
    FIELD(face_gap, fine, unlimited(), 1e-6, "gap at that face; 0 when the faces touch")           \
    FIELD(seat_force, force, unlimited(), 1e3,                                                     \
          "friction of its whole seat, positive when it pushes the part towards the shoulder")
FITWRIGHT_DECLARE(job, PartStep, false, "a part of the stack after a step", FITWRIGHT_PART_STEP)
