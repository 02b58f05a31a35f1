// A ring with a stepped outside on a stepped and bored shaft, taken as slices along the shaft.
#pragma once

#include <fitwright/fields/error.hpp>
#include <fitwright/fields/model.hpp>
#include <fitwright/materials/material.hpp>
#include <fitwright/rings/parts.hpp>

#define FITWRIGHT_STEPPED_RING(FIELD, RANGED, PART, CHOICE)                                        \
    FIELD(bore, size, from_to(1e-5, 3.15), required, "bore of the ring at 20 degC")                \
    FIELD(roughness, fine, from_to(0.0, 1e-3), 0.0, "mean peak-to-valley height Rz of the bore")   \
    FIELD(smoothing, ratio, from_to(0.0, 1.0), 1.0,                                                \
          "share of the roughness that is lost by pressing flat")                                  \
    RANGED(friction, ratio, from_to(0.0, 1.0), 0.15, 0.12, 0.20, "friction between bore and seat") \
    FITWRIGHT_MATERIAL_FACTORS(FIELD)
FITWRIGHT_DECLARE(rings, SteppedRing, true, "a ring whose outside has steps",
                  FITWRIGHT_STEPPED_RING)

#define FITWRIGHT_SLICE(FIELD, RANGED, PART, CHOICE)                                               \
    FIELD(outside, size, from_to(1e-5, 6.3), worked_out,                                           \
          "outside diameter of this slice; always to be given")                                    \
    FIELD(length, size, from_to(1e-5, 3.15), worked_out,                                           \
          "length along the shaft; always to be given")                                            \
    FIELD(start, size, from_to(0.0, 20.0), worked_out,                                             \
          "where it begins, from the shoulder; left out: where the slice before it ends")          \
    FIELD(contact_length, size, from_to(0.0, 3.15), worked_out,                                    \
          "length really in contact, 0 for a slice that hangs over; the length when left out")     \
    FIELD(seat, size, from_to(1e-5, 3.15), worked_out,                                             \
          "diameter of the seat under this slice; the shaft's when left out")                      \
    FIELD(bore, size, from_to(1e-5, 3.15), worked_out,                                             \
          "bore of this slice; the ring's when left out")                                          \
    FIELD(shaft_bore, size, from_to(0.0, 3.15), worked_out,                                        \
          "bore of the shaft under this slice; the shaft's when left out")
FITWRIGHT_DECLARE(rings, Slice, false, "a slice of a stepped ring", FITWRIGHT_SLICE)

#define FITWRIGHT_STEPPED_INPUTS(FIELD, RANGED, PART, CHOICE)                                      \
    PART(rings::Slice, slice1)                                                                     \
    PART(rings::Slice, slice2)                                                                     \
    PART(rings::Slice, slice3)                                                                     \
    PART(rings::Slice, slice4)                                                                     \
    PART(rings::Slice, slice5)                                                                     \
    PART(rings::Slice, slice6)                                                                     \
    PART(rings::Slice, slice7)                                                                     \
    PART(rings::Slice, slice8)                                                                     \
    PART(rings::Shaft, shaft)                                                                      \
    PART(rings::SteppedRing, ring)                                                                 \
    FIELD(interference, fine, from_to(-0.1, 0.1), worked_out,                                      \
          "seat minus bore at 20 degC on diameter, in every slice; leave it out when seats and "   \
          "bores are measured sizes")                                                              \
    FIELD(speed, speed, from_to(0.0, 2e5), 0.0, "speed of rotation")                               \
    FIELD(shaft_temperature, temperature, from_to(-273.15, 2000.0), 20.0,                          \
          "temperature of the shaft")                                                              \
    FIELD(ring_temperature, temperature, from_to(-273.15, 2000.0), 20.0,                           \
          "temperature of the ring")                                                               \
    FIELD(axial_force, force, from_to(-1e8, 1e8), 0.0,                                             \
          "clamp force through the ring, reacted by the shaft")                                    \
    CHOICE(slices, "1|2|3|4|5|6|7|8", "from the shoulder on")
