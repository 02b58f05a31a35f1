// Fillet welds by their throat, alone and in patterns.
#pragma once

#include <fitwright/fields/model.hpp>
#include <fitwright/materials/material.hpp>
#include <fitwright/tooling/parts.hpp>

// Shear by electrode and by base metal: Shigley's Mechanical Engineering Design, allowable stresses of
// fillet welds.
#define FITWRIGHT_WELD_METAL(FIELD)                                                                \
    FIELD(leg, size, from_to(1e-4, 0.1), required, "leg of the fillet")                            \
    FIELD(electrode_strength, stress, above(0.0, 2e9), 482e6,                                      \
          "tensile strength of the weld metal (E70 and like: 482 MPa)")                            \
    FIELD(electrode_yield, stress, above(0.0, 2e9), 393e6, "its yield strength")

#define FITWRIGHT_WELD_INPUTS(FIELD, RANGED, PART, CHOICE)                                         \
    CHOICE(pattern, "line|two_lines|rectangle|circle",                                             \
           "one straight weld; two, side by side; all round a rectangle; all round a circle")      \
    FITWRIGHT_WELD_METAL(FIELD)                                                                    \
    FIELD(length, size, from_to(1e-4, 10.0), required,                                             \
          "length of a straight weld, height of the rectangle, diameter of the circle")            \
    FIELD(distance, size, from_to(1e-4, 10.0), worked_out,                                         \
          "between two welds, width of the rectangle; the length when left out")                   \
    FIELD(welds, count, from_to(1.0, 20.0), 1.0, "like patterns that share the load")              \
    FIELD(axial_force, force, from_to(0.0, 1e9), 0.0, "force square to the plane of the welds")    \
    FIELD(shear_force, force, from_to(0.0, 1e9), 0.0, "force in their plane, along the length")    \
    FIELD(torque, torque, from_to(0.0, 1e7), 0.0, "in their plane, about the middle")              \
    FIELD(bending_moment, torque, from_to(0.0, 1e7), 0.0,                                          \
          "that opens the welds at the end of their length")                                       \
    FIELD(temperature, temperature, from_to(-273.15, 2000.0), 20.0, "temperature of the weld")
FITWRIGHT_DECLARE(tooling, WeldInputs, true, "fillet welds; the material is the base metal",
                  FITWRIGHT_WELD_INPUTS)

#define FITWRIGHT_WELD_OUTPUTS(FIELD, RANGED, PART, CHOICE)                                        \
    FIELD(throat_area, area, unlimited(), 1e-6, "0.707 times leg times length, of one pattern")    \
    FIELD(direct_stress, stress, unlimited(), 1e6, "in the plane, by the shear force")             \
    FIELD(torsion_stress, stress, unlimited(), 1e6, "in the plane, by the torque")                 \
    FIELD(normal_stress, stress, unlimited(), 1e6, "square to the plane, by force and bending")    \
    FIELD(stress, stress, unlimited(), 1e6, "all together on the throat, taken as shear")          \
    FIELD(allowable, stress, unlimited(), 1e6,                                                     \
          "0.30 of the electrode's tensile strength, or 0.40 of the base metal's yield if less")   \
    FIELD(allowable_use, ratio, at_most(1.0), 1.0, "stress over allowable")                        \
    FIELD(yield_factor, ratio, unlimited(), 1.0,                                                   \
          "0.577 of the lesser yield strength, of weld and base metal, over the stress")
FITWRIGHT_DECLARE(tooling, WeldOutputs, false, "what fillet welds bear", FITWRIGHT_WELD_OUTPUTS)

namespace fitwright::tooling {

enum class WeldPattern : int { line, two_lines, rectangle, circle };

struct Weld {
    template <class T>
    static void run(const T* inputs, T* outputs, const fields::Context&, number::Faults<T>&);
};

} // namespace fitwright::tooling
