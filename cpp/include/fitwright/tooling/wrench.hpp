// What a torque wrench is set to with an adapter on it, and what a multiplier does to whatever holds it.
#pragma once

#include <fitwright/fields/model.hpp>

#define FITWRIGHT_WRENCH_INPUTS(FIELD, RANGED, PART, CHOICE)                                       \
    FIELD(torque, torque, above(0.0, 1e7), required, "torque wanted at the nut")                   \
    FIELD(wrench_length, size, above(0.0, 10.0), required,                                         \
          "from the middle of the hand grip to the square of the wrench")                          \
    FIELD(adapter_length, size, from_to(0.0, 5.0), required,                                       \
          "from that square to the middle of the nut")                                             \
    FIELD(angle, angle, from_to(-3.1415926535897932, 3.1415926535897932), 0.0,                     \
          "of the adapter against the wrench: 0 straight on, 90 deg square to it, 180 deg back")   \
    FIELD(angle_error, angle, from_to(0.0, 1.0), 0.0872664625997165,                               \
          "how far that angle may be off")                                                         \
    FIELD(grip_error, size, from_to(0.0, 0.5), 0.02, "how far the hand may be off the mark")
FITWRIGHT_DECLARE(tooling, WrenchAdapterInputs, false, "a torque wrench with an adapter",
                  FITWRIGHT_WRENCH_INPUTS)

#define FITWRIGHT_WRENCH_OUTPUTS(FIELD, RANGED, PART, CHOICE)                                      \
    FIELD(setting, torque, unlimited(), 10.0, "what the wrench is set to")                         \
    FIELD(effective_length, size, unlimited(), 1e-3, "lever from hand to nut")                     \
    FIELD(ratio, ratio, unlimited(), 1.0, "setting over torque")                                   \
    FIELD(hand_force, force, unlimited(), 100.0, "at the grip, square to the wrench")              \
    FIELD(torque_low, torque, unlimited(), 10.0,                                                   \
          "torque at the nut with that setting, both errors at their worst")                       \
    FIELD(torque_high, torque, unlimited(), 10.0, "the same the other way")                        \
    FIELD(error, ratio, unlimited(), 0.1, "the greater of both over the torque, either way")
FITWRIGHT_DECLARE(tooling, WrenchAdapterOutputs, false, "what to set a torque wrench to",
                  FITWRIGHT_WRENCH_OUTPUTS)

#define FITWRIGHT_MULTIPLIER_INPUTS(FIELD, RANGED, PART, CHOICE)                                   \
    FIELD(torque, torque, above(0.0, 1e7), required, "torque wanted at the nut")                   \
    FIELD(gear_ratio, ratio, from_to(1.0, 10000.0), required, "turns in over turns out")           \
    RANGED(efficiency, ratio, from_to(0.2, 1.0), 0.9, 0.85, 0.95,                                  \
           "of the gear: torque out over torque in times ratio")                                   \
    FIELD(arm, size, above(0.0, 5.0), required, "from the axis to where the reaction arm bears")   \
    FIELD(bear_angle, angle, from_to(0.0, 1.5), 0.0,                                               \
          "between the force there and the square to the arm: a slanted stop pushes harder")       \
    FIELD(height, size, from_to(0.0, 2.0), 0.0,                                                    \
          "from the reaction arm to the nut along the axis: it bends driver and stub")             \
    CHOICE(turns, "same_way|opposite",                                                             \
           "output against input: planet gears turn the same way, and the arm then holds torque "  \
           "out less torque in")                                                                   \
    CHOICE(                                                                                        \
        reaction, "arm|ring",                                                                      \
        "arm: bears on one side, and pushes the nut sideways; ring: splined round, torque only")
FITWRIGHT_DECLARE(tooling, MultiplierInputs, false, "a torque multiplier and its reaction arm",
                  FITWRIGHT_MULTIPLIER_INPUTS)

#define FITWRIGHT_MULTIPLIER_OUTPUTS(FIELD, RANGED, PART, CHOICE)                                  \
    FIELD(input_torque, torque, unlimited(), 10.0, "torque to set on the input")                   \
    FIELD(input_low, torque, unlimited(), 10.0, "at the high end of the efficiency")               \
    FIELD(input_high, torque, unlimited(), 10.0, "at the low end of the efficiency")               \
    FIELD(torque_low, torque, unlimited(), 10.0, "torque at the nut with that input, low end")     \
    FIELD(torque_high, torque, unlimited(), 10.0, "the same, high end")                            \
    FIELD(reaction_torque, torque, unlimited(), 10.0, "that the arm must hold, greatest")          \
    FIELD(reaction_force, force, unlimited(), 1e3, "where the arm bears: keep hands away")         \
    FIELD(side_force, force, unlimited(), 1e3,                                                     \
          "across the axis on driver and nut, as great as that; 0 with a ring")                    \
    FIELD(bending_moment, torque, unlimited(), 10.0, "of that force at the nut")
FITWRIGHT_DECLARE(tooling, MultiplierOutputs, false, "what a multiplier needs and where it pushes",
                  FITWRIGHT_MULTIPLIER_OUTPUTS)

namespace fitwright::tooling {

struct WrenchAdapter {
    template <class T>
    static void run(const T* inputs, T* outputs, const fields::Context&, number::Faults<T>&);
};
struct Multiplier {
    template <class T>
    static void run(const T* inputs, T* outputs, const fields::Context&, number::Faults<T>&);
};

} // namespace fitwright::tooling
