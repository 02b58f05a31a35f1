// What the solver of the ring hands over: plain numbers, so that level files can carry derivatives
// through the solution. The solver itself only knows double (bearings/ring_solve.cpp).
#pragma once

#include "ring.hpp"

namespace fitwright::bearings {

struct RingSolution {
    double move[ring_freedoms]; // x, y, z, a, b of ring.hpp
    BallForces<double> forces[ball_limit];
    bool loaded[ball_limit];
    double cosine[ball_limit], sine[ball_limit];
    int iterations;
    bool converged;
    bool passed; // the ring has moved so far that a ball flung out is beyond its groove
};
void solve_ring(const RunningBearing<double>& bearing, const double* loads, double force_scale,
                RingSolution& solution);

// x of matrix x = right, by elimination with pivots; where the ring does not resist, it does not move.
FITWRIGHT_INLINE void solve_small(const double* matrix, const double* right, double* x,
                                  const double* scale) {
    constexpr int n = ring_freedoms;
    double m[n][n + 1];
    double largest = 0.0;
    for (int i = 0; i < n; ++i) {
        for (int k = 0; k < n; ++k) {
            m[i][k] = matrix[i * n + k] / (scale[i] * scale[k]);
            largest = larger(largest, abs(m[i][k]));
        }
        m[i][n] = right[i] / scale[i];
        x[i] = 0.0;
    }
    bool used[n] = {};
    int row_of[n];
    for (int step = 0; step < n; ++step) {
        row_of[step] = -1;
        int best = -1;
        for (int i = 0; i < n; ++i)
            if (!used[i] && (best < 0 || abs(m[i][step]) > abs(m[best][step])))
                best = i;
        if (best < 0 || abs(m[best][step]) <= largest * 1e-13)
            continue;
        used[best] = true;
        row_of[step] = best;
        for (int i = 0; i < n; ++i) {
            if (i == best)
                continue;
            const double factor = m[i][step] / m[best][step];
            for (int k = step; k <= n; ++k)
                m[i][k] -= factor * m[best][k];
        }
    }
    for (int k = 0; k < n; ++k)
        if (row_of[k] >= 0)
            x[k] = m[row_of[k]][n] / m[row_of[k]][k] / scale[k];
}

} // namespace fitwright::bearings