FITWRIGHT_DECLARE(rings, SteppedInputs, false, "a stepped ring on a stepped shaft",
                  FITWRIGHT_STEPPED_INPUTS)

#define FITWRIGHT_STEPPED_SLICE(FIELD, RANGED, PART, CHOICE)                                       \
    FIELD(interference_left, fine, unlimited(), 1e-6, "interference in this state; negative: gap") \
    FIELD(pressure, stress, unlimited(), 1e6, "mean pressure on the seat; 0 when loose")           \
    FIELD(gap, fine, unlimited(), 1e-6, "clearance on diameter when loose, else 0")                \
    FIELD(holding_force, force, unlimited(), 1e3,                                                  \
          "axial force the grip of this slice holds, low end of friction")                         \
    FIELD(torque_capacity, torque, unlimited(), 10.0,                                              \
          "torque the grip of this slice holds, low end of friction")                              \
    FIELD(ring_hoop, stress, unlimited(), 1e6, "hoop stress at the bore of the ring")              \
    FIELD(ring_von_mises, stress, unlimited(), 1e6, "von Mises stress at the bore of the ring")    \
    FIELD(ring_yield_use, ratio, at_most(0.9), 1.0, "von Mises stress over yield, ring")           \
    FIELD(shaft_yield_use, ratio, at_most(0.9), 1.0, "von Mises stress over yield, shaft")         \
    FIELD(outside_growth, fine, unlimited(), 1e-6, "growth of the outside diameter, mean")         \
    FIELD(shaft_bore_growth, fine, unlimited(), 1e-6, "growth of the shaft's bore")
FITWRIGHT_DECLARE(rings, SteppedSlice, false, "what a slice holds, feels and moves",
                  FITWRIGHT_STEPPED_SLICE)

#define FITWRIGHT_STEPPED_OUTPUTS(FIELD, RANGED, PART, CHOICE)                                     \
    PART(rings::SteppedSlice, slice1)                                                              \
    PART(rings::SteppedSlice, slice2)                                                              \
    PART(rings::SteppedSlice, slice3)                                                              \
    PART(rings::SteppedSlice, slice4)                                                              \
    PART(rings::SteppedSlice, slice5)                                                              \
    PART(rings::SteppedSlice, slice6)                                                              \
    PART(rings::SteppedSlice, slice7)                                                              \
    PART(rings::SteppedSlice, slice8)                                                              \
    FIELD(pressure, stress, unlimited(), 1e6, "mean pressure over the seats in contact")           \
    FIELD(holding_force, force, unlimited(), 1e3,                                                  \
          "axial force the whole grip holds, low end of friction")                                 \
    FIELD(torque_capacity, torque, unlimited(), 10.0,                                              \
          "torque the whole grip holds, low end of friction")                                      \
    FIELD(ring_lengthening, fine, unlimited(), 1e-6, "growth of the ring's length")                \
    FIELD(shaft_lengthening, fine, unlimited(), 1e-6,                                              \
          "growth of the length of the shaft under the slices")                                    \
    FIELD(loss_speed, speed, unlimited(), 100.0,                                                   \
          "speed at which the last slice lets go; 2e5 rad/s stands for never")
FITWRIGHT_DECLARE(rings, SteppedOutputs, false, "what a stepped ring holds, feels and moves",
                  FITWRIGHT_STEPPED_OUTPUTS)

namespace fitwright::rings {

inline constexpr int slice_limit = 8;

struct Stepped {
    template <class T>
    static void run(const T* inputs, T* outputs, const fields::Context&, number::Faults<T>&);
};

// From C++: slices that are not there answer 0. Throws DomainError.
SteppedOutputs<double> stepped(const SteppedInputs<double>&, int slices,
                               const materials::Material& shaft, const materials::Material& ring);

} // namespace fitwright::rings
