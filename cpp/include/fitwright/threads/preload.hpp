// Other ways to a preload than torque alone: angle from snug, stretch between measuring points; and
// how far a torque scatters.
#pragma once

#include <fitwright/fields/model.hpp>
#include <fitwright/materials/material.hpp>
#include <fitwright/threads/parts.hpp>

#define FITWRIGHT_TURN_INPUTS(FIELD, RANGED, PART, CHOICE)                                         \
    PART(threads::Nut, nut)                                                                        \
    FIELD(snug_torque, torque, from_to(0.0, 1e7), required,                                        \
          "torque from which the angle counts: all faces touch")                                   \
    FIELD(angle, angle, from_to(0.0, 62.9), worked_out,                                            \
          "angle turned beyond snug; leave it out when preload is given")                          \
    FIELD(preload, force, above(0.0, 1e8), worked_out,                                             \
          "wanted force; leave it out when angle is given")                                        \
    FIELD(compliance, compliance, above(0.0, 1e-5), required,                                      \
          "of the whole joint between snug and the end, nut and faces included")                   \
    FIELD(compliance_uncertainty, ratio, from_to(0.0, 0.9), 0.1,                                   \
          "how far the compliance may be off, over the compliance")                                \
    FIELD(settling, fine, from_to(0.0, 1e-3), 0.0, "length lost by embedding on the way")          \
    FIELD(shaft_bore, size, from_to(0.0, 3.0), 0.0, "bore of the shaft under the thread")          \
    FIELD(temperature, temperature, from_to(-273.15, 2000.0), 20.0, "temperature of the thread")
FITWRIGHT_DECLARE(threads, TurnInputs, true, "a nut turned by an angle from snug",
                  FITWRIGHT_TURN_INPUTS)

#define FITWRIGHT_TURN_OUTPUTS(FIELD, RANGED, PART, CHOICE)                                        \
    FIELD(angle, angle, unlimited(), 0.1, "angle to turn beyond snug")                             \
    FIELD(preload, force, unlimited(), 1e3, "force at the nominal friction and compliance")        \
    FIELD(preload_low, force, unlimited(), 1e3,                                                    \
          "force at the high end of both frictions and the softest joint")                         \
    FIELD(preload_high, force, unlimited(), 1e3,                                                   \
          "force at the low end of both frictions and the stiffest joint")                         \
    FIELD(snug_preload, force, unlimited(), 1e3, "force at snug, nominal friction")                \
    FIELD(preload_per_degree, force, unlimited(), 1e3, "force that one degree more brings")        \
    FIELD(torque, torque, unlimited(), 10.0, "torque at the end, nominal friction")                \
    FIELD(torque_low, torque, unlimited(), 10.0,                                                   \
          "torque at the end at the low end of both frictions: less hints at a soft or unseated "  \
          "joint")                                                                                 \
    FIELD(torque_high, torque, unlimited(), 10.0,                                                  \
          "torque at the end at the high end of both frictions: more hints at a galling thread")   \
    FIELD(scatter, ratio, unlimited(), 0.1, "half of high less low, over the force")               \
    FIELD(scatter_by_torque, ratio, unlimited(), 0.1,                                              \
          "the same if that torque alone had been used")                                           \
    FIELD(yield_use_high, ratio, at_most(0.9), 1.0,                                                \
          "von Mises stress of the shaft end over yield at the high force and nominal friction")
FITWRIGHT_DECLARE(threads, TurnOutputs, false, "what an angle from snug gives",
                  FITWRIGHT_TURN_OUTPUTS)

#define FITWRIGHT_STRETCH_INPUTS(FIELD, RANGED, PART, CHOICE)                                      \
    PART(threads::Nut, nut)                                                                        \
    FIELD(stretch, fine, above(0.0, 1e-2), worked_out,                                             \
          "measured growth of the shaft between the points; leave it out when preload is given")   \
    FIELD(preload, force, above(0.0, 1e8), worked_out,                                             \
          "wanted force; leave it out when stretch is given")                                      \
    FIELD(body_diameter, size, from_to(1e-5, 3.15), required,                                      \
          "diameter of the shaft between the points, under the rings")                             \
    FIELD(body_length, size, from_to(0.0, 10.0), required,                                         \
          "length of it that carries the force, from the shoulder or measuring point on")          \
    FIELD(thread_length, size, from_to(0.0, 3.0), 0.0, "length of free thread up to the nut")      \
    FIELD(shaft_bore, size, from_to(0.0, 3.0), 0.0, "bore of the shaft")                           \
    FIELD(gauge_uncertainty, fine, from_to(0.0, 1e-3), 1e-6,                                       \
          "standard uncertainty of the difference of the two readings")                            \
    FIELD(temperature_uncertainty, difference, from_to(0.0, 100.0), 0.5,                           \
          "standard uncertainty of how far the shaft's temperature moved between the readings")    \
    FIELD(modulus_uncertainty, ratio, from_to(0.0, 0.5), 0.02,                                     \
          "standard uncertainty of the modulus over the modulus")                                  \
    FIELD(length_uncertainty, size, from_to(0.0, 1.0), 2e-3,                                       \
          "standard uncertainty of the length that carries (where in the nut the force ends)")     \
    FIELD(temperature, temperature, from_to(-273.15, 2000.0), 20.0, "temperature of the shaft")
