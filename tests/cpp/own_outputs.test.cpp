// Outputs of one's own: what they say against plain arithmetic on the answers of the system.
#include "cases.hpp"
#include "catch.hpp"
#include "single_cases.hpp"

#include <cmath>
#include <fitwright/fields/error.hpp>
#include <fitwright/study/indices.hpp>
#include <fitwright/study/inverse.hpp>
#include <fitwright/study/own_outputs.hpp>
#include <functional>
#include <limits>

using namespace fitwright;
using namespace fitwright::study;
using namespace single_cases;

namespace {

using Steps = std::vector<Step>;
Step output(const System& system, const char* path) {
    return {Operation::output, system.output(as_given, path), 0.0};
}
Step input(const System& system, const char* path) {
    return {Operation::input, system.leaf(path), 0.0};
}
Step constant(double value) { return {Operation::number, 0, value}; }
Step does(Operation what) { return {what, 0, 0.0}; }
OwnOutput own(const char* name, Steps steps, double at_least = none, double at_most = none,
              fields::Quantity quantity = fields::Quantity::fine) {
    return {as_given, name, "of a test", quantity, 1e-6, std::move(steps), at_least, at_most};
}
std::string told(const std::function<void()>& call) {
    try {
        call();
    } catch (const DomainError& e) {
        return e.what();
    }
    return "";
}

} // namespace

TEST_CASE("an expression is the arithmetic it says", "[own]") {
    const System plain = fit();
    const double left = plain.evaluate()[at(plain.output(as_given, "interference_left"))];
    const double force = plain.evaluate()[at(plain.output(as_given, "holding_force"))];
    const double length = 0.030;
    using O = Operation;
    const Step x = output(plain, "interference_left");
    const Step f = output(plain, "holding_force");
    const Step l = input(plain, "ring.length");
    const struct {
        Steps steps;
        double wanted;
    } cases[] = {{{x, constant(1e-5), does(O::subtract)}, left - 1e-5},
                 {{f, l, does(O::divide)}, force / length},
                 {{x, does(O::negate), does(O::absolute)}, left},
                 {{x, x, does(O::multiply), does(O::root)}, std::sqrt(left * left)},
                 {{x, constant(1.0), does(O::least)}, left},
                 {{x, constant(1.0), does(O::greatest)}, 1.0},
                 {{l, constant(2.0), f, does(O::multiply), does(O::add)}, length + 2.0 * force}};
    for (const auto& c : cases) {
        const System system = with_own_outputs(plain, {own("mine", c.steps)});
        const auto outputs = system.evaluate();
        CHECK(outputs[0] == c.wanted);
        // What the system has by itself follows, unchanged.
        const auto was = plain.evaluate();
        CHECK(std::vector<double>(outputs.begin() + 1, outputs.end()) == was);
        CHECK(system.output(as_given, "mine") == 0);
        CHECK(system.output(as_given, "gap") == plain.output(as_given, "gap") + 1);
        // On lanes, along a column of the ring's length.
        const std::vector<double> lengths{0.025, 0.030, 0.035};
        const int leaf = system.leaf("ring.length");
        const auto swept = system.sweep({leaf}, {lengths}, {0, 1}, 2);
        CHECK(swept[0][1] == c.wanted);
        for (std::size_t k = 0; k < 3; ++k) {
            System there = system;
            there.set(leaf, lengths[k]);
            CHECK(swept[0][k] == there.evaluate()[0]);
        }
    }
}

