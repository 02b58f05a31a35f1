// A bearing that runs: whether its rings stay put on their seats, and what it sounds like.
#pragma once

#include <fitwright/bearings/rows.hpp>
#include <fitwright/fields/error.hpp>
#include <fitwright/fields/model.hpp>

#define FITWRIGHT_DRAG_FACTORS(FIELD)                                                              \
    FIELD(viscous_factor, ratio, from_to(0.0, 50.0), worked_out,                                   \
          "f0 of the viscous part of the friction torque; high end for the kind when left out")    \
    FIELD(load_factor, ratio, from_to(0.0, 1.0), worked_out,                                       \
          "f1 of its load part; by kind and P0/C0 when left out")                                  \
    FIELD(failing_torque, drag_torque, from_to(0.0, 1e6), worked_out,                              \
          "torque of a bearing that fails, in place of a healthy one's")

#define FITWRIGHT_CREEP_INPUTS(FIELD, RANGED, PART, CHOICE)                                        \
    CHOICE(bearing, "deep_groove|angular_contact|thrust_ball|cylindrical_roller|tapered_roller",   \
           "kind of bearing")                                                                      \
    CHOICE(lubrication, "oil_bath|oil_jet|oil_mist|grease", "of the bearing")                      \
    PART(bearings::HeldRing, inner)                                                                \
    PART(bearings::HeldRing, outer)                                                                \
    PART(bearings::Lubricant, oil)                                                                 \
    FIELD(temperature, temperature, from_to(-60.0, 300.0), 70.0, "of the oil in the bearing")      \
    FIELD(pitch_diameter, size, from_to(1e-3, 6.3), required, "mean diameter of the bearing")      \
    FIELD(contact_angle, angle, from_to(0.0, 1.5707963267948966), 0.0, "under load")               \
    FIELD(speed, speed, from_to(0.0, 2e5), 0.0, "speed of one ring against the other")             \
    FIELD(radial_load, force, from_to(0.0, 1e9), 0.0, "radial load")                               \
    FIELD(axial_load, force, from_to(0.0, 1e9), 0.0, "axial load")                                 \
    FIELD(static_rating, force, above(0.0, 1e9), worked_out, "C0, basic static rating")            \
    FIELD(equivalent_static_load, force, from_to(0.0, 1e9), worked_out,                            \
          "P0, equivalent load at rest")                                                           \
    FITWRIGHT_DRAG_FACTORS(FIELD)
FITWRIGHT_DECLARE(bearings, CreepInputs, false, "a bearing that runs and what holds its rings",
                  FITWRIGHT_CREEP_INPUTS)

#define FITWRIGHT_CREEP_OUTPUTS(FIELD, RANGED, PART, CHOICE)                                       \
    FIELD(viscous_torque, drag_torque, unlimited(), 0.01, "M0: churning and shearing of the oil")  \
    FIELD(load_torque, drag_torque, unlimited(), 0.01, "M1: rolling under load")                   \
    FIELD(friction_torque, drag_torque, unlimited(), 0.01, "that drags the rings round")           \
    FIELD(inner_holding, drag_torque, unlimited(), 0.01,                                           \
          "torque that grip and clamped faces of the inner ring hold")                             \
    FIELD(inner_margin, drag_torque, at_least(0.0), 0.01, "held less dragged; below 0 it creeps")  \
    FIELD(inner_share, ratio, unlimited(), 0.1, "dragged over held; 1e6 stands for nothing held")  \
    FIELD(outer_holding, drag_torque, unlimited(), 0.01,                                           \
          "torque that pocket and clamped faces of the outer ring hold")                           \
    FIELD(outer_margin, drag_torque, at_least(0.0), 0.01, "held less dragged; below 0 it creeps")  \
    FIELD(outer_share, ratio, unlimited(), 0.1, "dragged over held; 1e6 stands for nothing held")
FITWRIGHT_DECLARE(bearings, CreepOutputs, false, "whether the rings stay put",
                  FITWRIGHT_CREEP_OUTPUTS)

