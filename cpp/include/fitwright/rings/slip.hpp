// Torque, thrust and bending together at a shrunk seat: gross slip, first micro-slip, fretting.
#pragma once

#include <fitwright/fields/error.hpp>
#include <fitwright/fields/model.hpp>
#include <fitwright/materials/material.hpp>
#include <fitwright/rings/parts.hpp>

#define FITWRIGHT_SLIP_INPUTS(FIELD, RANGED, PART, CHOICE)                                         \
    PART(rings::Shaft, shaft)                                                                      \
    PART(rings::Ring, ring)                                                                        \
    FIELD(pressure, stress, above(0.0, 1e10), required,                                            \
          "pressure between ring and seat in this state (rings.fit tells it)")                     \
    FIELD(torque, torque, from_to(-1e8, 1e8), 0.0, "torque that passes from shaft to ring")        \
    FIELD(thrust, force, from_to(-1e8, 1e8), 0.0, "axial force that passes from ring to shaft")    \
    FIELD(locked_force, force, from_to(-1e8, 1e8), 0.0,                                            \
          "axial force the friction of the seat holds already (clamp lost on the way)")            \
    FIELD(bending_moment, torque, from_to(-1e8, 1e8), 0.0,                                         \
          "bending moment in the shaft at the edge of the ring, turning with respect to it or "    \
          "alternating")
FITWRIGHT_DECLARE(rings, SlipInputs, false, "a shrunk seat and what it has to pass on",
                  FITWRIGHT_SLIP_INPUTS)

#define FITWRIGHT_SLIP_OUTPUTS(FIELD, RANGED, PART, CHOICE)                                        \
    FIELD(capacity, force, unlimited(), 1e3, "friction of the seat, low end: mu p pi d L")         \
    FIELD(tangential, force, unlimited(), 1e3,                                                     \
          "thrust and torque together: root(F^2 + (2 T/d)^2)")                                     \
    FIELD(slip_use, ratio, at_most(0.8), 1.0,                                                      \
          "thrust and torque together over the capacity; at 1 the seat slips")                     \
    FIELD(locked_tangential, force, unlimited(), 1e3,                                              \
          "the same with the locked axial force on top of the thrust")                             \
    FIELD(micro_slip_use, ratio, at_most(1.0), 1.0,                                                \
          "that over the capacity; above 1 the first torque moves the seat a little, until the "   \
          "locked force is gone")                                                                  \
    FIELD(torsion_slip_length, size, unlimited(), 1e-3,                                            \
          "length from the edge over which the torque makes the seat slip")                        \
    FIELD(torsion_slip, fine, unlimited(), 1e-6, "slip at the edge by the torque")                 \
    FIELD(bending_slip_length, size, unlimited(), 1e-3,                                            \
          "length from the edge over which bending makes the seat slip")                           \
    FIELD(bending_slip, fine, unlimited(), 1e-6, "slip at the edge by bending, each way")          \
    FIELD(edge_slip, fine, at_most(1e-6), 1e-6,                                                    \
          "both together; above about 1 um, again and again, the edge is prone to fretting")
FITWRIGHT_DECLARE(rings, SlipOutputs, false, "how near a seat is to slipping and fretting",
                  FITWRIGHT_SLIP_OUTPUTS)

namespace fitwright::rings {

struct Slip {
    template <class T>
    static void run(const T* inputs, T* outputs, const fields::Context&, number::Faults<T>&);
};

// From C++. Throws DomainError.
SlipOutputs<double> slip(const SlipInputs<double>&, const materials::Material& shaft,
                         const materials::Material& ring);

} // namespace fitwright::rings