TEST_CASE("derivatives of an expression are exact", "[own]") {
    const System plain = fit();
    using O = Operation;
    // force^2 / (pressure length) + interference left, of what shares no formula of its own
    const Steps steps{output(plain, "holding_force"),
                      output(plain, "holding_force"),
                      does(O::multiply),
                      output(plain, "pressure"),
                      input(plain, "ring.length"),
                      does(O::multiply),
                      does(O::divide),
                      output(plain, "interference_left"),
                      does(O::add)};
    const System system = with_own_outputs(plain, {own("mine", steps)});
    const auto was = plain.jacobian();
    const auto values = plain.evaluate();
    const std::size_t n = plain.inputs().size();
    const auto row = [&](const char* path, std::size_t i) {
        return was.derivatives[at(plain.output(as_given, path)) * n + i];
    };
    const double f = values[at(plain.output(as_given, "holding_force"))];
    const double p = values[at(plain.output(as_given, "pressure"))];
    const double l = 0.030;
    const auto found = system.jacobian();
    CHECK(found.derivatives.size() == (values.size() + 1) * n);
    for (std::size_t i = 0; i < n; ++i) { // the quotient rule by hand
        const bool is_length = static_cast<int>(i) == plain.leaf("ring.length");
        const double wanted = 2.0 * f * row("holding_force", i) / (p * l) -
                              f * f / (p * p * l) * row("pressure", i) -
                              (is_length ? f * f / (p * l * l) : 0.0) + row("interference_left", i);
        CHECK(found.derivatives[i] == Approx(wanted).epsilon(1e-12).margin(1e-12));
    }
    const auto rest = std::vector<double>(found.derivatives.begin() + static_cast<long>(n),
                                          found.derivatives.end());
    CHECK(rest == was.derivatives);
    CHECK(system.slopes({0}, {plain.leaf("shaft.seat")}).derivatives.front() ==
          found.derivatives[at(plain.leaf("shaft.seat"))]);

    // A corner of an expression holds on one side only.
    const double left = values[at(plain.output(as_given, "interference_left"))];
    const System kinked = with_own_outputs(
        plain,
        {own("mine", {output(plain, "interference_left"), constant(left), does(O::greatest)})});
    CHECK(kinked.one_sided({0}, {plain.leaf("shaft.seat")}).front() == 1);
    CHECK(kinked.one_sided({1}, {plain.leaf("shaft.seat")}).front() ==
          plain.one_sided({0}, {plain.leaf("shaft.seat")}).front());
}

TEST_CASE("an output of one's own is studied, indexed, solved for and worst-cased", "[own]") {
    const System plain = fit();
    using O = Operation;
    // seat - bore, and so normal about 40 um: twice that less 80 um is normal about 0.
    const System system =
        with_own_outputs(plain, {own("mine",
                                     {constant(2.0), output(plain, "interference_left"),
                                      does(O::multiply), constant(80e-6), does(O::subtract)},
                                     -5e-6)});
    const auto normal = [&](const char* path, double deviation) {
        const int leaf = system.leaf(path);
        return Spread{leaf,      -1,   -1,  path, Shape::normal, system.values()[at(leaf)],
                      deviation, none, none};
    };
    const std::vector<Spread> spreads{normal("shaft.seat", 2e-6), normal("ring.bore", 1.5e-6)};
    const std::int64_t count = (watched ? 3 : 60) * chunk;
    Study study(subject_of(system), spreads, {{0, -5e-6, none}, {1, none, none}}, 3, count);
    while (study.done() < study.count())
        study.advance(count, 2);
    const auto n = static_cast<double>(count);
    const Statistics s = study.statistics(0);
    CHECK(std::fabs(s.mean) <= 4.0 * 5e-6 / std::sqrt(n));
    CHECK(std::fabs(s.deviation - 5e-6) <= 4.0 * 5e-6 / std::sqrt(2.0 * n));
    const double rate = 0.8413447460685429;
    CHECK(std::fabs(static_cast<double>(study.all_passed()) / n - rate) <=
          4.0 * std::sqrt(rate * (1.0 - rate) / n));
    CHECK(study.statistics(1).deviation == Approx(0.5 * s.deviation).epsilon(1e-9));

    REQUIRE(system.limits().front().output == 0);
    CHECK(system.findings(system.evaluate()).front().margin == Approx(5e-6));
    const int seat = system.leaf("shaft.seat");
    CHECK(system.solve(seat, 0, 20e-6, none, none) == Approx(0.080050).epsilon(1e-9));
    const auto worst = extremes(system, edges_of(system, spreads), {{0, true}}, 1000, 10);
    CHECK(worst.front().value == Approx(2.0 * (40e-6 - 10.5e-6) - 80e-6).epsilon(1e-6));
    CHECK_FALSE(worst.front().proven);
    IndexStudy indices(subject_of(system), spreads, {0}, 5, 4 * chunk);
    indices.advance(indices.count(), 2);
    CHECK(std::fabs(indices.indices(0, 0).first.value - 0.64) <=
          2.0 * indices.indices(0, 0).first.half);
}

