// A ball bearing under thrust at speed: angles and loads of its balls.
#pragma once

#include <fitwright/bearings/mounted.hpp>

#define FITWRIGHT_THRUST_INPUTS(FIELD, RANGED, PART, CHOICE)                                       \
    PART(bearings::Bearing, bearing)                                                               \
    FIELD(inner_growth, fine, from_to(-1e-2, 1e-2), 0.0,                                           \
          "growth of the inner raceway's diameter by fit, heat and speed")                         \
    FIELD(outer_growth, fine, from_to(-1e-2, 1e-2), 0.0,                                           \
          "growth of the outer raceway's diameter by fit, heat and speed")                         \
    FIELD(ball_temperature, temperature, from_to(-273.15, 2000.0), 20.0,                           \
          "temperature of the balls")                                                              \
    FIELD(thrust, force, from_to(-1e8, 1e8), 0.0,                                                  \
          "steady axial force through the bearing; negative against its front side")               \
    FIELD(speed, speed, from_to(0.0, 2e5), 0.0,                                                    \
          "speed of the inner ring, the outer one standing still")                                 \
    FIELD(outer_control, ratio, from_to(0.0, 1.0), 1.0,                                            \
          "which race holds the balls against spinning about the contact: 1 the outer (Jones's "   \
          "race control), 0 the inner, between them both")                                         \
    FIELD(modulus_factor, ratio, from_to(0.5, 2.0), 1.0,                                           \
          "Young's modulus of the rings over the table value of their material")
FITWRIGHT_DECLARE(bearings, ThrustInputs, true,
                  "a ball bearing, its thrust and speed; the material is that of the rings",
                  FITWRIGHT_THRUST_INPUTS)

// All balls are alike; angles are signed as the thrust is.
#define FITWRIGHT_RUNNING_OUTPUTS(FIELD, RANGED, PART, CHOICE)                                     \
    FIELD(inner_angle, angle, unlimited(), 0.01, "contact angle of ball and inner ring at speed")  \
    FIELD(outer_angle, angle, unlimited(), 0.01, "contact angle of ball and outer ring at speed")  \
    FIELD(inner_load, force, unlimited(), 1e3, "contact force of each ball on the inner ring")     \
    FIELD(outer_load, force, unlimited(), 1e3, "contact force of each ball on the outer ring")     \
    FIELD(inner_peak, stress, unlimited(), 1e6,                                                    \
          "largest contact pressure at the inner groove, at speed")                                \
    FIELD(outer_peak, stress, unlimited(), 1e6,                                                    \
          "largest contact pressure at the outer groove, at speed")                                \
    FIELD(inner_edge, fine, at_least(0.0), 1e-6,                                                   \
          "left between the inner contact ellipse and the edge of the groove; negative: cut off")  \
    FIELD(outer_edge, fine, at_least(0.0), 1e-6,                                                   \
          "left between the outer contact ellipse and the edge of the groove; negative: cut off")  \
    FIELD(running_displacement, fine, unlimited(), 1e-6,                                           \
          "axial displacement of the inner ring at speed, from first contact at standstill")       \
    FIELD(axial_stiffness, stiffness, unlimited(), 1e6,                                            \
          "thrust per axial displacement; 0 where no thrust presses the balls")                    \
    FIELD(centrifugal_force, force, unlimited(), 1.0, "of each ball")                              \
    FIELD(gyroscopic_moment, torque, unlimited(), 1e-3, "on each ball")                            \
    FIELD(cage_ratio, ratio, unlimited(), 1.0, "speed of the cage over that of the shaft")         \
    FIELD(ball_ratio, ratio, unlimited(), 1.0,                                                     \
          "speed of a ball about itself over that of the shaft, as seen from the cage")            \
    FIELD(ball_pitch, angle, unlimited(), 0.01, "of the axis a ball turns about, to the shaft's")  \
    FIELD(race_control, ratio, unlimited(), 1.0,                                                   \
          "Jones's criterion: spin moment of the outer over that of the inner contact; above 1 "   \
          "the outer race controls")                                                               \
    FIELD(gyroscopic_friction, ratio, at_most(0.07), 0.01,                                         \
          "friction coefficient that keeps the balls from slipping under that moment; oil films "  \
          "give some 0.02 to 0.07 (from memory)")                                                  \
    FIELD(skid_thrust, force, unlimited(), 1e3,                                                    \
          "least thrust against gross skidding by Hirano: ten times the centrifugal forces; a "    \
          "warning, below which fast machines with guided cages run")                              \
    FIELD(arch_gap, fine, at_least(0.0), 1e-6,                                                     \
          "between the balls and the other half of a split inner ring; negative: three-point "     \
          "contact; (fi - 1/2) D when the ring is whole")
FITWRIGHT_DECLARE(bearings, RunningOutputs, false,
                  "angles, loads and motion of the balls under thrust at speed",
                  FITWRIGHT_RUNNING_OUTPUTS)

#define FITWRIGHT_ARCH_BAND(FIELD)                                                                 \
    FIELD(arch_thrust, force, unlimited(), 1e3,                                                    \
          "least thrust that keeps the balls off the other half of a split inner ring, at this "   \
          "speed and clearance; 0 when the ring is whole")                                         \
    FIELD(arch_limit, force, unlimited(), 1e3,                                                     \
          "thrust that presses the balls back onto the other half; 0 when no thrust keeps them "   \
          "off it, or the ring is whole")
#define FITWRIGHT_THRUST_OUTPUTS(FIELD, RANGED, PART, CHOICE)                                      \
    FITWRIGHT_RUNNING_OUTPUTS(FIELD, RANGED, PART, CHOICE)                                         \
    FITWRIGHT_ARCH_BAND(FIELD)
FITWRIGHT_DECLARE(bearings, ThrustOutputs, false,
                  "the running balls, and the thrusts that keep them on one half of a split ring",
                  FITWRIGHT_THRUST_OUTPUTS)

namespace fitwright::bearings {

struct Thrust {
    template <class T>
    static void run(const T* inputs, T* outputs, const fields::Context&, number::Faults<T>&);
};

// Ball by ball, for lives and pictures; whoever solves fills it.
struct BallLoads {
    int balls;
    const double* inner_load;
    const double* outer_load;
    const double* inner_angle;
    const double* outer_angle;
};

// From C++: throws DomainError.
ThrustOutputs<double> thrust_equilibrium(const ThrustInputs<double>&,
                                         const materials::Material& rings,
                                         const materials::Material& balls);

} // namespace fitwright::bearings
