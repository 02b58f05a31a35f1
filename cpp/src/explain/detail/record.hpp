// Inputs into a recording, and its outputs by name.
#pragma once

#include <fitwright/explain/lines.hpp>
#include <fitwright/explain/number.hpp>

namespace fitwright::explain {

std::vector<Number> record_inputs(Recording& recording, const double* values, std::size_t count);
// Each gets a node of its own.
void record_outputs(Recording& recording, const std::vector<Number>& outputs,
                    std::vector<OutputName>& names);

} // namespace fitwright::explain
