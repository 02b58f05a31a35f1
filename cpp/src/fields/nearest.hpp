// The three names nearest to one that was not found.
#pragma once

#include <string>
#include <vector>

namespace fitwright::fields {

std::string nearest(const std::string& wanted, const std::vector<std::string>& names);

} // namespace fitwright::fields
