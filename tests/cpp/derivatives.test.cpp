// Exact derivatives against finite differences: the models of rings, oven and thread, and the whole
// job. (Contact and bearing have their own files.)
#include "cases.hpp"
#include "catch.hpp"
#include "joints_cases.hpp"

#include <algorithm>
#include <cmath>
#include <fitwright/bearings/life.hpp>
#include <fitwright/bearings/roller_rating.hpp>
#include <fitwright/bearings/service.hpp>
#include <fitwright/rings/thick_ring.hpp>
#include <string>

using namespace fitwright;

namespace {

template <class Inputs>
void compare(const char* name, const Inputs& in, std::initializer_list<const char*> metals,
             std::vector<int> choices = {0, 0, 0, 0}, const std::vector<std::string>& still = {}) {
    INFO(name);
    const fields::Model& model = fields::model_named(name);
    std::vector<const materials::Material*> materials;
    for (const char* metal : metals)
        materials.push_back(&cases::metal(metal));
    const fields::Context context{materials.data(), choices.data(), nullptr};
    const std::vector<double> at = cases::numbers(in);
    const auto leaves = fields::leaves_of(*model.inputs);
    const auto outputs = fields::leaves_of(*model.outputs);
    std::vector<double> value(outputs.size());
    std::vector<double> exact(outputs.size() * at.size());
    fields::jacobian(model, at.data(), value.data(), exact.data(), context);
    for (std::size_t i = 0; i < at.size(); ++i) {
        if (std::isinf(at[i]) || std::count(still.begin(), still.end(), leaves[i].path) > 0)
            continue; // worked out from others, or whole
        // Of compliances a thousandth is no small step.
        const bool tiny = leaves[i].field->quantity == fields::Quantity::compliance;
        const double h = std::max(std::fabs(at[i]), tiny ? 0.0 : 1e-3) * 1e-6;
        const auto moved = [&](double step) {
            std::vector<double> x = at;
            x[i] += step;
            std::vector<double> y(outputs.size());
            fields::evaluate(model, x.data(), y.data(), context);
            return y;
        };
        const auto high = moved(h);
        const auto low = moved(-h);
        for (std::size_t o = 0; o < outputs.size(); ++o) {
            const double slope = (high[o] - low[o]) / (2.0 * h);
            // 1e-16 of the value over h is what rounding leaves of a difference; growths are
            // differences of numbers of a hundred times their scale.
            const double scale = 100.0 * outputs[o].field->standard;
            const double noise = 1e-14 * std::max(std::fabs(value[o]), scale) / h;
            INFO("d " << outputs[o].path << " / d " << leaves[i].path);
            CHECK(exact[o * at.size() + i] == Approx(slope).epsilon(1e-5).margin(noise));
        }
    }
}

} // namespace