TEST_CASE("outputs of one's own stand in a job at every level", "[own]") {
    const job::Job job = cases::blower();
    const std::string state = job.plan().states[1];
    const int clamp = job.output(state, "shoulder.clamp_low");
    const int torque = job.leaf("nut.torque");
    const OwnOutput ratio{state,
                          "clamp_per_torque",
                          "clamp over torque",
                          fields::Quantity::curvature,
                          1.0,
                          {{Operation::output, clamp, 0.0},
                           {Operation::input, torque, 0.0},
                           {Operation::divide, 0, 0.0}},
                          0.0,
                          none};
    const System system = with_own_outputs(job, {ratio});
    const double wanted = job.evaluate()[at(clamp)] / job.values()[at(torque)];
    CHECK(system.evaluate()[0] == wanted);
    CHECK(system.level_of(0) == job::Level::quick);
    // What the job has by itself keeps its bounds.
    CHECK(system.bounded(0).job == nullptr);
    CHECK(system.bounded(clamp + 1).output == clamp);
    const System history = system.at(job::Level::history);
    CHECK(history.level() == job::Level::history);
    CHECK(history.evaluate()[0] == wanted);
    CHECK(history.output(state, "shoulder.clamp_low") == clamp + 1);
    CHECK(history.outputs().size() == job.at(job::Level::history).outputs().size() + 1);
    // A study at that level counts it with the quick part.
    const Subject subject = subject_of(history);
    REQUIRE(subject.stage_ends.size() == 1);
    CHECK(subject.stage_ends[0] == job.output_count() + 1);
    const double value = job.values()[at(torque)];
    const std::vector<Spread> spreads{
        {torque, -1, -1, "nut.torque", Shape::uniform, value, none, 0.98 * value, 1.02 * value}};
    Study study(subject_of(history), spreads, {{0, wanted, none}}, 3, 2 * small_chunk);
    while (study.done() < study.count())
        study.advance(2 * small_chunk, 2);
    Study quick(subject_of(system), spreads, {{0, wanted, none}}, 3, 2 * small_chunk);
    while (quick.done() < quick.count())
        quick.advance(2 * small_chunk, 2);
    CHECK(study.passed_to(0) == quick.all_passed());
    CHECK(study.statistics(0).least == quick.statistics(0).least);
}

TEST_CASE("what an expression cannot say is named", "[own]") {
    const System plain = fit();
    using O = Operation;
    const Step x = output(plain, "interference_left");
    const System by_nothing =
        with_own_outputs(plain, {own("mine", {x, output(plain, "gap"), does(O::divide)})});
    CHECK(told([&] { by_nothing.evaluate(); }) ==
          "mine: 0 is divided by: an output of one's own cannot be told");
    const System rooted =
        with_own_outputs(plain, {own("mine", {x, does(O::negate), does(O::root)})});
    CHECK(told([&] { rooted.evaluate(); }).find("is below zero: its square root cannot be told") !=
          std::string::npos);
    // In a study such samples are out of domain, and named.
    const int leaf = plain.leaf("shaft.seat");
    const std::vector<Spread> spreads{
        {leaf, -1, -1, "shaft.seat", Shape::uniform, 0.08, none, 0.07999, 0.08001}};
    const System half = with_own_outputs(plain, {own("mine", {x, does(O::root)})});
    Study study(subject_of(half), spreads, {{0, none, none}}, 3, chunk);
    study.advance(chunk, 1);
    const auto n = static_cast<double>(chunk);
    CHECK(std::fabs(static_cast<double>(study.out_of_domain()) / n - 0.5) <= 4.0 * 0.5 / 64.0);
    const double code = study.first_fault_code();
    CHECK(half.path_of({fitwright::number::rule_of(code), fitwright::number::place_of(code),
                        0.0}) == "mine");

    CHECK(told([&] { with_own_outputs(plain, {own("mine", {x, x})}); }) ==
          "mine: is no expression that comes out");
    CHECK(told([&] { with_own_outputs(plain, {own("mine", {does(O::add)})}); }) ==
          "mine: is no expression that comes out");
    CHECK(told([&] { with_own_outputs(plain, {own("mine", {{O::output, 9999, 0.0}})}); }) ==
          "mine: names what is not there at the quick level");
    CHECK(told([&] { with_own_outputs(plain, {own("mine", Steps(40, x))}); }) ==
          "mine: is no expression that comes out");
    Steps deep(40, x);
    deep.insert(deep.end(), 39, does(O::add));
    CHECK(told([&] { with_own_outputs(plain, {own("mine", deep)}); }) ==
          "mine: holds more than 32 values at a time");
}
