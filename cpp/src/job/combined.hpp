#pragma once

#include <fitwright/job/layout.hpp>

namespace fitwright::job {

// The bearing under thrust, radial load and moment in one state: a LoadedBearing in, EquilibriumOutputs
// out.
LevelCalls combined_calls();

} // namespace fitwright::job
