// A driver made for a nut: dogs or pins in its slots or holes, on a socket.
#pragma once

#include <fitwright/fields/model.hpp>
#include <fitwright/materials/material.hpp>
#include <fitwright/tooling/parts.hpp>

#define FITWRIGHT_DRIVEN_NUT(FIELD, RANGED, PART, CHOICE)                                          \
    FIELD(outside, size, from_to(1e-3, 6.3), required, "outside diameter of the nut")              \
    FIELD(thread, size, from_to(1e-3, 3.0), required, "diameter of its thread")                    \
    FIELD(slots, count, from_to(2.0, 100.0), required, "slots or holes of the nut")                \
    FIELD(slot_width, size, from_to(1e-4, 1.0), required, "width of a slot, diameter of a hole")   \
    FIELD(slot_depth, size, from_to(1e-4, 1.0), required,                                          \
          "depth of a slot along the radius; of a hole along the axis")                            \
    FIELD(slot_length, size, from_to(1e-4, 1.0), required,                                         \
          "length of a slot along the axis; of a hole its depth")                                  \
    FIELD(growth, fine, from_to(-1e-3, 1e-3), 0.0,                                                 \
          "of its outside diameter by preload: the squeeze makes it larger")                       \
    FIELD(temperature, temperature, from_to(-273.15, 2000.0), 20.0, "temperature of the nut")      \
    FITWRIGHT_MATERIAL_FACTORS(FIELD)
FITWRIGHT_DECLARE(tooling, DrivenNut, true, "a slotted nut, or one with holes in its face",
                  FITWRIGHT_DRIVEN_NUT)

#define FITWRIGHT_NUT_DRIVER_INPUTS(FIELD, RANGED, PART, CHOICE)                                   \
    FIELD(torque, torque, above(0.0, 1e7), required,                                               \
          "greatest torque: to tighten, or to break loose at the high end of friction")            \
    PART(tooling::DrivenNut, nut)                                                                  \
    CHOICE(engages, "dogs|pins", "dogs in slots of the outside, or pins in holes of the face")     \
    FIELD(teeth, count, from_to(2.0, 100.0), required, "dogs or pins of the driver")               \
    FIELD(circle, size, from_to(1e-3, 6.3), required, "mean diameter at which they push")          \
    FIELD(tooth_width, size, from_to(1e-4, 1.0), required,                                         \
          "of a dog along the circle; diameter of a pin")                                          \
    FIELD(tooth_height, size, from_to(1e-4, 1.0), required,                                        \
          "of a dog along the radius; ignored for a pin")                                          \
    FIELD(engagement, size, from_to(1e-4, 1.0), required,                                          \
          "length along the axis over which they push")                                            \
    FIELD(overhang, size, from_to(0.0, 0.5), 0.0, "from their root to where they begin to push")   \
    FIELD(uneven, ratio, from_to(1.0, 20.0), 1.5,                                                  \
          "force of the worst dog or pin over an even share")                                      \
    FIELD(flank_angle, angle, from_to(0.0, 0.7), 0.0,                                              \
          "slope of the dogs' sides against the radius: it spreads the socket")                    \
    FIELD(side_force, force, from_to(0.0, 1e7), 0.0,                                               \
          "across the axis, by a lever on one side (tooling.multiplier tells it)")                 \
    FIELD(inside, size, from_to(1e-3, 6.3), required, "bore of the socket over the nut")           \
    FIELD(outside, size, from_to(1e-3, 6.3), required, "outside of the socket")                    \
    FIELD(length, size, from_to(1e-3, 3.0), required, "length of the socket from dogs to drive")   \
    FIELD(least_clearance, fine, from_to(0.0, 0.01), 0.00005,                                      \
          "on diameter that must stay between socket and nut for it to come off again")            \
    FIELD(temperature, temperature, from_to(-273.15, 2000.0), 20.0, "temperature of the driver")   \
    FITWRIGHT_MATERIAL_FACTORS(FIELD)                                                              \
    FITWRIGHT_TOOL_LOADING(FIELD, CHOICE)
FITWRIGHT_DECLARE(tooling, NutDriverInputs, true, "a driver, the nut, and the torque",
                  FITWRIGHT_NUT_DRIVER_INPUTS)

#define FITWRIGHT_NUT_DRIVER_OUTPUTS(FIELD, RANGED, PART, CHOICE)                                  \
    FIELD(working_load, torque, unlimited(), 10.0, "torque through the driver")                    \
    FIELD(tooth_load, force, unlimited(), 1e3, "force of the worst dog or pin")                    \
    FIELD(tooth_factor, ratio, unlimited(), 1.0, "of its root, sheared and bent, to yield")        \
    FIELD(tooth_bearing_factor, ratio, unlimited(), 1.0, "of its flank against yield")             \
    FIELD(slot_bearing_factor, ratio, unlimited(), 1.0, "of the nut's slot or hole against yield") \
    FIELD(land_factor, ratio, unlimited(), 1.0, "of the land between two slots, sheared and bent") \
    FIELD(wall_factor, ratio, unlimited(), 1.0,                                                    \
          "of the socket, twisted and bent by the side "                                           \
          "force, to yield")                                                                       \
    FIELD(burst_factor, ratio, unlimited(), 1.0,                                                   \
          "of the socket's rim, spread by slanted dogs, to yield; 1e6 for straight ones")          \
    FIELD(design_factor, ratio, unlimited(), 1.0, "least of all factors")                          \
    FIELD(capacity, torque, unlimited(), 10.0, "torque times that factor")                         \
    FIELD(factor_margin, ratio, at_least(0.0), 1.0, "design factor less the one wanted")           \
    FIELD(weakest, count, unlimited(), 1.0,                                                        \
          "which factor is the least, counted from 1 in the order they are told in")               \
    FIELD(clearance, fine, unlimited(), 1e-6, "between socket and nut as they are now")            \
    FIELD(clearance_margin, fine, at_least(0.0), 1e-6, "that less the least that must stay")       \
    FIELD(jam_pressure, stress, unlimited(), 1e6,                                                  \
          "of a socket that is too tight, on the nut; 0 with clearance")                           \
    FIELD(nut_closing, fine, unlimited(), 1e-6,                                                    \
          "by how much it then closes the nut's thread, on diameter")                              \
    FIELD(twist, angle, unlimited(), 0.01, "of the socket under the torque")
FITWRIGHT_DECLARE(tooling, NutDriverOutputs, false, "what a nut driver bears",
                  FITWRIGHT_NUT_DRIVER_OUTPUTS)

namespace fitwright::tooling {

enum class DriverTeeth : int { dogs, pins };

struct NutDriver {
    template <class T>
    static void run(const T* inputs, T* outputs, const fields::Context&, number::Faults<T>&);
};

} // namespace fitwright::tooling