// Away from the ends of ranges, and from 20 degC, where property tables have a corner.
TEST_CASE("every derivative of a model agrees with finite differences", "[derivatives]") {
    auto fit = cases::fit();
    fit.ring.smoothing = 0.5;
    compare("rings.fit", fit, {"4340", "52100"});

    auto ring = fields::standard_inputs<rings::ThickRingInputs>();
    ring.bore = 0.03;
    ring.outside = 0.1;
    ring.radius = 0.02;
    ring.inner_pressure = 30e6;
    ring.outer_pressure = 10e6;
    ring.axial_stress = -20e6;
    ring.speed = 900.0;
    ring.temperature = 60.0;
    for (const int shape : {0, 1})
        compare("rings.thick_ring", ring, {"4340"}, {shape});

    auto oven = cases::oven();
    oven.shaft_temperature = 27.0;
    oven.slip_clearance = 60e-6;
    oven.oven = 112.0;
    oven.heating_limit = 120.0;
    // The oven sees seat, interference and expansion of its parts, and nothing else of them.
    oven.shaft.bore = 0.03;
    oven.shaft.roughness = oven.ring.roughness = 2e-6;
    oven.ring.smoothing = 0.5;
    compare("heat.oven", oven, {"4340", "52100"});

    auto chill = cases::chill();
    chill.shaft = oven.shaft;
    chill.shaft.seat = 0.080090;
    chill.ring = oven.ring;
    compare("heat.chill", chill, {"4340", "52100"});
    auto seating = cases::seating();
    seating.ring.smoothing = 0.5;
    seating.springback_low = 1.5;
    seating.end_effect_low = 0.01;
    for (const int reacted : {0, 1})
        compare("heat.seating", seating, {"4340", "52100"}, {reacted, 0, 0, 0});
    auto take_off = cases::take_off();
    take_off.ring.smoothing = 0.5;
    compare("heat.take_off", take_off, {"4340", "52100"});

    auto nut = cases::nut();
    nut.temperature = 45.0;
    compare("threads.tighten", nut, {"4340", "4340"});
    auto torque = fields::standard_inputs<threads::TorqueInputs>();
    torque.nut = nut.nut;
    torque.preload = 60e3;
    torque.shaft_bore = 0.03;
    torque.temperature = 45.0;
    compare("threads.torque", torque, {"4340", "4340"});

    compare("threads.friction", cases::friction(), {"4340"});
    compare("threads.breakaway", cases::breakaway(), {"4340"});
    compare("threads.turn_of_nut", cases::turn(), {"4340", "1045"});
    compare("threads.stretch", cases::stretch(), {"4340", "1045"});
    compare("threads.scatter", cases::scatter(), {"4340"});
    compare("threads.stripping", cases::stripping(), {"4340", "1045"});
    compare("threads.nut_growth", cases::nut_growth(), {"4340", "1045"});
    compare("threads.lock_tabs", cases::lock_tabs(), {"4340"});
    compare("threads.hand", cases::hand(), {"4340"});
    compare("stack.wedge", cases::wedge(), {"4340", "1045"});
}

