// A square matrix whose rows reach only so far beside the diagonal. Bars along z reach three
// points; a condensed body reaches everywhere, and then this is a dense matrix.
#pragma once

#include <algorithm>
#include <cstddef>
#include <fitwright/number/basic.hpp>
#include <vector>

namespace fitwright::bodies {

// Rows that each have `width` entries from a column of their own.
struct Rows {
    int width = 0;
    std::vector<int> first;
    std::vector<double> a;
    void size(int rows, int wide) {
        width = wide;
        first.assign(static_cast<std::size_t>(rows), 0);
        a.assign(static_cast<std::size_t>(rows) * static_cast<std::size_t>(wide), 0.0);
    }
    double* row(std::size_t i) { return a.data() + i * static_cast<std::size_t>(width); }
};

class Band {
public:
    void size(int points, int reach) {
        points_ = active_ = points;
        reach_ = reach;
        width_ = 2 * reach + 1;
        a_.assign(static_cast<std::size_t>(points) * static_cast<std::size_t>(width_), 0.0);
    }
    int points() const { return points_; }
    int reach() const { return reach_; }
    // Only the first so many points are cleared and solved for: what lies beyond carries nothing.
    void clear(int points) {
        active_ = points;
        std::fill_n(a_.begin(), static_cast<std::ptrdiff_t>(points) * width_, 0.0);
    }
    double* row(int i) { return a_.data() + static_cast<std::ptrdiff_t>(i) * width_ + reach_; }
    const double* row(int i) const {
        return a_.data() + static_cast<std::ptrdiff_t>(i) * width_ + reach_;
    }
    void add(int i, int j, double x) { row(i)[j - i] += x; }
    // Row i of the identity: a point that is held.
    void hold(int i) {
        double* r = row(i);
        for (int j = -reach_; j <= reach_; ++j)
            r[j] = 0.0;
        r[0] = 1.0;
    }
    // Row i gains factor times a row that starts at column `first`.
    void add_row(int i, const double* source, int first, int width, double factor) {
        double* target = row(i) + (first - i);
        for (int j = 0; j < width; ++j)
            target[j] += factor * source[j];
    }

    // Triangles in place, without exchanging rows: elastic bodies with friction below one are near
    // enough to symmetric and positive. Answers the row that failed, or -1.
    int factor() { return reach_ == 3 ? factor_at<3>(3) : factor_at<0>(reach_); }
    template <class T>
    void solve(T* x) const {
        if (reach_ == 3)
            solve_at<3>(x, 3);
        else
            solve_at<0>(x, reach_);
    }

private:
    static int smaller_int(int a, int b) { return a < b ? a : b; }

    template <int Fixed>
    int factor_at(int told) {
        const int reach = Fixed > 0 ? Fixed : told;
        for (int k = 0; k < active_; ++k) {
            double* pivot = row(k);
            if (!(pivot[0] > 0.0))
                return k;
            pivot[0] = 1.0 / pivot[0];
            const int last = smaller_int(reach, active_ - 1 - k);
            for (int i = 1; i <= last; ++i) {
                double* lower = row(k + i) - i;
                const double m = lower[0] * pivot[0];
                lower[0] = m;
                for (int j = 1; j <= reach; ++j)
                    lower[j] -= m * pivot[j];
            }
        }
        return -1;
    }
    template <int Fixed, class T>
    void solve_at(T* x, int told) const {
        const int reach = Fixed > 0 ? Fixed : told;
        for (int i = 0; i < active_; ++i) {
            const double* r = row(i);
            T sum = x[i];
            for (int j = smaller_int(reach, i); j >= 1; --j)
                sum -= x[i - j] * r[-j];
            x[i] = sum;
        }
        for (int i = active_ - 1; i >= 0; --i) {
            const double* r = row(i);
            T sum = x[i];
            for (int j = smaller_int(reach, active_ - 1 - i); j >= 1; --j)
                sum -= x[i + j] * r[j];
            x[i] = sum * r[0];
        }
    }

    int points_ = 0, active_ = 0, reach_ = 0, width_ = 1;
    std::vector<double> a_;
};

} // namespace fitwright::bodies
