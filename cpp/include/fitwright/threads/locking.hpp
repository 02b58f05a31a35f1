// What keeps a nut where it was left: lock tabs that must find a slot, and the hand of the thread.
#pragma once

#include <fitwright/fields/model.hpp>
#include <fitwright/materials/material.hpp>
#include <fitwright/threads/parts.hpp>

#define FITWRIGHT_LOCK_TABS_INPUTS(FIELD, RANGED, PART, CHOICE)                                    \
    PART(threads::Nut, nut)                                                                        \
    FIELD(tabs, count, from_to(1.0, 360.0), required, "equally spaced tabs of the washer")         \
    FIELD(slots, count, from_to(1.0, 360.0), required, "equally spaced slots of the nut")          \
    FIELD(torque_low, torque, above(0.0, 1e7), required, "least torque allowed")                   \
    FIELD(torque_high, torque, above(0.0, 1e7), required, "greatest torque wanted")                \
    FIELD(torque_limit, torque, above(0.0, 1e7), worked_out,                                       \
          "torque the parts still stand, for the next meeting; the greatest wanted when left out") \
    FIELD(compliance, compliance, above(0.0, 1e-5), required,                                      \
          "of the whole joint at this force, all soft parts included")                             \
    FIELD(miss, angle, from_to(0.0, 6.2831853071795865), worked_out,                               \
          "angle still to turn from the least torque to the next meeting, measured at the nut; "   \
          "a whole step when left out: the worst there is")                                        \
    FIELD(shaft_bore, size, from_to(0.0, 3.0), 0.0, "bore of the shaft under the thread")
FITWRIGHT_DECLARE(threads, LockTabsInputs, false, "a washer with tabs, a nut with slots, a torque",
                  FITWRIGHT_LOCK_TABS_INPUTS)

// Told by a job too.
#define FITWRIGHT_TABS_IN_WINDOW(FIELD, RANGED, PART, CHOICE)                                      \
    FIELD(window_low, force, unlimited(), 1e3, "force at the least torque, nominal friction")      \
    FIELD(window_high, force, unlimited(), 1e3, "force at the greatest torque")                    \
    FIELD(window_angle, angle, unlimited(), 0.1, "angle from the least to the greatest torque")    \
    FIELD(meetings_in_window, ratio, unlimited(), 1.0, "window over step: meetings to expect")     \
    FIELD(chance, ratio, unlimited(), 1.0,                                                         \
          "chance that a meeting falls inside, for tabs and slots that stand anyhow")              \
    FIELD(chance_low, ratio, at_least(0.9), 1.0,                                                   \
          "the same at the high end of both frictions; nine of ten by default (own choice, no "    \
          "standard): below it a tab meets a slot by luck")                                        \
    FIELD(chance_high, ratio, unlimited(), 1.0, "the same at the low end of both frictions")       \
    FIELD(preload_mean, force, unlimited(), 1e3,                                                   \
          "mean force at the first meeting, when it falls inside")                                 \
    FIELD(preload_greatest, force, unlimited(), 1e3,                                               \
          "greatest force at the first meeting, when it falls inside")

#define FITWRIGHT_LOCK_TABS_OUTPUTS(FIELD, RANGED, PART, CHOICE)                                   \
    FIELD(meetings_per_turn, count, unlimited(), 1.0,                                              \
          "positions in a turn where a tab meets a slot: least common multiple")                   \
    FIELD(meeting_angle, angle, unlimited(), 0.1, "angle from one meeting to the next")            \
    FIELD(preload_step, force, unlimited(), 1e3, "force from one meeting to the next")             \
    FIELD(torque_step, torque, unlimited(), 10.0, "torque from one meeting to the next")           \
    FIELD(step_over_preload, ratio, unlimited(), 1.0, "that step over the least force")            \
    FITWRIGHT_TABS_IN_WINDOW(FIELD, RANGED, PART, CHOICE)                                          \
    FIELD(chance_to_limit, ratio, unlimited(), 1.0,                                                \
          "chance that a meeting falls between least torque and limit")                            \
    FIELD(next_preload, force, unlimited(), 1e3, "force at the next meeting (see miss)")           \
    FIELD(next_torque, torque, unlimited(), 10.0, "torque at the next meeting, nominal friction")  \
    FIELD(window_margin, torque, unlimited(), 10.0, "greatest torque wanted less that torque")     \
    FIELD(limit_margin, torque, unlimited(), 10.0, "limit less that torque")                       \
    FIELD(stone_per_degree, fine, unlimited(), 1e-6,                                               \
          "to take off washer or nut face so that the nut turns a degree further at that torque")  \
    FIELD(stone_least, fine, unlimited(), 1e-6,                                                    \
          "least depth that brings the next meeting to the greatest torque")                       \
    FIELD(stone_middle, fine, unlimited(), 1e-6, "depth that brings it to the middle of the window")
