// The inverse of a small dense matrix.
#pragma once

#include <cstddef>
#include <vector>

namespace fitwright::bodies {

// a: n x n, row by row, replaced by its inverse; false where it has none.
bool invert(std::vector<double>& a, std::size_t n);

} // namespace fitwright::bodies
