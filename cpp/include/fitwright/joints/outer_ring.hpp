// The outer ring in its pocket: how it fits, how far it can tilt, whether it creeps, what clamping does
// to its raceway.
#pragma once

#include <fitwright/bearings/mounting.hpp>
#include <fitwright/fields/model.hpp>
#include <fitwright/materials/material.hpp>

#define FITWRIGHT_OUTER_RING_INPUTS(FIELD, RANGED, PART, CHOICE)                                   \
    FIELD(outside, size, from_to(1e-5, 6.3), required, "outside of the outer ring at 20 degC")     \
    FIELD(raceway, size, from_to(1e-5, 6.3), required, "groove bottom diameter of the outer ring") \
    FIELD(shoulder, size, from_to(1e-5, 6.3), worked_out,                                          \
          "diameter of the shoulders beside the groove; that of the groove when left out")         \
    FIELD(width, size, from_to(1e-4, 1.0), required, "width of the ring")                          \
    FIELD(temperature, temperature, from_to(-273.15, 2000.0), 20.0, "temperature of the ring")     \
    FIELD(modulus_factor, ratio, from_to(0.5, 2.0), 1.0,                                           \
          "Young's modulus of the ring over the table value of its material")                      \
    FIELD(expansion_factor, ratio, from_to(0.5, 2.0), 1.0,                                         \
          "thermal expansion of the ring over the table value of its material")                    \
    PART(bearings::Housing, housing)                                                               \
    FIELD(housing_stiffness, stiffness, above(0.0, 1e15), worked_out,                              \
          "of the pocket: pressure times bore times width of the ring over growth of its "         \
          "diameter, measured or by finite elements; a plain ring's when left out")                \
    FIELD(axial_gap, fine, from_to(0.0, 0.01), 0.0,                                                \
          "play of the ring between shoulder and plate; 0 when clamped")                           \
    FIELD(clamp_force, force, from_to(0.0, 1e8), 0.0, "least axial force that clamps it")          \
    FIELD(clamp_force_high, force, from_to(0.0, 1e8), worked_out,                                  \
          "greatest axial force; the least one when left out")                                     \
    FIELD(                                                                                         \
        plate_diameter, size, from_to(1e-5, 6.3), worked_out,                                      \
        "diameter at which the plate bears on it; midway between shoulder and outside when left "  \
        "out")                                                                                     \
    FIELD(shoulder_diameter, size, from_to(1e-5, 6.3), worked_out,                                 \
          "diameter at which the housing's shoulder bears on it; as the plate when left out")      \
    FIELD(clamp_at_bolts, ratio, from_to(1.0, 100.0), 1.0,                                         \
          "clamp beside a bolt over the mean (joints.ring_plate)")                                 \
    FIELD(clamp_between_bolts, ratio, from_to(-10.0, 1.0), 1.0,                                    \
          "clamp midway between bolts over the mean")                                              \
    FIELD(pocket_friction, ratio, from_to(0.0, 1.0), 0.12, "of the pocket; the low end")           \
    FIELD(face_friction, ratio, from_to(0.0, 1.0), 0.1, "of the clamped faces; the low end")       \
    FIELD(friction_torque, drag_torque, from_to(0.0, 1e6), 0.0,                                    \
          "of the bearing as it runs (bearings.creep)")                                            \
    FIELD(failing_torque, drag_torque, from_to(0.0, 1e6), 0.0,                                     \
          "of a bearing that fails: what the machine's trip would let pass")
FITWRIGHT_DECLARE(joints, OuterRingInputs, true, "an outer ring in its pocket, clamped or free",
                  FITWRIGHT_OUTER_RING_INPUTS)

#define FITWRIGHT_OUTER_RING_OUTPUTS(FIELD, RANGED, PART, CHOICE)                                  \
    FIELD(interference, fine, unlimited(), 1e-6,                                                   \
          "of ring and pocket, warm, on diameter; negative: loose by that much")                   \
    FIELD(pressure, stress, unlimited(), 1e6, "between ring and pocket; 0 when loose")             \
    FIELD(fit_growth, fine, unlimited(), 1e-6, "growth of the raceway's diameter by fit and heat") \
    FIELD(clamp_growth, fine, unlimited(), 1e-6,                                                   \
          "growth of its diameter by the greatest clamp: squeezed flat, the ring gets larger")     \
    FIELD(outer_growth, fine, unlimited(), 1e-6, "both together: what the bearing models take")    \
    FIELD(growth_spread, fine, unlimited(), 1e-6,                                                  \
          "model error of the fit's part: ring taken to its shoulders less taken to its groove")   \
    FIELD(twist, slope, unlimited(), 1e-3,                                                         \
          "turn of the ring's section, where plate and shoulder do not bear at one diameter")      \
    FIELD(axial_waviness, fine, unlimited(), 1e-6,                                                 \
          "rise and fall of the raceway along the axis, as often as there are bolts, peak to "     \
          "valley")                                                                                \
    FIELD(radial_waviness, fine, unlimited(), 1e-6,                                                \
          "the same of its radius by the uneven squeeze, peak to valley")                          \
    FIELD(free_tilt, slope, unlimited(), 1e-3,                                                     \
          "how far the ring can tilt before pocket or faces stop it; 0 when clamped or tight")     \
    FIELD(holding_torque, drag_torque, unlimited(), 0.01,                                          \
          "torque that pocket and clamped faces hold")                                             \
    FIELD(creep_margin, drag_torque, at_least(0.0), 0.01,                                          \
          "held less the friction torque; below 0 the ring creeps")                                \
    FIELD(creep_share, ratio, unlimited(), 0.1, "dragged over held; 1e6 stands for nothing held")  \
    FIELD(failing_margin, drag_torque, unlimited(), 0.01,                                          \
          "held less the torque of a bearing that fails: below 0 the ring spins in its pocket")    \
    FIELD(failing_share, ratio, unlimited(), 0.1, "the same as a share")
FITWRIGHT_DECLARE(joints, OuterRingOutputs, false, "the outer ring as it sits and runs",
                  FITWRIGHT_OUTER_RING_OUTPUTS)

namespace fitwright::joints {

struct OuterRing {
    template <class T>
    static void run(const T* inputs, T* outputs, const fields::Context&, number::Faults<T>&);
};

} // namespace fitwright::joints
