// The parts of a whole job: what each room declares, and what only a job needs beside it.
#pragma once

#include <fitwright/bearings/equilibrium.hpp>
#include <fitwright/bearings/service.hpp>
#include <fitwright/bearings/thrust.hpp>
#include <fitwright/heat/oven.hpp>
#include <fitwright/job/assembly_parts.hpp>
#include <fitwright/job/heating.hpp>
#include <fitwright/job/nut_parts.hpp>
#include <fitwright/job/pocket_parts.hpp>
#include <fitwright/job/square_parts.hpp>
#include <fitwright/rings/fit.hpp>
#include <fitwright/rings/seal.hpp>
#include <fitwright/stack/parts.hpp>
#include <fitwright/stack/shoulder.hpp>
#include <fitwright/threads/tightening.hpp>

#define FITWRIGHT_ROTOR(FIELD, RANGED, PART, CHOICE)                                               \
    FIELD(bore, size, from_to(0.0, 3.15), 0.0, "bore of a hollow shaft; 0 when solid")             \
    FIELD(shoulder_roughness, fine, from_to(0.0, 1e-4), 2e-6,                                      \
          "mean peak-to-valley height Rz of the shoulder face")                                    \
    FITWRIGHT_SHOULDER_RUNOUT(FIELD)                                                               \
    FITWRIGHT_SHAFT_WAY(FIELD)                                                                     \
    FIELD(start_time, time, above(0.0, 1e6), 1.0, "time to run up to the speed of a state")        \
    FIELD(trip_time, time, above(0.0, 1e6), 1.0, "time to come down in the hardest stop")          \
    FITWRIGHT_MATERIAL_FACTORS(FIELD)                                                              \
    CHOICE(rotation, "not_told|clockwise|anticlockwise",                                           \
           "rotation in service, seen from the nut end; told, it is held against the nut's hand")
FITWRIGHT_DECLARE(job, Rotor, true, "the shaft that carries the stack", FITWRIGHT_ROTOR)

#define FITWRIGHT_SEAT(FIELD, RANGED, PART, CHOICE)                                                \
    FIELD(diameter, size, from_to(1e-5, 3.15), required, "measured diameter at 20 degC")           \
    FIELD(roughness, fine, from_to(0.0, 1e-3), 0.0, "mean peak-to-valley height Rz")               \
    FITWRIGHT_SEAT_WAY(FIELD)
FITWRIGHT_DECLARE(job, Seat, false, "a seat of the shaft", FITWRIGHT_SEAT)

#define FITWRIGHT_JOB_RING(FIELD, RANGED, PART, CHOICE)                                            \
    FITWRIGHT_RING(FIELD, RANGED, PART, CHOICE)                                                    \
    RANGED(                                                                                        \
        overhang, ratio, from_to(0.0, 1.0), 0.4, 0.0, 1.0,                                         \
        "share of the extra grip of a short ring on a shaft that goes on: 0 among its like, 0.4 "  \
        "with the shaft going on at one side, 1 at both")                                          \
    FITWRIGHT_FACES(FIELD, RANGED)                                                                 \
    FITWRIGHT_OVEN_PLAN(FIELD)                                                                     \
    FITWRIGHT_HANDLING(FIELD)                                                                      \
    FITWRIGHT_RING_RUNOUT(FIELD)                                                                   \
    FITWRIGHT_PART_WAY(FIELD)                                                                      \
    FIELD(press, force, from_to(0.0, 1e8), 0.0,                                                    \
          "force that holds it against its neighbour while it cools")                              \
    CHOICE(press_against, "shaft|outside",                                                         \
           "what that press is held against: the shaft's own nut end, or the far side of the "     \
           "shoulder")                                                                             \
    CHOICE(joint, "grip|slide", "grip: put on hot, must hold; slide: put on cold, may be loose")
FITWRIGHT_DECLARE(job, Ring, true, "a ring of the stack, in order from the shoulder",
                  FITWRIGHT_JOB_RING)

