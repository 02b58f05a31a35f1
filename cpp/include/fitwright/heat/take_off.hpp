// Off again: the heat difference that frees a ring, and the force that pulls it, cold or warm.
#pragma once

#include <fitwright/fields/error.hpp>
#include <fitwright/fields/model.hpp>
#include <fitwright/materials/material.hpp>
#include <fitwright/rings/parts.hpp>

// A joint that has stood breaks away at more than it holds: fretting, varnish, embedded peaks.
// common practice
#define FITWRIGHT_TAKE_OFF_INPUTS(FIELD, RANGED, PART, CHOICE)                                     \
    PART(rings::Shaft, shaft)                                                                      \
    PART(rings::Ring, ring)                                                                        \
    FIELD(interference, fine, from_to(-0.1, 0.1), worked_out, "seat minus bore at 20 degC")        \
    FIELD(shaft_temperature, temperature, from_to(-273.15, 2000.0), 20.0,                          \
          "temperature of the shaft while the ring comes off")                                     \
    FIELD(difference, difference, from_to(0.0, 1000.0), 0.0,                                       \
          "ring hotter than the shaft while it is pulled warm")                                    \
    FIELD(loose_clearance, fine, from_to(0.0, 0.01), worked_out,                                   \
          "clearance on diameter that lets it slide; the larger of 30 um and 0.0005 d when left "  \
          "out")                                                                                   \
    RANGED(breakaway, ratio, from_to(0.5, 10.0), 1.5, 1.0, 2.5,                                    \
           "force that breaks the joint away over the force it holds")                             \
    FIELD(heating_limit, temperature, from_to(-50.0, 2000.0), worked_out,                          \
          "highest temperature the ring may see; that of its material when left out")
FITWRIGHT_DECLARE(heat, TakeOffInputs, false, "a ring that has to come off",
                  FITWRIGHT_TAKE_OFF_INPUTS)

#define FITWRIGHT_TAKE_OFF_OUTPUTS(FIELD, RANGED, PART, CHOICE)                                    \
    FIELD(ring_loose, temperature, unlimited(), 10.0,                                              \
          "ring temperature at which the grip is gone")                                            \
    FIELD(difference_loose, difference, unlimited(), 10.0, "the same over the shaft's")            \
    FIELD(ring_free, temperature, unlimited(), 10.0,                                               \
          "ring temperature that frees it by the loose clearance; the end of the material data "   \
          "stands for beyond")                                                                     \
    FIELD(difference_free, difference, unlimited(), 10.0, "the same over the shaft's")             \
    FIELD(limit_margin, difference, at_least(0.0), 10.0,                                           \
          "heating limit of the ring less the temperature that frees it again")                    \
    FIELD(cold_pressure, stress, unlimited(), 1e6,                                                 \
          "pressure of the joint, both at the shaft's "                                            \
          "temperature")                                                                           \
    FIELD(cold_pull, force, unlimited(), 1e3, "force that pulls it off cold")                      \
    FIELD(cold_pull_low, force, unlimited(), 1e3,                                                  \
          "the same at the low ends of friction and breakaway")                                    \
    FIELD(cold_pull_high, force, unlimited(), 1e3,                                                 \
          "the same at the high ends: what puller and catch must take")                            \
    FIELD(warm_pull, force, unlimited(), 1e3, "force that pulls it off at the difference given")   \
    FIELD(warm_pull_high, force, unlimited(), 1e3, "the same at the high ends")                    \
    FIELD(opening, fine, unlimited(), 1e-6,                                                        \
          "clearance on diameter at the difference given; negative: it still grips")
FITWRIGHT_DECLARE(heat, TakeOffOutputs, false, "what takes a ring off", FITWRIGHT_TAKE_OFF_OUTPUTS)

namespace fitwright::heat {

struct TakeOff {
    template <class T>
    static void run(const T* inputs, T* outputs, const fields::Context&, number::Faults<T>&);
};

// From C++: throws DomainError.
TakeOffOutputs<double> take_off(const TakeOffInputs<double>&, const materials::Material& shaft,
                                const materials::Material& ring);

} // namespace fitwright::heat
