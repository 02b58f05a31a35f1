// A fit that yields: a ring shrunk on a solid or hollow shaft past the yield point of either, and what
// it does afterwards, spinning and taken off.
#pragma once

#include <fitwright/fields/error.hpp>
#include <fitwright/fields/model.hpp>
#include <fitwright/materials/material.hpp>
#include <fitwright/rings/parts.hpp>

#define FITWRIGHT_ELASTIC_PLASTIC_INPUTS(FIELD, RANGED, PART, CHOICE)                              \
    PART(rings::Shaft, shaft)                                                                      \
    PART(rings::Ring, ring)                                                                        \
    FIELD(interference, fine, from_to(-0.1, 0.1), worked_out,                                      \
          "seat minus bore at 20 degC on diameter; leave it out when seat and bore are measured "  \
          "sizes")                                                                                 \
    FIELD(shaft_temperature, temperature, from_to(-273.15, 2000.0), 20.0,                          \
          "temperature of the shaft when it yields and after")                                     \
    FIELD(ring_temperature, temperature, from_to(-273.15, 2000.0), 20.0,                           \
          "temperature of the ring when it yields and after")                                      \
    FIELD(ring_yield, stress, from_to(1e6, 1e10), worked_out,                                      \
          "yield stress of the ring; the material's at its temperature when left out")             \
    FIELD(shaft_yield, stress, from_to(1e6, 1e10), worked_out,                                     \
          "yield stress of the shaft; the material's at its temperature when left out")            \
    FIELD(ring_tangent_modulus, modulus, from_to(0.0, 1e11), 0.0,                                  \
          "slope of stress over strain past yield, ring; 0: it does not harden")                   \
    FIELD(shaft_tangent_modulus, modulus, from_to(0.0, 1e11), 0.0,                                 \
          "slope of stress over strain past yield, shaft")                                         \
    FIELD(speed, speed, from_to(0.0, 2e5), 0.0, "speed it turns at once it has been joined")       \
    CHOICE(criterion, "von_mises|modified_tresca",                                                 \
           "yield condition; modified Tresca, hoop less radial stress = 2 Re/sqrt(3), is the one " \
           "of DIN 7190-1 and up to 15 % higher for thin rings")
FITWRIGHT_DECLARE(rings, ElasticPlasticInputs, false, "a fit that may yield",
                  FITWRIGHT_ELASTIC_PLASTIC_INPUTS)

#define FITWRIGHT_ELASTIC_PLASTIC_OUTPUTS(FIELD, RANGED, PART, CHOICE)                             \
    FIELD(interference_left, fine, unlimited(), 1e-6,                                              \
          "interference after roughness and heat, at rest; negative: gap")                         \
    FIELD(pressure, stress, unlimited(), 1e6, "pressure between ring and seat, at rest")           \
    FIELD(elastic_pressure, stress, unlimited(), 1e6,                                              \
          "pressure the same interference would give if nothing yielded")                          \
    FIELD(first_yield_pressure, stress, unlimited(), 1e6,                                          \
          "pressure at which the first of both begins to yield")                                   \
    FIELD(first_yield_interference, fine, unlimited(), 1e-6, "interference at which it begins")    \
    FIELD(holding_force, force, unlimited(), 1e3,                                                  \
          "axial force the grip holds at rest, low end of friction")                               \
    FIELD(torque_capacity, torque, unlimited(), 10.0,                                              \
          "torque the grip holds at rest, low end of friction")                                    \
    FIELD(plastic_diameter, size, unlimited(), 1e-3,                                               \
          "diameter up to which the ring has yielded; its bore when it has not")                   \
    FIELD(plastic_share, ratio, at_most(0.3), 1.0,                                                 \
          "yielded share of the ring's section; up to 0.3 is common practice")                     \
    FIELD(ring_hoop, stress, unlimited(), 1e6, "hoop stress at the bore of the ring, at rest")     \
    FIELD(ring_plastic_strain, ratio, unlimited(), 1e-6,                                           \
          "equivalent plastic strain at the bore of the ring")                                     \
    FIELD(shaft_plastic_strain, ratio, unlimited(), 1e-6,                                          \
          "equivalent plastic strain at the bore of a hollow shaft")                               \
    FIELD(outside_growth, fine, unlimited(), 1e-6,                                                 \
          "growth of the ring's outside diameter at rest, from 20 degC before joining")            \
    FIELD(speed_pressure, stress, unlimited(), 1e6, "pressure at speed, after yielding at rest")   \
    FIELD(                                                                                         \
        speed_yield_use, ratio, at_most(1.0), 1.0,                                                 \
        "von Mises stress at the bore at speed over the strength it has hardened to; above 1 it "  \
        "yields on, and speed_pressure is too high")                                               \
    FIELD(loss_speed, speed, unlimited(), 100.0,                                                   \
          "speed at which the grip is lost; 2e5 rad/s stands for never")                           \
    FIELD(residual_hoop, stress, unlimited(), 1e6,                                                 \
          "hoop stress left at the bore of the ring when it is taken off")                         \
    FIELD(                                                                                         \
        reverse_yield_use, ratio, at_most(1.0), 1.0,                                               \
        "that stress over the strength; above 1 it yields back when taken off, and what is told "  \
        "of the ring taken off is too much")                                                       \
    FIELD(permanent_bore_growth, fine, unlimited(), 1e-6,                                          \
          "growth of the bore left when it is taken off")                                          \
    FIELD(permanent_outside_growth, fine, unlimited(), 1e-6,                                       \
          "growth of the outside left when it is taken off")                                       \
    FIELD(permanent_seat_loss, fine, unlimited(), 1e-6,                                            \
          "loss of the seat's diameter left when it is taken off")                                 \
    FIELD(next_interference, fine, unlimited(), 1e-6,                                              \
          "interference left for joining the same parts again, at these temperatures")
FITWRIGHT_DECLARE(rings, ElasticPlasticOutputs, false,
                  "what a fit that yields holds, and what it leaves",
                  FITWRIGHT_ELASTIC_PLASTIC_OUTPUTS)

namespace fitwright::rings {

struct ElasticPlasticFit {
    template <class T>
    static void run(const T* inputs, T* outputs, const fields::Context&, number::Faults<T>&);
};

// From C++. Throws DomainError.
ElasticPlasticOutputs<double> elastic_plastic_fit(const ElasticPlasticInputs<double>&,
                                                  const materials::Material& shaft,
                                                  const materials::Material& ring,
                                                  bool modified_tresca = false);

} // namespace fitwright::rings
