// The bearing of a job at speed and in service: what the rooms give alone, and what is told when it
// cannot be.
#include "job_checks.hpp"

#include <fitwright/bearings/service.hpp>
#include <fitwright/bearings/thrust.hpp>
#include <fitwright/job/enclosed.hpp>
#include <fitwright/job/parts.hpp>

using namespace fitwright;
using namespace job_checks;

namespace {

// The blower with oil, and its outer ring in a pocket that a plate clamps.
job::Job in_service(job::ServicePlan service = {}) {
    job::Plan plan = cases::blower_plan();
    service.pocket = true;
    plan.service = service;
    job::Job job = oiled_blower(plan);
    cases::give(job, "pocket.",
                {{"seat_diameter", 0.150}, {"length", 0.030}, {"clamp_force", 6e3}});
    cases::give(job, "states.start.", {{"share", 0.1}});
    cases::give(job, "states.full_load.", {{"share", 0.9}, {"oil_temperature", 75.0}});
    return job;
}

bearings::Bearing<double> bearing_of(const job::Job& job) {
    return *reinterpret_cast<const bearings::Bearing<double>*>(
        &job.values()[at(job.leaf("bearing.balls"))]);
}

} // namespace

TEST_CASE("the balls of a job are those of the bearing alone", "[job][bearing]") {
    const job::Job job = cases::blower();
    for (const std::string state : {"cold", "start", "full_load", "trip"}) {
        auto in = fields::standard_inputs<bearings::ThrustInputs>();
        in.bearing = bearing_of(job);
        in.inner_growth = value(job, state, "raceway_growth");
        in.outer_growth = value(job, state, "outer_growth");
        const std::string here = "states." + state + ".";
        in.ball_temperature = input(job, (here + "shaft_temperature").c_str()) +
                              input(job, (here + "lags.balls").c_str());
        in.thrust = input(job, (here + "thrust").c_str());
        in.speed = input(job, (here + "speed").c_str());
        const auto alone =
            bearings::thrust_equilibrium(in, cases::metal("52100"), cases::metal("52100"));
        const auto leaves =
            fields::leaves_of(fields::Declared<bearings::RunningOutputs>::declaration);
        for (std::size_t i = 0; i < leaves.size(); ++i) {
            CAPTURE(state, leaves[i].path);
            if (in.thrust == 0.0 && leaves[i].path == "arch_gap") // not asked for
                CHECK(value(job, state, "arch_gap") == Approx(0.015 * 0.017462));
            else
                CHECK(
                    value(job, state, leaves[i].path) ==
                    Approx(reinterpret_cast<const double*>(&alone)[i]).epsilon(1e-9).margin(1e-15));
        }
        CHECK(value(job, state, "clearance") ==
              Approx(input(job, "bearing.clearance") - in.inner_growth + in.outer_growth -
                     value(job, state, "balls_growth"))
                  .epsilon(1e-9));
    }
}

TEST_CASE("a probe at the casing hears the frequencies of the angles", "[job][bearing]") {
    const job::Job job = cases::blower(); // no oil needed
    for (const std::string state : {"start", "full_load"}) {
        auto in = fields::standard_inputs<bearings::FrequenciesInputs>();
        in.balls = 15.0;
        in.ball_diameter = 0.017462;
        in.pitch_diameter = 0.1155;
        in.inner_angle = value(job, state, "inner_angle");
        in.outer_angle = value(job, state, "outer_angle");
        in.speed = input(job, ("states." + state + ".speed").c_str());
        const auto alone = bearings::frequencies(in);
        CHECK(value(job, state, "cage") == Approx(alone.cage).epsilon(1e-8));
        CHECK(value(job, state, "ball_spin") == Approx(alone.ball_spin).epsilon(1e-8));
        CHECK(value(job, state, "inner_pass") == Approx(alone.inner_pass).epsilon(1e-8));
        CHECK(value(job, state, "outer_pass") == Approx(alone.outer_pass).epsilon(1e-8));
        CHECK(value(job, state, "inner_pass_ratio") ==
              Approx(alone.inner_pass_order).epsilon(1e-8));
        CHECK(value(job, state, "outer_pass_ratio") ==
              Approx(alone.outer_pass_order).epsilon(1e-8));
    }
}

