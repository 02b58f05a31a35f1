// A puller with two or three legs that hook into a groove or behind an edge.
#pragma once

#include <fitwright/fields/model.hpp>
#include <fitwright/materials/material.hpp>
#include <fitwright/tooling/parts.hpp>

#define FITWRIGHT_PULLED_GROOVE(FIELD, RANGED, PART, CHOICE)                                       \
    FIELD(width, size, from_to(1e-4, 1.0), required,                                               \
          "width of the groove along the axis, or room behind the edge")                           \
    FIELD(depth, size, from_to(1e-4, 1.0), required, "depth of the groove, height of the edge")    \
    FIELD(lip, size, from_to(1e-4, 1.0), required,                                                 \
          "thickness along the axis of what the hook pulls on, from groove to face")               \
    FIELD(diameter, size, from_to(1e-3, 10.0), required, "diameter of the ring over the lip")      \
    FIELD(temperature, temperature, from_to(-273.15, 2000.0), 20.0, "temperature of the ring")
FITWRIGHT_DECLARE(tooling, PulledGroove, true, "the groove of a ring that a puller hooks into",
                  FITWRIGHT_PULLED_GROOVE)

#define FITWRIGHT_PULLER_INPUTS(FIELD, RANGED, PART, CHOICE)                                       \
    FIELD(pull, force, above(0.0, 1e9), required,                                                  \
          "force that breaks the ring away cold, at its high end (heat.take_off: cold_pull_high)") \
    FIELD(warm_pull, force, above(0.0, 1e9), worked_out,                                           \
          "the same while it is pulled warm; as cold when left out")                               \
    PART(tooling::PulledGroove, groove)                                                            \
    PART(tooling::Screw, screw)                                                                    \
    CHOICE(legs, "2|3", "legs of the puller")                                                      \
    FIELD(uneven, ratio, from_to(1.0, 3.0), 1.2,                                                   \
          "force of the worst leg over an even share, by legs of unlike length and hold")          \
    FIELD(off_centre, size, from_to(0.0, 0.5), 0.0,                                                \
          "how far the screw is off the middle of the legs; it loads one leg more")                \
    FIELD(leg_width, size, from_to(1e-4, 1.0), required, "of a leg, along the circle")             \
    FIELD(leg_thickness, size, from_to(1e-4, 1.0), required, "of a leg, along the radius")         \
    FIELD(leg_length, size, from_to(1e-3, 10.0), required, "from yoke to hook")                    \
    FIELD(hook_thickness, size, from_to(1e-4, 1.0), required, "of the hook, along the axis")       \
    FIELD(hook_reach, size, from_to(1e-4, 1.0), required,                                          \
          "how far the hook goes into the groove or under the edge")                               \
    FIELD(hook_clearance, size, from_to(0.0, 0.1), 0.0005, "between leg and ring")                 \
    FIELD(yoke_width, size, from_to(1e-4, 1.0), required, "of the yoke, across the axis")          \
    FIELD(yoke_depth, size, from_to(1e-4, 1.0), required, "of the yoke, along the axis")           \
    FITWRIGHT_MATERIAL_FACTORS(FIELD)                                                              \
    FITWRIGHT_TOOL_LOADING(FIELD, CHOICE)
FITWRIGHT_DECLARE(tooling, PullerInputs, true,
                  "a puller, its screw, the groove; the material is that of legs and yoke",
                  FITWRIGHT_PULLER_INPUTS)

#define FITWRIGHT_PULLER_OUTPUTS(FIELD, RANGED, PART, CHOICE)                                      \
    FIELD(working_load, force, unlimited(), 1e3, "greatest pull, cold or warm")                    \
    FIELD(leg_load, force, unlimited(), 1e3, "force of the worst leg")                             \
    FIELD(leg_factor, ratio, unlimited(), 1.0, "of a leg, pulled and bent by its hook, to yield")  \
    FIELD(hook_factor, ratio, unlimited(), 1.0, "of the hook's root, sheared and bent")            \
    FIELD(hook_bearing_factor, ratio, unlimited(), 1.0, "of the hook's face against yield")        \
    FIELD(lip_factor, ratio, unlimited(), 1.0, "of the groove's lip, sheared and bent")            \
    FIELD(lip_bearing_factor, ratio, unlimited(), 1.0, "of the lip's face against yield")          \
    FIELD(yoke_factor, ratio, unlimited(), 1.0, "of the yoke, bent")                               \
    FIELD(screw_factor, ratio, unlimited(), 1.0, "of the screw, pressed and twisted, to yield")    \
    FIELD(column_factor, ratio, unlimited(), 1.0, "of the screw as a column")                      \
    FIELD(thread_factor, ratio, unlimited(), 1.0,                                                  \
          "of the threads against shear, half counted: "                                           \
          "the first ones carry more")                                                             \
    FITWRIGHT_TOOL_VERDICT(FIELD)                                                                  \
    FIELD(groove_capacity, force, unlimited(), 1e3,                                                \
          "pull at which the lip or its face yields under the worst hook")                         \
    FIELD(screw_torque, torque, unlimited(), 10.0, "torque on the screw for the cold pull")        \
    FIELD(screw_torque_high, torque, unlimited(), 10.0,                                            \
          "the same at the high end of the friction")                                              \
    FIELD(warm_torque, torque, unlimited(), 10.0, "torque for the warm pull")                      \
    FIELD(thread_pressure, stress, unlimited(), 1e6, "mean pressure on the flanks")                \
    FIELD(deflection, fine, unlimited(), 1e-6,                                                     \
          "give of legs, yoke and screw together: what flies when the ring lets go")
FITWRIGHT_DECLARE(tooling, PullerOutputs, false, "what a puller bears and needs",
                  FITWRIGHT_PULLER_OUTPUTS)

namespace fitwright::tooling {

struct Puller {
    template <class T>
    static void run(const T* inputs, T* outputs, const fields::Context&, number::Faults<T>&);
};

} // namespace fitwright::tooling
