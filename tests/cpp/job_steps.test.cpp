// The steps of a job: the usual sequence, a list of one's own, and what stands after each.
#include "cases.hpp"
#include "catch.hpp"

#include <cmath>
#include <fitwright/study/inverse.hpp>
#include <fitwright/study/study.hpp>

using namespace fitwright;
using stack::StepKind;

namespace {

std::size_t at(int i) { return static_cast<std::size_t>(i); }

double value(const job::Job& job, const char* state, const std::string& path) {
    const job::Job there = job.at(job::Level::heating);
    return there.evaluate()[at(there.output(state, path))];
}
std::vector<std::string> names(const job::Job& job) {
    std::vector<std::string> all;
    for (const job::StepPlan& step : job.plan().steps)
        all.push_back(step.name);
    return all;
}
job::StepPlan step(const char* name, StepKind kind) {
    job::StepPlan s;
    s.name = name;
    s.kind = kind;
    return s;
}
// The blower with steps of its own; values as they are there.
job::Job with_steps(const std::vector<job::StepPlan>& steps) {
    job::Plan plan = cases::blower_plan();
    plan.steps = steps;
    const job::Job usual = cases::blower();
    job::Job job(plan);
    for (std::size_t i = 0; i < job.inputs().size(); ++i)
        for (std::size_t k = 0; k < usual.inputs().size(); ++k)
            if (usual.inputs()[k].path == job.inputs()[i].path)
                job.set(static_cast<int>(i), usual.values()[k]);
    return job;
}
std::vector<job::StepPlan> assembled() {
    std::vector<job::StepPlan> steps;
    for (const char* part : {"sleeve", "inner_thrust", "inner_back", "wheel", "slinger", "lock"}) {
        steps.push_back(step(part, StepKind::slip_on));
        steps.back().name = std::string("on_") + part;
        steps.back().parts = {part};
    }
    steps.push_back(step("built", StepKind::state));
    steps.back().state = "cold";
    steps.push_back(step("nut_on", StepKind::nut_on));
    return steps;
}

} // namespace

TEST_CASE("the usual steps put rings on from the shoulder, turn the nut, and end cold", "[job]") {
    const std::vector<std::string> usual = names(cases::blower());
    const std::vector<std::string> first = {"slip_on_sleeve", "press_sleeve", "cool_sleeve",
                                            "release_sleeve", "slip_on_inner_thrust"};
    CHECK(std::vector<std::string>(usual.begin(), usual.begin() + 5) == first);
    const std::vector<std::string> last = {"put_on_lock", "nut_on",    "tighten", "lock",
                                           "start",       "full_load", "trip",    "cooled_down"};
    CHECK(std::vector<std::string>(usual.end() - 8, usual.end()) == last);
}

TEST_CASE("without friction the history of a job is its quick level", "[job]") {
    job::Job job = cases::blower();
    for (const char* state : {"start", "full_load"})
        cases::give(job, std::string("states.") + state + ".", {{"thrust", 0.0}});
    for (const job::RingPlan& ring : job.plan().rings)
        cases::give(job, "rings." + ring.name + ".",
                    {{"friction", 0.0}, {"friction_low", 0.0}, {"friction_high", 0.0}});
    for (const char* state : {"start", "full_load", "trip"}) {
        CAPTURE(state);
        const double quick = value(job, state, "nut.force");
        CHECK(value(job, state, "nut.clamp") == Approx(quick).epsilon(2e-3));
        CHECK(value(job, state, "shoulder.clamp") == Approx(quick).epsilon(2e-3));
    }
    CHECK(value(job, "tighten", "nut.clamp") == Approx(value(job, "cold", "nut.preload")));
}

