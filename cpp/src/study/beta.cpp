#include "beta.hpp"
#include "chunk.hpp"
#include <fitwright/number/number.hpp>

namespace fitwright::study {

using namespace number;

namespace {

// The continued fraction of the incomplete beta function by Lentz's method (Numerical Recipes, ch.
// Incomplete Beta Function; converges fast for x < (a + 1)/(a + b + 2)).
double continued_fraction(double x, double a, double b) {
    constexpr double tiny = 1e-300;
    double c = 1.0;
    double d = 1.0 - (a + b) * x / (a + 1.0);
    d = 1.0 / (abs(d) < tiny ? tiny : d);
    double h = d;
    for (int m = 1; m <= 400; ++m) {
        const double even = m * (b - m) * x / ((a + 2 * m - 1.0) * (a + 2 * m));
        d = 1.0 + even * d;
        c = 1.0 + even / c;
        d = 1.0 / (abs(d) < tiny ? tiny : d);
        c = abs(c) < tiny ? tiny : c;
        h *= d * c;
        const double odd = -(a + m) * (a + b + m) * x / ((a + 2 * m) * (a + 2 * m + 1.0));
        d = 1.0 + odd * d;
        c = 1.0 + odd / c;
        d = 1.0 / (abs(d) < tiny ? tiny : d);
        c = abs(c) < tiny ? tiny : c;
        const double step = d * c;
        h *= step;
        if (abs(step - 1.0) < 1e-16)
            break;
    }
    return h;
}

// x^a (1-x)^b without its constant, over a: times the fraction it is B_x(a, b).
double part(double x, double a, double b) {
    return exp(a * log(x) + b * log(1.0 - x)) / a * continued_fraction(x, a, b);
}

// B(a, b): both parts meet where each converges fast.
double complete(BetaShape s) {
    const double x = s.first / (s.first + s.second);
    return part(x, s.first, s.second) + part(1.0 - x, s.second, s.first);
}

// Probability below x, and above it: the smaller is accurate.
double lower(double x, BetaShape s, double whole) {
    if (x < (s.first + 1.0) / (s.first + s.second + 2.0))
        return part(x, s.first, s.second) / whole;
    return 1.0 - part(1.0 - x, s.second, s.first) / whole;
}

// x with probability p below it, for p <= 1/2: bisection in the logarithm, then in x.
double lower_quantile(double p, BetaShape s, double whole) {
    double low = 1e-300;
    double high = 1.0 - 1e-16;
    for (int k = 0; k < 200 && high - low > 1e-16 * high; ++k) {
        const double middle = low < high * 1e-3 ? sqrt(low * high) : 0.5 * (low + high);
        (lower(middle, s, whole) < p ? low : high) = middle;
    }
    return 0.5 * (low + high);
}

} // namespace

BetaShape beta_shape(double mean, double deviation) {
    const double t = mean * (1.0 - mean) / (deviation * deviation) - 1.0;
    return {mean * t, (1.0 - mean) * t};
}

double beta_probability(double x, BetaShape shape) {
    if (x <= 0.0)
        return 0.0;
    return x >= 1.0 ? 1.0 : lower(x, shape, complete(shape));
}

std::vector<double> beta_table(BetaShape shape, double low, double high) {
    const double whole = complete(shape);
    const BetaShape turned{shape.second, shape.first};
    std::vector<double> x(static_cast<std::size_t>(table_nodes));
    for (int k = 0; k < table_nodes; ++k) {
        const double score = k / table_steps - table_reach;
        const double p = normal_probability(-abs(score)); // the tail on this node's side
        const double tail =
            score < 0.0 ? lower_quantile(p, shape, whole) : 1.0 - lower_quantile(p, turned, whole);
        x[static_cast<std::size_t>(k)] = low + (high - low) * tail;
    }
    // Slopes from the neighbours, held to what keeps the curve rising (Fritsch and Carlson 1980).
    std::vector<double> table;
    for (std::size_t k = 0; k < x.size(); ++k) {
        const double before = k > 0 ? (x[k] - x[k - 1]) * table_steps : 0.0;
        const double after = k + 1 < x.size() ? (x[k + 1] - x[k]) * table_steps : 0.0;
        double slope = k == 0 ? after : k + 1 == x.size() ? before : 0.5 * (before + after);
        if (k > 1 && k + 2 < x.size()) // fourth order in the interior
            slope = (x[k - 2] - 8.0 * x[k - 1] + 8.0 * x[k + 1] - x[k + 2]) * (table_steps / 12.0);
        const double least = 3.0 * (before < after ? before : after);
        table.push_back(x[k]);
        table.push_back(slope < 0.0                                  ? 0.0
                        : slope > least && k > 0 && k + 1 < x.size() ? least
                                                                     : slope);
    }
    return table;
}

} // namespace fitwright::study
