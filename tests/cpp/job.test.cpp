// A whole job: what it is asked and answers, by path; and what it refuses.
#include "cases.hpp"
#include "catch.hpp"
#include "job_checks.hpp"

#include <algorithm>
#include <cmath>
#include <cstring>
#include <fitwright/fields/error.hpp>
#include <limits>
#include <set>

using namespace fitwright;

namespace {

constexpr double missing = std::numeric_limits<double>::quiet_NaN();

std::size_t at(int number) { return static_cast<std::size_t>(number); }
double value(const job::Job& job, const char* state, const char* path) {
    return job.evaluate()[at(job.output(state, path))];
}
job::Job with(cases::Values changes) {
    job::Job job = cases::blower();
    cases::give(job, "", changes);
    return job;
}
std::string told(const std::vector<Problem>& problems) {
    std::string text;
    for (const Problem& p : problems)
        text += p.path + ": " + p.text + "\n";
    return text;
}

} // namespace

TEST_CASE("the demo job stands, and every answer is a number", "[job]") {
    const job::Job job = cases::blower();
    CHECK(told(job.problems()) == "");
    const auto outputs = job.evaluate();
    REQUIRE(outputs.size() == job.outputs().size());
    for (std::size_t i = 0; i < outputs.size(); ++i) {
        INFO(job.outputs()[i].state << " " << job.outputs()[i].path);
        CHECK(std::isfinite(outputs[i]));
    }
}

namespace {
// The blower with a labyrinth on its sleeve and a steam lance in its hollow shaft.
job::Job sealed() {
    job::Plan plan = cases::blower_plan();
    plan.seals = {{"labyrinth", "sleeve", materials::find("grey_iron"), false},
                  {"lance", "wheel", materials::find("304"), true}};
    job::Job job(plan);
    const job::Job plain = cases::blower();
    for (std::size_t i = 0; i < plain.inputs().size(); ++i)
        job.set(job.leaf(plain.inputs()[i].path), plain.values()[i]);
    cases::give(job, "seals.labyrinth.", {{"stator", 0.1005}, {"offset", 50e-6}});
    cases::give(job, "seals.lance.", {{"stator", 0.0295}});
    cases::give(job, "states.full_load.lags.", {{"labyrinth", -20.0}, {"lance", 60.0}});
    return job;
}
} // namespace

TEST_CASE("every input and output has one path", "[job]") {
    const job::Job job = sealed();
    std::set<std::string> seen;
    for (std::size_t i = 0; i < job.inputs().size(); ++i) {
        CHECK(seen.insert(job.inputs()[i].path).second);
        CHECK(job.leaf(job.inputs()[i].path) == static_cast<int>(i));
    }
    seen.clear();
    for (std::size_t i = 0; i < job.outputs().size(); ++i) {
        const job::OutputPath& o = job.outputs()[i];
        CHECK(seen.insert(o.state + " " + o.path).second);
        CHECK(job.output(o.state, o.path) == static_cast<int>(i));
    }
}

TEST_CASE("a path that is not there lists the three nearest", "[job][bad]") {
    const job::Job job = cases::blower();
    CHECK_THROWS_WITH(job.leaf("rings.sleeve.bor"),
                      ContainsSubstring("rings.sleeve.bor: is not an input of this job; nearest: "
                                        "rings.sleeve.bore, "));
    CHECK_THROWS_WITH(job.leaf("states.full_load.lag.sleeve"),
                      ContainsSubstring("nearest: states.full_load.lags.sleeve, "));
    CHECK_THROWS_WITH(job.output("full_load", "shoulder.clamped"),
                      ContainsSubstring("is not an output of state full_load; nearest: ") &&
                          ContainsSubstring("shoulder.clamp_low"));
    CHECK_THROWS_WITH(job.output("full_laod", "nut.force"),
                      ContainsSubstring("\"full_laod\" is not a state of this job; nearest: "
                                        "full_load, "));
    try {
        job.leaf("nut.tork");
    } catch (const DomainError& error) {
        const std::string& text = error.problems().at(0).text;
        CHECK(std::count(text.begin(), text.end(), ',') == 2);
        CHECK_THAT(text, ContainsSubstring("nut.torque"));
    }
}

