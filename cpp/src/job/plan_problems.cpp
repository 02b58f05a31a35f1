// What is wrong with a plan.
#include "attached.hpp"
#include "plan.hpp"
#include "steps.hpp"
#include <algorithm>
#include <cctype>
#include <cstdint>
#include <iterator>
#include <set>

namespace fitwright::job {

namespace {

bool is_name(const std::string& name) {
    if (name.empty() || std::isalpha(static_cast<unsigned char>(name.front())) == 0)
        return false;
    return std::all_of(name.begin(), name.end(), [](char c) {
        return (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || c == '_';
    });
}

// Empty, or "300, at most 100 states in a job".
std::string too_many(const std::string& name, std::int64_t count) {
    for (const CountLimit& limit : count_limits())
        if (limit.name == name)
            return count >= 0 && count <= limit.most
                       ? std::string()
                       : std::to_string(count) + ": at most " + std::to_string(limit.most) + " " +
                             limit.what;
    return {};
}

// How many steps one that repeats goes through.
int times_over(const Plan& plan, const StepPlan& step) {
    int first = -1;
    for (int k = 0; k < static_cast<int>(plan.steps.size()); ++k) {
        const std::string& name = plan.steps[static_cast<std::size_t>(k)].name;
        if (first < 0 && name == step.first)
            first = k;
        if (first >= 0 && name == step.last)
            return k - first + 1;
    }
    return 1;
}

void check_names(const std::string& table, const std::vector<std::string>& names,
                 std::vector<Problem>& problems) {
    std::set<std::string> seen;
    for (const std::string& name : names) {
        if (!is_name(name))
            problems.push_back(
                {table, quoted(name) + " must be a lower-case name (letters, digits, _)"});
        else if (name.size() > static_cast<std::size_t>(name_limit))
            problems.push_back({table + "." + name, too_many("name", std::ssize(name))});
        else if (!seen.insert(name).second)
            problems.push_back({table + "." + name, "is named twice; names must be different"});
    }
}

// Before anything is laid out: what is too many is not looked at one by one.
void check_counts(const Plan& plan, std::vector<Problem>& problems) {
    std::int64_t members = 0;
    for (const RingPlan& r : plan.rings) {
        members += std::max(r.slices, 1);
        if (r.slices < 0 || r.slices > slice_limit)
            problems.push_back({"rings." + r.name + ".slices", too_many("slices", r.slices)});
    }
    std::int64_t repeats = 0;
    for (const StepPlan& s : plan.steps)
        if (s.kind == stack::StepKind::repeat)
            repeats += static_cast<std::int64_t>(std::clamp(s.times, 1, 1000)) *
                       std::max(1, times_over(plan, s));
    const auto check = [&](const char* name, std::int64_t count) {
        if (std::string text = too_many(name, count); !text.empty())
            problems.push_back({std::string(name) == "repeats" ? "steps" : name, text});
    };
    check("rings", members);
    check("seals", std::ssize(plan.seals));
    check("seats", std::ssize(plan.seats));
    check("states", std::ssize(plan.states));
    check("steps", std::ssize(plan.steps));
    if (plan.steps.size() <= static_cast<std::size_t>(step_limit))
        check("repeats", repeats);
}

void check_slices(const Plan& plan, std::vector<Problem>& problems) {
    for (const RingPlan& r : plan.rings)
        if (r.slices > 0 && plan.bearing && index_of(plan.bearing->inner_rings, r.name) >= 0)
            problems.push_back({"rings." + r.name + ".slices",
                                "the bearing's inner ring is told by one outside, that of its "
                                "shoulder; its groove is known from the bearing"});
}

// Tabs and slots are counts of a part as drawn: structure, not numbers that scatter.
void add_lock_problems(const Plan& plan, std::vector<Problem>& problems) {
    const auto check = [&](const char* path, int count, int other) {
        if (count < 0 || count > tab_limit)
            problems.push_back({path, "must be a whole number from 1 to 360"});
        else if (count == 0 && other != 0)
            problems.push_back({path, "must be given: tabs meet slots"});
    };
    check("lock.tabs", plan.lock_tabs, plan.lock_slots);
    check("lock.slots", plan.lock_slots, plan.lock_tabs);
}

} // namespace

std::vector<Problem> problems_of(const Plan& plan) {
    std::vector<Problem> problems;
    check_counts(plan, problems);
    if (!problems.empty())
        return problems;
    const std::vector<std::string> rings = ring_names(plan);
    check_names("seats", plan.seats, problems);
    check_names("rings", rings, problems);
    check_names("states", plan.states, problems);
    std::vector<std::string> steps;
    for (const StepPlan& step : plan.steps)
        steps.push_back(step.name);
    check_names("steps", steps, problems);
    const std::vector<std::string> seals = seal_names(plan);
    check_names("seals", seals, problems);
    for (const SealPlan& s : plan.seals) {
        if (index_of(rings, s.ring) < 0)
            problems.push_back({"seals." + s.name + ".ring", quoted(s.ring) + " is not a ring"});
        if (index_of(rings, s.name) >= 0)
            problems.push_back({"seals." + s.name, "is the name of another part"});
    }
    if (plan.rings.empty())
        problems.push_back({"rings", "a job needs at least one ring"});
    if (plan.seats.empty())
        problems.push_back({"seats", "a job needs at least one seat"});
    if (plan.states.empty())
        problems.push_back({"states", "a job needs at least one state; the first is as built"});
    check_slices(plan, problems);
    std::vector<const char*> others{"nut", "lock", "outer_ring", "balls"};
    if (has_pocket_lag(plan))
        others.push_back("pocket");
    for (const char* taken : others)
        for (const auto& [table, names] : {std::pair{"rings.", &rings}, {"seals.", &seals}})
            if (index_of(*names, taken) >= 0)
                problems.push_back({std::string(table) + taken, "is the name of another part"});
    for (const RingPlan& r : plan.rings)
        if (index_of(plan.seats, r.seat) < 0)
            problems.push_back({"rings." + r.name + ".seat", quoted(r.seat) + " is not a seat"});
    std::vector<std::string> turning;
    for (const std::string& name : plan.torque_rings) {
        const int i = index_of(rings, name);
        if (i < 0)
            problems.push_back(
                {"rings", quoted(name) + " is not a ring; a state tells its torque"});
        else if (index_of(turning, name) >= 0)
            problems.push_back({"rings." + name, "is named twice among those that pass a torque"});
        else if (!plan.rings[static_cast<std::size_t>(i)].grips)
            problems.push_back({"rings." + name + ".joint",
                                "must be grip: a state tells a torque it passes to the shaft, "
                                "and a ring that slides holds none"});
        turning.push_back(name);
    }
    if (plan.bearing) {
        const auto& inner = plan.bearing->inner_rings;
        if (inner.empty() || inner.size() > 2)
            problems.push_back(
                {"bearing.inner_rings", "name one ring, or the two halves in order"});
        for (const std::string& name : inner)
            if (index_of(rings, name) < 0)
                problems.push_back({"bearing.inner_rings", quoted(name) + " is not a ring"});
        if (inner.size() == 2 && index_of(rings, inner[1]) != index_of(rings, inner[0]) + 1)
            problems.push_back(
                {"bearing.inner_rings", "the halves must follow each other, shoulder first"});
    }
    add_lock_problems(plan, problems);
    std::vector<std::string> tools;
    for (const AttachedPlan& tool : plan.tools)
        tools.push_back(tool.name);
    check_names("tools", tools, problems);
    add_attached_problems(plan, problems);
    if (plan.pocket && !plan.bearing)
        problems.push_back({"pocket", "needs a bearing"});
    if (plan.service && !plan.bearing)
        problems.push_back({"service", "needs a bearing"});
    if (plan.has_ring_loads && !plan.bearing)
        problems.push_back({"bearing", "is needed: a state tells of a radial load or a moment"});
    if (problems.empty())
        problems = step_problems(plan);
    return problems;
}

} // namespace fitwright::job
