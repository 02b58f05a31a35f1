#pragma once

#include <fitwright/fields/error.hpp>
#include <fitwright/fields/model.hpp>

namespace fitwright::fields {

// The input of a model that a fault speaks of, with its part: "plate.hole".
std::string path_of_fault(const Model& model, const Fault& fault);

} // namespace fitwright::fields
