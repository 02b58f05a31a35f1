// A ring alone, heated through: in an oven or a bath, or by induction from one face.
#pragma once

#include <fitwright/fields/error.hpp>
#include <fitwright/fields/model.hpp>
#include <fitwright/heat/transient_parts.hpp>
#include <fitwright/materials/material.hpp>
#include <fitwright/rings/parts.hpp>

// Films of furnace and bath: common practice.
#define FITWRIGHT_SOAK_INPUTS(FIELD, RANGED, PART, CHOICE)                                         \
    PART(rings::Ring, ring)                                                                        \
    FIELD(start, temperature, from_to(-273.15, 1000.0), 20.0, "temperature of the ring at first")  \
    FIELD(oven, temperature, from_to(-200.0, 1000.0), required,                                    \
          "temperature of oven or bath; colder than the ring for a chill")                         \
    RANGED(oven_film, film, from_to(0.1, 20000.0), 15.0, 8.0, 30.0,                                \
           "heat transfer coefficient there: furnace with a fan 8 to 30, stirred oil 60 to 300")   \
    FIELD(emissivity, ratio, from_to(0.0, 1.0), 0.3,                                               \
          "emissivity of the ring in a large oven; 0 in a bath")                                   \
    FIELD(core_within, difference, from_to(0.01, 100.0), 2.0,                                      \
          "all of the ring within this of the oven counts as heated through")                      \
    FITWRIGHT_CUT(FIELD)
FITWRIGHT_DECLARE(heat, SoakInputs, false, "a ring in an oven or a bath", FITWRIGHT_SOAK_INPUTS)

#define FITWRIGHT_SOAK_OUTPUTS(FIELD, RANGED, PART, CHOICE)                                        \
    FIELD(soak_time, time, unlimited(), 100.0, "until the ring is heated through to its core")     \
    FIELD(soak_time_high, time, unlimited(), 100.0, "the same with the low end of the film")       \
    FIELD(largest_difference, difference, unlimited(), 1.0,                                        \
          "largest difference across the wall on the way")                                         \
    FIELD(biot, ratio, unlimited(), 0.1,                                                           \
          "film with radiation times half the wall over conductivity: below 0.1 the ring is of "   \
          "one temperature")                                                                       \
    FIELD(energy_error, ratio, at_most(1e-6), 1e-6,                                                \
          "heat taken up less heat that passed the faces, over the larger")
FITWRIGHT_DECLARE(heat, SoakOutputs, false, "how long a ring must soak", FITWRIGHT_SOAK_OUTPUTS)

// Skin depth of steel below its Curie point at mains frequency, and the difference that a bearing
// ring is allowed: common practice.
#define FITWRIGHT_INDUCTION_INPUTS(FIELD, RANGED, PART, CHOICE)                                    \
    PART(rings::Ring, ring)                                                                        \
    CHOICE(heated, "bore|outside", "face the current flows under")                                 \
    FIELD(heat_flux, heat_flux, above(0.0, 1e8), required, "heat per area of that face")           \
    FIELD(skin_depth, size, from_to(1e-5, 0.1), 3e-3,                                              \
          "depth in which the current falls to 1/e: steel at 50 Hz 2 to 5 mm, at 10 kHz 0.2 mm")   \
    FIELD(start, temperature, from_to(-50.0, 1000.0), 20.0, "temperature of the ring at first")    \
    FIELD(target, temperature, from_to(-50.0, 1000.0), required,                                   \
          "mean temperature at which the heater is switched off")                                  \
    FIELD(gradient_limit, difference, from_to(1.0, 500.0), 35.0,                                   \
          "largest difference across the wall that is allowed")                                    \
    FITWRIGHT_AIR(FIELD, RANGED)                                                                   \
    FITWRIGHT_CUT(FIELD)
FITWRIGHT_DECLARE(heat, InductionInputs, false, "a ring heated by induction",
                  FITWRIGHT_INDUCTION_INPUTS)

#define FITWRIGHT_INDUCTION_OUTPUTS(FIELD, RANGED, PART, CHOICE)                                   \
    FIELD(heating_time, time, unlimited(), 10.0, "until the mean temperature is the target")       \
    FIELD(largest_difference, difference, unlimited(), 1.0, "largest difference across the wall")  \
    FIELD(gradient_margin, difference, at_least(0.0), 1.0, "difference allowed less that one")     \
    FIELD(hottest, temperature, unlimited(), 10.0, "hottest place of the ring then")               \
    FIELD(limit_margin, difference, at_least(0.0), 10.0,                                           \
          "heating limit of its material less that")                                               \
    FIELD(flux_allowed, heat_flux, unlimited(), 1e3,                                               \
          "heat per area that keeps to the difference allowed, in proportion")                     \
    FIELD(energy_error, ratio, at_most(1e-6), 1e-6,                                                \
          "heat taken up and given off less heat put in, over that")
FITWRIGHT_DECLARE(heat, InductionOutputs, false, "how fast a ring may be heated by induction",
                  FITWRIGHT_INDUCTION_OUTPUTS)

namespace fitwright::heat {

struct Soak {
    template <class T>
    static void run(const T* inputs, T* outputs, const fields::Context&, number::Faults<T>&);
    static double alone(const double* inputs, double* outputs, const fields::Context&) noexcept;
};
struct Induction {
    template <class T>
    static void run(const T* inputs, T* outputs, const fields::Context&, number::Faults<T>&);
    static double alone(const double* inputs, double* outputs, const fields::Context&) noexcept;
};

enum class HeatedFace : int { bore, outside };
// From C++: throw DomainError.
SoakOutputs<double> soak(const SoakInputs<double>&, const materials::Material& ring);
InductionOutputs<double> induction(const InductionInputs<double>&, const materials::Material& ring,
                                   HeatedFace heated = HeatedFace::bore);

} // namespace fitwright::heat
