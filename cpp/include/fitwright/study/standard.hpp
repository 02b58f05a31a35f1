// What scatters in a job, and together, without being told.
#pragma once

#include <fitwright/job/job.hpp>
#include <fitwright/study/study.hpp>
#include <vector>

namespace fitwright::study {

// Expansion of every part over its table, normal about its value with the deviation of its material
// (materials::expansion_deviation).
std::vector<Spread> standard_spreads(const job::Job& job);

// Normal scores of inputs that have the same cause, all assumptions, no measurement stands behind them:
// thread and face friction of the nut come from one tin and one brush.
inline constexpr double one_tin = 0.8;
// Seats of one assembly are cleaned alike and share one shaft: part of their friction.
inline constexpr double one_assembly = 0.5;
// How far a steel lies from its table is the steel's; melts of one steel differ little beside.
inline constexpr double one_metal = 0.9;

// The standard of the job for those of its inputs that scatter, but for pairs that are told; a pair told
// as 0 is free.
std::vector<Correlation> with_standard(const job::Job& job, const std::vector<Spread>& spreads,
                                       const std::vector<Correlation>& told);

} // namespace fitwright::study
