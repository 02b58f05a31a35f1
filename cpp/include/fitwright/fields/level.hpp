// Which vector level runs. Chosen once from the processor; FITWRIGHT_LEVEL=v2, v3 or v4 in the
// environment forces one.
#pragma once

#include <string>
#include <vector>

namespace fitwright::fields {

// 0 where the build has only the baseline (other processors, sanitizers), else 2, 3 or 4.
int active_level();
// The levels this build has and this processor can run.
std::vector<int> usable_levels();
// For tests and benchmarks. Throws std::invalid_argument when the level cannot run here.
void force_level(int level);

} // namespace fitwright::fields
