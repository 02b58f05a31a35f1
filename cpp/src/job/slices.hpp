#pragma once

#include "detail/inputs.hpp"
#include <fitwright/fields/error.hpp>
#include <string>
#include <vector>

namespace fitwright::job {

// `path` of the ring: "rings.NAME".
void add_slice_problems(const Inputs<double>& job, int ring, const std::string& path,
                        std::vector<Problem>& problems);

} // namespace fitwright::job