// A ring whose outside has steps is told by slices in place of `outside`, from the shoulder on.
#define FITWRIGHT_JOB_SLICE(FIELD, RANGED, PART, CHOICE)                                           \
    FIELD(outside, size, from_to(1e-5, 6.3), required, "outside diameter of this slice")           \
    FIELD(length, size, from_to(1e-5, 3.15), required, "length along the shaft")                   \
    FIELD(start, size, from_to(0.0, 3.15), worked_out,                                             \
          "where it begins, from the ring's face towards the shoulder; where the slice before it " \
          "ends when left out")                                                                    \
    FIELD(contact_length, size, from_to(1e-5, 3.15), worked_out,                                   \
          "length of it really in contact; the length when left out")
FITWRIGHT_DECLARE(job, Slice, false, "a slice of a ring whose outside has steps",
                  FITWRIGHT_JOB_SLICE)

// The stator of a seal on a ring of the stack; its temperature is the shaft's plus its own lag.
#define FITWRIGHT_JOB_SEAL(FIELD, RANGED, PART, CHOICE)                                            \
    FIELD(stator, size, from_to(1e-5, 6.3), required,                                              \
          "bore of the stator round the ring, or outside of the stator in the shaft, at 20 degC")  \
    FIELD(surface, size, from_to(1e-5, 6.3), worked_out,                                           \
          "diameter that seals, before joining, at 20 degC; the ring's outside, or the shaft's "   \
          "bore, when left out")                                                                   \
    FIELD(offset, fine, from_to(0.0, 0.1), 0.0, "distance between the axes of rotor and stator")   \
    FIELD(touch_clearance, fine, from_to(-0.01, 0.1), 0.0,                                         \
          "least radial clearance that counts as running free")                                    \
    FIELD(expansion_factor, ratio, from_to(0.5, 2.0), 1.0,                                         \
          "thermal expansion of the stator over the table value of its material")                  \
    CHOICE(face, "outside|bore",                                                                   \
           "outside: the ring's outside turns in the stator; bore: the shaft's bore under the "    \
           "ring turns round it")
FITWRIGHT_DECLARE(job, Seal, true, "a seal between a ring of the stack and a stator",
                  FITWRIGHT_JOB_SEAL)

#define FITWRIGHT_JOB_NUT(FIELD, RANGED, PART, CHOICE)                                             \
    FITWRIGHT_NUT(FIELD, RANGED, PART, CHOICE)                                                     \
    RANGED(torque, torque, above(0.0, 1e7), required, worked_out, worked_out,                      \
           "tightening torque; ends left out are the value")                                       \
    FIELD(torque_window_low, torque, above(0.0, 1e7), worked_out,                                  \
          "least torque allowed while turning on to a lock tab; no window when left out")          \
    FIELD(torque_window_high, torque, above(0.0, 1e7), worked_out,                                 \
          "greatest torque allowed while turning on to a lock tab")                                \
    FITWRIGHT_NUT_RUNOUT(FIELD)                                                                    \
    FITWRIGHT_NUT_WAY(FIELD)                                                                       \
    FITWRIGHT_THREAD_SIZES(FIELD)                                                                  \
    FITWRIGHT_FACES(FIELD, RANGED)
FITWRIGHT_DECLARE(job, Nut, true, "the clamp nut of the stack", FITWRIGHT_JOB_NUT)

#define FITWRIGHT_STATE(FIELD, RANGED, PART, CHOICE)                                               \
    FIELD(speed, speed, from_to(0.0, 2e5), 0.0, "speed of rotation")                               \
    FIELD(shaft_temperature, temperature, from_to(-273.15, 2000.0), 20.0,                          \
          "temperature of the shaft")                                                              \
    FIELD(thrust, force, from_to(-1e8, 1e8), 0.0,                                                  \
          "thrust the bearing's inner ring passes to the stack, positive towards the shoulder")    \
    FIELD(drag_torque, torque, from_to(0.0, 1e7), 0.0,                                             \
          "drag on the rings by seals and gas, and by the bearing where no [service] tells its "   \
          "friction, that would have to pass through the nut")                                     \
    FIELD(trip_speed, speed, from_to(0.0, 2e5), worked_out,                                        \
          "speed the hardest stop of this state begins at; its own speed when left out, in a "     \
          "state at rest after the first the greatest of all states")
