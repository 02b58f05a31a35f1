#pragma once

#include <fitwright/job/job.hpp>

namespace fitwright::job {

// In the order of Layout::attached: the plate, if there is one, then each tool for each ring it serves. Where
// their numbers lie is told by layout_of.
std::vector<Attached> attached_of(const Plan& plan);
void add_attached_problems(const Plan& plan, std::vector<Problem>& problems);
// Of the plate ("plate") or one tool, each once.
void add_attached_inputs(const AttachedPlan& of, bool is_plate, const Plan& plan,
                         std::vector<InputPath>& into);
void add_attached_outputs(const AttachedPlan& of, const std::string& ring, const std::string& state,
                          std::vector<OutputPath>& into);
int own_inputs(const Attached& attached);

// Where a fault in attached model `number` is, `place` being the model's own.
std::string attached_part(const Plan& plan, int number);
std::string attached_path(const Plan& plan, const Layout& at, int number, const Fault& fault);

LevelCalls attached_calls();
AttachedLanes attached_lanes();

} // namespace fitwright::job