TEST_CASE("derivatives of ratings, lives, creep and frequencies", "[derivatives]") {
    auto rating = fields::standard_inputs<bearings::DynamicRatingInputs>();
    rating.row.balls = 16.0;
    rating.row.ball_diameter = 0.022;
    rating.row.pitch_diameter = 0.125;
    rating.row.inner_curvature = 0.53;
    rating.row.outer_curvature = 0.545;
    rating.radial_load = 2e3;
    rating.axial_load = 9e3;
    rating.speed = 1000.0;
    auto at_rest = fields::standard_inputs<bearings::StaticRatingInputs>();
    at_rest.radial_load = 2e3;
    at_rest.axial_load = 9e3;
    auto reference = fields::standard_inputs<bearings::ReferenceLifeInputs>();
    reference.inner_load = 1e3;
    reference.outer_load = 1.2e3;
    reference.speed = 900.0;
    // Whole rows stay whole: nothing moves there.
    for (const double angle : {0.3, 1.2}) {
        const int kind = angle > 1.0 ? 1 : 0;
        rating.row.contact_angle = angle;
        at_rest.row = reference.row = rating.row;
        if (kind == 1)
            rating.radial_load = 100.0;
        compare("bearings.dynamic_rating", rating, {}, {kind, 0, 1}, {"row.rows"});
        compare("bearings.static_rating", at_rest, {}, {kind, 0, 1}, {"row.rows"});
        compare("bearings.reference_life", reference, {}, {kind, 0, 1, 0}, {"row.rows"});
    }
    auto rollers = fields::standard_inputs<bearings::RollerRatingInputs>();
    rollers.row.rollers = 14.0;
    rollers.row.roller_diameter = 0.012;
    rollers.row.effective_length = 0.011;
    rollers.row.pitch_diameter = 0.065;
    rollers.row.contact_angle = 0.3;
    rollers.radial_load = 2e3;
    rollers.axial_load = 3e3;
    rollers.speed = 200.0;
    compare("bearings.roller_rating", rollers, {}, {0, 0}, {"row.rows"});

    auto basic = fields::standard_inputs<bearings::BasicLifeInputs>();
    basic.dynamic_rating = 30e3;
    basic.radial_load = 5e3;
    basic.axial_load = 1e3;
    basic.axial_factor = 1.5;
    basic.rotation_factor = 1.1;
    basic.wanted_life = 3e8;
    basic.reliability = 0.95;
    basic.speed = 100.0;
    for (const int law : {0, 1, 2})
        compare("bearings.basic_life", basic, {}, {law % 2, law});

    auto modified = fields::standard_inputs<bearings::ModifiedLifeInputs>();
    modified.dynamic_rating = 30e3;
    modified.static_rating = 20e3;
    modified.equivalent_load = 3e3;
    modified.pitch_diameter = 0.165;
    modified.speed = 300.0;
    modified.reliability = 0.95;
    modified.oil.viscosity_40 = 68e-6;
    modified.oil.viscosity_100 = 8.7e-6;
    for (const int kind : {0, 1, 2, 3})
        compare("bearings.modified_life", modified, {}, {kind, 2, 1});

    auto creep = fields::standard_inputs<bearings::CreepInputs>();
    creep.inner.seat_diameter = creep.outer.seat_diameter = 0.08;
    creep.inner.length = creep.outer.length = 0.03;
    creep.inner.pressure = 20e6;
    creep.outer.pressure = 5e6;
    creep.outer.clamp_force = 5e3;
    creep.inner.clamp_force = 1e3;
    creep.outer.face_diameter = 0.09;
    creep.outer.faces = 1.5;
    creep.inner.faces = 1.5;
    creep.oil.viscosity_40 = 68e-6;
    creep.oil.viscosity_100 = 8.7e-6;
    creep.speed = 500.0;
    creep.pitch_diameter = 0.115;
    creep.contact_angle = 0.4;
    creep.radial_load = 1e3;
    creep.axial_load = 9e3;
    creep.static_rating = 100e3;
    creep.equivalent_static_load = 5e3;
    for (const int kind : {0, 1, 2, 3, 4})
        compare("bearings.creep", creep, {}, {kind, 0});

    auto heard = fields::standard_inputs<bearings::FrequenciesInputs>();
    heard.balls = 15.0;
    heard.ball_diameter = 0.0175;
    heard.pitch_diameter = 0.1155;
    heard.inner_angle = 0.6;
    heard.outer_angle = 0.3;
    heard.speed = 1000.0;
    auto service = fields::standard_inputs<bearings::ServiceInputs>();
    service.row = at_rest.row;
    service.oil = modified.oil;
    service.service.contamination_factor = 0.5;
    service.service.reliability = 0.95;
    service.speed = 900.0;
    service.radial_load = 300.0;
    service.axial_load = 9e3;
    service.inner_load = 1e3;
    service.outer_load = 1.3e3;
    service.inner_angle = 1.25;
    service.outer_angle = 1.1;
    service.inner_holding = service.outer_holding = 10.0;
    compare("bearings.service", service, {}, {1, 0, 1, 0, 0}, {"row.rows"});
    for (const int turning : {0, 1})
        for (const int control : {0, 1})
            compare("bearings.frequencies", heard, {}, {turning, control});
}

