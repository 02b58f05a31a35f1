// A ring of a job that passes a torque to the shaft: asked for where it is told, held by its grip. The
// torque a grip holds is checked against published cases by tests/reference/rings.toml; here it is balance.
#include "cases.hpp"
#include "catch.hpp"
#include "job_checks.hpp"

#include <fitwright/job/enclosed.hpp>
#include <fitwright/job/parts.hpp>

using namespace fitwright;

namespace {

double found(const job::Job& job, const char* state, const char* path) {
    return job.evaluate()[job_checks::at(job.output(state, path))];
}
// The blower whose sleeve passes a torque.
job::Job turning(double torque) {
    job::Plan plan = cases::blower_plan();
    plan.torque_rings = {"sleeve"};
    job::Job job(plan);
    const job::Job plain = cases::blower();
    for (std::size_t i = 0; i < plain.inputs().size(); ++i)
        job.set(job.leaf(plain.inputs()[i].path), plain.values()[i]);
    cases::give(job, "states.full_load.torques.", {{"sleeve", torque}});
    return job;
}
std::string told_of(const job::Plan& plan) {
    try {
        const job::Job job(plan);
    } catch (const DomainError& error) {
        std::string text;
        for (const Problem& p : error.problems())
            text += p.path + ": " + p.text + "\n";
        return text;
    }
    return {};
}

} // namespace

TEST_CASE("what the grip holds beyond the torque of a ring is told in each state",
          "[job][torque]") {
    const job::Job job = turning(900.0);
    CHECK(job_checks::told(job) == "");
    const char* margin = "rings.sleeve.torque_margin";
    for (const std::string& state : job.plan().states) {
        const double held = found(job, state.c_str(), "rings.sleeve.torque_capacity");
        const double passed = state == "full_load" ? 900.0 : 0.0;
        CHECK(found(job, state.c_str(), margin) == held - passed);
    }
    const int row = job.output("full_load", margin);
    const int own = job.leaf("states.full_load.torques.sleeve");
    const auto slopes = job.slopes({row}, {own, job.leaf("states.start.torques.sleeve")});
    CHECK(slopes.derivatives[0] == -1.0);
    CHECK(slopes.derivatives[1] == 0.0);
}

TEST_CASE("a ring without a torque leaves every other output as it is", "[job][torque]") {
    const job::Job plain = cases::blower();
    const job::Job job = turning(900.0);
    const auto before = plain.evaluate();
    const auto after = job.evaluate();
    for (std::size_t i = 0; i < before.size(); ++i) {
        const auto& output = plain.outputs()[i];
        CHECK(after[job_checks::at(job.output(output.state, output.path))] == before[i]);
    }
}

TEST_CASE("a torque that nothing can hold is refused", "[job][torque]") {
    job::Plan plan = cases::blower_plan();
    plan.torque_rings = {"wheel"};
    CHECK_THAT(told_of(plan),
               ContainsSubstring("rings.wheel.joint: must be grip: a state tells a torque"));
    plan.torque_rings = {"gear"};
    CHECK_THAT(told_of(plan), ContainsSubstring("\"gear\" is not a ring"));
    plan.torque_rings = {"sleeve", "sleeve"};
    CHECK_THAT(told_of(plan), ContainsSubstring("rings.sleeve: is named twice"));
    job::Job job = turning(0.0);
    cases::give(job, "states.cold.torques.", {{"sleeve", 5.0}});
    CHECK_THAT(
        job_checks::told(job),
        ContainsSubstring("states.cold.torques.sleeve: must be 0: the first state is as built"));
}
