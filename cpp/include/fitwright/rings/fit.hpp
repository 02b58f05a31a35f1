// A ring on a shaft with interference or clearance, hot and spinning, under axial force.
#pragma once

#include <fitwright/fields/error.hpp>
#include <fitwright/fields/model.hpp>
#include <fitwright/materials/material.hpp>
#include <fitwright/rings/parts.hpp>

#define FITWRIGHT_FIT_INPUTS(FIELD, RANGED, PART, CHOICE)                                          \
    PART(rings::Shaft, shaft)                                                                      \
    PART(rings::Ring, ring)                                                                        \
    FIELD(interference, fine, from_to(-0.1, 0.1), worked_out,                                      \
          "seat minus bore at 20 degC on diameter; leave it out when seat and bore are measured "  \
          "sizes")                                                                                 \
    FIELD(speed, speed, from_to(0.0, 2e5), 0.0, "speed of rotation")                               \
    FIELD(shaft_temperature, temperature, from_to(-273.15, 2000.0), 20.0,                          \
          "temperature of the shaft")                                                              \
    FIELD(ring_temperature, temperature, from_to(-273.15, 2000.0), 20.0,                           \
          "temperature of the ring")                                                               \
    FIELD(axial_force, force, from_to(-1e8, 1e8), 0.0,                                             \
          "clamp force through the ring, reacted by the shaft; it fattens the one and thins the "  \
          "other")
FITWRIGHT_DECLARE(rings, FitInputs, false, "a ring on a shaft and the state it is in",
                  FITWRIGHT_FIT_INPUTS)

#define FITWRIGHT_FIT_OUTPUTS(FIELD, RANGED, PART, CHOICE)                                         \
    FIELD(                                                                                         \
        interference_left, fine, unlimited(), 1e-6,                                                \
        "interference in this state, after roughness, heat, speed and axial force; negative: gap") \
    FIELD(smoothing_loss, fine, unlimited(), 1e-6,                                                 \
          "interference lost because the peaks of the rough surfaces are pressed flat")            \
    FIELD(pressure, stress, unlimited(), 1e6, "pressure between ring and seat; 0 when loose")      \
    FIELD(gap, fine, unlimited(), 1e-6, "clearance on diameter when loose, else 0")                \
    FIELD(holding_force, force, unlimited(), 1e3,                                                  \
          "axial force the grip holds, low end of friction")                                       \
    FIELD(torque_capacity, torque, unlimited(), 10.0,                                              \
          "torque the grip holds, low end of friction")                                            \
    FIELD(ring_hoop, stress, unlimited(), 1e6, "hoop stress at the bore of the ring")              \
    FIELD(ring_von_mises, stress, unlimited(), 1e6, "von Mises stress at the bore of the ring")    \
    FIELD(ring_tresca, stress, unlimited(), 1e6, "Tresca stress at the bore of the ring")          \
    FIELD(ring_yield_use, ratio, at_most(0.9), 1.0, "von Mises stress over yield, ring")           \
    FIELD(shaft_hoop, stress, unlimited(), 1e6, "hoop stress at the bore or centre of the shaft")  \
    FIELD(shaft_von_mises, stress, unlimited(), 1e6, "largest von Mises stress of the shaft")      \
    FIELD(shaft_yield_use, ratio, at_most(0.9), 1.0, "von Mises stress over yield, shaft")         \
    FIELD(outside_growth, fine, unlimited(), 1e-6,                                                 \
          "growth of the ring's outside diameter, from 20 degC before joining")                    \
    FIELD(shaft_bore_growth, fine, unlimited(), 1e-6, "growth of the shaft's bore")                \
    FIELD(ring_strain, ratio, unlimited(), 1e-6, "mean axial strain of the ring, positive longer") \
    FIELD(shaft_strain, ratio, unlimited(), 1e-6, "mean axial strain of the shaft under the ring") \
    FIELD(loss_speed, speed, unlimited(), 100.0,                                                   \
          "speed at which the grip is lost at these temperatures; 0 when loose at rest; 2e5 "      \
          "rad/s stands for never")                                                                \
    FIELD(                                                                                         \
        loss_temperature, temperature, unlimited(), 10.0,                                          \
        "ring temperature at which the grip is lost at this speed; the end of the material data "  \
        "stands for beyond")
FITWRIGHT_DECLARE(rings, FitOutputs, false, "what a fit holds, feels and moves",
                  FITWRIGHT_FIT_OUTPUTS)

namespace fitwright::rings {

struct Fit {
    template <class T>
    static void run(const T* inputs, T* outputs, const fields::Context&, number::Faults<T>&);
};

// From C++: fill in FitInputs<double> (fields::standard_inputs<FitInputs>() has the standard
// values) and name the materials. Throws DomainError.
FitOutputs<double> fit(const FitInputs<double>&, const materials::Material& shaft,
                       const materials::Material& ring);

} // namespace fitwright::rings