TEST_CASE("the service in a job is that of the bearing alone", "[job][bearing]") {
    const job::Job job = in_service();
    CHECK(told(job) == "");
    const auto outputs = job.evaluate();
    for (const std::string state : {"start", "full_load"}) {
        CAPTURE(state);
        const auto of = [&](const char* path) { return outputs[at(job.output(state, path))]; };
        auto in = fields::standard_inputs<bearings::ServiceInputs>();
        in.row.balls = 15.0;
        in.row.ball_diameter = 0.017462;
        in.row.pitch_diameter = 0.1155;
        in.row.inner_curvature = 0.515;
        in.row.outer_curvature = 0.52;
        // Free angle of 150 um: cos = 1 - Pd/(2 (fi + fo - 1) D)
        in.row.contact_angle = std::acos(1.0 - 150e-6 / (2.0 * 0.035 * 0.017462));
        in.oil.viscosity_40 = 46e-6;
        in.oil.viscosity_100 = 6.8e-6;
        const std::string here = "states." + state + ".";
        in.oil_temperature = state == "start" ? 35.0 + 13.0 : 75.0; // that of the balls
        in.speed = input(job, (here + "speed").c_str());
        in.axial_load = input(job, (here + "thrust").c_str());
        in.inner_load = of("bearing.inner_load");
        in.outer_load = of("bearing.outer_load");
        in.inner_angle = of("bearing.inner_angle");
        in.outer_angle = of("bearing.outer_angle");
        // The sleeve grips, the wheel slides: one face holds, at 0.1 and under the least clamp.
        in.inner_holding =
            of("rings.inner_thrust.torque_capacity") + of("rings.inner_back.torque_capacity") +
            0.1 * std::min(of("nut.force_low"), of("shoulder.clamp_low")) * 0.080036 / 2.0;
        in.outer_holding = 0.1 * 6e3 * 2.0 * 0.150 / 2.0;
        const auto alone = bearings::service(in);
        const auto leaves =
            fields::leaves_of(fields::Declared<bearings::ServiceOutputs>::declaration);
        for (std::size_t i = 0; i < leaves.size(); ++i) {
            CAPTURE(leaves[i].path);
            CHECK(of(("bearing." + leaves[i].path).c_str()) ==
                  Approx(reinterpret_cast<const double*>(&alone)[i]).epsilon(1e-8));
        }
    }
    const double shares[] = {0.1, 0.9};
    const double speeds[] = {input(job, "states.start.speed"),
                             input(job, "states.full_load.speed")};
    const double lives[] = {value(job, "start", "modified_life"),
                            value(job, "full_load", "modified_life")};
    const auto duty = bearings::duty_life(shares, speeds, lives);
    CHECK(value(job, "cold", "duty_life") == Approx(duty.life).epsilon(1e-12));
    CHECK(value(job, "cold", "duty_time") == Approx(duty.running_time).epsilon(1e-12));
}

TEST_CASE("the service adds to a job and changes nothing else in it", "[job][bearing]") {
    const job::Job job = in_service();
    const job::Job plain = cases::blower();
    const auto outputs = job.evaluate();
    const auto before = plain.evaluate();
    for (std::size_t i = 0; i < before.size(); ++i) {
        const job::OutputPath& o = plain.outputs()[i];
        CHECK(outputs[at(job.output(o.state, o.path))] == before[i]);
    }
    CHECK_THROWS_WITH(plain.output("cold", "bearing.static_safety"),
                      ContainsSubstring("is not an output of state cold"));
    CHECK_THROWS_WITH(plain.leaf("states.start.share"), ContainsSubstring("is not an input"));
}

TEST_CASE("a bearing that stands, or carries nothing, fails in nothing", "[job][bearing]") {
    job::Job job = in_service();
    cases::give(job, "states.start.", {{"thrust", 0.0}});
    for (const job::Finding& f : job.findings(job.evaluate())) {
        const job::OutputPath& o = job.outputs()[at(f.output)];
        CAPTURE(o.state, o.path, f.value);
        if (o.state != "full_load" && o.path.rfind("bearing.", 0) == 0) {
            // Balls that turn without a load may skid; at rest none is asked for.
            const bool skids = o.state == "start" && o.path == "bearing.least_load_margin";
            CHECK((f.margin >= 0.0) == !skids);
        }
    }
    CHECK(value(job, "trip", "static_safety") == 1e6);
    CHECK(value(job, "trip", "running_time") == 1e12);
    CHECK(value(job, "start", "inner_load") == 0.0);
    CHECK(value(job, "start", "outer_load") > 0.0);
    CHECK(value(job, "start", "outer_angle") == Approx(0.0).margin(1e-6));
    const auto j = job.jacobian();
    for (std::size_t i = 0; i < j.derivatives.size(); ++i) {
        CAPTURE(job.outputs()[i / job.inputs().size()].path,
                job.outputs()[i / job.inputs().size()].state,
                job.inputs()[i % job.inputs().size()].path);
        if (!std::isfinite(j.derivatives[i]))
            FAIL_CHECK(j.derivatives[i]);
    }
}

