// Faces out of parallel and rings out of centre: how a clamped stack bends its shaft, and what
// unbalance that makes.
#pragma once

#include <fitwright/fields/model.hpp>
#include <fitwright/materials/material.hpp>
#include <fitwright/rings/parts.hpp>

#define FITWRIGHT_SQUARE_SHAFT(FIELD, RANGED, PART, CHOICE)                                        \
    FIELD(bore, size, from_to(0.0, 3.15), 0.0, "bore of a hollow shaft; 0 when solid")             \
    FIELD(shoulder_runout, fine, from_to(0.0, 1e-3), 0.0,                                          \
          "full reading of an indicator on the shoulder face, read at end_diameter")               \
    FIELD(shoulder_angle, angle, from_to(-62.9, 62.9), 0.0, "where it stands out most")            \
    FIELD(nut_runout, fine, from_to(0.0, 1e-3), 0.0,                                               \
          "full reading on the nut's face against its thread, read at end_diameter")               \
    FIELD(nut_angle, angle, from_to(-62.9, 62.9), 0.0,                                             \
          "where it stands out most when the nut is tight")                                        \
    FIELD(end_diameter, size, from_to(1e-5, 6.3), worked_out,                                      \
          "diameter these two are read at; the outside of the first ring when left out")           \
    FITWRIGHT_MATERIAL_FACTORS(FIELD)
FITWRIGHT_DECLARE(stack, SquareShaft, true, "the shaft between shoulder and nut, and their faces",
                  FITWRIGHT_SQUARE_SHAFT)

#define FITWRIGHT_SQUARE_RING(FIELD, RANGED, PART, CHOICE)                                         \
    FIELD(bore, size, from_to(1e-5, 3.15), required, "bore: the diameter of the shaft there")      \
    FIELD(outside, size, from_to(1e-5, 6.3), required,                                             \
          "outside diameter that carries, of ring and faces")                                      \
    FIELD(length, size, from_to(1e-5, 3.15), required, "length along the shaft")                   \
    FIELD(wedge, fine, from_to(0.0, 1e-3), 0.0,                                                    \
          "faces out of parallel: thickest less thinnest place, read at read_at")                  \
    FIELD(wedge_angle, angle, from_to(-62.9, 62.9), 0.0, "where it is thickest")                   \
    FIELD(read_at, size, from_to(1e-5, 6.3), worked_out,                                           \
          "diameter the thickness is read at; the outside when left out")                          \
    FIELD(runout, fine, from_to(0.0, 1e-2), 0.0,                                                   \
          "full reading of an indicator on the outside, turned on the bore")                       \
    FIELD(runout_angle, angle, from_to(-62.9, 62.9), 0.0, "its high spot")                         \
    FIELD(turned, angle, from_to(-62.9, 62.9), 0.0,                                                \
          "how far the ring is turned on the shaft from where the angles were read")               \
    FIELD(mass, mass, above(0.0, 1e5), worked_out,                                                 \
          "mass, blades and all; that of a plain ring when left out")                              \
    FITWRIGHT_MATERIAL_FACTORS(FIELD)
FITWRIGHT_DECLARE(stack, SquareRing, true, "a clamped ring, its faces and its outside",
                  FITWRIGHT_SQUARE_RING)

// What holds for the whole stack; the rings follow it in memory, in order from the shoulder.
#define FITWRIGHT_SQUARE_STACK(FIELD, RANGED, PART, CHOICE)                                        \
    FIELD(clamp, force, above(0.0, 1e8), required, "least force through the rings")                \
    FIELD(temperature, temperature, from_to(-273.15, 2000.0), 20.0, "temperature of all parts")    \
    FIELD(rotor_mass, mass, above(0.0, 1e6), required, "mass of the whole rotor")                  \
    FIELD(speed, speed, above(0.0, 2e5), required, "greatest speed in service")                    \
    FIELD(grade, velocity, above(0.0, 10.0), 2.5e-3,                                               \
          "balance quality grade: permissible eccentricity times speed, G 2.5 is 2.5 mm/s")        \
    FIELD(plane_a, size, from_to(-100.0, 100.0), 0.0,                                              \
          "first balancing plane, from the shoulder towards the nut")                              \
    FIELD(plane_b, size, from_to(-100.0, 100.0), worked_out,                                       \
          "second balancing plane; the nut's face when left out")                                  \
    FIELD(centre, size, from_to(-100.0, 100.0), worked_out,                                        \
          "centre of mass of the rotor; midway between the planes when left out")                  \
    FIELD(second_journal, size, from_to(0.0, 100.0), worked_out,                                   \
          "where the shaft runs in its second bearing beyond the nut; leave it out for an "        \
          "overhung stack, whose axis is that of the shaft before the shoulder")                   \
    PART(stack::SquareShaft, shaft)