FITWRIGHT_DECLARE(threads, StretchInputs, true, "a shaft measured before and after tightening",
                  FITWRIGHT_STRETCH_INPUTS)

#define FITWRIGHT_STRETCH_OUTPUTS(FIELD, RANGED, PART, CHOICE)                                     \
    FIELD(stretch, fine, unlimited(), 1e-6, "what to read: after less before")                     \
    FIELD(preload, force, unlimited(), 1e3, "force that goes with it")                             \
    FIELD(compliance, compliance, unlimited(), 1e-9, "stretch per force between the points")       \
    FIELD(gauge_part, force, unlimited(), 1e3, "uncertainty of the force by the gauge")            \
    FIELD(heat_part, force, unlimited(), 1e3, "the same by temperature")                           \
    FIELD(modulus_part, force, unlimited(), 1e3, "the same by the modulus")                        \
    FIELD(length_part, force, unlimited(), 1e3, "the same by the length that carries")             \
    FIELD(uncertainty, force, unlimited(), 1e3,                                                    \
          "standard uncertainty of the force, root of the sum of squares")                         \
    FIELD(scatter, ratio, unlimited(), 0.1, "twice that over the force")                           \
    FIELD(torque, torque, unlimited(), 10.0, "torque for that force at the nominal friction")      \
    FIELD(scatter_by_torque, ratio, unlimited(), 0.1,                                              \
          "half of high less low force over the force, had that torque been used")                 \
    FIELD(tension, stress, unlimited(), 1e6, "tension at the stress area")
FITWRIGHT_DECLARE(threads, StretchOutputs, false, "stretch and force", FITWRIGHT_STRETCH_OUTPUTS)

#define FITWRIGHT_SCATTER_INPUTS(FIELD, RANGED, PART, CHOICE)                                      \
    PART(threads::Nut, nut)                                                                        \
    FIELD(torque, torque, above(0.0, 1e7), required, "torque set on the tool")                     \
    FIELD(tool_scatter, ratio, from_to(0.0, 0.95), 0.05,                                           \
          "how far the tool's torque may be off either way, over the torque "                      \
          "(fw.threads.tool_table())")                                                             \
    FIELD(shaft_bore, size, from_to(0.0, 3.0), 0.0, "bore of the shaft under the thread")
FITWRIGHT_DECLARE(threads, ScatterInputs, false, "a nut, its torque, and the tool",
                  FITWRIGHT_SCATTER_INPUTS)

#define FITWRIGHT_SCATTER_OUTPUTS(FIELD, RANGED, PART, CHOICE)                                     \
    FIELD(preload, force, unlimited(), 1e3, "force at nominal torque and friction")                \
    FIELD(tool_part, ratio, unlimited(), 0.1, "half range of the force by the tool alone")         \
    FIELD(thread_part, ratio, unlimited(), 0.1, "half range by the thread's friction alone")       \
    FIELD(face_part, ratio, unlimited(), 0.1, "half range by the face's friction alone")           \
    FIELD(scatter, ratio, unlimited(), 0.1, "root of the sum of the squares of the three")         \
    FIELD(preload_low, force, unlimited(), 1e3, "force less that scatter")                         \
    FIELD(preload_high, force, unlimited(), 1e3, "force plus that scatter")                        \
    FIELD(tightening_factor, ratio, unlimited(), 1.0, "high over low")                             \
    FIELD(preload_least, force, unlimited(), 1e3, "force with all three at their worst")           \
    FIELD(preload_greatest, force, unlimited(), 1e3, "force with all three at their best")
FITWRIGHT_DECLARE(threads, ScatterOutputs, false, "how far a torque scatters",
                  FITWRIGHT_SCATTER_OUTPUTS)

namespace fitwright::threads {

struct TurnOfNut {
    template <class T>
    static void run(const T* inputs, T* outputs, const fields::Context&, number::Faults<T>&);
};
struct Stretch {
    template <class T>
    static void run(const T* inputs, T* outputs, const fields::Context&, number::Faults<T>&);
};
struct Scatter {
    template <class T>
    static void run(const T* inputs, T* outputs, const fields::Context&, number::Faults<T>&);
};

} // namespace fitwright::threads
