#include "steps.hpp"
#include "plan.hpp"
#include <algorithm>
#include <set>

namespace fitwright::job {

namespace {

using stack::StepKind;

// Parts of the stack as its history counts them: the rings, then the washer.
std::vector<std::string> parts_of(const Plan& plan) {
    std::vector<std::string> names = ring_names(plan);
    if (plan.lock)
        names.push_back("lock");
    return names;
}

} // namespace

std::vector<StepPlan> usual_steps(const Plan& plan) {
    std::vector<StepPlan> steps;
    const std::string& built = plan.states.front();
    std::set<std::string> taken(plan.states.begin(), plan.states.end());
    const auto add = [&](std::string name, StepKind kind) -> StepPlan& {
        while (!taken.insert(name).second)
            name += "_step";
        StepPlan step;
        step.name = std::move(name);
        step.kind = kind;
        steps.push_back(step);
        return steps.back();
    };
    for (const RingPlan& ring : plan.rings) {
        if (!ring.grips) {
            add("slide_on_" + ring.name, StepKind::slip_on).parts = {ring.name};
            continue;
        }
        add("slip_on_" + ring.name, StepKind::slip_on).parts = {ring.name};
        add("press_" + ring.name, StepKind::press).against = ring.press_against;
        add("cool_" + ring.name, StepKind::state).state = built;
        add("release_" + ring.name, StepKind::release);
    }
    if (plan.lock)
        add("put_on_lock", StepKind::slip_on).parts = {"lock"};
    add("nut_on", StepKind::nut_on);
    add("tighten", StepKind::tighten);
    add("lock", StepKind::lock);
    taken.clear();
    for (std::size_t s = 1; s < plan.states.size(); ++s)
        add(plan.states[s], StepKind::state).state = plan.states[s];
    taken.insert(plan.states.begin(), plan.states.end());
    if (plan.states.size() > 1)
        add("cooled_down", StepKind::state).state = built;
    return steps;
}

bool is_service(const std::vector<StepPlan>& steps, std::size_t step) {
    bool locked = false;
    for (std::size_t k = 0; k < step; ++k) {
        locked = locked || steps[k].kind == StepKind::lock;
        locked = locked && steps[k].kind != StepKind::loosen;
    }
    return locked && steps[step].kind == StepKind::state;
}

std::vector<Problem> step_problems(const Plan& plan) {
    std::vector<Problem> problems;
    std::vector<std::string> names;
    const std::vector<std::string> parts = parts_of(plan);
    for (const StepPlan& step : plan.steps) {
        const std::string path = "steps." + step.name;
        if (index_of(plan.states, step.name) >= 0 &&
            (step.kind != StepKind::state || step.state != step.name))
            problems.push_back({path, "is the name of a state; only the step that goes to it may "
                                      "have its name"});
        if (step.kind == StepKind::state && index_of(plan.states, step.state) < 0)
            problems.push_back({path + ".state", quoted(step.state) + " is not a state"});
        if (step.kind == StepKind::slip_on || step.kind == StepKind::pull) {
            int before = -1;
            for (const std::string& part : step.parts) {
                const int i = index_of(parts, part);
                if (i < 0)
                    problems.push_back({path + ".parts", quoted(part) + " is not a ring or the "
                                                                        "lock"});
                else if (before >= 0 && i != before + 1)
                    problems.push_back({path + ".parts", "must follow each other, shoulder first"});
                before = i;
            }
            if (step.parts.empty() && step.kind == StepKind::slip_on)
                problems.push_back({path + ".parts", "must name the parts that go on"});
        }
        if (step.kind == StepKind::repeat) {
            const int first = index_of(names, step.first);
            const int last = index_of(names, step.last);
            if (first < 0 || last < first)
                problems.push_back(
                    {path + ".from", "from and to must name earlier steps, in order"});
            if (step.times < 1 || step.times > 1000)
                problems.push_back({path + ".times", "must be a whole number from 1 to 1000"});
        }
        names.push_back(step.name);
    }
    return problems;
}

void lay_steps(const Plan& plan, Layout& at) {
    const std::vector<std::string> parts = parts_of(plan);
    std::vector<std::string> names;
    at.steps = static_cast<int>(plan.steps.size());
    for (int k = 0; k < at.steps; ++k) {
        const StepPlan& step = plan.steps[static_cast<std::size_t>(k)];
        at.step_kind[k] = static_cast<int>(step.kind);
        at.step_against[k] = static_cast<int>(step.against);
        at.step_state[k] = std::max(0, index_of(plan.states, step.state));
        at.step_first[k] = at.step_last[k] = step.kind == StepKind::pull ? -1 : 0;
        if (!step.parts.empty()) {
            at.step_first[k] = index_of(parts, step.parts.front());
            at.step_last[k] = index_of(parts, step.parts.back());
        } else if (step.kind == StepKind::repeat) {
            at.step_first[k] = index_of(names, step.first);
            at.step_last[k] = index_of(names, step.last);
        }
        at.step_times[k] = step.times;
        names.push_back(step.name);
    }
}

void add_step_inputs(const Plan& plan, std::vector<InputPath>& into) {
    for (const StepPlan& step : plan.steps)
        add_inputs<Step>("steps." + step.name + ".", into);
}

void add_step_outputs(const Plan& plan, std::vector<OutputPath>& into) {
    for (const StepPlan& step : plan.steps) {
        add_outputs<ShoulderStep>(step.name, "shoulder.", into);
        add_outputs<NutStep>(step.name, "nut.", into);
        add_outputs<StackStep>(step.name, "stack.", into);
        for (const RingPlan& ring : plan.rings)
            add_outputs<PartStep>(step.name, "rings." + ring.name + ".", into);
        if (plan.lock)
            add_outputs<PartStep>(step.name, "lock.", into);
    }
}

} // namespace fitwright::job
