// The calls that work out what the levels above quick add.
#pragma once

#include <fitwright/job/layout.hpp>

namespace fitwright::job {

LevelCalls history_calls();
LevelCalls heating_calls();

} // namespace fitwright::job
