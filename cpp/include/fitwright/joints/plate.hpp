// A round plate, with or without a hole, bent by pressure, by a force on a circle, at its centre.
#pragma once

#include <fitwright/fields/model.hpp>
#include <fitwright/materials/material.hpp>
#include <fitwright/rings/parts.hpp>

#define FITWRIGHT_PLATE_INPUTS(FIELD, RANGED, PART, CHOICE)                                        \
    FIELD(outside, size, from_to(1e-4, 10.0), required, "outside diameter")                        \
    FIELD(hole, size, from_to(0.0, 10.0), 0.0, "diameter of the hole; 0: none")                    \
    FIELD(thickness, size, from_to(1e-6, 1.0), required, "thickness")                              \
    FIELD(support, size, from_to(1e-4, 10.0), worked_out,                                          \
          "diameter of the circle it is held on, for example the bolt circle; its outside when "   \
          "left out")                                                                              \
    FIELD(pressure, stress, from_to(-1e9, 1e9), 0.0, "even pressure on one side")                  \
    FIELD(pressure_inside, size, from_to(0.0, 10.0), worked_out,                                   \
          "diameter from which on the pressure acts; the hole when left out")                      \
    FIELD(pressure_outside, size, from_to(0.0, 10.0), worked_out,                                  \
          "diameter up to which it acts; the support when left out")                               \
    FIELD(ring_load, force, from_to(-1e9, 1e9), 0.0, "force spread on a circle, all of it")        \
    FIELD(ring_diameter, size, from_to(1e-5, 10.0), worked_out,                                    \
          "diameter of that circle; the edge of the hole when left out")                           \
    FIELD(centre_load, force, from_to(-1e9, 1e9), 0.0,                                             \
          "force at the centre of a plate without "                                                \
          "a hole")                                                                                \
    FIELD(centre_diameter, size, from_to(0.0, 10.0), 0.0, "diameter of the spot it acts on")       \
    FIELD(radius, size, from_to(0.0, 5.0), worked_out,                                             \
          "radius at which deflection, slope and moments are told; the edge of the hole, or the "  \
          "centre, when left out")                                                                 \
    FIELD(temperature, temperature, from_to(-273.15, 2000.0), 20.0, "temperature of the plate")    \
    FITWRIGHT_MATERIAL_FACTORS(FIELD)                                                              \
    CHOICE(edge, "simply_supported|clamped|free",                                                  \
           "how it is held on the support; free where the edge of the hole holds all")             \
    CHOICE(inner_edge, "free|guided|simply_supported|clamped",                                     \
           "the edge of the hole: guided moves but does not turn")                                 \
    CHOICE(shear, "counted|left_out",                                                              \
           "deflection by shear, which short spans of thick plates need; tables leave it out")
FITWRIGHT_DECLARE(joints, PlateInputs, true, "a round plate, how it is held, and its load",
                  FITWRIGHT_PLATE_INPUTS)

#define FITWRIGHT_PLATE_OUTPUTS(FIELD, RANGED, PART, CHOICE)                                       \
    FIELD(deflection, fine, unlimited(), 1e-6, "at the radius, towards where the load pushes")     \
    FIELD(slope, slope, unlimited(), 1e-3, "tilt of the plate at the radius")                      \
    FIELD(radial_stress, stress, unlimited(), 1e6,                                                 \
          "by the radial moment at the radius, tension on the side away from the load positive")   \
    FIELD(hoop_stress, stress, unlimited(), 1e6, "by the hoop moment at the radius")               \
    FIELD(greatest_deflection, fine, unlimited(), 1e-6, "greatest deflection from the support")    \
    FIELD(greatest_stress, stress, unlimited(), 1e6, "greatest radial or hoop stress")             \
    FIELD(von_mises, stress, unlimited(), 1e6, "greatest von Mises stress")                        \
    FIELD(yield_use, ratio, at_most(0.67), 1.0, "that over the yield strength")                    \
    FIELD(design_factor, ratio, unlimited(), 1.0, "yield strength over von Mises stress")          \
    FIELD(support_force, force, unlimited(), 1e3, "force the support carries")                     \
    FIELD(inner_force, force, unlimited(), 1e3, "force a support at the hole carries")             \
    FIELD(membrane_ratio, ratio, at_most(0.5), 1.0,                                                \
          "greatest deflection over thickness: above a half the plate stretches as a membrane "    \
          "and is stiffer than told")                                                              \
    FIELD(shear_share, ratio, unlimited(), 1.0, "deflection by shear over the greatest one")
FITWRIGHT_DECLARE(joints, PlateOutputs, false, "how a plate bends", FITWRIGHT_PLATE_OUTPUTS)

namespace fitwright::joints {

enum class PlateEdge : int { simply_supported, clamped, free };
enum class InnerEdge : int { free, guided, simply_supported, clamped };

struct BentPlate {
    template <class T>
    static void run(const T* inputs, T* outputs, const fields::Context&, number::Faults<T>&);
};

} // namespace fitwright::joints