TEST_CASE("a job is a value: changing a copy leaves the other alone", "[job]") {
    const job::Job first = cases::blower();
    job::Job second = first;
    second.set(first.leaf("nut.torque"), 300.0);
    second.set_limit("nut.force", "*", 1e6, missing);
    CHECK(first.values()[at(first.leaf("nut.torque"))] == 650.0);
    CHECK(value(second, "cold", "nut.force") < value(first, "cold", "nut.force"));
    for (const job::Limit& l : first.limits())
        CHECK(l.at_least != 1e6);
}

TEST_CASE("the rooms give in the job what they give alone", "[job]") {
    // The nut as tightened, and each fit in a state at the force of that state.
    const job::Job job = cases::blower();
    const auto nut = threads::tighten(cases::nut(), cases::metal("4340"));
    CHECK(value(job, "cold", "nut.preload") == nut.preload);
    CHECK(value(job, "cold", "nut.preload_low") == nut.preload_low);
    CHECK(value(job, "cold", "nut.force") == nut.preload);

    auto in = fields::standard_inputs<rings::FitInputs>();
    in.shaft.bore = 0.030;
    in.shaft.seat = 0.080036;
    in.shaft.roughness = 1.6e-6;
    in.ring.bore = 0.079994;
    in.ring.outside = 0.104;
    in.ring.length = 0.0195;
    in.ring.contact_length = 0.017;
    in.ring.roughness = 1.6e-6;
    in.speed = 1152.0;
    in.shaft_temperature = 70.0;
    in.ring_temperature = 76.0;
    in.axial_force = value(job, "full_load", "nut.force");
    const auto fit = rings::fit(in, cases::metal("4340"), cases::metal("52100"));
    CHECK(value(job, "full_load", "rings.inner_back.pressure") ==
          Approx(fit.pressure).epsilon(1e-12));
    CHECK(value(job, "full_load", "rings.inner_back.loss_speed") ==
          Approx(fit.loss_speed).epsilon(1e-12));
    CHECK(value(job, "full_load", "rings.inner_back.heat_margin") ==
          Approx(fit.loss_temperature - 76.0).epsilon(1e-9));
    CHECK(value(job, "full_load", "rings.inner_back.grip_left") ==
          Approx(fit.pressure / value(job, "cold", "rings.inner_back.pressure")));
}

TEST_CASE("margins and reserves", "[job]") {
    job::Job job = cases::blower();
    job.set_limit("shoulder.clamp_low", "cold", 8e3, missing);
    job.set_limit("bearing.end_play", "cold", 0.25e-3, 0.45e-3);
    const auto outputs = job.evaluate();
    std::set<int> limited;
    for (const job::Finding& f : job.findings(outputs)) {
        INFO(job.outputs()[at(f.output)].path);
        CHECK(limited.insert(f.output).second);
        CHECK(f.value == outputs[at(f.output)]);
        // Positive is good; per limit, or per declared scale where the limit is 0.
        CHECK(f.margin == (f.is_least ? f.value - f.limit : f.limit - f.value));
        const double scale =
            f.limit != 0.0 ? std::fabs(f.limit) : job.outputs()[at(f.output)].field->standard;
        CHECK(f.reserve == f.margin / scale);
    }
    // Of two sides the one with less reserve.
    for (const job::Finding& f : job.findings(outputs))
        if (job.outputs()[at(f.output)].path == "bearing.end_play") {
            CHECK(f.is_least == ((f.value - 0.25e-3) / 0.25e-3 <= (0.45e-3 - f.value) / 0.45e-3));
        }
    CHECK(limited.count(job.output("cold", "shoulder.clamp_low")) == 1);
    CHECK(limited.count(job.output("start", "shoulder.clamp_low")) == 0);
    // A ring that slides need not grip; one that was put on hot must.
    CHECK(limited.count(job.output("start", "rings.wheel.grip_left")) == 0);
    CHECK(limited.count(job.output("start", "rings.sleeve.grip_left")) == 1);
    CHECK(limited.count(job.output("cold", "rings.sleeve.oven_margin")) == 1);
}

