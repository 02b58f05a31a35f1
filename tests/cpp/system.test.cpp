// What a study asks of a job it asks of a single model: the same answers as the model alone gives.
#include "cases.hpp"
#include "catch.hpp"
#include "reference_call.hpp"
#include "single_cases.hpp"

#include <algorithm>
#include <cmath>
#include <fitwright/fields/error.hpp>
#include <fitwright/study/indices.hpp>
#include <fitwright/study/inverse.hpp>
#include <functional>
#include <limits>

using namespace fitwright;
using namespace fitwright::study;
using namespace single_cases;

namespace {

int output(const System& system, const char* path) { return system.output(as_given, path); }
Spread normal(const System& system, const char* path, double deviation) {
    const int leaf = system.leaf(path);
    return {leaf, -1, -1, path, Shape::normal, system.values()[at(leaf)], deviation, none, none};
}
Study finished(Subject subject, const std::vector<Spread>& spreads,
               const std::vector<Tracked>& tracked, std::int64_t count) {
    Study s(std::move(subject), spreads, tracked, 3, count);
    while (s.done() < s.count())
        s.advance(10 * chunk, 2);
    return s;
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

TEST_CASE("every model is a system that answers as the model does", "[system]") {
    std::vector<std::string> seen;
    for (const reference::Case& c : reference::cases) {
        if (std::string(c.model) == "materials")
            continue;
        const reference::Call call(c);
        const std::string name = std::string(call.model->text.room) + "." + call.model->text.name;
        if (std::find(seen.begin(), seen.end(), name) != seen.end())
            continue; // one of each is enough here
        seen.push_back(name);
        INFO(name);
        SingleModel single{call.model, {}, call.choices};
        for (const materials::Material& m : call.materials)
            single.materials.push_back({"test", "test", m, {}});
        System system(single);
        for (std::size_t i = 0; i < call.inputs.size(); ++i)
            system.set(static_cast<int>(i), call.inputs[i]);
        const std::vector<double> wanted = call.on_double();
        CHECK(system.evaluate() == wanted);
        CHECK(system.problems().empty());

        std::vector<double> outputs(wanted.size());
        std::vector<double> derivatives(wanted.size() * call.inputs.size());
        fields::jacobian(*call.model, call.inputs.data(), outputs.data(), derivatives.data(),
                         call.context());
        CHECK(system.jacobian().derivatives == derivatives);

        // A column of one input: the same numbers, and on lanes.
        const auto varied =
            static_cast<int>(std::find_if(call.inputs.begin(), call.inputs.end(),
                                          [](double x) { return std::isfinite(x) && x != 0.0; }) -
                             call.inputs.begin());
        const std::vector<double> column(5, call.inputs[at(varied)]);
        const auto swept = system.sweep({varied}, {column}, {0}, 2);
        CHECK(swept.front() == std::vector<double>(5, wanted[0]));

        // A study in which next to nothing scatters stays where the model stands.
        const double x = call.inputs[at(varied)];
        const std::vector<Spread> still{{varied, -1, -1, system.inputs()[at(varied)].path,
                                         Shape::uniform, x, none, x, x + std::fabs(x) * 1e-13}};
        const Study s = finished(subject_of(system), still, {{0, none, none}}, 16);
        if (s.out_of_domain() == 0) // some stand at the end of a range
            CHECK(s.statistics(0).mean == Approx(wanted[0]).epsilon(1e-6).margin(
                                              1e-6 * system.outputs()[0].field->standard));
    }
    CHECK(seen.size() > 20);
}

TEST_CASE("a study of one fit has the mean, deviation and pass rate of theory", "[system]") {
    // The system is gone when the study runs: the subject stands on its own.
    std::vector<Spread> spreads;
    Subject subject = [&] {
        const System system = fit();
        spreads = {normal(system, "shaft.seat", 2e-6), normal(system, "ring.bore", 1.5e-6)};
        return subject_of(system);
    }();
    const std::int64_t count = (watched ? 3 : 60) * chunk;
    const double deviation = 2.5e-6;
    const Study s = finished(std::move(subject), spreads, {{0, 40e-6 - deviation, none}}, count);
    const Statistics found = s.statistics(0);
    const auto n = static_cast<double>(count);
    CHECK(std::fabs(found.mean - 40e-6) <= 4.0 * deviation / std::sqrt(n));
    CHECK(std::fabs(found.deviation - deviation) <= 4.0 * deviation / std::sqrt(2.0 * n));
    const double rate = 0.8413447460685429; // of a normal above mean less one deviation
    CHECK(std::fabs(static_cast<double>(s.all_passed()) / n - rate) <=
          4.0 * std::sqrt(rate * (1.0 - rate) / n));
}

TEST_CASE("indices of a sum are the shares of its variance", "[system]") {
    const System system = fit();
    IndexStudy indices(subject_of(system),
                       {normal(system, "shaft.seat", 2e-6), normal(system, "ring.bore", 1.5e-6)},
                       {output(system, "interference_left")}, 5, (watched ? 4 : 16) * chunk);
    indices.advance(indices.count(), 2);
    const double shares[] = {4.0 / 6.25, 2.25 / 6.25}; // analysis of variance of a sum
    for (std::size_t k = 0; k < 2; ++k) {
        const InputIndices found = indices.indices(0, k);
        CHECK(std::fabs(found.first.value - shares[k]) <= 2.0 * found.first.half);
        CHECK(std::fabs(found.total.value - shares[k]) <= 2.0 * found.total.half);
    }
}

TEST_CASE("an input of one model is solved for", "[system]") {
    const System system = fit();
    const int seat = system.leaf("shaft.seat");
    // Linear: the seat that leaves 50 um is the bore and 50 um.
    CHECK(system.solve(seat, output(system, "interference_left"), 50e-6, none, none) ==
          Approx(0.080050).epsilon(1e-12));
    const int force = output(system, "holding_force");
    const double target = 40e3;
    System there = system;
    there.set(seat, system.solve(seat, force, target, none, none));
    CHECK(there.evaluate()[at(force)] == Approx(target).epsilon(1e-9));
    // Left out it is worked out from seat and bore; solved for, it is told. Cold and smooth, what is left
    // of it is all of it.
    System nominal = system;
    nominal.set(seat, 0.080);
    const int interference = system.leaf("interference");
    CHECK(nominal.solve(interference, output(system, "interference_left"), 30e-6, none, none) ==
          Approx(30e-6).epsilon(1e-9));
    CHECK(told([&] { system.solve(seat, force, 1e12, 0.08, 0.0802); }) ==
          "shaft.seat: no value brings holding_force to 1e+09 kN; the nearest reached is " +
              show(
                  [&] {
                      System end = system;
                      end.set(seat, 0.0802);
                      return end.evaluate()[at(force)];
                  }(),
                  fields::Quantity::force));
}

TEST_CASE("the worst corner of one model is found, and not called proven", "[system]") {
    const System system = fit();
    Spread seat = normal(system, "shaft.seat", none);
    seat.shape = Shape::uniform;
    seat.low = 0.080035;
    seat.high = 0.080045;
    const std::vector<Edge> edges = edges_of(system, {seat, normal(system, "ring.bore", 1e-6)});
    const auto found = extremes(system, edges, {{0, true}, {0, false}}, 1000, 10);
    CHECK(found[0].value == Approx(80.035e-3 - 80.003e-3).epsilon(1e-9));
    CHECK(found[1].value == Approx(80.045e-3 - 79.997e-3).epsilon(1e-9));
    for (const Extreme& e : found) {
        CHECK_FALSE(e.proven);
        CHECK(std::isinf(e.bound));
    }
    const int force = output(system, "holding_force");
    const Extreme least = extremes(system, edges, {{force, true}}, 1000, 10).front();
    System corner = system;
    corner.set(system.leaf("shaft.seat"), 0.080035);
    corner.set(system.leaf("ring.bore"), 0.080003);
    CHECK(least.value == Approx(corner.evaluate()[at(force)]).epsilon(1e-12));
}

TEST_CASE("limits of one model: those it declares, and those told", "[system]") {
    System system = fit();
    CHECK(system.limits().size() == 2); // yield use of ring and shaft
    system.set_limit("holding_force", "*", 30e3, none);
    system.set_limit("ring_yield_use", as_given, none, 0.8);
    REQUIRE(system.limits().size() == 3);
    CHECK(system.limits()[0].output == output(system, "holding_force"));
    CHECK(system.limits()[1].at_most == 0.8);
    const auto findings = system.findings(system.evaluate());
    CHECK(findings[0].margin ==
          Approx(system.evaluate()[at(output(system, "holding_force"))] - 30e3));
    // A reserve solved for: seat within bounds that leaves most of both.
    const Judge judge(system, {}, {});
    const Best best =
        solve_for(judge, judge, system, {system.leaf("shaft.seat")}, {0.08001}, {0.0801});
    System there = system;
    const auto least = [&](double seat) {
        there.set(there.leaf("shaft.seat"), seat);
        double r = 1e300;
        for (const job::Finding& f : there.findings(there.evaluate()))
            r = std::min(r, f.reserve);
        return r;
    };
    for (double seat = 0.08001; seat < 0.0801; seat += 1e-6)
        CHECK(least(seat) <= best.verdict.reserve + 1e-6);
}

TEST_CASE("a job as a system keeps every bit", "[system]") {
    const job::Job job = cases::blower();
    const System system(job);
    CHECK(system.evaluate() == job.evaluate());
    CHECK(system.jacobian().derivatives == job.jacobian().derivatives);
    CHECK(system.one_sided() == job.one_sided());
    const int leaf = job.leaf("nut.torque");
    const int wanted = job.output(job.plan().states[1], "shoulder.clamp_low");
    CHECK(system.solve(leaf, wanted, 20e3, none, none) ==
          job.solve(leaf, wanted, 20e3, none, none));
    System other = system;
    other.set(leaf, 1.1 * job.values()[at(leaf)]);
    CHECK(system.values() == job.values()); // copies are free of each other
}

TEST_CASE("what a single model is told wrongly is named", "[system]") {
    const fields::Model& model = fields::model_named("rings.fit");
    CHECK(told([&] { System{SingleModel{&model}}; }) ==
          "shaft.material: must be given\nring.material: must be given");
    System system = fit();
    CHECK(told([&] { system.leaf("ring.boer"); })
              .rfind("ring.boer: is not an input of rings.fit; "
                     "nearest: ring.bore",
                     0) == 0);
    CHECK(told([&] {
              system.output(as_given, "holding_forse");
          }).rfind("holding_forse: is not an output of rings.fit; nearest: holding_force", 0) == 0);
    CHECK(told([&] { system.output("full_load", "gap"); }) ==
          "state: \"full_load\" is not a state of rings.fit, which knows \"as_given\" alone");
    system.set(system.leaf("ring.length"), none);
    REQUIRE(system.problems().size() == 1);
    CHECK(system.problems()[0].path == "ring.length");
    system = fit();
    CHECK(told([&] {
              system.sweep({system.leaf("ring.outside")}, {{0.105, 0.070}}, {0}, 1);
          }).find("(point 1 of the sweep)") != std::string::npos);
}