TEST_CASE("first tightening through gripped rings follows the law of the gripped stack", "[job]") {
    // The quick level's least clamp is the same law, ring by ring, less what the law may be wrong by.
    job::Job job = cases::blower();
    for (const char* friction : {"nut.thread_friction", "nut.face_friction"})
        cases::give(job, friction, {{"", 0.125}, {"_low", 0.125}, {"_high", 0.125}});
    const double capacity = value(job, "cold", "stack.grip_capacity_high");
    for (const auto& [path, quick] : {std::pair{"shoulder.clamp_least", "shoulder.clamp_low"},
                                      std::pair{"shoulder.clamp", "shoulder.clamp_nominal"}}) {
        const double less = value(job, "tighten", path) - value(job, "cold", quick);
        CHECK(less >= 0.0);
        CHECK(less < 0.08 * capacity);
    }
    CHECK(value(job, "tighten", "shoulder.clamp_most") <=
          value(job, "cold", "shoulder.clamp_high"));
    CHECK(value(job, "tighten", "shoulder.clamp_least") <= value(job, "tighten", "shoulder.clamp"));
    CHECK(value(job, "tighten", "shoulder.clamp") <= value(job, "tighten", "shoulder.clamp_most"));
}

TEST_CASE("a press held by the shaft leaves clamp, one from outside leaves none", "[job]") {
    job::Plan plan = cases::blower_plan();
    for (const auto against : {stack::Reaction::shaft, stack::Reaction::outside}) {
        plan.rings.front().press_against = against;
        job::Job job(plan);
        const job::Job usual = cases::blower();
        for (std::size_t i = 0; i < job.inputs().size(); ++i)
            job.set(static_cast<int>(i), usual.values()[i]);
        const auto left = [&](double press) {
            cases::give(job, "rings.sleeve.", {{"press", press}});
            return value(job, "release_sleeve", "shoulder.clamp");
        };
        // Below what makes the cold ring slide; above it bars keep some where finite elements keep
        // nothing (docs/theory-history.md).
        if (against == stack::Reaction::shaft)
            CHECK(left(25e3) > 4e3);
        else
            CHECK(left(15e3) < 1.0);
    }
}

TEST_CASE("limits of the history hold for states of the locked stack alone", "[job]") {
    const job::Job job = cases::blower().at(job::Level::history);
    int seen = 0;
    for (const job::Limit& l : job.limits()) {
        const job::OutputPath& o = job.outputs()[at(l.output)];
        if (l.output < cases::blower().output_count() || o.path == "bearing.arch_margin")
            continue; // of a state, not of a step
        ++seen;
        CHECK((o.state == "start" || o.state == "full_load" || o.state == "trip" ||
               o.state == "cooled_down"));
    }
    CHECK(seen == 8); // nut and shoulder in each
    CHECK(job.limits().size() > cases::blower().limits().size());
    CHECK_THROWS_WITH(cases::blower().output("full_load", "shoulder.clamp"),
                      ContainsSubstring("is an output of level \"history\"; ask at that level"));
    CHECK_THROWS_WITH(cases::blower().output("cold", "rings.sleeve.slip_on.window"),
                      ContainsSubstring("is an output of level \"heating\""));
}

TEST_CASE("steps that cannot be are refused with their name", "[job]") {
    job::Plan plan = cases::blower_plan();
    plan.steps = {step("start", StepKind::tighten), step("on", StepKind::slip_on),
                  step("go", StepKind::state), step("again", StepKind::repeat)};
    plan.steps[1].parts = {"sleeve", "wheel"};
    plan.steps[2].state = "midnight";
    plan.steps[3].first = "go";
    plan.steps[3].last = "on";
    plan.steps[3].times = 0;
    for (const char* told :
         {"steps.start: is the name of a state", "steps.on.parts: must follow each other",
          "steps.go.state: \"midnight\" is not a state",
          "steps.again.from: from and to must name earlier steps",
          "steps.again.times: must be a whole number from 1 to 1000"})
        CHECK_THROWS_WITH(job::Job(plan), ContainsSubstring(told));

    std::vector<job::StepPlan> early = assembled();
    early.insert(early.begin(), step("too_early", StepKind::tighten));
    CHECK_THROWS_WITH(with_steps(early).at(job::Level::history).evaluate(),
                      ContainsSubstring("steps.too_early"));
}

