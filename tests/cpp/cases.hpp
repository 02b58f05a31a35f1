// The examples several tests share: a fit, a bearing, a nut and a whole job, all invented. Public
// headers and plain literals only (no arithmetic): the consumer compiles this with -ffast-math and
// must get the same bits.
#pragma once

#include <fitwright/heat/chill.hpp>
#include <fitwright/heat/seating.hpp>
#include <fitwright/heat/take_off.hpp>
#include <fitwright/job/job.hpp>
#include <fitwright/job/parts.hpp>
#include <fitwright/materials/material.hpp>
#include <fitwright/rings/elastic_plastic.hpp>
#include <fitwright/rings/hot_ring.hpp>
#include <fitwright/rings/nest.hpp>
#include <fitwright/rings/overhang.hpp>
#include <fitwright/rings/slip.hpp>
#include <fitwright/rings/stepped.hpp>
#include <fitwright/stack/squareness.hpp>
#include <fitwright/study/study.hpp>
#include <fitwright/threads/friction.hpp>
#include <fitwright/threads/locking.hpp>
#include <fitwright/threads/nut_growth.hpp>
#include <fitwright/threads/preload.hpp>
#include <fitwright/threads/stripping.hpp>
#include <initializer_list>
#include <string>
#include <utility>
#include <vector>

