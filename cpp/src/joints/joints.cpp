// The models of bolts: told to users, and instantiated for double.
#include "all_models.hpp"
#include "detail/bolt_pattern.hpp"
#include "detail/bolted_joint.hpp"
#include "fields/at_level.hpp"

namespace fitwright::joints {

const fields::Model& bolted_joint_model() {
    static constexpr const char* places[] = {"",       "bolt",   "thread", "layer1", "layer2",
                                             "layer3", "layer4", "layer5", "layer6"};
    static const fields::Model model{
        {"joints", "bolted_joint",
         "What one bolt holds through the parts it clamps: stiffness, preload, opening, strength.",
         "Phi = n dP/(dS + dP); F_bolt = F + Phi P; F_clamp = F - (1 - Phi) P; dS, dP by bolt "
         "sections and by cones",
         "Concentric, elastic, one bolt; the load is the share of this bolt. Bending of the bolt "
         "and load off its axis are not in it. Ends of the preload are those of torque and both "
         "frictions at once.",
         "VDI 2230-1 (cones, settling, fatigue, from memory); Budynas & Nisbett, Shigley's "
         "Mechanical Engineering Design, ch. 8; FED-STD-H28/2 (shear areas, from memory)",
         "fw.joints.bolted_joint(bolt=fw.Bolt(diameter=\"12 mm\", pitch=\"1.75 mm\", "
         "yield_strength=\"640 MPa\", material=\"4140\"), thread=fw.InternalThread("
         "engagement=\"18 mm\", material=\"grey_iron\"), layers=[fw.ClampedLayer("
         "thickness=\"20 mm\", material=\"1045\")], hole=\"tapped\", torque=\"60 N m\", "
         "load=\"8 kN\").clamp_left"},
        &fields::Declared<BoltedJointInputs>::declaration,
        &fields::Declared<BoltedJointOutputs>::declaration,
        fields::all_formulas<BoltedJoint>(&BoltedJoint::run<double>),
        places};
    return model;
}

const fields::Model& bolt_pattern_model() {
    static constexpr const char* places[] = {"",        "place1",  "place2", "place3", "place4",
                                             "place5",  "place6",  "place7", "place8", "place9",
                                             "place10", "place11", "place12"};
    static const fields::Model model{
        {"joints", "bolt_pattern",
         "What each bolt carries, evenly spaced or not, one missing or not, under thrust, tilting "
         "moment, torque and side force.",
         "N_i = T/n + b (r_i - r_c) with the moments of the pattern; V_i = F/n + (M/J) square to "
         "(r_i - r_c)",
         "Rigid plate, like bolts, no prying; the forces are those of the load alone, without "
         "preload: in a preloaded joint the bolt feels its stiffness share of them, and shear is "
         "held by friction while it lasts.",
         "Shigley's Mechanical Engineering Design, bolts in shear and tension; statics",
         "fw.joints.bolt_pattern(places=[fw.BoltPlace(angle=\"0 deg\"), fw.BoltPlace(angle=\"120 "
         "deg\"), fw.BoltPlace(angle=\"240 deg\")], circle=\"190 mm\", thrust=\"12 kN\", "
         "moment=\"300 N m\").greatest_tension"},
        &fields::Declared<BoltPatternInputs>::declaration,
        &fields::Declared<BoltPatternOutputs>::declaration,
        fields::all_formulas<BoltPattern>(&BoltPattern::run<double>),
        places};
    return model;
}

} // namespace fitwright::joints