FITWRIGHT_DECLARE(job, State, false, "a named set of speed, temperatures and thrust",
                  FITWRIGHT_STATE)

#define FITWRIGHT_STATE_LOADS(FIELD, RANGED, PART, CHOICE) FITWRIGHT_RING_LOADS(FIELD)
FITWRIGHT_DECLARE(job, StateLoads, false,
                  "what the bearing carries across the shaft in a state, as the rotor's weight",
                  FITWRIGHT_STATE_LOADS)

#define FITWRIGHT_RING_OUTPUTS(FIELD, RANGED, PART, CHOICE)                                        \
    FITWRIGHT_FIT_OUTPUTS(FIELD, RANGED, PART, CHOICE)                                             \
    FIELD(grip_left, ratio, at_least(1.0 / 3.0), 1.0,                                              \
          "pressure over the pressure as built (a third is common practice)")                      \
    FIELD(heat_margin, difference, unlimited(), 10.0,                                              \
          "how much hotter the ring may get before the grip is lost")                              \
    FIELD(end_effect, ratio, unlimited(), 0.1,                                                     \
          "pressure of a short ring on a shaft that goes on, at its overhang, over the pressure "  \
          "told here; the growth that the fit makes goes with it")                                 \
    FIELD(end_effect_high, ratio, unlimited(), 0.1, "the same at the high end of its overhang")    \
    FIELD(                                                                                         \
        ring_hoop_high, stress, unlimited(), 1e6,                                                  \
        "hoop stress at the bore of the ring at its greatest: end effect at its high end, clamp "  \
        "none or the greatest")                                                                    \
    FIELD(ring_yield_use_high, ratio, at_most(0.9), 1.0,                                           \
          "von Mises stress over yield, ring, at its greatest in the same sense; above 1 it "      \
          "yields, and job.yielding tells what is left")                                           \
    FIELD(end_effect_reach, ratio, at_least(1.0), 1.0,                                             \
          "contact length over an eighth of the seat, the shortest the end effect (overhang) was " \
          "measured at: below 1 the extra grip there is counted, the ring's own may be more; at "  \
          "least 1 where overhang is 0")
FITWRIGHT_DECLARE(job, RingOutputs, false, "a ring in a state", FITWRIGHT_RING_OUTPUTS)

// Of a ring that passes a torque to the shaft, as a hub or a gear. The clamp of its faces is not counted.
#define FITWRIGHT_RING_TORQUE_OUTPUTS(FIELD, RANGED, PART, CHOICE)                                 \
    FIELD(torque_margin, torque, at_least(0.0), 10.0,                                              \
          "torque the grip holds, low end of friction, less the torque the ring passes to the "    \
          "shaft in this state; below 0 it slips")
FITWRIGHT_DECLARE(job, RingTorqueOutputs, false, "a ring that passes a torque, in a state",
                  FITWRIGHT_RING_TORQUE_OUTPUTS)

#define FITWRIGHT_JOB_SEAL_OUTPUTS(FIELD, RANGED, PART, CHOICE)                                    \
    FIELD(clearance, fine, at_least(0.0), 1e-5, "clearance on diameter")                           \
    FIELD(least_radial, fine, unlimited(), 1e-5,                                                   \
          "least clearance on one side: half of it less the offset")                               \
    FIELD(closing, fine, unlimited(), 1e-5, "clearance on diameter lost since the first state")    \
    FIELD(rotor_growth, fine, unlimited(), 1e-6,                                                   \
          "growth of the diameter that seals, from 20 degC before joining")                        \
    FIELD(stator_growth, fine, unlimited(), 1e-6, "growth of the stator's diameter")               \
    FIELD(touch_margin, fine, at_least(0.0), 1e-5,                                                 \
          "least radial clearance less what counts as running free; below 0 it touches")
