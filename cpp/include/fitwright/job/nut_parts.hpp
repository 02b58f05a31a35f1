// What a job says of its nut beside the clamp: its torque and the window of it, where lock tabs meet,
// which way the running shaft drives it, whether its thread strips.
#pragma once

#include <fitwright/threads/locking.hpp>
#include <fitwright/threads/stripping.hpp>

#define FITWRIGHT_MEETINGS(FIELD, RANGED, PART, CHOICE)                                            \
    FIELD(meetings_per_turn, count, unlimited(), 1.0,                                              \
          "positions in a turn where a tab meets a slot: least common multiple")                   \
    FIELD(meeting_angle, angle, unlimited(), 0.1, "angle from one meeting to the next")            \
    FIELD(preload_step, force, unlimited(), 1e3,                                                   \
          "force from one meeting to the next, every seat sliding; seats that grip make it more")  \
    FIELD(torque_step, torque, unlimited(), 10.0, "torque from one meeting to the next")           \
    FIELD(preload_next, force, unlimited(), 1e3,                                                   \
          "force at the next meeting when the torque just misses one: the most there is")          \
    FIELD(torque_next, torque, unlimited(), 10.0, "torque there, nominal friction")                \
    FIELD(stone_per_degree, fine, unlimited(), 1e-6,                                               \
          "to take off washer or nut face so that the nut turns a degree further at its torque")
FITWRIGHT_DECLARE(job, Meetings, false, "where tabs and slots meet", FITWRIGHT_MEETINGS)

#define FITWRIGHT_JOB_TABS_IN_WINDOW(FIELD, RANGED, PART, CHOICE)                                  \
    FITWRIGHT_TABS_IN_WINDOW(FIELD, RANGED, PART, CHOICE)                                          \
    FIELD(meeting_torque, torque, unlimited(), 10.0,                                               \
          "torque at the next meeting by its measured miss, else at the latest one there can be; " \
          "nominal friction")
FITWRIGHT_DECLARE(job, TorqueWindow, false, "tabs and slots in a torque window",
                  FITWRIGHT_JOB_TABS_IN_WINDOW)

#define FITWRIGHT_TORQUE_HELD(FIELD, RANGED, PART, CHOICE)                                         \
    FIELD(window_margin, torque, at_least(0.0), 10.0,                                              \
          "how far the tightening torque lies within its own window, to the nearer end")
FITWRIGHT_DECLARE(job, TorqueHeld, false, "the tightening torque in its window",
                  FITWRIGHT_TORQUE_HELD)

// Of a thread in the shop; a class stands for what is not measured.
#define FITWRIGHT_THREAD_SIZES(FIELD)                                                              \
    FIELD(external_major, size, from_to(1e-5, 3.0), worked_out,                                    \
          "least major diameter of the shaft's thread; that of its class when left out")           \
    FIELD(external_pitch, size, from_to(1e-5, 3.0), worked_out,                                    \
          "least pitch diameter of the shaft's thread; that of its class when left out")           \
    FIELD(internal_minor, size, from_to(1e-5, 3.0), worked_out,                                    \
          "greatest minor diameter of the nut's thread; that of its class when left out")          \
    FIELD(internal_pitch, size, from_to(1e-5, 3.0), worked_out,                                    \
          "greatest pitch diameter of the nut's thread; that of its class when left out")

#define FITWRIGHT_NUT_STRENGTH(FIELD, RANGED, PART, CHOICE)                                        \
    FIELD(force_high, force, unlimited(), 1e3,                                                     \
          "greatest force under the nut: tightened at the low end of both frictions")              \
    FIELD(shaft_thread_use, ratio, at_most(0.5), 1.0,                                              \
          "shear in the shaft's thread, at its limits of size, over yield/sqrt(3); half, since "   \
          "the first threads carry more than their share (common practice)")                       \
    FIELD(nut_thread_use, ratio, at_most(0.5), 1.0, "the same in the nut's thread")                \
    FIELD(stripping_force, force, unlimited(), 1e3, "force at which the weaker thread shears")     \
    FIELD(flank_pressure, stress, unlimited(), 1e6, "mean pressure on the flanks at that force")   \
    FIELD(face_pressure_high, stress, unlimited(), 1e6,                                            \
          "mean pressure under the face of the nut at that force")                                 \
    FIELD(                                                                                         \
        face_use, ratio, at_most(1.0), 1.0,                                                        \
        "that pressure over the lower yield of the nut and of what it bears on (common practice)")
FITWRIGHT_DECLARE(job, NutStrength, false, "what the threads bear", FITWRIGHT_NUT_STRENGTH)

#define FITWRIGHT_NUT_DRIVE(FIELD, RANGED, PART, CHOICE)                                           \
    FIELD(sense, count, at_least(0.0), 1.0,                                                        \
          "1: what lags behind the shaft tightens the nut; -1: it loosens it, the hand of the "    \
          "thread is wrong for this rotation")                                                     \
    FIELD(bearing_drag, torque, unlimited(), 10.0,                                                 \
          "the bearing's own friction torque, counted with the drag told; 0 without [service]")    \
    FIELD(stop_from, speed, unlimited(), 100.0, "speed at which the hardest stop begins")          \
    FIELD(thread_hold, torque, unlimited(), 10.0,                                                  \
          "torque by which the thread alone holds, at the least force and low end of friction")    \
    FIELD(undoing_torque, torque, unlimited(), 10.0,                                               \
          "torque that turns the unlocked nut back: thread and face, at the same ends")            \
    FIELD(start_torque, torque, unlimited(), 10.0,                                                 \
          "torque by the nut's own inertia running up; positive tightens")                         \
    FIELD(trip_torque, torque, unlimited(), 10.0, "torque by its inertia in the hardest stop")     \
    FIELD(drag_margin, torque, at_least(0.0), 10.0,                                                \
          "thread_hold and the drag on the rings and of the bearing, no more than the face "       \
          "passes on")                                                                             \
    FIELD(start_margin, torque, at_least(0.0), 10.0, "undoing_torque plus start_torque")           \
    FIELD(trip_margin, torque, at_least(0.0), 10.0, "undoing_torque plus trip_torque")             \
    FIELD(creep_margin, torque, unlimited(), 10.0,                                                 \
          "thread_hold and all the face passes on when rings creep against the rotation: "         \
          "negative where they would undo an unlocked nut")
FITWRIGHT_DECLARE(job, NutDrive, false, "which way the running shaft drives the nut",
                  FITWRIGHT_NUT_DRIVE)