TEST_CASE("cycles wear the clamp in, and a loosened nut leaves only what friction holds", "[job]") {
    std::vector<job::StepPlan> steps = assembled();
    steps.push_back(step("tighten", StepKind::tighten));
    steps.push_back(step("lock", StepKind::lock));
    for (const char* state : {"full_load", "trip"}) {
        steps.push_back(step(state, StepKind::state));
        steps.back().state = state;
    }
    steps.push_back(step("days", StepKind::repeat));
    steps.back().first = "full_load";
    steps.back().last = "trip";
    steps.back().times = 5;
    steps.push_back(step("loosen", StepKind::loosen));
    const job::Job job = with_steps(steps);
    CHECK(value(job, "days", "nut.clamp") > 0.0);
    CHECK(value(job, "days", "nut.clamp") < value(job, "tighten", "nut.clamp"));
    CHECK(value(job, "loosen", "nut.clamp") == 0.0);
    CHECK(value(job, "loosen", "shoulder.clamp") >= 0.0);
}

TEST_CASE("derivatives of the history and of the heating are those of differences", "[job]") {
    job::Job job = cases::blower().at(job::Level::heating);
    const job::Job::Jacobian exact = job.jacobian();
    const std::vector<double> plain = job.evaluate();
    for (std::size_t o = 0; o < plain.size(); ++o) {
        CAPTURE(job.outputs()[o].path);
        CHECK(std::fabs(exact.outputs[o] - plain[o]) <=
              1e-7 * std::max(std::fabs(plain[o]), job.outputs()[o].field->standard));
    }
    const auto n = job.inputs().size();
    for (const char* path : {"seats.main.diameter", "nut.torque", "rings.sleeve.oven",
                             "states.full_load.lags.sleeve", "workshop.air_film"}) {
        const int leaf = job.leaf(path);
        const double x = job.values()[at(leaf)];
        const double h = std::string(path) == "seats.main.diameter" ? 2e-9 : std::fabs(x) * 1e-4;
        const auto moved = [&](double by) {
            job::Job there = job;
            there.set(leaf, x + by);
            return there.evaluate();
        };
        const auto high = moved(h);
        const auto low = moved(-h);
        int compared = 0;
        for (const char* output :
             {"full_load/nut.clamp", "full_load/shoulder.clamp", "trip/shoulder.clamp",
              "cold/rings.sleeve.slip_on.grab", "cold/rings.sleeve.seating.gap"}) {
            const std::string both = output;
            const auto slash = both.find('/');
            const int o = job.output(both.substr(0, slash), both.substr(slash + 1));
            const double rough = (high[at(o)] - low[at(o)]) / (2.0 * h);
            const double slope = exact.derivatives[at(o) * n + at(leaf)];
            CAPTURE(path, output);
            const double scale = std::fabs(exact.outputs[at(o)]) / std::fabs(x) * 1e-3;
            CHECK(std::fabs(slope - rough) <= 0.03 * std::fabs(rough) + scale);
            compared += rough != 0.0;
        }
        CHECK(compared > 0);
    }
}

TEST_CASE("a study of histories tells what its samples tell one by one", "[job][study]") {
    const job::Job job = cases::blower().at(job::Level::history);
    const int output = job.output("full_load", "shoulder.clamp");
    const std::int64_t count = 24; // three packs of lanes
    study::Study s(study::subject_of(job), cases::spreads(job), {{output, 0.0, 1e9}}, 5, count);
    while (s.done() < s.count())
        s.advance(count, 2);
    double sum = 0.0;
    for (std::int64_t k = 0; k < count; ++k) {
        job::Job there = job;
        const std::vector<double> sample = s.sample(k);
        for (std::size_t i = 0; i < sample.size(); ++i)
            there.set(static_cast<int>(i), sample[i]);
        sum += there.evaluate()[at(output)];
    }
    CHECK(s.statistics(0).mean == Approx(sum / static_cast<double>(count)).epsilon(1e-12));
    CHECK(s.out_of_domain() == 0);
}