namespace cases {

using namespace fitwright;

inline const materials::Material& metal(const char* name) { return materials::find(name).numbers; }

// A material whose data do not change with temperature.
inline materials::Entry even_metal(double modulus, double expansion, double poisson) {
    materials::Entry e;
    e.name = "even";
    e.title = "the same at every temperature";
    const auto even = [](double value) { return materials::table_of({{20.0, value}}); };
    e.numbers = {even(modulus), even(expansion), even(600e6), poisson,
                 7850.0,        -100.0,          600.0,       500.0};
    return e;
}

// A ring of 105 mm on a hollow 80 mm seat, 38 um told as measured sizes, warm and turning.
inline rings::FitInputs<double> fit() {
    rings::FitInputs<double> in = fields::standard_inputs<rings::FitInputs>();
    in.shaft.bore = 0.030;
    in.shaft.seat = 0.080038;
    in.shaft.roughness = 1.6e-6;
    in.ring.bore = 0.080;
    in.ring.outside = 0.105;
    in.ring.length = 0.030;
    in.ring.contact_length = 0.027;
    in.ring.roughness = 2.5e-6;
    in.speed = 1000.0;
    in.shaft_temperature = 70.0;
    in.ring_temperature = 78.0;
    in.axial_force = 30e3;
    return in;
}

// A core and three rings, hot and turning; the outermost but one is about to let go.
inline rings::NestInputs<double> nest() {
    auto in = fields::standard_inputs<rings::NestInputs>();
    in.layer1.bore = 0.020;
    in.layer1.outside = 0.060;
    in.layer1.temperature = 60.0;
    in.layer2.outside = 0.080;
    in.layer2.interference = 30e-6;
    in.layer2.bore_roughness = 2e-6;
    in.layer2.temperature = 70.0;
    in.layer2.bore_temperature = 65.0;
    in.layer3.outside = 0.105;
    in.layer3.interference = 20e-6;
    in.layer3.temperature = 80.0;
    in.layer4.outside = 0.120;
    in.layer4.interference = 0.0;
    in.layer4.temperature = 85.0;
    in.layer4.axial_stress = -20e6;
    in.speed = 900.0;
    return in;
}

inline rings::SteppedInputs<double> stepped() {
    auto in = fields::standard_inputs<rings::SteppedInputs>();
    in.slice1.outside = 0.120;
    in.slice1.length = 0.015;
    in.slice2.outside = 0.100;
    in.slice2.length = 0.025;
    in.slice2.contact_length = 0.020;
    in.shaft.bore = 0.040;
    in.shaft.seat = 0.080;
    in.ring.bore = 0.080;
    in.interference = 60e-6;
    in.shaft_temperature = 40.0;
    in.ring_temperature = 46.0;
    in.speed = 900.0;
    return in;
}

// Ring and shaft both yield.
inline rings::ElasticPlasticInputs<double> yielding() {
    auto in = fields::standard_inputs<rings::ElasticPlasticInputs>();
    in.shaft.bore = 0.045;
    in.shaft.seat = 0.080;
    in.ring.bore = 0.080;
    in.ring.outside = 0.125;
    in.ring.length = 0.040;
    in.interference = 230e-6;
    in.ring_yield = 300e6;
    in.shaft_yield = 280e6;
    in.ring_tangent_modulus = 4e9;
    in.shaft_tangent_modulus = 3e9;
    in.speed = 500.0;
    return in;
}

inline rings::HotRingInputs<double> hot_ring() {
    auto in = fields::standard_inputs<rings::HotRingInputs>();
    in.bore = 0.060;
    in.outside = 0.110;
    in.radius = 0.040;
    in.bore_temperature = 40.0;
    in.outside_temperature = 150.0;
    return in;
}

inline rings::OverhangInputs<double> overhang() {
    auto in = fields::standard_inputs<rings::OverhangInputs>();
    in.shaft.bore = 0.030;
    in.shaft.seat = 0.080;
    in.ring.bore = 0.080;
    in.ring.outside = 0.110;
    in.ring.length = 0.030;
    in.interference = 60e-6;
    in.shaft_temperature = 40.0;
    in.ring_temperature = 46.0;
    in.speed = 800.0;
    in.axial_force = 25e3;
    return in;
}

inline rings::SlipInputs<double> slip() {
    auto in = fields::standard_inputs<rings::SlipInputs>();
    in.shaft.bore = 0.030;
    in.shaft.seat = 0.080;
    in.ring.bore = 0.080;
    in.ring.outside = 0.110;
    in.ring.length = 0.030;
    in.pressure = 40e6;
    in.torque = 900.0;
    in.thrust = 12e3;
    in.locked_force = -5e3;
    in.bending_moment = 700.0;
    return in;
}

inline bearings::MountedInputs<double> bearing() {
    auto in = fields::standard_inputs<bearings::MountedInputs>();
    in.bearing.balls = 15.0;
    in.bearing.ball_diameter = 0.017462;
    in.bearing.pitch_diameter = 0.1155;
    in.bearing.inner_curvature = 0.515;
    in.bearing.outer_curvature = 0.52;
    in.bearing.clearance = 150e-6;
    in.bearing.shim = 160e-6;
    in.inner_growth = 30e-6;
    in.outer_growth = 10e-6;
    in.ball_temperature = 85.0;
    in.thrust = 9e3;
    return in;
}

inline threads::TightenInputs<double> nut() {
    auto in = fields::standard_inputs<threads::TightenInputs>();
    in.nut.diameter = 0.075;
    in.nut.pitch = 0.002;
    in.nut.height = 0.020;
    in.nut.outside = 0.104;
    in.nut.face_inside = 0.077;
    in.nut.face_outside = 0.096;
    in.torque = 650.0;
    in.shaft_bore = 0.030;
    return in;
}

inline threads::LockTabsInputs<double> lock_tabs() {
    auto in = fields::standard_inputs<threads::LockTabsInputs>();
    in.nut = nut().nut;
    in.tabs = 17.0;
    in.slots = 4.0;
    in.torque_low = 550.0;
    in.torque_high = 650.0;
    in.torque_limit = 720.0;
    in.compliance = 0.5e-9;
    in.miss = 0.05;
    in.shaft_bore = 0.030;
    return in;
}
inline threads::NutGrowthInputs<double> nut_growth() {
    auto in = fields::standard_inputs<threads::NutGrowthInputs>();
    in.nut = nut().nut;
    in.preload = 50e3;
    in.compliance = 0.5e-9;
    in.speed = 1152.0;
    in.nut_temperature = 73.0;
    in.shaft_temperature = 70.0;
    in.shaft_bore = 0.030;
    return in;
}
inline threads::StrippingInputs<double> stripping() {
    auto in = fields::standard_inputs<threads::StrippingInputs>();
    in.nut = nut().nut;
    in.preload = 50e3;
    in.internal_minor = 0.0731;
    in.shaft_temperature = in.nut_temperature = 45.0;
    in.shaft_bore = 0.030;
    return in;
}
inline threads::TurnInputs<double> turn() {
    auto in = fields::standard_inputs<threads::TurnInputs>();
    in.nut = nut().nut;
    in.snug_torque = 150.0;
    in.angle = 0.08;
    in.compliance = 0.5e-9;
    in.settling = 2e-6;
    in.temperature = 45.0;
    in.shaft_bore = 0.030;
    return in;
}
inline threads::StretchInputs<double> stretch() {
    auto in = fields::standard_inputs<threads::StretchInputs>();
    in.nut = nut().nut;
    in.preload = 50e3;
    in.body_diameter = 0.080;
    in.body_length = 0.100;
    in.thread_length = 0.004;
    in.temperature = 45.0;
    in.shaft_bore = 0.030;
    return in;
}
inline threads::ScatterInputs<double> scatter() {
    auto in = fields::standard_inputs<threads::ScatterInputs>();
    in.nut = nut().nut;
    in.torque = 650.0;
    in.shaft_bore = 0.030;
    return in;
}
inline threads::FrictionInputs<double> friction() {
    auto in = fields::standard_inputs<threads::FrictionInputs>();
    in.nut = nut().nut;
    in.torque = 650.0;
    in.preload = 60e3;
    in.face_over_thread = 1.2;
    in.shaft_bore = 0.030;
    return in;
}
inline threads::BreakawayInputs<double> breakaway() {
    auto in = fields::standard_inputs<threads::BreakawayInputs>();
    in.nut = nut().nut;
    in.torque = 650.0;
    in.loosening_torque = 600.0;
    in.face_over_thread = 1.2;
    in.breakaway_factor = 1.02;
    in.shaft_bore = 0.030;
    return in;
}
inline threads::HandInputs<double> hand() {
    auto in = fields::standard_inputs<threads::HandInputs>();
    in.nut = nut().nut;
    in.preload = 50e3;
    in.drag_torque = 20.0;
    in.speed = 1152.0;
    in.start_time = 0.5;
    in.trip_time = 0.25;
    in.shaft_bore = 0.030;
    return in;
}
inline stack::WedgeInputs<double> wedge() {
    auto in = fields::standard_inputs<stack::WedgeInputs>();
    in.clamp = 40e3;
    in.temperature = 45.0;
    in.rotor_mass = 60.0;
    in.speed = 1152.0;
    in.plane_a = -0.02;
    in.plane_b = 0.07;
    in.second_journal = 0.2;
    in.shaft.bore = 0.030;
    in.shaft.shoulder_runout = 3e-6;
    in.shaft.shoulder_angle = 1.1;
    in.shaft.nut_runout = 8e-6;
    in.shaft.nut_angle = -0.4;
    in.ring.bore = 0.080;
    in.ring.outside = 0.105;
    in.ring.length = 0.030;
    in.ring.wedge = 6e-6;
    in.ring.wedge_angle = 0.3;
    in.ring.runout = 20e-6;
    in.ring.runout_angle = 2.0;
    in.ring.turned = 0.5;
    return in;
}

inline heat::OvenInputs<double> oven() {
    auto in = fields::standard_inputs<heat::OvenInputs>();
    in.shaft.seat = 0.080038;
    in.ring.bore = 0.080;
    in.ring.outside = 0.105;
    in.ring.length = 0.030;
    return in;
}

// The ring at its limit leaves some of it to the shaft.
inline heat::ChillInputs<double> chill() {
    auto in = fields::standard_inputs<heat::ChillInputs>();
    in.shaft = oven().shaft;
    in.ring = oven().ring;
    in.shaft.seat = 0.080090;
    in.shaft_temperature = 24.0;
    in.slip_clearance = 50e-6;
    in.heating_limit = 118.0;
    in.shaft_lowest = -70.0;
    return in;
}

inline heat::SeatingInputs<double> seating() {
    auto in = fields::standard_inputs<heat::SeatingInputs>();
    in.shaft = fit().shaft;
    in.ring = fit().ring;
    in.press_force = 9e3;
    return in;
}

inline heat::TakeOffInputs<double> take_off() {
    auto in = fields::standard_inputs<heat::TakeOffInputs>();
    in.shaft = fit().shaft;
    in.ring = fit().ring;
    in.shaft_temperature = 24.0;
    in.difference = 11.0;
    in.loose_clearance = 50e-6;
    in.heating_limit = 118.0;
    return in;
}

template <class Inputs>
std::vector<double> numbers(const Inputs& in) {
    const auto* first = reinterpret_cast<const double*>(&in);
    return {first, first + sizeof(Inputs) / sizeof(double)};
}

using Values = std::initializer_list<std::pair<const char*, double>>;

inline void give(job::Job& job, const std::string& part, Values values) {
    for (const auto& [name, value] : values)
        job.set(job.leaf(part + name), value);
}

// A clamp nut M75 x 2 and its torque.
inline void give_nut(job::Job& job, double torque, Values more) {
    give(job, "nut.",
         {{"diameter", 0.075},
          {"pitch", 0.002},
          {"height", 0.020},
          {"outside", 0.104},
          {"face_inside", 0.077},
          {"face_outside", 0.096},
          {"torque", torque}});
    give(job, "nut.", more);
}

// Sleeve, bearing inner ring in two halves, wheel and slinger under a left-hand nut.
inline job::Plan blower_plan() {
    const auto& entry = [](const char* name) -> const materials::Entry& {
        return materials::find(name);
    };
    job::Plan plan;
    plan.shaft = entry("4340");
    plan.nut = entry("4140");
    plan.left_hand = true;
    plan.lock = entry("1020");
    plan.bearing = job::BearingPlan{entry("52100"), entry("52100"), {"inner_thrust", "inner_back"}};
    plan.seats = {"main"};
    plan.rings = {{"sleeve", "main", entry("4140"), true},
                  {"inner_thrust", "main", entry("52100"), true},
                  {"inner_back", "main", entry("52100"), true},
                  {"wheel", "main", entry("1045"), false},
                  {"slinger", "main", entry("1045"), false}};
    plan.states = {"cold", "start", "full_load", "trip"};
    return plan;
}

inline job::Job blower() {
    job::Job job(blower_plan());
    give(job, "shaft.", {{"bore", 0.030}, {"shoulder_roughness", 1.6e-6}});
    give(job, "seats.main.", {{"diameter", 0.080036}, {"roughness", 1.6e-6}});
    give(job, "rings.sleeve.",
         {{"bore", 0.079995},
          {"outside", 0.100},
          {"length", 0.032},
          {"contact_length", 0.029},
          {"roughness", 2.5e-6},
          {"slip_clearance", 30e-6},
          {"oven", 110.0}});
    for (const char* half : {"rings.inner_thrust.", "rings.inner_back."})
        give(job, half,
             {{"bore", 0.079994},
              {"outside", 0.104},
              {"length", 0.0195},
              {"contact_length", 0.017},
              {"roughness", 1.6e-6},
              {"overhang", 0.0},
              {"face_roughness", 1e-6},
              {"settling", 0.3e-6},
              {"slip_clearance", 30e-6},
              {"oven", 110.0}});
    give(job, "rings.wheel.",
         {{"bore", 0.080058}, {"outside", 0.118}, {"length", 0.014}, {"settling", 0.6e-6}});
    give(job, "rings.slinger.",
         {{"bore", 0.080060}, {"outside", 0.102}, {"length", 0.016}, {"settling", 0.6e-6}});
    give(job, "lock.",
         {{"bore", 0.0755},
          {"outside", 0.098},
          {"thickness", 0.0015},
          {"face_roughness", 4e-6},
          {"settling", 1e-6}});
    give_nut(job, 650.0, {{"settling", 0.6e-6}});
    give(job, "bearing.",
         {{"balls", 15.0},
          {"ball_diameter", 0.017462},
          {"pitch_diameter", 0.1155},
          {"inner_curvature", 0.515},
          {"outer_curvature", 0.52},
          {"clearance", 150e-6},
          {"shim", 160e-6}});
    give(job, "states.start.",
         {{"speed", 733.0},
          {"shaft_temperature", 35.0},
          {"thrust", 4e3},
          {"lags.sleeve", 11.0},
          {"lags.inner_thrust", 12.0},
          {"lags.inner_back", 12.0},
          {"lags.wheel", 5.0},
          {"lags.slinger", 6.0},
          {"lags.nut", 3.0},
          {"lags.outer_ring", 7.0},
          {"lags.balls", 13.0}});
    give(job, "states.full_load.",
         {{"speed", 1152.0},
          {"shaft_temperature", 70.0},
          {"thrust", 9e3},
          {"lags.sleeve", 5.0},
          {"lags.inner_thrust", 7.0},
          {"lags.inner_back", 6.0},
          {"lags.wheel", 2.0},
          {"lags.slinger", 2.0},
          {"lags.nut", 1.0},
          {"lags.outer_ring", -3.0},
          {"lags.balls", 9.0}});
    give(job, "states.trip.",
         {{"shaft_temperature", 76.0},
          {"lags.sleeve", -6.0},
          {"lags.inner_thrust", -4.0},
          {"lags.inner_back", -5.0},
          {"lags.wheel", -5.0},
          {"lags.slinger", -5.0},
          {"lags.nut", -2.0},
          {"lags.outer_ring", -8.0},
          {"lags.balls", -2.0}});
    return job;
}

inline study::Subject subject(const job::Job& job) {
    study::Subject s{&job::quick_formulas(),   job.context(), job.values(), {}, {},
                     job.layout().output_count};
    for (const job::InputPath& in : job.inputs()) {
        s.low.push_back(in.field->range.low);
        s.high.push_back(in.field->range.high);
    }
    return s;
}

inline study::Spread normal(const job::Job& job, const char* path, double deviation) {
    const int leaf = job.leaf(path);
    return {leaf,
            -1,
            -1,
            path,
            study::Shape::normal,
            job.values()[static_cast<std::size_t>(leaf)],
            deviation,
            0.0,
            0.0};
}
inline study::Spread triangular(const job::Job& job, const char* path, double low, double high) {
    const int leaf = job.leaf(path);
    return {leaf,
            -1,
            -1,
            path,
            study::Shape::triangular,
            job.values()[static_cast<std::size_t>(leaf)],
            0.0,
            low,
            high};
}

inline std::vector<study::Spread> spreads(const job::Job& job) {
    std::vector<study::Spread> all{
        normal(job, "seats.main.diameter", 1.5e-6),
        normal(job, "rings.sleeve.bore", 2e-6),
        normal(job, "rings.inner_thrust.bore", 1.5e-6),
        normal(job, "nut.torque", 20.0),
        triangular(job, "nut.settling", 0.3e-6, 1.2e-6),
        normal(job, "states.full_load.thrust", 800.0),
        normal(job, "states.full_load.lags.sleeve", 1.0),
        normal(job, "states.full_load.lags.inner_back", 1.0),
    };
    // An input with a low and a high end is one number in a sample.
    study::Spread friction = triangular(job, "rings.sleeve.friction", 0.12, 0.18);
    friction.low_leaf = friction.leaf + 1;
    friction.high_leaf = friction.leaf + 2;
    all.push_back(friction);
    return all;
}

inline std::vector<study::Tracked> tracked(const job::Job& job) {
    return {{job.output("full_load", "shoulder.clamp_low"), 8e3, fields::none},
            {job.output("full_load", "nut.force"), 20e3, fields::none},
            {job.output("full_load", "bearing.clearance"), 50e-6, fields::none},
            {job.output("cold", "bearing.end_play"), 0.25e-3, 0.45e-3},
            {job.output("full_load", "rings.sleeve.pressure"), fields::none, fields::none}};
}

} // namespace cases
