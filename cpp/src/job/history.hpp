// The outputs of the history level and the calls that work them out.
#pragma once

#include <fitwright/job/job.hpp>

namespace fitwright::job {

HistoryCalls history_calls();
int history_output_count(const Plan& plan);
void add_history_outputs(const Plan& plan, std::vector<OutputPath>& into);

} // namespace fitwright::job
