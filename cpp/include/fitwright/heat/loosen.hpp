// A gripping ring heated until it is free, and how long it stays free: the shaft catches up.
#pragma once

#include <fitwright/fields/error.hpp>
#include <fitwright/fields/model.hpp>
#include <fitwright/heat/transient_parts.hpp>
#include <fitwright/materials/material.hpp>
#include <fitwright/rings/parts.hpp>

#define FITWRIGHT_LOOSEN_INPUTS(FIELD, RANGED, PART, CHOICE)                                       \
    PART(rings::Shaft, shaft)                                                                      \
    PART(rings::Ring, ring)                                                                        \
    FIELD(interference, fine, from_to(-0.1, 0.1), worked_out, "seat minus bore at 20 degC")        \
    FIELD(shaft_temperature, temperature, from_to(-273.15, 1000.0), 20.0,                          \
          "temperature of ring and shaft at first")                                                \
    CHOICE(heater, "induction|bath",                                                               \
           "induction: so much heat under the outside of the ring, flame and blanket too with a "  \
           "thin skin; bath: a medium around the outside")                                         \
    FIELD(heat_flux, heat_flux, from_to(0.0, 1e8), 100e3, "heat per area of the ring's outside")   \
    FIELD(skin_depth, size, from_to(1e-5, 0.1), 3e-3,                                              \
          "depth in which the current falls to 1/e; 0.1 mm for a flame")                           \
    FIELD(bath, temperature, from_to(-200.0, 1000.0), 120.0, "temperature of the bath")            \
    FIELD(bath_film, film, from_to(0.1, 20000.0), 200.0, "heat transfer coefficient of the bath")  \
    FIELD(loose_clearance, fine, from_to(0.0, 0.01), worked_out,                                   \
          "clearance on diameter that lets it slide; the larger of 30 um and 0.0005 d when left "  \
          "out")                                                                                   \
    FIELD(heating_limit, temperature, from_to(-50.0, 2000.0), worked_out,                          \
          "highest temperature the ring may see; that of its material when left out")              \
    FITWRIGHT_AIR(FIELD, RANGED)                                                                   \
    FITWRIGHT_JOINT_HEAT(FIELD, RANGED)                                                            \
    FITWRIGHT_CUT(FIELD)
FITWRIGHT_DECLARE(heat, LoosenInputs, false, "a ring on its seat and what heats it",
                  FITWRIGHT_LOOSEN_INPUTS)

#define FITWRIGHT_LOOSEN_OUTPUTS(FIELD, RANGED, PART, CHOICE)                                      \
    FIELD(time_to_loose, time, unlimited(), 10.0, "heating until the grip is gone")                \
    FIELD(time_to_free, time, unlimited(), 10.0,                                                   \
          "heating until it is free by the loose clearance")                                       \
    FIELD(ring_at_free, temperature, unlimited(), 10.0, "mean temperature of the ring then")       \
    FIELD(shaft_at_free, temperature, unlimited(), 10.0,                                           \
          "mean temperature of the shaft under it then")                                           \
    FIELD(difference_at_free, difference, unlimited(), 10.0, "ring less shaft then")               \
    FIELD(hottest, temperature, unlimited(), 10.0, "hottest place of the ring then")               \
    FIELD(limit_margin, difference, at_least(0.0), 10.0, "heating limit of the ring less that")    \
    FIELD(                                                                                         \
        time_free, time, unlimited(), 10.0,                                                        \
        "with the heater off then: until the shaft has caught up and the ring grips again; 1e9 s " \
        "stands for never")                                                                        \
    FIELD(energy_error, ratio, at_most(1e-6), 1e-6,                                                \
          "heat taken up and given off less heat put in, over the largest")
FITWRIGHT_DECLARE(heat, LoosenOutputs, false, "how long heating frees a ring",
                  FITWRIGHT_LOOSEN_OUTPUTS)

namespace fitwright::heat {

struct Loosen {
    template <class T>
    static void run(const T* inputs, T* outputs, const fields::Context&, number::Faults<T>&);
    static double alone(const double* inputs, double* outputs, const fields::Context&) noexcept;
};

enum class Heater : int { induction, bath };
// From C++: throws DomainError.
LoosenOutputs<double> loosen(const LoosenInputs<double>&, const materials::Material& shaft,
                             const materials::Material& ring, Heater heater = Heater::induction);

} // namespace fitwright::heat