TEST_CASE("a limit can be set for a whole name and for every state", "[job]") {
    job::Job job = cases::blower();
    job.set_limit("rings.*.pressure", "*", missing, 1e6);
    int found = 0;
    for (const job::Limit& l : job.limits())
        found += l.at_most == 1e6;
    CHECK(found == 5 * 4);
    CHECK(std::is_sorted(job.limits().begin(), job.limits().end(),
                         [](const auto& a, const auto& b) { return a.output < b.output; }));
    CHECK_THROWS_WITH(job.set_limit("rings.*.presure", "*", missing, 1e6),
                      ContainsSubstring("matches no output; nearest: rings.sleeve.pressure") ||
                          ContainsSubstring("matches no output; nearest: rings."));
    CHECK_THROWS_WITH(job.set_limit("nut.force", "overspeed", 1.0, missing),
                      ContainsSubstring("is not a state of this job"));
}

TEST_CASE("solve: the input at which an output reaches its target", "[job]") {
    const job::Job job = cases::blower();
    struct Goal {
        const char* vary;
        const char* state;
        const char* output;
        double target;
    };
    for (const Goal& g : {Goal{"nut.torque", "full_load", "shoulder.clamp_low", 40e3},
                          Goal{"rings.sleeve.bore", "trip", "rings.sleeve.pressure", 25e6},
                          Goal{"seats.main.diameter", "cold", "bearing.clearance", 100e-6},
                          Goal{"states.start.lags.sleeve", "start", "nut.force", 100e3}}) {
        const double x =
            job.solve(job.leaf(g.vary), job.output(g.state, g.output), g.target, missing, missing);
        job::Job there = job;
        there.set(job.leaf(g.vary), x);
        CAPTURE(g.vary, g.output, x);
        CHECK(value(there, g.state, g.output) == Approx(g.target).epsilon(1e-9));
    }
    // Where the job already is.
    const double force = value(job, "cold", "nut.force");
    CHECK(job.solve(job.leaf("nut.torque"), job.output("cold", "nut.force"), force, missing,
                    missing) == 650.0);
    // And what cannot be is told with what was reached.
    CHECK_THROWS_WITH(
        job.solve(job.leaf("nut.torque"), job.output("cold", "nut.force"), -5e3, missing, missing),
        ContainsSubstring("nut.torque: no value brings nut.force to -5 kN; the "
                          "nearest reached is "));
    CHECK_THROWS_WITH(
        job.solve(job.leaf("nut.torque"), job.output("cold", "nut.force"), 100e3, 600.0, 700.0),
        ContainsSubstring("the nearest reached is 63."));
}

TEST_CASE("a sweep is the same as one evaluation after the other", "[job]") {
    const job::Job job = cases::blower();
    const std::vector<int> vary{job.leaf("rings.sleeve.bore"), job.leaf("states.trip.lags.nut")};
    std::vector<std::vector<double>> columns(2);
    for (int k = 0; k < 101; ++k) { // more than one slice, and a tail
        columns[0].push_back(0.07998 + 0.4e-6 * k);
        columns[1].push_back(-5.0 + 0.1 * k);
    }
    std::vector<int> all;
    for (std::size_t i = 0; i < job.outputs().size(); ++i)
        all.push_back(static_cast<int>(i));
    CHECK(job_checks::different_bits(job, vary, columns) == 0);

    columns[0][70] = 0.2;
    CHECK_THROWS_WITH(job.sweep(vary, columns, all, 2),
                      ContainsSubstring("rings.sleeve") &&
                          ContainsSubstring("point 70 of the sweep"));
    columns[0].pop_back();
    CHECK_THROWS_WITH(job.sweep(vary, columns, all, 2), ContainsSubstring("differ in length"));
}

TEST_CASE("a fit that is loose in some state is a finding, not a failure", "[job]") {
    const job::Job job = with({{"states.start.lags.sleeve", 90.0}});
    CHECK(told(job.problems()) == "");
    CHECK(value(job, "start", "rings.sleeve.gap") > 0.0);
    CHECK(value(job, "start", "rings.sleeve.pressure") == 0.0);
    bool found = false;
    for (const job::Finding& f : job.findings(job.evaluate()))
        if (f.output == job.output("start", "rings.sleeve.grip_left")) {
            found = true;
            CHECK(f.margin == Approx(-1.0 / 3.0));
            CHECK(f.reserve == Approx(-1.0));
        }
    CHECK(found);
}