FITWRIGHT_DECLARE(job, SealOutputs, false, "a seal in a state", FITWRIGHT_JOB_SEAL_OUTPUTS)

// The ring's own outputs sum, average or take the worst of these (docs/theory-rings.md).
#define FITWRIGHT_JOB_SLICE_OUTPUTS(FIELD, RANGED, PART, CHOICE)                                   \
    FIELD(interference_left, fine, unlimited(), 1e-6, "interference in this state; negative: gap") \
    FIELD(pressure, stress, unlimited(), 1e6, "pressure on the seat; 0 when loose")                \
    FIELD(holding_force, force, unlimited(), 1e3,                                                  \
          "axial force the grip of this slice holds, low end of friction")                         \
    FIELD(ring_hoop, stress, unlimited(), 1e6, "hoop stress at the bore of this slice")            \
    FIELD(ring_yield_use, ratio, unlimited(), 1.0, "von Mises stress over yield, ring")            \
    FIELD(outside_growth, fine, unlimited(), 1e-6, "growth of this slice's outside diameter")
FITWRIGHT_DECLARE(job, SliceOutputs, false, "a slice of a ring in a state",
                  FITWRIGHT_JOB_SLICE_OUTPUTS)

// A bearing in a job brings its rings' data too: the inner ring is one or two rings of the stack,
// the outer ring stands still in its housing.
#define FITWRIGHT_JOB_BEARING_OUTPUTS(FIELD, RANGED, PART, CHOICE)                                 \
    FITWRIGHT_MOUNTED_OUTPUTS(FIELD, RANGED, PART, CHOICE)                                         \
    FIELD(raceway_growth, fine, unlimited(), 1e-6, "growth of the inner raceway's diameter")       \
    FIELD(raceway_growth_spread, fine, unlimited(), 1e-6,                                          \
          "model error of that growth: ring taken at its shoulder less ring taken at its groove")  \
    FIELD(outer_growth, fine, unlimited(), 1e-6,                                                   \
          "growth of the outer raceway's diameter by its temperature")                             \
    FIELD(balls_growth, fine, unlimited(), 1e-6,                                                   \
          "growth of the two balls on a diameter by their temperature")                            \
    FITWRIGHT_RUNNING_OUTPUTS(FIELD, RANGED, PART, CHOICE)                                         \
    FITWRIGHT_HEARD(FIELD)                                                                         \
    FIELD(inner_pass_ratio, ratio, unlimited(), 1.0,                                               \
          "balls over a spot of the inner raceway in a turn of the shaft")                         \
    FIELD(outer_pass_ratio, ratio, unlimited(), 1.0,                                               \
          "balls over a spot of the outer raceway in a turn of the shaft")
FITWRIGHT_DECLARE(job, BearingOutputs, false, "the bearing in a state",
                  FITWRIGHT_JOB_BEARING_OUTPUTS)

// Of an inner ring in halves.
#define FITWRIGHT_JOB_ARCH_OUTPUTS(FIELD, RANGED, PART, CHOICE)                                    \
    FITWRIGHT_ARCH_BAND(FIELD)                                                                     \
    FIELD(arch_margin, force, at_least(0.0), 1e3,                                                  \
          "thrust less arch_thrust, or arch_limit less thrust where that is less; 1e9 N stands "   \
          "for no thrust, or one so light that the balls are free again")
FITWRIGHT_DECLARE(job, ArchOutputs, false, "the halves of the bearing's inner ring in a state",
                  FITWRIGHT_JOB_ARCH_OUTPUTS)

