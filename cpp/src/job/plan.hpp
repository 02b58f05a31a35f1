#pragma once

#include <fitwright/job/job.hpp>

namespace fitwright::job {

std::vector<Problem> problems_of(const Plan& plan);
Layout layout_of(const Plan& plan); // points into the plan
std::vector<InputPath> inputs_of(const Plan& plan);
std::vector<OutputPath> outputs_of(const Plan& plan);
std::vector<std::string> lag_names(const Plan& plan);
std::vector<std::string> ring_names(const Plan& plan);

} // namespace fitwright::job
