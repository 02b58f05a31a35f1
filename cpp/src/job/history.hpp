// The calls that work out the outputs of the history level.
#pragma once

#include <fitwright/job/layout.hpp>

namespace fitwright::job {

HistoryCalls history_calls();

} // namespace fitwright::job
