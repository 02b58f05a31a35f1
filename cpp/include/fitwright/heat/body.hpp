// A cylinder, plate or sphere of one metal, warmed or cooled from its faces.
#pragma once

#include <fitwright/fields/error.hpp>
#include <fitwright/fields/model.hpp>
#include <fitwright/heat/transient_parts.hpp>
#include <fitwright/materials/material.hpp>

#define FITWRIGHT_BODY_INPUTS(FIELD, RANGED, PART, CHOICE)                                         \
    CHOICE(shape, "cylinder|plate|sphere", "long cylinder, large plate, or sphere")                \
    FIELD(inside, size, from_to(0.0, 20.0), 0.0,                                                   \
          "inside diameter of a hollow cylinder or sphere; 0: solid, or a plate")                  \
    FIELD(outside, size, from_to(2e-5, 20.0), required,                                            \
          "outside diameter; of a plate its thickness, where both faces see what is around, and "  \
          "twice its thickness where one side is insulated")                                       \
    FIELD(start, temperature, from_to(-273.15, 2000.0), required, "temperature at first")          \
    FIELD(ambient, temperature, from_to(-273.15, 2000.0), required,                                \
          "temperature of what is around")                                                         \
    FIELD(outer_film, film, from_to(0.1, 1e6), required, "heat transfer coefficient outside")      \
    FIELD(inner_film, film, from_to(0.0, 1e6), 0.0,                                                \
          "heat transfer coefficient at the inner face; 0: insulated")                             \
    FIELD(emissivity, ratio, from_to(0.0, 1.0), 0.0, "emissivity of the outer face")               \
    FIELD(duration, time, above(0.0, 1e8), required, "time after which it is looked at")           \
    FIELD(place, size, from_to(0.0, 20.0), worked_out,                                             \
          "diameter looked at; of a plate twice the distance from its middle or its insulated "    \
          "side; the outer face when left out")                                                    \
    FITWRIGHT_CUT(FIELD)
FITWRIGHT_DECLARE(heat, BodyInputs, true, "a simple body and its surroundings",
                  FITWRIGHT_BODY_INPUTS)

#define FITWRIGHT_BODY_OUTPUTS(FIELD, RANGED, PART, CHOICE)                                        \
    FIELD(temperature, temperature, unlimited(), 10.0, "temperature at the place")                 \
    FIELD(surface, temperature, unlimited(), 10.0, "temperature of the outer face")                \
    FIELD(innermost, temperature, unlimited(), 10.0,                                               \
          "temperature of the inner face, or of the innermost cell of a solid body")               \
    FIELD(mean, temperature, unlimited(), 10.0, "mean temperature")                                \
    FIELD(surface_flux, heat_flux, unlimited(), 1e3, "heat that leaves the outer face")            \
    FIELD(heat_share, ratio, unlimited(), 0.1,                                                     \
          "heat given off so far over that given off in the end")                                  \
    FIELD(energy_error, ratio, at_most(1e-6), 1e-6,                                                \
          "heat the body lost less heat that passed its faces, over the larger")
FITWRIGHT_DECLARE(heat, BodyOutputs, false, "how warm a body is after a time",
                  FITWRIGHT_BODY_OUTPUTS)

namespace fitwright::heat {

struct Body {
    template <class T>
    static void run(const T* inputs, T* outputs, const fields::Context&, number::Faults<T>&);
    static double alone(const double* inputs, double* outputs, const fields::Context&) noexcept;
};

// As the choice of the inputs.
enum class BodyShape : int { cylinder, plate, sphere };
// From C++: throws DomainError.
BodyOutputs<double> body(const BodyInputs<double>&, const materials::Material&,
                         BodyShape shape = BodyShape::cylinder);

} // namespace fitwright::heat
