// A sleeve that pushes a ring home, and what drives it.
#pragma once

#include <fitwright/fields/model.hpp>
#include <fitwright/materials/material.hpp>
#include <fitwright/tooling/parts.hpp>

#define FITWRIGHT_PUSHED_FACE(FIELD, RANGED, PART, CHOICE)                                         \
    FIELD(inside, size, from_to(0.0, 10.0), required, "inner diameter of the face that is pushed") \
    FIELD(outside, size, from_to(1e-4, 10.0), required, "its outer diameter")                      \
    FIELD(temperature, temperature, from_to(-273.15, 2000.0), 20.0,                                \
          "temperature of the part: a hot ring is softer")
FITWRIGHT_DECLARE(tooling, PushedFace, true, "the face a tool pushes on", FITWRIGHT_PUSHED_FACE)

#define FITWRIGHT_PRESS_SLEEVE_INPUTS(FIELD, RANGED, PART, CHOICE)                                 \
    FIELD(force, force, above(0.0, 1e9), required,                                                 \
          "force that seats the ring (heat.seating, or a job's press)")                            \
    FIELD(inside, size, from_to(0.0, 10.0), required, "bore of the sleeve")                        \
    FIELD(outside, size, from_to(1e-3, 10.0), required, "outside of the sleeve")                   \
    FIELD(length, size, from_to(1e-4, 10.0), required, "length of the sleeve")                     \
    FIELD(end_factor, ratio, from_to(0.5, 2.1), 1.0, "effective over real length as a column")     \
    FIELD(eccentricity, size, from_to(0.0, 0.5), worked_out,                                       \
          "how far off the axis it is pushed; a fiftieth of its outside when left out")            \
    FIELD(out_of_square, slope, from_to(0.0, 0.1), 0.0005,                                         \
          "of its end faces: it bears on one side first")                                          \
    PART(tooling::PushedFace, face)                                                                \
    FIELD(piston_diameter, size, from_to(0.0, 3.0), 0.0, "of a hydraulic cylinder; 0: none")       \
    FIELD(piston_bore, size, from_to(0.0, 3.0), 0.0, "hole of a hollow cylinder")                  \
    FIELD(rated_pressure, stress, above(0.0, 1e9), 70e6, "of pump, hose and cylinder")             \
    FIELD(screw_diameter, size, from_to(0.0, 1.0), 0.0, "of a screw that pushes; 0: none")         \
    FIELD(screw_pitch, size, from_to(0.0, 0.05), 0.0, "its pitch")                                 \
    FIELD(screw_point, size, from_to(0.0, 1.0), worked_out,                                        \
          "mean diameter its point rubs at; 0.4 times the thread's when left out")                 \
    RANGED(screw_friction, ratio, from_to(0.0, 1.0), 0.15, 0.08, 0.20, "of thread and point")      \
    FIELD(temperature, temperature, from_to(-273.15, 2000.0), 20.0, "temperature of the sleeve")   \
    FITWRIGHT_MATERIAL_FACTORS(FIELD)                                                              \
    FITWRIGHT_TOOL_LOADING(FIELD, CHOICE)
FITWRIGHT_DECLARE(tooling, PressSleeveInputs, true, "a press sleeve, the face it pushes, its drive",
                  FITWRIGHT_PRESS_SLEEVE_INPUTS)

#define FITWRIGHT_PRESS_SLEEVE_OUTPUTS(FIELD, RANGED, PART, CHOICE)                                \
    FIELD(working_load, force, unlimited(), 1e3, "force on the sleeve")                            \
    FIELD(column_factor, ratio, unlimited(), 1.0, "of the sleeve as a column, off its axis")       \
    FIELD(wall_factor, ratio, unlimited(), 1.0,                                                    \
          "of its wall against folding (0.6 E t/r, a fifth of it counted) or yield")               \
    FIELD(bearing_factor, ratio, unlimited(), 1.0,                                                 \
          "of the pushed face and the sleeve's end against yield, all round")                      \
    FITWRIGHT_TOOL_VERDICT(FIELD)                                                                  \
    FIELD(face_pressure, stress, unlimited(), 1e6, "mean pressure on the pushed face")             \
    FIELD(one_sided_force, force, unlimited(), 1e3,                                                \
          "force that draws the faces together all round when they are out of square; less force " \
          "seats the ring on one side")                                                            \
    FIELD(cylinder_pressure, stress, unlimited(), 1e6, "of the hydraulic cylinder; 0: none")       \
    FIELD(pressure_margin, stress, at_least(0.0), 1e6, "rated pressure less that")                 \
    FIELD(screw_torque, torque, unlimited(), 10.0, "torque on the screw; 0: none")                 \
    FIELD(screw_torque_high, torque, unlimited(), 10.0,                                            \
          "the same at the high end of the friction")                                              \
    FIELD(deflection, fine, unlimited(), 1e-6, "shortening of the sleeve")
FITWRIGHT_DECLARE(tooling, PressSleeveOutputs, false, "what a press sleeve bears and needs",
                  FITWRIGHT_PRESS_SLEEVE_OUTPUTS)

namespace fitwright::tooling {

struct PressSleeve {
    template <class T>
    static void run(const T* inputs, T* outputs, const fields::Context&, number::Faults<T>&);
};

} // namespace fitwright::tooling
