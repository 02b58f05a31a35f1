#include "detail/dense.hpp"
#include <Eigen/LU>

namespace fitwright::bodies {

bool invert(std::vector<double>& a, std::size_t n) {
    using Matrix = Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, Eigen::RowMajor>;
    const auto size = static_cast<Eigen::Index>(n);
    Eigen::Map<Matrix> m(a.data(), size, size);
    const Matrix inverse = m.partialPivLu().inverse();
    if (!inverse.allFinite())
        return false;
    m = inverse;
    return true;
}

} // namespace fitwright::bodies
