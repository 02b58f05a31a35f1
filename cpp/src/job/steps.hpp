// Steps of a plan: the usual sequence, what is wrong with a list of steps, and where they lie.
#pragma once

#include <fitwright/job/job.hpp>

namespace fitwright::job {

// Put every gripping ring on hot, press it while it cools and let go; slide on the others; turn the
// nut and lock it; go through the states; come back to the first.
std::vector<StepPlan> usual_steps(const Plan& plan);
std::vector<Problem> step_problems(const Plan& plan);
// Whether a step stands for a state of the locked stack, so that the usual limits hold.
bool is_service(const std::vector<StepPlan>& steps, std::size_t step);
void lay_steps(const Plan& plan, Layout& at);
void add_step_inputs(const Plan& plan, std::vector<InputPath>& into);
void add_step_outputs(const Plan& plan, std::vector<OutputPath>& into);

} // namespace fitwright::job
