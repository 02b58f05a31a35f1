// Friction from what was measured: a torque and the force by stretch, or the torques of tightening
// and of loosening.
#pragma once

#include <fitwright/fields/model.hpp>
#include <fitwright/threads/parts.hpp>

#define FITWRIGHT_FRICTION_INPUTS(FIELD, RANGED, PART, CHOICE)                                     \
    PART(threads::Nut, nut)                                                                        \
    FIELD(torque, torque, above(0.0, 1e7), required, "measured torque while the nut turned")       \
    FIELD(preload, force, above(0.0, 1e8), required,                                               \
          "measured force at that torque, by stretch for example")                                 \
    FIELD(face_over_thread, ratio, from_to(0.0, 10.0), 1.0,                                        \
          "friction of the face over friction of the thread: one measurement cannot tell them "    \
          "apart")                                                                                 \
    FIELD(torque_uncertainty, ratio, from_to(0.0, 1.0), 0.04,                                      \
          "standard uncertainty of the torque over the torque")                                    \
    FIELD(preload_uncertainty, ratio, from_to(0.0, 1.0), 0.05,                                     \
          "standard uncertainty of the force over the force")                                      \
    FIELD(shaft_bore, size, from_to(0.0, 3.0), 0.0, "bore of the shaft under the thread")
FITWRIGHT_DECLARE(threads, FrictionInputs, false, "a measured torque and force",
                  FITWRIGHT_FRICTION_INPUTS)

#define FITWRIGHT_FRICTION_OUTPUTS(FIELD, RANGED, PART, CHOICE)                                    \
    FIELD(thread_friction, ratio, unlimited(), 0.1, "friction between the threads")                \
    FIELD(face_friction, ratio, unlimited(), 0.1, "friction under the face")                       \
    FIELD(uncertainty, ratio, unlimited(), 0.1, "standard uncertainty of the thread friction")     \
    FIELD(thread_friction_alone, ratio, unlimited(), 0.1,                                          \
          "thread friction if the face has the nut's own face friction; negative: it cannot have") \
    FIELD(face_friction_alone, ratio, unlimited(), 0.1,                                            \
          "face friction if the thread has the nut's own thread friction; negative: it cannot "    \
          "have")                                                                                  \
    FIELD(nut_factor, ratio, unlimited(), 0.1, "torque over force times diameter (K)")
FITWRIGHT_DECLARE(threads, FrictionOutputs, false, "friction that explains the measurement",
                  FITWRIGHT_FRICTION_OUTPUTS)

#define FITWRIGHT_BREAKAWAY_INPUTS(FIELD, RANGED, PART, CHOICE)                                    \
    PART(threads::Nut, nut)                                                                        \
    FIELD(torque, torque, above(0.0, 1e7), required, "torque the nut was tightened with")          \
    FIELD(loosening_torque, torque, from_to(-1e7, 1e7), required,                                  \
          "torque that turned it back, negative when it had to be held")                           \
    FIELD(face_over_thread, ratio, from_to(0.0, 10.0), 1.0,                                        \
          "friction of the face over friction of the thread")                                      \
    FIELD(breakaway_factor, ratio, from_to(0.5, 3.0), 1.0,                                         \
          "friction while loosening over friction while tightening: 1 when both torques are read " \
          "while the nut turns")                                                                   \
    FIELD(torque_uncertainty, ratio, from_to(0.0, 1.0), 0.04,                                      \
          "standard uncertainty of each torque over the torque")                                   \
    FIELD(shaft_bore, size, from_to(0.0, 3.0), 0.0, "bore of the shaft under the thread")
FITWRIGHT_DECLARE(threads, BreakawayInputs, false, "the torques of tightening and of loosening",
                  FITWRIGHT_BREAKAWAY_INPUTS)

#define FITWRIGHT_BREAKAWAY_OUTPUTS(FIELD, RANGED, PART, CHOICE)                                   \
    FIELD(thread_friction, ratio, unlimited(), 0.1, "friction between the threads")                \
    FIELD(face_friction, ratio, unlimited(), 0.1, "friction under the face")                       \
    FIELD(preload, force, unlimited(), 1e3, "force under the nut that explains both torques")      \
    FIELD(preload_uncertainty, ratio, unlimited(), 0.1,                                            \
          "standard uncertainty of that force over the force: great, since it comes from the "     \
          "difference of two torques")
FITWRIGHT_DECLARE(threads, BreakawayOutputs, false, "friction and force that explain both torques",
                  FITWRIGHT_BREAKAWAY_OUTPUTS)

namespace fitwright::threads {

struct Friction {
    template <class T>
    static void run(const T* inputs, T* outputs, const fields::Context&, number::Faults<T>&);
};
struct Breakaway {
    template <class T>
    static void run(const T* inputs, T* outputs, const fields::Context&, number::Faults<T>&);
};

} // namespace fitwright::threads
