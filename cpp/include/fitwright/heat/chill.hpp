// Where the ring may not be hot enough: how cold the shaft must be, and whether it may.
#pragma once

#include <fitwright/fields/error.hpp>
#include <fitwright/fields/model.hpp>
#include <fitwright/heat/oven.hpp>

#define FITWRIGHT_CHILL_INPUTS(FIELD, RANGED, PART, CHOICE)                                        \
    PART(rings::Shaft, shaft)                                                                      \
    PART(rings::Ring, ring)                                                                        \
    FIELD(interference, fine, from_to(-0.1, 0.1), worked_out, "seat minus bore at 20 degC")        \
    FIELD(shaft_temperature, temperature, from_to(-273.15, 2000.0), 20.0,                          \
          "temperature of the shaft before it is chilled")                                         \
    FIELD(                                                                                         \
        slip_clearance, fine, from_to(0.0, 0.01), worked_out,                                      \
        "clearance on diameter wanted to slip on; the larger of 30 um and 0.0005 d when left out") \
    FIELD(heating_limit, temperature, from_to(-50.0, 2000.0), worked_out,                          \
          "highest temperature the ring may see; that of its material when left out")              \
    FIELD(shaft_lowest, temperature, from_to(-273.15, 100.0), worked_out,                          \
          "lowest temperature the shaft may see; the end of its material data when left out")
FITWRIGHT_DECLARE(heat, ChillInputs, false, "a ring at its limit and a shaft to be chilled",
                  FITWRIGHT_CHILL_INPUTS)

#define FITWRIGHT_CHILL_OUTPUTS(FIELD, RANGED, PART, CHOICE)                                       \
    FIELD(ring_temperature, temperature, unlimited(), 10.0,                                        \
          "temperature of the ring: what is needed, or its heating limit")                         \
    FIELD(shaft_needed, temperature, unlimited(), 10.0,                                            \
          "temperature of the shaft that opens the fit with the ring at that; as it is when the "  \
          "ring alone opens it")                                                                   \
    FIELD(chill, difference, unlimited(), 10.0, "how far the shaft must be cooled")                \
    FIELD(chill_margin, difference, at_least(0.0), 10.0,                                           \
          "temperature needed less the lowest the shaft may see")                                  \
    FIELD(opening_at_limit, fine, unlimited(), 1e-6,                                               \
          "clearance with the ring at its heating limit and the shaft as it is; negative: closed") \
    FIELD(dry_ice_margin, fine, unlimited(), 1e-6,                                                 \
          "clearance less slip clearance, ring at its limit, shaft at -78.5 degC (dry ice) or at " \
          "the lowest it may see")                                                                 \
    FIELD(nitrogen_margin, fine, unlimited(), 1e-6,                                                \
          "the same at -195.8 degC (boiling nitrogen) or at the lowest it may see")
FITWRIGHT_DECLARE(heat, ChillOutputs, false, "what the shaft must be cooled to",
                  FITWRIGHT_CHILL_OUTPUTS)

namespace fitwright::heat {

struct Chill {
    template <class T>
    static void run(const T* inputs, T* outputs, const fields::Context&, number::Faults<T>&);
};

// From C++: throws DomainError.
ChillOutputs<double> chill(const ChillInputs<double>&, const materials::Material& shaft,
                           const materials::Material& ring);

} // namespace fitwright::heat
