// The beta distribution's quantile as a table over normal scores, made once per study. No libm: the
// table must be the same on every machine.
#pragma once

#include <vector>

namespace fitwright::study {

// Shape parameters of a beta distribution on (0, 1) with this mean and deviation; not positive when
// there is none.
struct BetaShape {
    double first, second;
};
BetaShape beta_shape(double mean, double deviation);

// Regularised incomplete beta function I_x(a, b), relative error near 1e-14.
double beta_probability(double x, BetaShape shape);

// table_nodes pairs of value and slope (per unit of score) on (low, high).
std::vector<double> beta_table(BetaShape shape, double low, double high);

} // namespace fitwright::study
