// One bolt through the parts it clamps: stiffness, preload, what it does under load.
#pragma once

#include <fitwright/fields/model.hpp>
#include <fitwright/joints/parts.hpp>
#include <fitwright/materials/material.hpp>

// How a bolt is tightened: told to a joint of one bolt and to a plate with many.
#define FITWRIGHT_BOLT_TIGHTENING(FIELD)                                                           \
    FIELD(torque, torque, above(0.0, 1e6), worked_out,                                             \
          "torque on each bolt; give this or preload")                                             \
    FIELD(preload, force, above(0.0, 1e8), worked_out, "force of each bolt, as tightened")         \
    FIELD(tool_scatter, ratio, from_to(0.0, 0.95), 0.05,                                           \
          "how far the tool's torque (or the told preload) may be off either way "                 \
          "(fw.threads.tool_table())")                                                             \
    FIELD(embedding, fine, from_to(0.0, 1e-3), worked_out,                                         \
          "settling of all faces together, per bolt; when left out 3 um for the thread, 2.5 um "   \
          "under head and nut, 1.5 um for every face between (VDI 2230-1 for ground and finely "   \
          "turned faces, from memory)")

#define FITWRIGHT_BOLTED_JOINT_INPUTS(FIELD, RANGED, PART, CHOICE)                                 \
    PART(joints::Bolt, bolt)                                                                       \
    PART(joints::InternalThread, thread)                                                           \
    PART(joints::ClampedLayer, layer1)                                                             \
    PART(joints::ClampedLayer, layer2)                                                             \
    PART(joints::ClampedLayer, layer3)                                                             \
    PART(joints::ClampedLayer, layer4)                                                             \
    PART(joints::ClampedLayer, layer5)                                                             \
    PART(joints::ClampedLayer, layer6)                                                             \
    FITWRIGHT_BOLT_TIGHTENING(FIELD)                                                               \
    FIELD(load, force, from_to(-1e8, 1e8), 0.0,                                                    \
          "working force on the joint that one bolt has to carry, positive where it pulls the "    \
          "parts apart")                                                                           \
    FIELD(load_low, force, from_to(-1e8, 1e8), 0.0, "least of that force where it swings")         \
    FIELD(load_introduction, ratio, from_to(0.0, 1.0), 1.0,                                        \
          "share of the clamped parts that lies between the points where the force enters (n): "   \
          "1 under head and nut, the safe side for the bolt; 0 at the parting face")               \
    FIELD(endurance_limit, stress, above(0.0, 1e9), worked_out,                                    \
          "stress amplitude the thread bears for ever; when left out 0.85 (150 mm/d + 45) MPa, "   \
          "threads rolled before heat treatment")                                                  \
    FIELD(pressure_limit, stress, above(0.0, 5e9), worked_out,                                     \
          "pressure the clamped parts bear under head and nut; when left out the yield strength "  \
          "of the softer of them")                                                                 \
    FIELD(cone_angle, angle, from_to(0.17, 1.05), 0.52359877559829887,                             \
          "half apex angle of the cones, where cone is fixed")                                     \
    CHOICE(layers, "1|2|3|4|5|6", "the clamped parts from the head on, washers too")               \
    CHOICE(hole, "through|tapped",                                                                 \
           "through: head and nut each press a cone; tapped: one cone from the head down to the "  \
           "tapped part, which is no layer")                                                       \
    CHOICE(cone, "vdi|fixed",                                                                      \
           "angle of the cones: by length and outside of the clamped parts as in VDI 2230-1, or "  \
           "as told")                                                                              \
    CHOICE(spring, "with_ends|grip_only",                                                          \
           "what of the bolt stretches: head, grip and engaged thread with the root section "      \
           "(VDI 2230-1), or the grip alone with the stress area (textbooks)")                     \
    CHOICE(fatigue, "amplitude|goodman|gerber",                                                    \
           "whether the mean stress counts for fatigue, and by which line")
FITWRIGHT_DECLARE(joints, BoltedJointInputs, false, "a bolt, what it clamps, and its load",
                  FITWRIGHT_BOLTED_JOINT_INPUTS)

