// The plate bolted over an outer ring: nip or gap, what stays clamped, what the bolts feel.
#pragma once

#include <fitwright/fields/model.hpp>
#include <fitwright/joints/bolted_joint.hpp>
#include <fitwright/materials/material.hpp>

#define FITWRIGHT_RING_PLATE_INPUTS(FIELD, RANGED, PART, CHOICE)                                   \
    PART(joints::ClampPlate, plate)                                                                \
    PART(joints::PlatedRing, ring)                                                                 \
    PART(joints::Pocket, pocket)                                                                   \
    PART(joints::Bolt, bolt)                                                                       \
    PART(joints::InternalThread, thread)                                                           \
    FIELD(bolts, count, from_to(2.0, 200.0), required, "bolts, evenly spaced on their circle")     \
    FIELD(bolt_circle, size, from_to(1e-3, 10.0), required, "diameter of the bolt circle")         \
    FITWRIGHT_BOLT_TIGHTENING(FIELD)                                                               \
    FIELD(thrust_to_plate, force, from_to(0.0, 1e8), 0.0, "thrust on the ring towards the plate")  \
    FIELD(thrust_to_shoulder, force, from_to(0.0, 1e8), 0.0,                                       \
          "thrust on the ring towards the shoulder, at another time")                              \
    FIELD(tilting_moment, torque, from_to(0.0, 1e7), 0.0, "moment that tilts the ring")
FITWRIGHT_DECLARE(joints, RingPlateInputs, false,
                  "a plate, the ring under it, the pocket, the bolts", FITWRIGHT_RING_PLATE_INPUTS)

#define FITWRIGHT_RING_PLATE_OUTPUTS(FIELD, RANGED, PART, CHOICE)                                  \
    FIELD(nip, fine, unlimited(), 1e-6,                                                            \
          "ring proud of the housing face, as built at 20 degC; negative: a gap")                  \
    FIELD(nip_warm, fine, unlimited(), 1e-6, "the same at the temperatures given")                 \
    FIELD(closing_force, force, unlimited(), 1e3,                                                  \
          "force of each bolt that brings a plate on a proud ring down to the housing; 0 with a "  \
          "gap")                                                                                   \
    FIELD(plate_compliance, compliance, unlimited(), 1e-9,                                         \
          "bending and shear of the plate between ring and bolt circle")                           \
    FIELD(ring_compliance, compliance, unlimited(), 1e-9,                                          \
          "of the ring with its faces and of half of the plate over it")                           \
    FIELD(torque, torque, unlimited(), 10.0, "torque on each bolt at the nominal friction")        \
    FIELD(preload, force, unlimited(), 1e3, "force of each bolt, as tightened")                    \
    FIELD(preload_low, force, unlimited(), 1e3, "the same at the low end of all that scatters")    \
    FIELD(preload_high, force, unlimited(), 1e3, "the same at the high end")                       \
    FIELD(ring_clamp_built, force, unlimited(), 1e3, "force on the ring as tightened, nominal")    \
    FIELD(housing_clamp_built, force, unlimited(), 1e3,                                            \
          "force of the plate on the housing as tightened, nominal; 0: it rides on the ring")      \
    FIELD(ring_clamp, force, unlimited(), 1e3, "least force on the ring, warm and without thrust") \
    FIELD(ring_clamp_high, force, unlimited(), 1e3, "the same at the high end of the preload")     \
    FIELD(shoulder_clamp, force, unlimited(), 1e3,                                                 \
          "least force left at the shoulder under the thrust to the plate")                        \
    FIELD(plate_clamp, force, unlimited(), 1e3,                                                    \
          "least force left under the plate under the thrust to the shoulder")                     \
    FIELD(lift, fine, unlimited(), 1e-6,                                                           \
          "how far the thrust to the plate takes the ring off the shoulder: play and give")        \
    FIELD(shoulder_opening_thrust, force, unlimited(), 1e3,                                        \
          "thrust to the plate at which the ring leaves the shoulder, from the least preload")     \
    FIELD(plate_opening_thrust, force, unlimited(), 1e3,                                           \
          "thrust to the shoulder at which it leaves the plate, from the least preload")           \
    FIELD(shoulder_margin, force, at_least(0.0), 1e3,                                              \
          "least force left at the shoulder less moment_loss; once it has opened "                 \
          "shoulder_opening_thrust less the thrust and that; 1e9 N stands for a gap as built, by " \
          "which the ring has its play")                                                           \
    FIELD(plate_margin, force, at_least(0.0), 1e3,                                                 \
          "the same under the plate, under the thrust to the shoulder")                            \
    FIELD(moment_loss, force, unlimited(), 1e3,                                                    \
          "clamp the tilting moment takes where it takes most, as force all round")                \
    FIELD(clamp_between_bolts, ratio, unlimited(), 1.0,                                            \
          "clamp midway between two bolts over the mean; below 0 it opens there")                  \
    FIELD(clamp_at_bolts, ratio, unlimited(), 1.0, "clamp beside a bolt over the mean")            \
    FIELD(shoulder_clamp_worst, force, unlimited(), 1e3,                                           \
          "least force at the shoulder at the worst place round the circle, as force all round: "  \
          "between bolts and less the moment; below 0 it opens there")                             \
    FIELD(bolt_force, force, unlimited(), 1e3, "greatest force of a bolt, any state")              \
    FIELD(bolt_force_least, force, unlimited(), 1e3, "least force of a bolt, any state")           \
    FIELD(heel_force, force, unlimited(), 1e3,                                                     \
          "greatest force of the plate's rim on the housing (prying); the bolts carry it too")     \
    FIELD(                                                                                         \
        prying, ratio, unlimited(), 0.1,                                                           \
        "what the bolts gain by the thrust to the plate over that thrust; above 1 the rim pries")  \
    FIELD(bolt_use, ratio, at_most(1.0), 1.0,                                                      \
          "von Mises stress of the worst bolt over its yield strength; half of the torsion of "    \
          "tightening is left")                                                                    \
    FIELD(bolt_amplitude, stress, unlimited(), 1e6,                                                \
          "half of the swing of stress between thrust one way and the other")                      \
    FIELD(plate_deflection, fine, unlimited(), 1e-6,                                               \
          "greatest rise of the plate at the ring over the bolt circle")                           \
    FIELD(plate_tilt, slope, unlimited(), 1e-3, "greatest tilt of the plate where it bears")       \
    FIELD(plate_stress, stress, unlimited(), 1e6,                                                  \
          "greatest von Mises stress of the plate, bolt holes taken off at their circle")          \
    FIELD(plate_use, ratio, at_most(0.67), 1.0, "that over the yield strength")                    \
    FIELD(membrane_ratio, ratio, at_most(0.5), 1.0,                                                \
          "deflection over thickness: above a half the plate stretches as a membrane and is "      \
          "stiffer than told")                                                                     \
    FIELD(face_pressure, stress, unlimited(), 1e6, "greatest mean pressure on a face of the ring") \
    FIELD(face_use, ratio, at_most(1.0), 1.0,                                                      \
          "that over the yield strength of the softest of ring, pocket and plate")
FITWRIGHT_DECLARE(joints, RingPlateOutputs, false, "what a bolted plate does to the outer ring",
                  FITWRIGHT_RING_PLATE_OUTPUTS)

namespace fitwright::joints {

struct RingPlate {
    template <class T>
    static void run(const T* inputs, T* outputs, const fields::Context&, number::Faults<T>&);
};

} // namespace fitwright::joints
