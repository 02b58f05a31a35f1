// Slopes of an enclosure: lows by direction, then highs; nullptr where nothing depends.
#pragma once

#include <fitwright/number/enclosure.hpp>

namespace fitwright::number {

// A x' + B y' for intervals A and B; one of x and y may have none.
const double* mixed(const Interval& a, const double* x, const Interval& b, const double* y);

// Both.
const double* hull(const double* x, const double* y);

// Unbounded wherever one of them depends on the direction at all.
const double* jumping(const double* x, const double* y, const double* z);

// With every hub replaced by what it comes from.
const double* by_inputs(const double* slopes);

} // namespace fitwright::number