TEST_CASE("derivatives of the running bearing are those of differences", "[job][bearing]") {
    job::Job job = in_service();
    // Clear of where the least clamp becomes 0.
    for (const char* ring : {"rings.sleeve.", "rings.inner_thrust.", "rings.inner_back."})
        cases::give(job, ring, {{"friction_high", 0.17}});
    check_slopes(job,
                 {"states.full_load.thrust", "states.full_load.speed", "rings.inner_thrust.bore",
                  "bearing.clearance", "service.viscosity_40", "states.full_load.lags.balls"},
                 {"inner_angle", "outer_angle", "inner_peak", "outer_edge", "arch_gap",
                  "modified_life", "friction_torque", "inner_margin", "outer_pass"},
                 2e-5, 1e-6);
}

TEST_CASE("the running bearing has the same bits on lanes", "[job][bearing]") {
    const job::Job job = in_service();
    const std::vector<int> vary{job.leaf("states.full_load.thrust"), job.leaf("states.start.speed"),
                                job.leaf("bearing.clearance")};
    std::vector<std::vector<double>> columns(3);
    for (int k = 0; k < 77; ++k) {
        columns[0].push_back(200.0 * k); // from none at all
        columns[1].push_back(12.0 * k);
        columns[2].push_back(130e-6 + 0.5e-6 * k);
    }
    CHECK(different_bits(job, vary, columns) == 0);
}

TEST_CASE("bounds know the balls at speed only as what they hang on", "[job][bearing][bounds]") {
    const job::Job job = in_service();
    const int thrust = job.leaf("states.full_load.thrust");
    const std::vector<job::BoxSide> sides{{{thrust}, 8e3, 1e4},
                                          {{job.leaf("states.trip.lags.nut")}, -2.0, 0.0}};
    const auto all = job::Encloser(job).all(job.values(), sides);
    const auto& mounted = all[at(job.output("full_load", "bearing.inner_stress"))];
    CHECK(mounted.bounded());
    const auto& running = all[at(job.output("full_load", "bearing.inner_peak"))];
    CHECK_FALSE(running.bounded());
    CHECK(running.slopes[0].high > 0.0);
    CHECK(running.slopes[1].size() == 0.0);
    CHECK_FALSE(all[at(job.output("full_load", "bearing.static_safety"))].bounded());
    CHECK_FALSE(all[at(job.output("cold", "bearing.duty_time"))].bounded());
    // Derivatives are flagged where there is no thrust, and not where there is.
    const auto flags = job.one_sided();
    const std::size_t width = job.inputs().size();
    const auto flag = [&](const char* state, const char* input) {
        return flags[at(job.output(state, "bearing.inner_peak")) * width + at(job.leaf(input))];
    };
    CHECK(flag("full_load", "states.full_load.thrust") == 0);
    CHECK(flag("trip", "states.trip.thrust") == 1);
    CHECK(flag("trip", "states.start.thrust") == 0);
}

TEST_CASE("what a bearing cannot do is told with the state", "[job][bearing][bad]") {
    job::Job job = in_service();
    // Tight grooves, and an outer ring so hot that what the speed adds lets the inner ring pass.
    cases::give(job, "bearing.",
                {{"shim", 0.0},
                 {"inner_curvature", 0.502},
                 {"outer_curvature", 0.502},
                 {"clearance", 60e-6}});
    cases::give(job, "states.start.", {{"thrust", 50.0}, {"lags.outer_ring", 47.0}});
    CHECK_THAT(told(job), ContainsSubstring("states.start.speed: ") &&
                              ContainsSubstring("flings the balls so far into the outer grooves"));
    job = in_service();
    cases::give(job, "bearing.", {{"back_shoulder", 0.0}});
    cases::give(job, "states.start.", {{"thrust", -4e3}});
    CHECK_THAT(told(job), ContainsSubstring("states.start.thrust: -4 kN pushes against the side"));
    job = in_service();
    cases::give(job, "service.", {{"viscosity_100", fields::worked_out}});
    CHECK_THAT(told(job), ContainsSubstring("service.viscosity: ") &&
                              ContainsSubstring("must be given, or else viscosity_40"));
    job = in_service();
    cases::give(job, "service.", {{"contact_angle", 1.0}});
    CHECK_THAT(told(job), ContainsSubstring("service.contact_angle: 57.2958 deg is that of"));
    job::ServicePlan dirty;
    dirty.cleanliness = bearings::Cleanliness::very_severe;
    CHECK_THAT(told(in_service(dirty)),
               ContainsSubstring("contamination_factor") && ContainsSubstring("no class"));

    job::Plan bare = cases::blower_plan();
    bare.bearing.reset();
    bare.service = job::ServicePlan{};
    CHECK_THROWS_WITH(job::Job(bare), ContainsSubstring("service: needs a bearing"));
}