#define FITWRIGHT_FREQUENCIES_INPUTS(FIELD, RANGED, PART, CHOICE)                                  \
    CHOICE(turning, "inner|outer", "ring that turns")                                              \
    CHOICE(control, "outer|inner", "raceway on which the balls roll without spinning")             \
    FIELD(balls, count, from_to(3.0, 500.0), required, "number of balls")                          \
    FIELD(ball_diameter, size, from_to(1e-5, 1.0), required, "diameter of a ball")                 \
    FIELD(pitch_diameter, size, from_to(1e-5, 6.3), required,                                      \
          "diameter of the circle the ball centres run on")                                        \
    FIELD(inner_angle, angle, from_to(0.0, 1.5707963267948966), required,                          \
          "contact angle at the inner raceway in this state")                                      \
    FIELD(outer_angle, angle, from_to(0.0, 1.5707963267948966), worked_out,                        \
          "contact angle at the outer raceway, less at speed; the inner when left out")            \
    FIELD(speed, speed, from_to(0.0, 2e5), 0.0, "speed of the ring that turns")
FITWRIGHT_DECLARE(bearings, FrequenciesInputs, false, "a ball bearing in one state",
                  FITWRIGHT_FREQUENCIES_INPUTS)

#define FITWRIGHT_HEARD(FIELD)                                                                     \
    FIELD(cage, frequency, unlimited(), 1.0, "frequency of the cage")                              \
    FIELD(ball_spin, frequency, unlimited(), 1.0,                                                  \
          "of a ball about itself; a spot on it meets both raceways, at twice this")               \
    FIELD(inner_pass, frequency, unlimited(), 1.0, "of balls over a spot of the inner raceway")    \
    FIELD(outer_pass, frequency, unlimited(), 1.0, "of balls over a spot of the outer raceway")

#define FITWRIGHT_FREQUENCIES_OUTPUTS(FIELD, RANGED, PART, CHOICE)                                 \
    FIELD(cage_order, ratio, unlimited(), 0.1, "turns of the cage per turn of the shaft")          \
    FIELD(ball_spin_order, ratio, unlimited(), 0.1,                                                \
          "turns of a ball about itself, seen from the cage, per turn")                            \
    FIELD(inner_pass_order, ratio, unlimited(), 0.1,                                               \
          "balls that pass a spot of the inner raceway")                                           \
    FIELD(outer_pass_order, ratio, unlimited(), 0.1,                                               \
          "balls that pass a spot of the outer raceway")                                           \
    FITWRIGHT_HEARD(FIELD)                                                                         \
    FIELD(inner_spin_to_roll, ratio, unlimited(), 0.1, "spinning over rolling, inner contact")     \
    FIELD(outer_spin_to_roll, ratio, unlimited(), 0.1, "spinning over rolling, outer contact")
FITWRIGHT_DECLARE(bearings, FrequenciesOutputs, false, "what a probe at the casing hears",
                  FITWRIGHT_FREQUENCIES_OUTPUTS)

namespace fitwright::bearings {

struct Creep {
    template <class T>
    static void run(const T* inputs, T* outputs, const fields::Context&, number::Faults<T>&);
};
struct Frequencies {
    template <class T>
    static void run(const T* inputs, T* outputs, const fields::Context&, number::Faults<T>&);
};

enum class DraggedBearing : int {
    deep_groove,
    angular_contact,
    thrust_ball,
    cylindrical_roller,
    tapered_roller
};
enum class OilSupply : int { oil_bath, oil_jet, oil_mist, grease };
enum class RaceControl : int { outer, inner };

// From C++: throw DomainError.
CreepOutputs<double> creep(const CreepInputs<double>&, DraggedBearing = DraggedBearing::deep_groove,
                           OilSupply = OilSupply::oil_bath);
FrequenciesOutputs<double> frequencies(const FrequenciesInputs<double>&,
                                       TurningRing = TurningRing::inner,
                                       RaceControl = RaceControl::outer);

} // namespace fitwright::bearings
