// A rod through a nut welded in a bolted plate, that holds a rotor while its thrust bearing is out.
#pragma once

#include <fitwright/fields/model.hpp>
#include <fitwright/joints/parts.hpp>
#include <fitwright/materials/material.hpp>
#include <fitwright/tooling/weld.hpp>

#define FITWRIGHT_FIXTURE_PLATE(FIELD, RANGED, PART, CHOICE)                                       \
    FIELD(outside, size, from_to(1e-3, 10.0), required, "outside diameter of the plate")           \
    FIELD(thickness, size, from_to(1e-4, 1.0), required, "thickness of the plate")                 \
    FIELD(hole, size, from_to(1e-4, 1.0), worked_out,                                              \
          "hole the rod goes through; 1.1 times the rod when left out")                            \
    FIELD(nut_diameter, size, from_to(1e-3, 1.0), required,                                        \
          "diameter of the nut where it is welded to the plate")                                   \
    FIELD(bolt_circle, size, from_to(1e-3, 10.0), required, "diameter of the bolt circle")         \
    FIELD(bolts, count, from_to(2.0, 100.0), required, "bolts, evenly spaced")                     \
    FIELD(weld_sides, count, from_to(1.0, 2.0), 1.0, "sides of the plate the nut is welded on")    \
    FITWRIGHT_WELD_METAL(FIELD)                                                                    \
    FITWRIGHT_MATERIAL_FACTORS(FIELD)
FITWRIGHT_DECLARE(tooling, FixturePlate, true, "the plate with the welded nut",
                  FITWRIGHT_FIXTURE_PLATE)

#define FITWRIGHT_HOLDING_FIXTURE_INPUTS(FIELD, RANGED, PART, CHOICE)                              \
    CHOICE(axis, "vertical|horizontal", "how the rotor stands")                                    \
    FIELD(mass, mass, above(0.0, 1e6), required, "of the rotor with all that is on it")            \
    FIELD(share, ratio, from_to(0.0, 1.0), 1.0,                                                    \
          "of the weight that this rod carries; 1 unless another support is proved")               \
    FIELD(journal_friction, ratio, from_to(0.0, 1.0), 0.25,                                        \
          "of the dry journals of a horizontal rotor, that the rod pushes against")                \
    FIELD(axis_slope, slope, from_to(0.0, 0.5), 0.01, "of the axis of a horizontal rotor")         \
    FIELD(other_force, force, from_to(0.0, 1e8), 0.0,                                              \
          "along the axis besides: coupling, seals, magnets, back-flow that was not shut off")     \
    FIELD(handling_factor, ratio, from_to(1.0, 5.0), 1.5,                                          \
          "for jerks and for a rod that takes up more than its share")                             \
    PART(tooling::Screw, rod)                                                                      \
    PART(tooling::FixturePlate, plate)                                                             \
    PART(joints::Bolt, bolt)                                                                       \
    FIELD(off_centre, size, from_to(0.0, 0.5), 0.002,                                              \
          "how far the rod is off the middle of the bolt circle")                                  \
    FIELD(travel, size, from_to(0.0, 0.1), required,                                               \
          "way the rotor may move along its axis from where it is held before something touches")  \
    FIELD(thread_play, fine, from_to(0.0, 0.01), 0.0003,                                           \
          "axial play of the rod in its nut, taken up when the load turns round")                  \
    FIELD(thread_wear, fine, from_to(0.0, 0.01), 0.0002,                                           \
          "axial wear of the thread allowed before the nut is scrapped")                           \
    FITWRIGHT_TOOL_LOADING(FIELD, CHOICE)
FITWRIGHT_DECLARE(tooling, HoldingFixtureInputs, false, "a rotor, the rod, the plate, the bolts",
                  FITWRIGHT_HOLDING_FIXTURE_INPUTS)

#define FITWRIGHT_HOLDING_FIXTURE_OUTPUTS(FIELD, RANGED, PART, CHOICE)                             \
    FIELD(working_load, force, unlimited(), 1e3, "force along the rod")                            \
    FIELD(rod_factor, ratio, unlimited(), 1.0, "of the rod, pressed and twisted, to yield")        \
    FIELD(column_factor, ratio, unlimited(), 1.0, "of the rod as a column, off its axis")          \
    FIELD(thread_factor, ratio, unlimited(), 1.0,                                                  \
          "of the threads against shear, half counted: "                                           \
          "the first ones carry more")                                                             \
    FIELD(plate_factor, ratio, unlimited(), 1.0, "of the plate, bent, to yield")                   \
    FIELD(weld_factor, ratio, unlimited(), 1.0, "of the nut's weld to shear yield")                \
    FIELD(bolt_factor, ratio, unlimited(), 1.0, "of the worst bolt to yield")                      \
    FITWRIGHT_TOOL_VERDICT(FIELD)                                                                  \
    FIELD(lifting_torque, torque, unlimited(), 10.0, "torque on the rod that moves the rotor")     \
    FIELD(lifting_torque_high, torque, unlimited(), 10.0, "at the high end of the friction")       \
    FIELD(lowering_torque, torque, unlimited(), 10.0,                                              \
          "torque that lets it back, at the low end of the friction; negative: it runs back")      \
    FIELD(self_locking_margin, ratio, at_least(0.0), 0.1,                                          \
          "low end of the thread's friction less the one below which the thread lets go")          \
    FIELD(slenderness, ratio, at_most(120.0), 1.0, "of the rod")                                   \
    FIELD(thread_pressure, stress, unlimited(), 1e6, "mean pressure on the flanks")                \
    FIELD(thread_pressure_use, ratio, at_most(1.0), 1.0,                                           \
          "that over 15 MPa, steel on steel turned under load with grease (common practice)")      \
    FIELD(weld_stress, stress, unlimited(), 1e6, "on the throat")                                  \
    FIELD(weld_allowable_use, ratio, at_most(1.0), 1.0, "that over what is allowed for fillets")   \
    FIELD(bolt_load, force, unlimited(), 1e3, "force of the worst bolt")                           \
    FIELD(plate_deflection, fine, unlimited(), 1e-6, "of the plate where the nut is")              \
    FIELD(deflection, fine, unlimited(), 1e-6, "of rod, plate and bolts together")                 \
    FIELD(clearance_left, size, at_least(0.0), 1e-4,                                               \
          "travel less deflection, play and wear: must stay above what may not touch")
FITWRIGHT_DECLARE(tooling, HoldingFixtureOutputs, false, "what a holding fixture bears and needs",
                  FITWRIGHT_HOLDING_FIXTURE_OUTPUTS)

namespace fitwright::tooling {

enum class RotorAxis : int { vertical, horizontal };

struct HoldingFixture {
    template <class T>
    static void run(const T* inputs, T* outputs, const fields::Context&, number::Faults<T>&);
};

} // namespace fitwright::tooling
