#include "detail/dense.hpp"
// Blocks of one size on every processor, so that sums run in one order.
#define EIGEN_NO_CPUID
#include <Eigen/LU>

namespace fitwright::bodies {

namespace {
using Matrix = Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, Eigen::RowMajor>;
}

bool invert(std::vector<double>& a, std::size_t n) {
    const auto size = static_cast<Eigen::Index>(n);
    Eigen::Map<Matrix> m(a.data(), size, size);
    const Matrix inverse = m.partialPivLu().inverse();
    if (!inverse.allFinite())
        return false;
    m = inverse;
    return true;
}

bool change_rows(std::vector<double>& inverse, std::size_t n, const std::vector<std::size_t>& rows,
                 const std::vector<double>& change) {
    const auto size = static_cast<Eigen::Index>(n);
    const auto some = static_cast<Eigen::Index>(rows.size());
    Eigen::Map<Matrix> w(inverse.data(), size, size);
    const Eigen::Map<const Matrix> c(change.data(), some, size);
    Matrix across(some, size); // change times inverse
    across.noalias() = c * w;
    Matrix columns(size, some); // of the inverse
    Matrix small = Matrix::Identity(some, some);
    for (Eigen::Index k = 0; k < some; ++k) {
        const auto at = static_cast<Eigen::Index>(rows[static_cast<std::size_t>(k)]);
        columns.col(k) = w.col(at);
        small.col(k) += across.col(at);
    }
    const Matrix step = small.partialPivLu().solve(across);
    if (!step.allFinite())
        return false;
    w.noalias() -= columns * step;
    return true;
}

} // namespace fitwright::bodies
