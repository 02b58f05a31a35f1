// A ball bearing under thrust, radial load and tilting moment at speed, ball by ball.
#pragma once

#include <fitwright/bearings/thrust.hpp>

#define FITWRIGHT_RING_LOADS(FIELD)                                                                \
    FIELD(radial_load, force, from_to(-1e8, 1e8), 0.0,                                             \
          "radial force on the inner ring, towards the ball at angle 0")                           \
    FIELD(radial_load_across, force, from_to(-1e8, 1e8), 0.0,                                      \
          "radial force on the inner ring, towards the angle of 90 degrees")                       \
    FIELD(moment, torque, from_to(-1e7, 1e7), 0.0,                                                 \
          "tilting moment on the inner ring, its vector towards the ball at angle 0")              \
    FIELD(moment_across, torque, from_to(-1e7, 1e7), 0.0,                                          \
          "tilting moment on the inner ring, its vector towards the angle of 90 degrees")

#define FITWRIGHT_EQUILIBRIUM_INPUTS(FIELD, RANGED, PART, CHOICE)                                  \
    FITWRIGHT_THRUST_INPUTS(FIELD, RANGED, PART, CHOICE)                                           \
    FITWRIGHT_RING_LOADS(FIELD)
FITWRIGHT_DECLARE(bearings, EquilibriumInputs, true,
                  "a ball bearing, its loads and speed; the material is that of the rings",
                  FITWRIGHT_EQUILIBRIUM_INPUTS)

#define FITWRIGHT_EQUILIBRIUM_OUTPUTS(FIELD, RANGED, PART, CHOICE)                                 \
    FIELD(axial_displacement, fine, unlimited(), 1e-6,                                             \
          "of the inner ring along the axis, from the middle of its end play")                     \
    FIELD(radial_displacement, fine, unlimited(), 1e-6,                                            \
          "of the inner ring towards the ball at angle 0, from the middle of its play")            \
    FIELD(radial_displacement_across, fine, unlimited(), 1e-6,                                     \
          "of the inner ring towards the angle of 90 degrees")                                     \
    FIELD(tilt, slope, unlimited(), 1e-3, "of the inner ring about the line to the first ball")    \
    FIELD(tilt_across, slope, unlimited(), 1e-3,                                                   \
          "of the inner ring about the line to the angle of 90 degrees")                           \
    FIELD(axial_stiffness, stiffness, unlimited(), 1e6, "thrust per axial displacement alone")     \
    FIELD(radial_stiffness, stiffness, unlimited(), 1e6,                                           \
          "force per displacement towards the first ball, nothing else moving")                    \
    FIELD(radial_stiffness_across, stiffness, unlimited(), 1e6,                                    \
          "force per displacement towards the angle of 90 degrees, nothing else moving")           \
    FIELD(greatest_inner_load, force, unlimited(), 1e3, "largest ball load on the inner ring")     \
    FIELD(least_inner_load, force, unlimited(), 1e3,                                               \
          "smallest ball load on the inner ring; 0: some balls run loose")                         \
    FIELD(greatest_outer_load, force, unlimited(), 1e3, "largest ball load on the outer ring")     \
    FIELD(inner_peak, stress, unlimited(), 1e6, "largest contact pressure at the inner groove")    \
    FIELD(outer_peak, stress, unlimited(), 1e6, "largest contact pressure at the outer groove")    \
    FIELD(inner_edge, fine, at_least(0.0), 1e-6,                                                   \
          "least left between an inner contact ellipse and the edge of the groove")                \
    FIELD(outer_edge, fine, at_least(0.0), 1e-6,                                                   \
          "least left between an outer contact ellipse and the edge of the groove")                \
    FIELD(arch_gap, fine, at_least(0.0), 1e-6,                                                     \
          "least gap between a loaded ball and the other half of a split inner ring; negative: "   \
          "three-point contact; (fi - 1/2) D when the ring is whole")                              \
    FIELD(gyroscopic_friction, ratio, unlimited(), 0.01,                                           \
          "friction coefficient that keeps every ball from slipping under its gyroscopic moment")  \
    FIELD(angle_spread, angle, unlimited(), 0.01,                                                  \
          "between the largest and the smallest outer contact angle: what the cage must let the "  \
          "balls lead and lag")                                                                    \
    FIELD(                                                                                         \
        inner_equivalent_load, force, unlimited(), 1e3,                                            \
        "load that, on every ball, costs the turning inner raceway the same life: mean of cubes")  \
    FIELD(outer_equivalent_load, force, unlimited(), 1e3,                                          \
          "load that, on every ball, costs the outer raceway the same life: mean of powers 10/3")  \
    FIELD(                                                                                         \
        contact_safety, ratio, at_least(1.0), 1.0,                                                 \
        "load that presses 4200 MPa, the permanent mark of ISO 76, over that of the worst ball; "  \
        "1e6 stands for no load")
FITWRIGHT_DECLARE(bearings, EquilibriumOutputs, false,
                  "displacement, stiffness and the worst ball of a loaded bearing",
                  FITWRIGHT_EQUILIBRIUM_OUTPUTS)

namespace fitwright::bearings {

struct Equilibrium {
    template <class T>
    static void run(const T* inputs, T* outputs, const fields::Context&, number::Faults<T>&);
};

} // namespace fitwright::bearings
