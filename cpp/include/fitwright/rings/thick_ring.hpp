// A thick ring under pressure, rotation, temperature and axial stress (Lame).
#pragma once

#include <fitwright/fields/error.hpp>
#include <fitwright/fields/model.hpp>
#include <fitwright/materials/material.hpp>
#include <fitwright/rings/parts.hpp>

#define FITWRIGHT_THICK_RING_INPUTS(FIELD, RANGED, PART, CHOICE)                                   \
    FIELD(bore, size, from_to(0.0, 3.15), required, "bore; 0 for a solid disc or shaft")           \
    FIELD(outside, size, from_to(1e-5, 6.3), required, "outside diameter")                         \
    FIELD(inner_pressure, stress, from_to(0.0, 1e10), 0.0, "pressure in the bore")                 \
    FIELD(outer_pressure, stress, from_to(0.0, 1e10), 0.0, "pressure on the outside")              \
    FIELD(axial_stress, stress, from_to(-1e10, 1e10), 0.0,                                         \
          "even axial stress, positive in tension")                                                \
    FIELD(speed, speed, from_to(0.0, 2e5), 0.0, "speed of rotation")                               \
    FIELD(temperature, temperature, from_to(-273.15, 2000.0), 20.0,                                \
          "temperature, even in the ring")                                                         \
    FIELD(radius, size, from_to(0.0, 6.3), worked_out,                                             \
          "where stress and movement are wanted; at the bore when left out")                       \
    FITWRIGHT_MATERIAL_FACTORS(FIELD)                                                              \
    CHOICE(shape, "thin|long",                                                                     \
           "thin: free to shorten everywhere (plane stress); long: plane sections stay plane")
FITWRIGHT_DECLARE(rings, ThickRingInputs, true, "a thick ring and its loads",
                  FITWRIGHT_THICK_RING_INPUTS)

#define FITWRIGHT_THICK_RING_OUTPUTS(FIELD, RANGED, PART, CHOICE)                                  \
    FIELD(radial_stress, stress, unlimited(), 1e6, "radial stress, positive in tension")           \
    FIELD(hoop_stress, stress, unlimited(), 1e6, "hoop stress")                                    \
    FIELD(long_stress, stress, unlimited(), 1e6, "stress along the shaft")                         \
    FIELD(von_mises, stress, unlimited(), 1e6, "equivalent stress by von Mises")                   \
    FIELD(tresca, stress, unlimited(), 1e6, "equivalent stress by Tresca")                         \
    FIELD(growth, fine, unlimited(), 1e-6, "growth of the diameter there, from 20 degC unloaded")  \
    FIELD(shortening, ratio, unlimited(), 1e-6, "mean axial strain with its sign turned")
FITWRIGHT_DECLARE(rings, ThickRingOutputs, false, "stress and movement of a thick ring",
                  FITWRIGHT_THICK_RING_OUTPUTS)

namespace fitwright::rings {

struct ThickRing {
    template <class T>
    static void run(const T* inputs, T* outputs, const fields::Context&, number::Faults<T>&);
};

// From C++: `is_long` keeps plane sections plane. Throws DomainError.
ThickRingOutputs<double> thick_ring(const ThickRingInputs<double>&, const materials::Material&,
                                    bool is_long = false);

} // namespace fitwright::rings