#define FITWRIGHT_BOLTED_JOINT_OUTPUTS(FIELD, RANGED, PART, CHOICE)                                \
    FIELD(bolt_compliance, compliance, unlimited(), 1e-9, "stretch of the bolt per force")         \
    FIELD(clamped_compliance, compliance, unlimited(), 1e-9,                                       \
          "shortening of the clamped parts per force")                                             \
    FIELD(stiffness_share, ratio, unlimited(), 0.1,                                                \
          "share of a force under head and nut that the bolt feels")                               \
    FIELD(load_factor, ratio, unlimited(), 0.1,                                                    \
          "share of the working force the bolt feels: n times that")                               \
    FIELD(cone_diameter, size, unlimited(), 1e-3, "greatest diameter of the cones")                \
    FIELD(torque, torque, unlimited(), 10.0, "torque at the nominal friction")                     \
    FIELD(preload, force, unlimited(), 1e3, "force of the bolt, as tightened")                     \
    FIELD(preload_low, force, unlimited(), 1e3,                                                    \
          "the same at the high end of both frictions and the low end of the tool")                \
    FIELD(preload_high, force, unlimited(), 1e3, "the same at the other ends")                     \
    FIELD(embedding_loss, force, unlimited(), 1e3, "force lost as faces settle")                   \
    FIELD(heat_change, force, unlimited(), 1e3, "force gained by temperature")                     \
    FIELD(preload_left, force, unlimited(), 1e3, "nominal force after settling and temperature")   \
    FIELD(bolt_force, force, unlimited(), 1e3, "greatest force of the bolt, under load")           \
    FIELD(clamp_left, force, at_least(0.0), 1e3,                                                   \
          "least force left between the clamped parts, under load; below 0 they part")             \
    FIELD(opening_load, force, unlimited(), 1e3,                                                   \
          "working force at which the parts part, from the least preload")                         \
    FIELD(assembly_stress, stress, unlimited(), 1e6,                                               \
          "von Mises stress while tightening, at the high end of the force")                       \
    FIELD(assembly_use, ratio, at_most(0.9), 1.0, "that stress over the yield strength")           \
    FIELD(working_stress, stress, unlimited(), 1e6,                                                \
          "von Mises stress under load; half of the torsion of tightening is left")                \
    FIELD(working_use, ratio, at_most(1.0), 1.0, "that stress over the yield strength")            \
    FIELD(stress_amplitude, stress, unlimited(), 1e6, "half of the swing at the stress area")      \
    FIELD(fatigue_strength, stress, unlimited(), 1e6, "amplitude it bears at this mean stress")    \
    FIELD(fatigue_use, ratio, at_most(0.67), 1.0, "amplitude over what it bears")                  \
    FIELD(head_pressure, stress, unlimited(), 1e6, "greatest pressure under the head")             \
    FIELD(nut_pressure, stress, unlimited(), 1e6, "greatest pressure under the nut; 0 if tapped")  \
    FIELD(pressure_use, ratio, at_most(1.0), 1.0, "the greater of both over what the parts bear")  \
    FIELD(stripping_force, force, unlimited(), 1e3, "force at which the weaker thread shears")     \
    FIELD(stripping_use, ratio, at_most(0.67), 1.0,                                                \
          "greatest bolt force over that; a soft housing strips before the bolt yields")           \
    FIELD(needed_engagement, size, unlimited(), 1e-3,                                              \
          "engaged length from which on the bolt yields before a thread shears")                   \
    FIELD(overload_factor, ratio, unlimited(), 1.0,                                                \
          "how often the working force until the bolt yields: (Re As - F)/(Phi P); 1e6 stands "    \
          "for no load")                                                                           \
    FIELD(yield_factor, ratio, unlimited(), 1.0, "Re As over the nominal bolt force under load")   \
    FIELD(opening_factor, ratio, unlimited(), 1.0,                                                 \
          "how often the working force until the parts part: F/(P (1 - Phi))")
FITWRIGHT_DECLARE(joints, BoltedJointOutputs, false, "what a bolted joint holds",
                  FITWRIGHT_BOLTED_JOINT_OUTPUTS)

namespace fitwright::joints {

inline constexpr int layer_limit = 6;
enum class HoleKind : int { through, tapped };
enum class Cone : int { vdi, fixed };
enum class Spring : int { with_ends, grip_only };
enum class FatigueLine : int { amplitude, goodman, gerber };

struct BoltedJoint {
    template <class T>
    static void run(const T* inputs, T* outputs, const fields::Context&, number::Faults<T>&);
};

} // namespace fitwright::joints
