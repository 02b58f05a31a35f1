// Bolts in any places under a thrust, a tilting moment, a torque and a side force: a rigid plate.
#pragma once

#include <fitwright/fields/model.hpp>

#define FITWRIGHT_BOLT_PLACE(FIELD, RANGED, PART, CHOICE)                                          \
    FIELD(angle, angle, from_to(-7.0, 7.0), worked_out,                                            \
          "where the bolt is on its circle; always to be given")                                   \
    FIELD(diameter, size, from_to(1e-4, 10.0), worked_out,                                         \
          "diameter of the circle it is on; that of the pattern when left out")
FITWRIGHT_DECLARE(joints, BoltPlace, false, "where a bolt is", FITWRIGHT_BOLT_PLACE)

#define FITWRIGHT_BOLT_PATTERN_INPUTS(FIELD, RANGED, PART, CHOICE)                                 \
    PART(joints::BoltPlace, place1)                                                                \
    PART(joints::BoltPlace, place2)                                                                \
    PART(joints::BoltPlace, place3)                                                                \
    PART(joints::BoltPlace, place4)                                                                \
    PART(joints::BoltPlace, place5)                                                                \
    PART(joints::BoltPlace, place6)                                                                \
    PART(joints::BoltPlace, place7)                                                                \
    PART(joints::BoltPlace, place8)                                                                \
    PART(joints::BoltPlace, place9)                                                                \
    PART(joints::BoltPlace, place10)                                                               \
    PART(joints::BoltPlace, place11)                                                               \
    PART(joints::BoltPlace, place12)                                                               \
    FIELD(circle, size, from_to(1e-4, 10.0), required, "diameter of the bolt circle")              \
    FIELD(thrust, force, from_to(-1e8, 1e8), 0.0,                                                  \
          "force along the axis of the circle, positive where it pulls the bolts")                 \
    FIELD(moment, torque, from_to(0.0, 1e7), 0.0, "tilting moment")                                \
    FIELD(moment_direction, angle, from_to(-7.0, 7.0), 0.0,                                        \
          "direction in which bolts are pulled most")                                              \
    FIELD(torque, torque, from_to(-1e7, 1e7), 0.0,                                                 \
          "torque about the axis, that the bolts would have to take in shear")                     \
    FIELD(side_force, force, from_to(0.0, 1e8), 0.0, "force across the axis")                      \
    FIELD(side_direction, angle, from_to(-7.0, 7.0), 0.0, "its direction")                         \
    CHOICE(places, "1|2|3|4|5|6|7|8|9|10|11|12", "the bolts that are there")
FITWRIGHT_DECLARE(joints, BoltPatternInputs, false, "bolts under a rigid plate, and its load",
                  FITWRIGHT_BOLT_PATTERN_INPUTS)

#define FITWRIGHT_PLACE_LOAD(FIELD, RANGED, PART, CHOICE)                                          \
    FIELD(tension, force, unlimited(), 1e3, "force along the bolt, positive where it pulls")       \
    FIELD(shear, force, unlimited(), 1e3, "force across the bolt")
FITWRIGHT_DECLARE(joints, PlaceLoad, false, "what one bolt of a pattern carries",
                  FITWRIGHT_PLACE_LOAD)

#define FITWRIGHT_BOLT_PATTERN_OUTPUTS(FIELD, RANGED, PART, CHOICE)                                \
    PART(joints::PlaceLoad, load1)                                                                 \
    PART(joints::PlaceLoad, load2)                                                                 \
    PART(joints::PlaceLoad, load3)                                                                 \
    PART(joints::PlaceLoad, load4)                                                                 \
    PART(joints::PlaceLoad, load5)                                                                 \
    PART(joints::PlaceLoad, load6)                                                                 \
    PART(joints::PlaceLoad, load7)                                                                 \
    PART(joints::PlaceLoad, load8)                                                                 \
    PART(joints::PlaceLoad, load9)                                                                 \
    PART(joints::PlaceLoad, load10)                                                                \
    PART(joints::PlaceLoad, load11)                                                                \
    PART(joints::PlaceLoad, load12)                                                                \
    FIELD(greatest_tension, force, unlimited(), 1e3, "greatest force along a bolt")                \
    FIELD(least_tension, force, unlimited(), 1e3, "least force along a bolt")                      \
    FIELD(greatest_shear, force, unlimited(), 1e3, "greatest force across a bolt")                 \
    FIELD(uneven, ratio, unlimited(), 1.0,                                                         \
          "greatest force along a bolt over an even share of the thrust, no more than 1e6; 1 "     \
          "without thrust")
FITWRIGHT_DECLARE(joints, BoltPatternOutputs, false, "what every bolt of a pattern carries",
                  FITWRIGHT_BOLT_PATTERN_OUTPUTS)

namespace fitwright::joints {

inline constexpr int place_limit = 12;

struct BoltPattern {
    template <class T>
    static void run(const T* inputs, T* outputs, const fields::Context&, number::Faults<T>&);
};

} // namespace fitwright::joints
