#include "student.hpp"
#include "chunk.hpp"
#include <boost/math/distributions/students_t.hpp>
#include <cmath>
#include <fitwright/number/number.hpp>

namespace fitwright::study {

namespace {

using boost::math::students_t;

// scale t + gauge z: probability above x, for x >= 0, and density. The sum over z is that of the trapezoid
// rule, which on a bell errs less than rounding when its steps are short enough for t's own rise.
class Sum {
public:
    Sum(double freedom, double scale, double gauge)
        : t_(freedom)
        , scale_(scale)
        , gauge_(gauge)
        , step_(std::fmin(0.125, 0.25 * scale / gauge)) {}
    struct Tail {
        double above, density;
    };
    Tail at(double x) const {
        Tail sum{0.0, 0.0};
        const int steps = static_cast<int>(8.5 / step_);
        for (int k = -steps; k <= steps; ++k) {
            const double z = k * step_;
            const double weight = number::normal_density(z) * step_;
            const double t = (x - gauge_ * z) / scale_;
            sum.above += weight * boost::math::cdf(boost::math::complement(t_, t));
            sum.density += weight * boost::math::pdf(t_, t) / scale_;
        }
        return sum;
    }
    // x above which lies p <= 1/2: Newton's method on the logarithm, held between two ends.
    double root(double p, double start) const {
        double low = 0.0;
        double high = 0.0; // 0: none yet
        double x = start;
        for (int k = 0; k < 60; ++k) {
            const Tail here = at(x);
            (here.above > p ? low : high) = x;
            const double step = number::log(here.above / p) * here.above / here.density;
            double next = x + step;
            if (high > 0.0 && !(next > low && next < high))
                next = 0.5 * (low + high);
            if (std::fabs(next - x) <= 1e-12 * (scale_ + gauge_ + x))
                return next;
            x = next;
        }
        return x;
    }

private:
    students_t t_;
    double scale_, gauge_, step_;
};

// Values and slopes at normal scores 0, 1/16 ... for the half above the middle.
constexpr int coarse = 16; // nodes per unit of score
struct Node {
    double value, slope;
};
std::vector<Node> upper_half(double freedom, double scale, double gauge) {
    const int count = static_cast<int>(std::ceil(table_reach * coarse)) + 1;
    std::vector<Node> nodes;
    const students_t t(freedom);
    const Sum sum(freedom, scale, gauge > 0.0 ? gauge : 1.0);
    double x = 0.0;
    for (int k = 0; k < count; ++k) {
        const double score = static_cast<double>(k) / coarse;
        const double p = number::normal_probability(-score);
        const double bell = number::normal_density(score);
        if (gauge > 0.0) {
            x = k == 0 ? 0.0 : sum.root(p, x + nodes.back().slope / coarse);
            nodes.push_back({x, bell / sum.at(x).density});
        } else {
            const double q = k == 0 ? 0.0 : boost::math::quantile(boost::math::complement(t, p));
            nodes.push_back({scale * q, bell * scale / boost::math::pdf(t, q)});
        }
    }
    return nodes;
}

} // namespace

std::vector<double> student_table(double freedom, double middle, double scale, double gauge) {
    const double unit = scale + gauge;
    const double least = unit * 0x1p-30;
    const auto rounded = [&](double x) { return std::round(x / least) * least; };
    std::vector<double> table;
    const bool all_normal = scale < 0.05 * gauge;
    const double deviation = number::norm2(gauge, scale * std::sqrt(freedom / (freedom - 2.0)));
    const std::vector<Node> nodes =
        all_normal ? std::vector<Node>{} : upper_half(freedom, scale, gauge);
    for (int k = 0; k < table_nodes; ++k) {
        const double score = k / table_steps - table_reach;
        const double away = std::fabs(score);
        double value = away * deviation;
        double slope = deviation;
        if (!all_normal) {
            // Hermite's cubic between two of the coarse nodes.
            const auto cell = std::min(static_cast<std::size_t>(away * coarse), nodes.size() - 2);
            const double h = 1.0 / coarse;
            const double t = (away - static_cast<double>(cell) * h) / h;
            const Node& a = nodes[cell];
            const Node& b = nodes[cell + 1];
            const double rise = (b.value - a.value) / h;
            const double bend = 3.0 * rise - 2.0 * a.slope - b.slope;
            const double twist = a.slope + b.slope - 2.0 * rise;
            value = a.value + h * t * (a.slope + t * (bend + t * twist));
            slope = a.slope + t * (2.0 * bend + 3.0 * t * twist);
        }
        table.push_back(middle + rounded(score < 0.0 ? -value : value));
        table.push_back(rounded(slope));
    }
    return table;
}

} // namespace fitwright::study
