// A ball bearing on its shaft: the clearance that is left, and what a steady thrust does to it.
#pragma once

#include <fitwright/bearings/parts.hpp>
#include <fitwright/fields/error.hpp>
#include <fitwright/fields/model.hpp>
#include <fitwright/materials/material.hpp>

#define FITWRIGHT_MOUNTED_INPUTS(FIELD, RANGED, PART, CHOICE)                                      \
    PART(bearings::Bearing, bearing)                                                               \
    FIELD(inner_growth, fine, from_to(-1e-2, 1e-2), 0.0,                                           \
          "growth of the inner raceway's diameter by fit, heat and speed")                         \
    FIELD(outer_growth, fine, from_to(-1e-2, 1e-2), 0.0,                                           \
          "growth of the outer raceway's diameter by fit, heat and speed")                         \
    FIELD(ball_temperature, temperature, from_to(-273.15, 2000.0), 20.0,                           \
          "temperature of the balls")                                                              \
    FIELD(thrust, force, from_to(0.0, 1e8), 0.0, "steady axial force through the bearing")         \
    FIELD(modulus_factor, ratio, from_to(0.5, 2.0), 1.0,                                           \
          "Young's modulus of the rings over the table value of their material")
FITWRIGHT_DECLARE(bearings, MountedInputs, true,
                  "a ball bearing and the state it is in; the material is that of the rings",
                  FITWRIGHT_MOUNTED_INPUTS)

#define FITWRIGHT_MOUNTED_OUTPUTS(FIELD, RANGED, PART, CHOICE)                                     \
    FIELD(clearance, fine, unlimited(), 1e-6,                                                      \
          "diametral clearance in this state; negative: radial preload")                           \
    FIELD(radial_play, fine, unlimited(), 1e-6,                                                    \
          "what a dial reads between the rings; less than the clearance when split")               \
    FIELD(contact_angle, angle, unlimited(), 0.01, "free contact angle, no load; 0 under preload") \
    FIELD(end_play, fine, unlimited(), 1e-6, "free axial movement from stop to stop")              \
    FIELD(loaded_angle, angle, unlimited(), 0.01, "contact angle under the thrust")                \
    FIELD(axial_displacement, fine, unlimited(), 1e-6,                                             \
          "of the inner ring under the thrust, from first contact")                                \
    FIELD(ball_load, force, unlimited(), 1e3, "contact force of each ball")                        \
    FIELD(inner_stress, stress, unlimited(), 1e6, "largest contact pressure at the inner groove")  \
    FIELD(outer_stress, stress, unlimited(), 1e6, "largest contact pressure at the outer groove")  \
    FIELD(inner_semi_major, fine, unlimited(), 1e-6,                                               \
          "half width of the inner contact, across the groove")                                    \
    FIELD(inner_semi_minor, fine, unlimited(), 1e-6, "half length of the inner contact, along it") \
    FIELD(outer_semi_major, fine, unlimited(), 1e-6,                                               \
          "half width of the outer contact, across the groove")                                    \
    FIELD(outer_semi_minor, fine, unlimited(), 1e-6, "half length of the outer contact, along it")
FITWRIGHT_DECLARE(bearings, MountedOutputs, false,
                  "clearance, angle and loads of a mounted bearing", FITWRIGHT_MOUNTED_OUTPUTS)

namespace fitwright::bearings {

struct Mounted {
    template <class T>
    static void run(const T* inputs, T* outputs, const fields::Context&, number::Faults<T>&);
};

// From C++: throws DomainError.
MountedOutputs<double> mounted(const MountedInputs<double>&, const materials::Material& rings,
                               const materials::Material& balls);

} // namespace fitwright::bearings