#define FITWRIGHT_WEDGE_INPUTS(FIELD, RANGED, PART, CHOICE)                                        \
    FITWRIGHT_SQUARE_STACK(FIELD, RANGED, PART, CHOICE)                                            \
    PART(stack::SquareRing, ring)
FITWRIGHT_DECLARE(stack, SquareStackInputs, false, "a stack between shoulder and nut",
                  FITWRIGHT_SQUARE_STACK)
FITWRIGHT_DECLARE(stack, WedgeInputs, false, "one ring between shoulder and nut",
                  FITWRIGHT_WEDGE_INPUTS)

#define FITWRIGHT_SQUARE_STACK_OUTPUTS(FIELD, RANGED, PART, CHOICE)                                \
    FIELD(kink, slope, unlimited(), 1e-4, "all faces together: angle the closed faces ask for")    \
    FIELD(moment, torque, unlimited(), 1.0, "bending moment of shaft and rings")                   \
    FIELD(opening_use, ratio, at_most(1.0), 1.0,                                                   \
          "that moment over the least moment that opens a face on one side; above 1 the rest of "  \
          "this answer does not hold")                                                             \
    FIELD(bending_stress, stress, unlimited(), 1e6, "greatest bending stress of the shaft")        \
    FIELD(end_tilt, slope, unlimited(), 1e-4, "tilt of the shaft at the nut")                      \
    FIELD(end_runout, fine, unlimited(), 1e-6, "runout of the shaft at the nut, full reading")     \
    FIELD(tilt, slope, unlimited(), 1e-4, "greatest tilt of a ring's faces")                       \
    FIELD(runout, fine, unlimited(), 1e-6, "greatest runout of a ring, full reading")              \
    FIELD(static_unbalance, unbalance, unlimited(), 1e-6, "sum over the rings")                    \
    FIELD(couple_unbalance, unbalance, unlimited(), 1e-6,                                          \
          "the pair in the two planes that is left about the centre of mass")                      \
    FIELD(unbalance_a, unbalance, unlimited(), 1e-6, "unbalance in the first plane")               \
    FIELD(unbalance_b, unbalance, unlimited(), 1e-6, "unbalance in the second plane")              \
    FIELD(permissible, unbalance, unlimited(), 1e-6, "permissible for the whole rotor")            \
    FIELD(permissible_a, unbalance, unlimited(), 1e-6, "its share in the first plane")             \
    FIELD(permissible_b, unbalance, unlimited(), 1e-6, "its share in the second plane")            \
    FIELD(balance_use, ratio, at_most(1.0), 1.0,                                                   \
          "unbalance over permissible in the worse plane: above 1 the rotor needs balancing")
#define FITWRIGHT_SQUARE_RING_OUTPUTS(FIELD, RANGED, PART, CHOICE)                                 \
    FIELD(ring_tilt, slope, unlimited(), 1e-4, "tilt of the ring by its faces")                    \
    FIELD(ring_face_runout, fine, unlimited(), 1e-6, "the same as axial runout at its outside")    \
    FIELD(seat_tilt, slope, unlimited(), 1e-4, "tilt of the shaft under the ring")                 \
    FIELD(ring_runout, fine, unlimited(), 1e-6, "runout of its outside, full reading")             \
    FIELD(ring_opening_use, ratio, at_most(1.0), 1.0,                                              \
          "moment over the moment that opens its face on one side")                                \
    FIELD(ring_unbalance, unbalance, unlimited(), 1e-6, "mass times eccentricity")
#define FITWRIGHT_WEDGE_OUTPUTS(FIELD, RANGED, PART, CHOICE)                                       \
    FITWRIGHT_SQUARE_STACK_OUTPUTS(FIELD, RANGED, PART, CHOICE)                                    \
    FITWRIGHT_SQUARE_RING_OUTPUTS(FIELD, RANGED, PART, CHOICE)
FITWRIGHT_DECLARE(stack, SquareStackOutputs, false, "bend and unbalance of a stack",
                  FITWRIGHT_SQUARE_STACK_OUTPUTS)
FITWRIGHT_DECLARE(stack, SquareRingOutputs, false, "a ring in a bent stack",
                  FITWRIGHT_SQUARE_RING_OUTPUTS)
FITWRIGHT_DECLARE(stack, WedgeOutputs, false, "one ring's bend and unbalance",
                  FITWRIGHT_WEDGE_OUTPUTS)

namespace fitwright::stack {

// Rings and a washer.
inline constexpr int square_ring_limit = 49;

// Structure of a stack of several rings, passed as the context's layout; none: one ring. Materials
// in the order shaft, rings.
struct SquareLayout {
    int rings;
};

// On [SquareStackInputs, SquareRing, SquareRing, ...], answering [SquareStackOutputs,
// SquareRingOutputs, SquareRingOutputs, ...].
struct Squareness {
    template <class T>
    static void run(const T* inputs, T* outputs, const fields::Context&, number::Faults<T>&);
};

} // namespace fitwright::stack