FITWRIGHT_DECLARE(threads, LockTabsOutputs, false, "where tabs and slots meet",
                  FITWRIGHT_LOCK_TABS_OUTPUTS)

#define FITWRIGHT_HAND_INPUTS(FIELD, RANGED, PART, CHOICE)                                         \
    PART(threads::Nut, nut)                                                                        \
    CHOICE(rotation, "clockwise|anticlockwise", "rotation of the shaft, seen from the nut end")    \
    FIELD(preload, force, above(0.0, 1e8), required, "force under the nut in that state")          \
    FIELD(drag_torque, torque, from_to(0.0, 1e7), 0.0,                                             \
          "drag on the rings by bearing, seals and gas that would have to pass through the nut")   \
    FIELD(speed, speed, from_to(0.0, 2e5), 0.0, "speed the machine runs up to")                    \
    FIELD(start_time, time, above(0.0, 1e6), 1.0, "time to run up")                                \
    FIELD(trip_time, time, above(0.0, 1e6), 1.0, "time to come down in the hardest stop")          \
    FIELD(trip_speed, speed, from_to(0.0, 2e5), worked_out,                                        \
          "speed that stop begins at; `speed` when left out")                                      \
    FIELD(shaft_bore, size, from_to(0.0, 3.0), 0.0, "bore of the shaft under the thread")
FITWRIGHT_DECLARE(threads, HandInputs, false, "a nut on a turning shaft", FITWRIGHT_HAND_INPUTS)

#define FITWRIGHT_HAND_OUTPUTS(FIELD, RANGED, PART, CHOICE)                                        \
    FIELD(sense, count, unlimited(), 1.0,                                                          \
          "1: what lags behind the shaft tightens the nut; -1: it loosens it")                     \
    FIELD(loosening_torque, torque, unlimited(), 10.0,                                             \
          "torque that turns the nut back, at the low end of both frictions")                      \
    FIELD(thread_hold, torque, unlimited(), 10.0,                                                  \
          "part of it by the thread: all there is against a ring that drags the nut by its face")  \
    FIELD(face_torque, torque, unlimited(), 10.0,                                                  \
          "most that can pass through the face, at the high end of its friction")                  \
    FIELD(drag_torque, torque, unlimited(), 10.0,                                                  \
          "torque on the nut by drag, no more than the face can pass; positive tightens")          \
    FIELD(creep_torque, torque, unlimited(), 10.0,                                                 \
          "torque on the nut when rings creep against the rotation: all the face can pass")        \
    FIELD(start_torque, torque, unlimited(), 10.0, "torque by the nut's own inertia running up")   \
    FIELD(trip_torque, torque, unlimited(), 10.0, "torque by its inertia in the hardest stop")     \
    FIELD(reverse_drag_torque, torque, unlimited(), 10.0, "drag when the shaft turns backwards")   \
    FIELD(drag_margin, torque, at_least(0.0), 10.0, "thread_hold plus drag_torque")                \
    FIELD(creep_margin, torque, unlimited(), 10.0,                                                 \
          "thread_hold plus creep_torque: negative where creeping rings would undo an unlocked "   \
          "nut")                                                                                   \
    FIELD(start_margin, torque, at_least(0.0), 10.0, "loosening_torque plus start_torque")         \
    FIELD(trip_margin, torque, at_least(0.0), 10.0, "loosening_torque plus trip_torque")           \
    FIELD(reverse_margin, torque, unlimited(), 10.0, "thread_hold plus reverse_drag_torque")       \
    FIELD(reverse_creep_margin, torque, unlimited(), 10.0,                                         \
          "thread_hold and what the face can pass when rings creep, turning backwards")
FITWRIGHT_DECLARE(threads, HandOutputs, false, "whether the hand of the thread tightens or loosens",
                  FITWRIGHT_HAND_OUTPUTS)

namespace fitwright::threads {

struct LockTabs {
    template <class T>
    static void run(const T* inputs, T* outputs, const fields::Context&, number::Faults<T>&);
};
struct Handed {
    template <class T>
    static void run(const T* inputs, T* outputs, const fields::Context&, number::Faults<T>&);
};

} // namespace fitwright::threads
