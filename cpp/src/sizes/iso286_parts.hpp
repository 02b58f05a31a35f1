// What the files of ISO 286 share.
#pragma once

#include <fitwright/sizes/iso286.hpp>

namespace fitwright::sizes::parts {

// "7", "0", "01".
std::string grade_text(int grade);
// Why a class has no limits at this size, and the nearest ones that have.
std::string not_defined(const ToleranceClass& wanted, double nominal);

} // namespace fitwright::sizes::parts