TEST_CASE("derivatives of joints and tools", "[derivatives]") {
    namespace jc = joints_cases;
    const auto layers = {"4140", "1045", "1045", "1045", "grey_iron", "1045", "1045", "1045"};
    auto joint = jc::bolted_joint();
    joint.thread.temperature = joint.layer1.temperature = 33.0; // 20 deg is a knot of tables
    for (const int kind : {0, 1})
        compare("joints.bolted_joint", joint, layers, {0, 2, kind, kind, kind, 1 + kind});
    compare("joints.bolt_pattern", jc::bolt_pattern(), {}, {4});
    for (const int edge : {0, 1})
        for (const int inner : {0, 1, 2, 3})
            compare("joints.plate", jc::plate(), {"1045"}, {edge, inner, 0},
                    {"centre_load", "centre_diameter"}); // it has a hole
    auto plated = jc::ring_plate();
    plated.pocket.shim = 1e-5;
    plated.bolt.shank_length = 0.005;
    compare("joints.ring_plate", plated, {"1045", "52100", "ductile_iron", "4140", "ductile_iron"},
            {0}, {"bolts"});
    compare("joints.outer_ring", jc::outer_ring(), {"52100", "ductile_iron"}, {},
            {"axial_gap"}); // it is clamped
    compare("tooling.column", jc::column(), {"1045"}, {0});
    auto weld = jc::weld();
    weld.temperature = 33.0;
    for (const int pattern : {0, 1, 2, 3})
        compare("tooling.weld", weld, {"1020"}, {pattern}, {"welds"});
    auto sleeve = jc::press_sleeve();
    sleeve.temperature = 33.0;
    compare("tooling.press_sleeve", sleeve, {"1045", "52100"}, {1});
    for (const int legs : {0, 1})
        compare("tooling.puller", jc::puller(), {"4140", "52100", "4140"}, {0, legs, 1});
    auto fixture = jc::holding_fixture();
    fixture.bolt.shank_length = 0.005;
    fixture.bolt.temperature = 33.0;
    for (const int axis : {0, 1})
        compare("tooling.holding_fixture", fixture, {"4140", "1020", "4140"}, {axis, 0, 0, 1},
                {"plate.bolts", "plate.weld_sides"});
    for (const int teeth : {0, 1})
        compare("tooling.nut_driver", jc::nut_driver(), {"4140", "1045"}, {teeth, 0},
                {"teeth", "nut.slots"});
    compare("tooling.wrench_adapter", jc::wrench_adapter(), {});
    for (const int turns : {0, 1})
        compare("tooling.multiplier", jc::multiplier(), {}, {turns, 0});
}

TEST_CASE("every derivative of the whole job agrees with finite differences", "[job]") {
    job::Job job = cases::blower();
    cases::give(job, "",
                {{"states.cold.shaft_temperature", 21.0},
                 {"rings.sleeve.smoothing", 0.5},
                 {"rings.inner_thrust.smoothing", 0.5},
                 {"rings.inner_back.smoothing", 0.5},
                 {"rings.inner_thrust.overhang", 0.1},
                 {"rings.inner_thrust.overhang_low", 0.05},
                 {"rings.inner_back.overhang", 0.1},
                 {"rings.inner_back.overhang_low", 0.05}});
    const job::Job::Jacobian exact = job.jacobian();
    CHECK(exact.outputs == job.evaluate());
    const std::size_t inputs = job.inputs().size();
    int compared = 0;
    for (std::size_t i = 0; i < inputs; ++i) {
        const double x = job.values()[i];
        const fields::Range& range = job.inputs()[i].field->range;
        const double h = std::max(std::fabs(x), 1e-3 * std::min(1.0, range.high)) * 2e-6;
        if (!std::isfinite(x) || x - h <= range.low || x + h >= range.high)
            continue; // worked out, or at an end of its range
        const auto moved = [&](double step) {
            job::Job there = job;
            there.set(static_cast<int>(i), x + step);
            return there.evaluate();
        };
        const auto low = moved(-h);
        const auto high = moved(h);
        const auto low2 = moved(-2 * h);
        const auto high2 = moved(2 * h);
        for (std::size_t o = 0; o < exact.outputs.size(); ++o) {
            const double slope = (8 * (high[o] - low[o]) - (high2[o] - low2[o])) / (12 * h);
            // What rounding leaves: 1e-15 of the largest numbers an output is a difference of
            // (growths and clearances come from diameters of 0.1 m, margins from temperatures).
            const double scale = job.outputs()[o].field->standard;
            const double noise = 2e-14 * (std::fabs(high[o]) + 100.0 * scale) / h;
            INFO("d " << job.outputs()[o].state << " " << job.outputs()[o].path << " / d "
                      << job.inputs()[i].path);
            // A bearing turns to its other side with the thrust: no derivative there.
            const bool turns = x == 0.0 && job.inputs()[i].path.ends_with(".thrust") &&
                               job.outputs()[o].path.starts_with("bearing.");
            if (!turns)
                CHECK(exact.derivatives[o * inputs + i] ==
                      Approx(slope).epsilon(1e-4).margin(noise));
            ++compared;
        }
    }
    CHECK(compared > 10000);
}
