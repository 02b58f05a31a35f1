// A square matrix whose rows reach only so far beside the diagonal. Bars along z reach three
// points; a condensed body reaches everywhere, and then this is a dense matrix.
#pragma once

#include <algorithm>
#include <cstddef>
#include <fitwright/number/basic.hpp>
#include <vector>

namespace fitwright::bodies {

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
    // Two points joined by a spring.
    void join(int i, int j, double x) {
        add(i, i, x);
        add(i, j, -x);
        add(j, i, -x);
        add(j, j, x);
    }
    // Row i of the identity: a point that is held.
    void hold(int i) {
        double* r = row(i);
        for (int j = -reach_; j <= reach_; ++j)
            r[j] = 0.0;
        r[0] = 1.0;
    }
    // Triangles in place, without exchanging rows: elastic bodies with friction below one are near
    // enough to symmetric and positive. From both ends at once towards the middle, which is two chains
    // of divisions that do not wait for each other. `x` is cleared with the rows: then `back` ends what
    // `solve` does. Answers the row that failed, or -1.
    int factor(double* x) { return reach_ == 3 ? factor_at<3>(3, x) : factor_at<0>(reach_, x); }
    template <class T>
    void back(T* x) const {
        if (reach_ == 3)
            back_at<3>(x, 3);
        else
            back_at<0>(x, reach_);
    }
    template <class T>
    void solve(T* x) const {
        const int above = from_above();
        const int end = active_ - from_below();
        const auto clear = [&](int k, int way, int reach) {
            for (int i = way; i * way <= reach; i += way)
                x[k + i] -= x[k] * row(k + i)[-i];
        };
        for (int k = 0; k < above; ++k)
            clear(k, 1, reach_);
        for (int k = active_ - 1; k >= end; --k)
            clear(k, -1, reach_);
        for (int k = above; k < end; ++k)
            clear(k, 1, end - 1 - k);
        back(x);
    }

private:
    // Rows that are cleared downwards from the first and upwards from the last; those between (a
    // reach of them, or all of a short matrix) see both.
    int from_above() const { return active_ > reach_ ? (active_ - reach_) / 2 : 0; }
    int from_below() const { return active_ > reach_ ? active_ - reach_ - from_above() : 0; }

    // Clears the column of row k from the rows on one side of it (`way` 1: below, -1: above).
    void clear_column(int k, int way, int reach, double from, double* x) {
        const double* pivot = row(k);
        for (int i = 1; i <= reach; ++i) {
            double* other = row(k + way * i) - way * i;
            const double m = other[0] * from;
            other[0] = m;
            for (int j = 1; j <= reach; ++j)
                other[way * j] -= m * pivot[way * j];
            x[k + way * i] -= x[k] * m;
        }
    }
    template <int Fixed>
    int factor_at(int told, double* x) {
        const int reach = Fixed > 0 ? Fixed : told;
        const int above = from_above();
        const int below = from_below();
        for (int k = 0; k < below; ++k) {
            const int last = active_ - 1 - k;
            const bool both = k < above;
            double* up = row(last);
            double* down = row(both ? k : last);
            if (!(up[0] > 0.0))
                return last;
            if (!(down[0] > 0.0))
                return k;
            const double from_up = 1.0 / up[0];
            const double from_down = 1.0 / down[0];
            up[0] = from_up;
            if (both) {
                down[0] = from_down;
                clear_column(k, 1, reach, from_down, x);
            }
            clear_column(last, -1, reach, from_up, x);
        }
        const int end = active_ - below;
        for (int k = above; k < end; ++k) {
            double* pivot = row(k);
            if (!(pivot[0] > 0.0))
                return k;
            pivot[0] = 1.0 / pivot[0];
            clear_column(k, 1, end - 1 - k, pivot[0], x);
        }
        return -1;
    }
    template <int Fixed, class T>
    void back_at(T* x, int told) const {
        const int reach = Fixed > 0 ? Fixed : told;
        const int above = from_above();
        const int below = from_below();
        const int end = active_ - below;
        for (int k = end - 1; k >= above; --k)
            fill(x + k, row(k), 1, end - 1 - k);
        for (int k = below - 1; k >= 0; --k) {
            if (k < above)
                fill(x + k, row(k), 1, reach);
            fill(x + (active_ - 1 - k), row(active_ - 1 - k), -1, reach);
        }
    }
    template <class T>
    FITWRIGHT_INLINE static void fill(T* x, const double* r, int way, int reach) {
        T sum = *x;
        for (int j = reach; j >= 1; --j)
            sum -= x[way * j] * r[way * j];
        *x = sum * r[0];
    }

    int points_ = 0, active_ = 0, reach_ = 0, width_ = 1;
    std::vector<double> a_;
};

} // namespace fitwright::bodies
