// A short ring on a shaft that goes on beyond it: the shaft outside the ring helps to carry, and the
// ring grips harder than Lame's ring and shaft of equal length.
#pragma once

#include <fitwright/fields/error.hpp>
#include <fitwright/fields/model.hpp>
#include <fitwright/materials/material.hpp>
#include <fitwright/rings/fit.hpp>

#define FITWRIGHT_OVERHANG_INPUTS(FIELD, RANGED, PART, CHOICE)                                     \
    FITWRIGHT_FIT_INPUTS(FIELD, RANGED, PART, CHOICE)                                              \
    FIELD(                                                                                         \
        overhang, ratio, from_to(0.0, 1.0), 1.0,                                                   \
        "share of the end effect: 1 with the shaft going on at both sides, 0.35 to 0.48 at one, "  \
        "0 among its like")
FITWRIGHT_DECLARE(rings, OverhangInputs, false, "a short ring on a longer shaft",
                  FITWRIGHT_OVERHANG_INPUTS)

#define FITWRIGHT_OVERHANG_OUTPUTS(FIELD, RANGED, PART, CHOICE)                                    \
    FIELD(factor, ratio, unlimited(), 0.1, "mean pressure over that of equal lengths")             \
    FIELD(pressure, stress, unlimited(), 1e6, "mean pressure between ring and seat; 0 when loose") \
    FIELD(holding_force, force, unlimited(), 1e3,                                                  \
          "axial force the grip holds, low end of friction")                                       \
    FIELD(torque_capacity, torque, unlimited(), 10.0,                                              \
          "torque the grip holds, low end of friction")                                            \
    FIELD(ring_hoop, stress, unlimited(), 1e6,                                                     \
          "hoop stress at the bore of the ring by the mean pressure")                              \
    FIELD(ring_von_mises, stress, unlimited(), 1e6, "von Mises stress there")                      \
    FIELD(ring_yield_use, ratio, at_most(0.9), 1.0, "von Mises stress over yield, ring")           \
    FIELD(outside_growth, fine, unlimited(), 1e-6, "growth of the ring's outside diameter, mean")
FITWRIGHT_DECLARE(rings, OverhangOutputs, false, "what a short ring on a longer shaft holds",
                  FITWRIGHT_OVERHANG_OUTPUTS)

namespace fitwright::rings {

struct Overhang {
    template <class T>
    static void run(const T* inputs, T* outputs, const fields::Context&, number::Faults<T>&);
};

// From C++. Throws DomainError.
OverhangOutputs<double> overhang(const OverhangInputs<double>&, const materials::Material& shaft,
                                 const materials::Material& ring);

} // namespace fitwright::rings
