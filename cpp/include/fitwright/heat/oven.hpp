// How hot a ring must be to slip on, and whether it may be.
#pragma once

#include <fitwright/fields/error.hpp>
#include <fitwright/fields/model.hpp>
#include <fitwright/materials/material.hpp>
#include <fitwright/rings/parts.hpp>

// How a ring is to be heated; a job's ring has the same fields.
#define FITWRIGHT_OVEN_PLAN(FIELD)                                                                 \
    FIELD(                                                                                         \
        slip_clearance, fine, from_to(0.0, 0.01), worked_out,                                      \
        "clearance on diameter wanted to slip on; the larger of 30 um and 0.0005 d when left out") \
    FIELD(oven, temperature, from_to(-50.0, 2000.0), worked_out,                                   \
          "temperature the oven is set to; what is needed when left out")                          \
    FIELD(heating_limit, temperature, from_to(-50.0, 2000.0), worked_out,                          \
          "highest temperature the ring may see; that of its material when left out")

#define FITWRIGHT_OVEN_INPUTS(FIELD, RANGED, PART, CHOICE)                                         \
    PART(rings::Shaft, shaft)                                                                      \
    PART(rings::Ring, ring)                                                                        \
    FIELD(interference, fine, from_to(-0.1, 0.1), worked_out, "seat minus bore at 20 degC")        \
    FIELD(shaft_temperature, temperature, from_to(-273.15, 2000.0), 20.0,                          \
          "temperature of the shaft while the ring goes on")                                       \
    FITWRIGHT_OVEN_PLAN(FIELD)
FITWRIGHT_DECLARE(heat, OvenInputs, false, "a ring, its seat, and the oven", FITWRIGHT_OVEN_INPUTS)

#define FITWRIGHT_OVEN_OUTPUTS(FIELD, RANGED, PART, CHOICE)                                        \
    FIELD(oven_needed, temperature, unlimited(), 10.0,                                             \
          "temperature that opens the bore by interference and slip clearance; the end of the "    \
          "material data stands for beyond")                                                       \
    FIELD(                                                                                         \
        oven_margin, difference, at_least(0.0), 10.0,                                              \
        "heating limit of the ring less the temperature needed; below 0 no oven opens it alone: "  \
        "heat.chill (of a job: job.chill) tells how cold the shaft must be")                       \
    FIELD(setting_margin, difference, at_least(0.0), 10.0,                                         \
          "heating limit less what the oven is set to")                                            \
    FIELD(opening, fine, unlimited(), 1e-6, "clearance on diameter at the oven's setting")         \
    FIELD(opening_margin, fine, at_least(0.0), 1e-5,                                               \
          "that clearance less the slip clearance wanted")
FITWRIGHT_DECLARE(heat, OvenOutputs, false, "what the oven must do and may do",
                  FITWRIGHT_OVEN_OUTPUTS)

namespace fitwright::heat {

struct Oven {
    template <class T>
    static void run(const T* inputs, T* outputs, const fields::Context&, number::Faults<T>&);
};

// From C++: throws DomainError.
OvenOutputs<double> oven(const OvenInputs<double>&, const materials::Material& shaft,
                         const materials::Material& ring);

} // namespace fitwright::heat