// A seal adds to a job what its ring grows, and changes nothing else in it.
TEST_CASE("a seal in a job takes the growth of its ring or of the shaft under it", "[job]") {
    const job::Job job = sealed();
    CHECK(told(job.problems()) == "");
    for (const char* state : {"cold", "full_load"}) {
        CAPTURE(state);
        const double outside = value(job, state, "rings.sleeve.outside_growth");
        const double stator = value(job, state, "seals.labyrinth.stator_growth");
        CHECK(value(job, state, "seals.labyrinth.rotor_growth") == outside);
        CHECK(value(job, state, "seals.labyrinth.clearance") ==
              Approx(0.1005 - 0.100 + stator - outside).epsilon(1e-9));
        CHECK(value(job, state, "seals.labyrinth.least_radial") ==
              Approx(value(job, state, "seals.labyrinth.clearance") / 2 - 50e-6).epsilon(1e-9));
        const double bore = value(job, state, "rings.wheel.shaft_bore_growth");
        CHECK(value(job, state, "seals.lance.clearance") ==
              Approx(0.030 - 0.0295 + bore - value(job, state, "seals.lance.stator_growth"))
                  .epsilon(1e-9));
    }
    CHECK(value(job, "cold", "seals.labyrinth.closing") == 0.0);
    CHECK(value(job, "full_load", "seals.labyrinth.closing") ==
          Approx(value(job, "cold", "seals.labyrinth.clearance") -
                 value(job, "full_load", "seals.labyrinth.clearance"))
              .epsilon(1e-9));
    // The stator stands 20 K below the shaft, whose temperature its growth follows.
    const double shaft = job.values()[at(job.leaf("states.full_load.shaft_temperature"))];
    CHECK(value(job, "full_load", "seals.labyrinth.stator_growth") ==
          Approx(0.1005 * materials::free_growth(cases::metal("grey_iron"), 1.0, shaft - 20.0)));
    const job::Job plain = cases::blower();
    for (const job::OutputPath& o : plain.outputs())
        CHECK(value(job, o.state.c_str(), o.path.c_str()) ==
              value(plain, o.state.c_str(), o.path.c_str()));
}

TEST_CASE("a seal that touches is a finding, one that cannot be is refused", "[job]") {
    job::Job job = sealed();
    cases::give(job, "seals.labyrinth.", {{"stator", 0.1001}});
    bool touches = false;
    for (const job::Finding& f : job.findings(job.evaluate())) {
        const job::OutputPath& o = job.outputs()[at(f.output)];
        touches = touches || (o.path == "seals.labyrinth.touch_margin" && f.margin < 0.0);
    }
    CHECK(touches);
    job = sealed();
    cases::give(job, "states.full_load.lags.", {{"lance", 400.0}});
    CHECK(told(job.problems()).find("states.full_load.lags.lance: ") != std::string::npos);
    job = sealed();
    cases::give(job, "seals.labyrinth.", {{"surface", 0.08}});
    CHECK(told(job.problems()).find("seals.labyrinth.surface: 80 mm must lie within a tenth") !=
          std::string::npos);
    job = sealed();
    cases::give(job, "shaft.", {{"bore", 0.0}});
    CHECK(told(job.problems()).find("seals.lance.face: 0 mm is the bore of a solid shaft") !=
          std::string::npos);

    const auto refused = [](const char* name, const char* ring) {
        job::Plan plan = cases::blower_plan();
        plan.seals = {{name, ring, materials::find("304"), false}};
        try {
            job::Job made(plan);
        } catch (const DomainError& error) {
            return std::string(error.what());
        }
        return std::string();
    };
    CHECK(refused("front", "slever").find("seals.front.ring: \"slever\" is not a ring") !=
          std::string::npos);
    CHECK(refused("sleeve", "sleeve").find("seals.sleeve: is the name of another part") !=
          std::string::npos);
    CHECK(refused("nut", "sleeve").find("seals.nut: is the name of another part") !=
          std::string::npos);
}
