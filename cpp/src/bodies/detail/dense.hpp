// The inverse of a small dense matrix.
#pragma once

#include <cstddef>
#include <vector>

namespace fitwright::bodies {

// a: n x n, row by row, replaced by its inverse; false where it has none.
bool invert(std::vector<double>& a, std::size_t n);
// The inverse of a matrix some rows of which change by `change` (rows.size() x n), from the inverse before
// (M. A. Woodbury's formula); false where the new one has none, and then it is spoilt.
bool change_rows(std::vector<double>& inverse, std::size_t n, const std::vector<std::size_t>& rows,
                 const std::vector<double>& change);

// Sum of products. Several sums at once, which a processor adds in parallel; their order is fixed, so that
// the answer is the same everywhere.
inline double dot(const double* a, const double* b, std::size_t n) {
    double sum[8] = {};
    std::size_t i = 0;
    for (; i + 8 <= n; i += 8)
        for (std::size_t k = 0; k < 8; ++k)
            sum[k] += a[i + k] * b[i + k];
    for (; i < n; ++i)
        sum[0] += a[i] * b[i];
    return ((sum[0] + sum[1]) + (sum[2] + sum[3])) + ((sum[4] + sum[5]) + (sum[6] + sum[7]));
}
template <class T>
T dot(const double* a, const T* b, std::size_t n) {
    T sum(0.0);
    for (std::size_t i = 0; i < n; ++i)
        sum += b[i] * a[i];
    return sum;
}

} // namespace fitwright::bodies