// The service of that bearing: asked for by a table of its own, which tells the oil.
#define FITWRIGHT_JOB_SERVICE(FIELD, RANGED, PART, CHOICE)                                         \
    FITWRIGHT_BEARING_SERVICE(FIELD, RANGED, PART, CHOICE)                                         \
    FITWRIGHT_LUBRICANT(FIELD, RANGED, PART, CHOICE)                                               \
    FIELD(contact_angle, angle, from_to(0.0, 1.5707963267948966), worked_out,                      \
          "nominal contact angle; the free one of the unmounted bearing when left out")            \
    FIELD(face_friction, ratio, from_to(0.0, 1.0), 0.1,                                            \
          "of the inner ring's clamped faces; the low end, for holding")                           \
    FIELD(held_faces, count, from_to(0.0, 2.0), worked_out,                                        \
          "clamped faces of the inner ring whose partner cannot turn on the shaft; the shoulder "  \
          "and rings that grip when left out")                                                     \
    FITWRIGHT_OIL_CHOICES(CHOICE)                                                                  \
    CHOICE(kind, "radial|thrust", "radial up to a contact angle of 45 deg, thrust above")          \
    CHOICE(grooves, "standard|measured",                                                           \
           "standard: grooves tighter than the standard's gain nothing; measured: rated as they "  \
           "are")
FITWRIGHT_DECLARE(job, Service, false, "ratings, oil and friction of the bearing in service",
                  FITWRIGHT_JOB_SERVICE)

#define FITWRIGHT_STATE_SERVICE(FIELD, RANGED, PART, CHOICE)                                       \
    FIELD(share, ratio, from_to(0.0, 1.0), 0.0,                                                    \
          "of the running time, for the life over all states")                                     \
    FIELD(oil_temperature, temperature, from_to(-60.0, 300.0), worked_out,                         \
          "of the oil in the bearing; that of the balls when left out")
FITWRIGHT_DECLARE(job, StateService, false, "how long the bearing runs in a state, and its oil",
                  FITWRIGHT_STATE_SERVICE)

FITWRIGHT_DECLARE(job, ServiceOutputs, false, "life, film and creep of the bearing in a state",
                  FITWRIGHT_SERVICE_FIGURES)
FITWRIGHT_DECLARE(job, PocketOutputs, false, "the bearing's outer ring in its pocket, in a state",
                  FITWRIGHT_OUTER_HELD)
FITWRIGHT_DECLARE(job, Pocket, false, "what the bearing's outer ring sits in", FITWRIGHT_POCKET)
FITWRIGHT_DECLARE(job, PocketFitOutputs, false,
                  "the fit of the bearing's outer ring in its pocket, in a state",
                  FITWRIGHT_POCKET_FIT_OUTPUTS)

#define FITWRIGHT_DUTY_OUTPUTS(FIELD, RANGED, PART, CHOICE)                                        \
    FIELD(duty_life, revolutions, unlimited(), 1e6,                                                \
          "modified life over all states by their shares; the shortest of them where none has a "  \
          "share; 1e18 stands for no load")                                                        \
    FIELD(duty_time, lifetime, at_least(9e7), 3600.0,                                              \
          "the same in running time, 25 000 h for machines that run all day (makers tell 20 000 "  \
          "to 30 000 h for blowers); 1e12 s stands for longer")
FITWRIGHT_DECLARE(job, DutyOutputs, false, "life of the bearing over all states",
                  FITWRIGHT_DUTY_OUTPUTS)

#define FITWRIGHT_TIGHTENED(FIELD, RANGED, PART, CHOICE)                                           \
    FIELD(preload, force, unlimited(), 1e3, "force the torque gives at the nominal friction")      \
    FIELD(preload_low, force, unlimited(), 1e3, "force at the high end of both frictions")         \
    FIELD(preload_high, force, unlimited(), 1e3, "force at the low end of both frictions")         \
    FIELD(loosening_torque, torque, unlimited(), 10.0,                                             \
          "torque that turns the nut back, at the low end of both frictions")                      \
    FIELD(stress_area, area, unlimited(), 1e-6, "stress area of the threaded shaft end")           \
    FIELD(tightening_yield_use, ratio, at_most(0.9), 1.0,                                          \
          "von Mises stress over yield of the shaft end while tightening, at the high preload")
FITWRIGHT_DECLARE(job, Tightened, false, "the nut as tightened", FITWRIGHT_TIGHTENED)
