// What the clamp of a stack adds to its parts, and what it answers.
#pragma once

#include <fitwright/fields/field.hpp>
#include <fitwright/rings/parts.hpp>

// A part squeezed between shoulder and nut: its two faces and how they settle. Each part's face
// towards the shoulder is counted with the part.
#define FITWRIGHT_FACES(FIELD, RANGED)                                                             \
    FIELD(face_roughness, fine, from_to(0.0, 1e-4), 2e-6,                                          \
          "mean peak-to-valley height Rz of its clamped faces")                                    \
    RANGED(settling, fine, from_to(0.0, 1e-4), 0.5e-6, worked_out, worked_out,                     \
           "embedding of its face towards the shoulder after tightening (ground faces 0.3 to 1.5 " \
           "um, common practice); ends left out are the value")

#define FITWRIGHT_LOCK(FIELD, RANGED, PART, CHOICE)                                                \
    FIELD(bore, size, from_to(1e-5, 3.15), required, "bore of the washer")                         \
    FIELD(outside, size, from_to(1e-5, 6.3), required, "outside diameter of the clamped face")     \
    FIELD(thickness, size, from_to(1e-5, 0.1), required, "thickness between last ring and nut")    \
    FITWRIGHT_FACES(FIELD, RANGED)                                                                 \
    FITWRIGHT_MATERIAL_FACTORS(FIELD)                                                              \
    FIELD(opening, size, from_to(1e-5, 10.0), worked_out,                                          \
          "least opening it has to go through on its way; not looked at when left out")            \
    FIELD(miss, angle, from_to(0.0, 6.2831853071795865), worked_out,                               \
          "angle still to turn from the low end of the torque window to the next meeting of a "    \
          "tab and a slot, measured at the nut; unknown when left out: tabs and slots stand "      \
          "anyhow")
FITWRIGHT_DECLARE(stack, Lock, true, "the locking washer under the nut", FITWRIGHT_LOCK)

#define FITWRIGHT_SHOULDER_OUTPUTS(FIELD, RANGED, PART, CHOICE)                                    \
    FIELD(                                                                                         \
        clamp_low, force, unlimited(), 1e3,                                                        \
        "least force at the shoulder, whatever friction does, at the worst ends of friction, end " \
        "effect, settling and torque; 0 where a ring may not have been slid home. In a study a "   \
        "sample stands for both ends of what scatters")                                            \
    FIELD(clamp_high, force, unlimited(), 1e3, "greatest force at the shoulder in the same sense") \
    FIELD(clamp_nominal, force, unlimited(), 1e3,                                                  \
          "what clamp_low would be if every input had the value told and no ends")                 \
    FIELD(clamp_free, force, unlimited(), 1e3,                                                     \
          "force at the shoulder if no seat held by friction (no bound)")
FITWRIGHT_DECLARE(stack, ShoulderOutputs, false, "clamp at the shoulder",
                  FITWRIGHT_SHOULDER_OUTPUTS)

#define FITWRIGHT_NUT_OUTPUTS(FIELD, RANGED, PART, CHOICE)                                         \
    FIELD(force, force, unlimited(), 1e3, "force under the nut if no seat held by friction")       \
    FIELD(force_low, force, at_least(1e3), 1e3,                                                    \
          "least force under the nut, whatever friction does, at the worst ends of friction, end " \
          "effect, settling and torque")                                                           \
    FIELD(force_lost, ratio, unlimited(), 1.0, "share of the tightening force lost since")         \
    FIELD(von_mises, stress, unlimited(), 1e6,                                                     \
          "von Mises stress of the threaded shaft end at the greatest force under the nut")        \
    FIELD(yield_use, ratio, at_most(0.7), 1.0, "that stress over yield")                           \
    FIELD(face_pressure, stress, unlimited(), 1e6, "mean pressure under the face of the nut")
FITWRIGHT_DECLARE(stack, NutOutputs, false, "the locked nut", FITWRIGHT_NUT_OUTPUTS)

#define FITWRIGHT_STACK_OUTPUTS(FIELD, RANGED, PART, CHOICE)                                       \
    FIELD(grip_capacity, force, unlimited(), 1e3,                                                  \
          "what all seats together can take by friction, nominal friction")                        \
    FIELD(grip_capacity_high, force, unlimited(), 1e3,                                             \
          "the same at the high end of friction, with the overhang")                               \
    FIELD(grip_over_nut, ratio, unlimited(), 1.0, "grip capacity over the force under the nut")    \
    FIELD(compliance, compliance, unlimited(), 1e-9,                                               \
          "of the whole joint: shaft, rings, nut, thread, washer and faces at this force")
FITWRIGHT_DECLARE(stack, StackOutputs, false, "the stack as a whole", FITWRIGHT_STACK_OUTPUTS)
