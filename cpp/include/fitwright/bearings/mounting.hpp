// How a bearing sits: its outer ring in a housing, and two rows preloaded against each other.
#pragma once

#include <fitwright/bearings/parts.hpp>
#include <fitwright/fields/error.hpp>
#include <fitwright/fields/model.hpp>
#include <fitwright/materials/material.hpp>

#define FITWRIGHT_HOUSING(FIELD, RANGED, PART, CHOICE)                                             \
    FIELD(bore, size, from_to(1e-5, 6.3), required, "bore of the housing at 20 degC")              \
    FIELD(outside, size, from_to(1e-5, 10.0), required, "outside of the housing as a plain ring")  \
    FIELD(temperature, temperature, from_to(-273.15, 2000.0), 20.0, "temperature of the housing")  \
    FIELD(modulus_factor, ratio, from_to(0.5, 2.0), 1.0,                                           \
          "Young's modulus over the table value of the material")                                  \
    FIELD(expansion_factor, ratio, from_to(0.5, 2.0), 1.0,                                         \
          "thermal expansion over the table value of the material")
FITWRIGHT_DECLARE(bearings, Housing, true, "what the outer ring sits in", FITWRIGHT_HOUSING)

#define FITWRIGHT_HOUSING_FIT_INPUTS(FIELD, RANGED, PART, CHOICE)                                  \
    FIELD(outside, size, from_to(1e-5, 6.3), required, "outside of the outer ring at 20 degC")     \
    FIELD(raceway, size, from_to(1e-5, 6.3), required, "groove bottom diameter of the outer ring") \
    FIELD(shoulder, size, from_to(1e-5, 6.3), worked_out,                                          \
          "diameter of the shoulders beside the groove; that of the groove when left out")         \
    FIELD(temperature, temperature, from_to(-273.15, 2000.0), 20.0, "temperature of the ring")     \
    FIELD(modulus_factor, ratio, from_to(0.5, 2.0), 1.0,                                           \
          "Young's modulus of the ring over the table value of its material")                      \
    FIELD(expansion_factor, ratio, from_to(0.5, 2.0), 1.0,                                         \
          "thermal expansion of the ring over the table value of its material")                    \
    PART(bearings::Housing, housing)
FITWRIGHT_DECLARE(bearings, HousingFitInputs, true, "an outer ring in its housing",
                  FITWRIGHT_HOUSING_FIT_INPUTS)

#define FITWRIGHT_HOUSING_FIT_OUTPUTS(FIELD, RANGED, PART, CHOICE)                                 \
    FIELD(interference, fine, unlimited(), 1e-6,                                                   \
          "of ring and housing, warm, on diameter; negative: loose by that much")                  \
    FIELD(pressure, stress, unlimited(), 1e6, "between ring and housing; 0 when loose")            \
    FIELD(outer_growth, fine, unlimited(), 1e-6,                                                   \
          "growth of the outer raceway's diameter by fit and heat: what the bearing models take")  \
    FIELD(growth_spread, fine, unlimited(), 1e-6,                                                  \
          "model error of that growth: ring taken to its shoulders less ring taken to its groove")
FITWRIGHT_DECLARE(bearings, HousingFitOutputs, false, "the outer ring in its housing",
                  FITWRIGHT_HOUSING_FIT_OUTPUTS)

#define FITWRIGHT_PAIR_INPUTS(FIELD, RANGED, PART, CHOICE)                                         \
    CHOICE(arrangement, "back_to_back|face_to_face|tandem",                                        \
           "how the two rows stand; back to back and face to face take thrust both ways")          \
    CHOICE(preload, "clamped|spring",                                                              \
           "clamped: the nut closes an offset of the rings; spring: the force stays")              \
    PART(bearings::Bearing, bearing)                                                               \
    FIELD(inner_growth, fine, from_to(-1e-2, 1e-2), 0.0, "growth of the inner raceways' diameter") \
    FIELD(outer_growth, fine, from_to(-1e-2, 1e-2), 0.0, "growth of the outer raceways' diameter") \
    FIELD(ball_temperature, temperature, from_to(-273.15, 2000.0), 20.0,                           \
          "temperature of the balls")                                                              \
    FIELD(preload_force, force, from_to(0.0, 1e7), 0.0,                                            \
          "axial force of the preload, as built at 20 degC (clamped) or of the spring")            \
    FIELD(inner_longer, fine, from_to(-1e-2, 1e-2), 0.0,                                           \
          "what the inner rings and their spacer grow axially beyond the outer ones since "        \
          "building; loosens a clamped back-to-back pair, tightens a face-to-face one")            \
    FIELD(thrust, force, from_to(0.0, 1e8), 0.0, "axial force on the pair, onto the first row")    \
    FIELD(modulus_factor, ratio, from_to(0.5, 2.0), 1.0,                                           \
          "Young's modulus of the rings over the table value of their material")
FITWRIGHT_DECLARE(bearings, PairInputs, true,
                  "two like rows and what loads them; the material is that of the rings",
                  FITWRIGHT_PAIR_INPUTS)

#define FITWRIGHT_PAIR_OUTPUTS(FIELD, RANGED, PART, CHOICE)                                        \
    FIELD(offset, fine, unlimited(), 1e-6,                                                         \
          "offset (stickout) of the rings that the clamp closes, both rows together")              \
    FIELD(preload_left, force, unlimited(), 1e3, "preload in this state, without the thrust")      \
    FIELD(first_load, force, unlimited(), 1e3, "axial force through the first row")                \
    FIELD(second_load, force, at_least(0.0), 1e3,                                                  \
          "axial force through the second row; 0: unloaded (in tandem: its share)")                \
    FIELD(displacement, fine, unlimited(), 1e-6, "of the shaft under the thrust")                  \
    FIELD(unloading_thrust, force, unlimited(), 1e3,                                               \
          "thrust that takes the last preload off the second row; 0 in tandem")                    \
    FIELD(unloading_margin, force, unlimited(), 1e3, "that thrust less the thrust; tandem: 0")
FITWRIGHT_DECLARE(bearings, PairOutputs, false, "loads of the two rows", FITWRIGHT_PAIR_OUTPUTS)

namespace fitwright::bearings {

struct HousingFit {
    template <class T>
    static void run(const T* inputs, T* outputs, const fields::Context&, number::Faults<T>&);
};
struct Pair {
    template <class T>
    static void run(const T* inputs, T* outputs, const fields::Context&, number::Faults<T>&);
};

} // namespace fitwright::bearings
