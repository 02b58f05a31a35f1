// The steps of assembly and service, in order.
#pragma once

#include <fitwright/job/step_parts.hpp>
#include <fitwright/stack/history.hpp>
#include <string>
#include <vector>

namespace fitwright::job {

// Structure of a step; its numbers are inputs of the job (steps.NAME.force).
struct StepPlan {
    std::string name;
    stack::StepKind kind = stack::StepKind::state;
    stack::Reaction against = stack::Reaction::shaft;
    std::string state;              // of `state`
    std::vector<std::string> parts; // of `slip_on`: rings next to each other, or "lock"
    std::string first, last;        // of `repeat`: names of earlier steps
    int times = 1;
};

} // namespace fitwright::job
