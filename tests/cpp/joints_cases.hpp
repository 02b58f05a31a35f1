// Invented joints and tools that several tests share. Public headers and plain literals only.
#pragma once

#include "cases.hpp"
#include <fitwright/joints/bolt_pattern.hpp>
#include <fitwright/joints/bolted_joint.hpp>
#include <fitwright/joints/outer_ring.hpp>
#include <fitwright/joints/plate.hpp>
#include <fitwright/joints/ring_plate.hpp>
#include <fitwright/tooling/column.hpp>
#include <fitwright/tooling/holding_fixture.hpp>
#include <fitwright/tooling/nut_driver.hpp>
#include <fitwright/tooling/press_sleeve.hpp>
#include <fitwright/tooling/puller.hpp>
#include <fitwright/tooling/weld.hpp>
#include <fitwright/tooling/wrench.hpp>

#include <fitwright/fields/error.hpp>

namespace joints_cases {

using namespace fitwright;

// A model by name, its metals and choices in their order.
template <class Outputs, class Inputs>
Outputs run(const char* name, const Inputs& in, std::initializer_list<const char*> metals,
            std::vector<int> choices = {}) {
    std::vector<const materials::Material*> materials;
    for (const char* metal : metals)
        materials.push_back(&cases::metal(metal));
    choices.resize(16);
    Outputs out;
    fields::evaluate(fields::model_named(name), reinterpret_cast<const double*>(&in),
                     reinterpret_cast<double*>(&out), {materials.data(), choices.data(), nullptr});
    return out;
}
// What it says when it refuses.
template <class Outputs, class Inputs>
std::string refusal(const char* name, const Inputs& in, std::initializer_list<const char*> metals,
                    std::vector<int> choices = {}) {
    try {
        run<Outputs>(name, in, metals, std::move(choices));
    } catch (const DomainError& error) {
        return error.what();
    }
    return "";
}

// M10 of class 8.8.
inline joints::Bolt<double> bolt() {
    auto b = fields::standard_inputs<joints::Bolt>();
    b.diameter = 0.010;
    b.pitch = 0.0015;
    b.hole = 0.0112;
    b.head_diameter = 0.0146;
    b.yield_strength = 640e6;
    b.tensile_strength = 800e6;
    return b;
}

// Washer, steel and cast iron, warm, under a swinging load.
inline joints::BoltedJointInputs<double> bolted_joint() {
    auto in = fields::standard_inputs<joints::BoltedJointInputs>();
    in.bolt = bolt();
    in.bolt.shank_length = 0.012;
    in.bolt.temperature = 45.0;
    in.thread.engagement = 0.014;
    in.thread.bearing_diameter = 0.0152;
    in.layer1.thickness = 0.002;
    in.layer1.outside = 0.020;
    in.layer2.thickness = 0.018;
    in.layer2.outside = 0.031;
    in.layer2.temperature = 60.0;
    in.layer3.thickness = 0.022;
    in.layer3.temperature = 52.0;
    in.torque = 48.0;
    in.load = 7e3;
    in.load_low = 2e3;
    in.load_introduction = 0.7;
    return in;
}

// Five bolts, one missing from six; loaded every way.
inline joints::BoltPatternInputs<double> bolt_pattern() {
    auto in = fields::standard_inputs<joints::BoltPatternInputs>();
    in.place1.angle = 0.1;
    in.place2.angle = 1.15;
    in.place3.angle = 2.19;
    in.place4.angle = 3.24;
    in.place5.angle = 4.29;
    in.place5.diameter = 0.17;
    in.circle = 0.190;
    in.thrust = 20e3;
    in.moment = 500.0;
    in.moment_direction = 0.4;
    in.torque = 200.0;
    in.side_force = 2e3;
    in.side_direction = 1.0;
    return in;
}

// A cover with a hole, held on its bolt circle, under pressure and a force on a circle.
inline joints::PlateInputs<double> plate() {
    auto in = fields::standard_inputs<joints::PlateInputs>();
    in.outside = 0.215;
    in.hole = 0.120;
    in.thickness = 0.014;
    in.support = 0.190;
    in.pressure = 0.4e6;
    in.pressure_inside = 0.130;
    in.pressure_outside = 0.170;
    in.ring_load = 25e3;
    in.ring_diameter = 0.150;
    in.radius = 0.080;
    in.temperature = 60.0;
    return in;
}

// A ring 30 um proud of its pocket under a plate with twelve bolts, warm, thrust either way.
inline joints::RingPlateInputs<double> ring_plate() {
    auto in = fields::standard_inputs<joints::RingPlateInputs>();
    in.plate.outside = 0.215;
    in.plate.hole = 0.130;
    in.plate.thickness = 0.016;
    in.plate.heel_diameter = 0.212;
    in.plate.temperature = 50.0;
    in.ring.outside = 0.160;
    in.ring.inside = 0.142;
    in.ring.width = 0.03003;
    in.ring.contact_diameter = 0.152;
    in.ring.raceway_place = 0.45;
    in.ring.face_compliance = 2e-12;
    in.ring.temperature = 65.0;
    in.pocket.depth = 0.030;
    in.pocket.shoulder_inside = 0.146;
    in.pocket.temperature = 55.0;
    in.bolt = bolt();
    in.bolt.temperature = 52.0;
    in.thread.engagement = 0.018;
    in.thread.temperature = 55.0;
    in.bolts = 12.0;
    in.bolt_circle = 0.190;
    in.torque = 40.0;
    in.thrust_to_plate = 20e3;
    in.thrust_to_shoulder = 15e3;
    in.tilting_moment = 150.0;
    return in;
}

inline joints::OuterRingInputs<double> outer_ring() {
    auto in = fields::standard_inputs<joints::OuterRingInputs>();
    in.outside = 0.160;
    in.raceway = 0.144;
    in.shoulder = 0.140;
    in.width = 0.030;
    in.temperature = 60.0;
    in.housing.bore = 0.15999;
    in.housing.outside = 0.230;
    in.housing.temperature = 45.0;
    in.clamp_force = 15e3;
    in.clamp_force_high = 25e3;
    in.plate_diameter = 0.152;
    in.shoulder_diameter = 0.150;
    in.clamp_at_bolts = 1.2;
    in.clamp_between_bolts = 0.8;
    in.friction_torque = 3.0;
    in.failing_torque = 80.0;
    return in;
}

inline tooling::ColumnInputs<double> column() {
    auto in = fields::standard_inputs<tooling::ColumnInputs>();
    in.diameter = 0.030;
    in.bore = 0.012;
    in.length = 0.400;
    in.load = 40e3;
    in.eccentricity = 0.002;
    in.temperature = 45.0;
    return in;
}

inline tooling::WeldInputs<double> weld() {
    auto in = fields::standard_inputs<tooling::WeldInputs>();
    in.leg = 0.006;
    in.length = 0.050;
    in.distance = 0.060;
    in.axial_force = 8e3;
    in.shear_force = 5e3;
    in.torque = 150.0;
    in.bending_moment = 90.0;
    return in;
}

inline tooling::PressSleeveInputs<double> press_sleeve() {
    auto in = fields::standard_inputs<tooling::PressSleeveInputs>();
    in.force = 60e3;
    in.inside = 0.082;
    in.outside = 0.100;
    in.length = 0.200;
    in.face.inside = 0.080;
    in.face.outside = 0.105;
    in.face.temperature = 90.0;
    in.piston_diameter = 0.060;
    in.piston_bore = 0.021;
    in.screw_diameter = 0.030;
    in.screw_pitch = 0.006;
    return in;
}

inline tooling::Screw<double> screw() {
    auto s = fields::standard_inputs<tooling::Screw>();
    s.diameter = 0.030;
    s.pitch = 0.006;
    s.engagement = 0.045;
    s.length = 0.180;
    return s;
}

inline tooling::PullerInputs<double> puller() {
    auto in = fields::standard_inputs<tooling::PullerInputs>();
    in.pull = 60e3;
    in.warm_pull = 35e3;
    in.groove.width = 0.012;
    in.groove.depth = 0.006;
    in.groove.lip = 0.010;
    in.groove.diameter = 0.110;
    in.groove.temperature = 60.0;
    in.screw = screw();
    in.off_centre = 0.002;
    in.leg_width = 0.040;
    in.leg_thickness = 0.025;
    in.leg_length = 0.250;
    in.hook_thickness = 0.011;
    in.hook_reach = 0.005;
    in.yoke_width = 0.050;
    in.yoke_depth = 0.070;
    return in;
}

inline tooling::HoldingFixtureInputs<double> holding_fixture() {
    auto in = fields::standard_inputs<tooling::HoldingFixtureInputs>();
    in.mass = 900.0;
    in.share = 0.9;
    in.other_force = 500.0;
    in.rod = screw();
    in.rod.diameter = 0.036;
    in.plate.outside = 0.320;
    in.plate.thickness = 0.025;
    in.plate.nut_diameter = 0.060;
    in.plate.bolt_circle = 0.280;
    in.plate.bolts = 8.0;
    in.plate.leg = 0.008;
    in.bolt = bolt();
    in.travel = 0.002;
    return in;
}

inline tooling::NutDriverInputs<double> nut_driver() {
    auto in = fields::standard_inputs<tooling::NutDriverInputs>();
    in.torque = 900.0;
    in.nut.outside = 0.105;
    in.nut.thread = 0.075;
    in.nut.slots = 4.0;
    in.nut.slot_width = 0.010;
    in.nut.slot_depth = 0.005;
    in.nut.slot_length = 0.012;
    in.nut.growth = 20e-6;
    in.nut.temperature = 40.0;
    in.teeth = 4.0;
    in.circle = 0.100;
    in.tooth_width = 0.0095;
    in.tooth_height = 0.008;
    in.engagement = 0.010;
    in.overhang = 0.001;
    in.flank_angle = 0.1;
    in.side_force = 1.5e3;
    in.inside = 0.1054;
    in.outside = 0.125;
    in.length = 0.090;
    in.temperature = 25.0;
    return in;
}

inline tooling::WrenchAdapterInputs<double> wrench_adapter() {
    auto in = fields::standard_inputs<tooling::WrenchAdapterInputs>();
    in.torque = 600.0;
    in.wrench_length = 0.900;
    in.adapter_length = 0.120;
    in.angle = 0.4;
    return in;
}

inline tooling::MultiplierInputs<double> multiplier() {
    auto in = fields::standard_inputs<tooling::MultiplierInputs>();
    in.torque = 2e3;
    in.gear_ratio = 13.6;
    in.arm = 0.350;
    in.bear_angle = 0.1;
    in.height = 0.080;
    return in;
}

} // namespace joints_cases
