// Values that leave most in reserve, pairs of measured parts, and the cheapest tolerances.
#include "inverse_detail.hpp"
#include <algorithm>
#include <cmath>
#include <fitwright/number/quantile.hpp>
#include <limits>
#include <numeric>

namespace fitwright::study {

namespace {

constexpr double golden = 0.6180339887498949;
constexpr double infinity = std::numeric_limits<double>::infinity();

// Compared in this order. What cannot be evaluated comes last.
struct Score {
    double first = -infinity;
    double second = -infinity;
    bool operator>(const Score& o) const {
        return first != o.first ? first > o.first : second > o.second;
    }
};

class Climb {
public:
    Climb(const Judge& judge, const Judge& nominal, const std::vector<int>& leaves,
          const std::vector<double>& low, const std::vector<double>& high)
        : judge_(judge)
        , nominal_(nominal)
        , leaves_(leaves)
        , low_(low)
        , high_(high) {}

    Score score(const std::vector<double>& u) const {
        const std::vector<double> x = values(u);
        const Verdict v = judge_(leaves_, x);
        if (!v.evaluated)
            return {};
        if (judge_.how().basis == Basis::nominal)
            return {v.reserve, 0.0};
        const double first =
            judge_.how().basis == Basis::rate ? std::min(v.rate, judge_.how().rate) : v.reserve;
        return {first, nominal_(leaves_, x).reserve};
    }
    // u runs from 0 to 1 between the bounds.
    std::vector<double> values(const std::vector<double>& u) const {
        std::vector<double> x;
        for (std::size_t i = 0; i < u.size(); ++i)
            x.push_back(u[i] >= 1.0 ? high_[i] : low_[i] + u[i] * (high_[i] - low_[i]));
        return x;
    }
    // The best of a grid along a direction, then a golden section about it.
    void along(std::vector<double>& u, const std::vector<double>& direction, Score& best) const {
        double from = -infinity;
        double to = infinity;
        for (std::size_t i = 0; i < u.size(); ++i) {
            if (direction[i] == 0.0)
                continue;
            const double a = (0.0 - u[i]) / direction[i];
            const double b = (1.0 - u[i]) / direction[i];
            from = std::max(from, std::min(a, b));
            to = std::min(to, std::max(a, b));
        }
        if (!(to - from > 1e-12))
            return;
        double here = 0.0;
        const auto moved_by = [&](double t) {
            std::vector<double> x = u;
            for (std::size_t i = 0; i < u.size(); ++i)
                x[i] = std::min(std::max(u[i] + t * direction[i], 0.0), 1.0);
            return x;
        };
        const auto look = [&](double t) {
            const Score s = score(moved_by(t));
            if (s > best) {
                best = s;
                here = t;
            }
            return s;
        };
        constexpr int grid = 8;
        const double width = (to - from) / grid;
        for (int k = 0; k <= grid; ++k)
            look(k == grid ? to : from + k * width);
        double a = std::max(from, here - width);
        double b = std::min(to, here + width);
        double c = b - golden * (b - a);
        double d = a + golden * (b - a);
        Score sc = look(c);
        Score sd = look(d);
        const double close = judge_.how().basis == Basis::rate ? 1e-3 : 1e-7;
        while (b - a > close * (to - from)) {
            if (sc > sd) {
                b = d;
                d = c;
                sd = sc;
                sc = look(c = b - golden * (b - a));
            } else {
                a = c;
                c = d;
                sc = sd;
                sd = look(d = a + golden * (b - a));
            }
        }
        u = moved_by(here);
    }

private:
    const Judge& judge_;
    const Judge& nominal_;
    const std::vector<int>& leaves_;
    const std::vector<double>& low_;
    const std::vector<double>& high_;
};

} // namespace

Best solve_for(const Judge& judge, const Judge& nominal, const job::Job& job,
               const std::vector<int>& leaves, const std::vector<double>& low,
               const std::vector<double>& high) {
    const Climb climb(judge, nominal, leaves, low, high);
    const std::int64_t before = judge.count();
    const std::size_t n = leaves.size();
    std::vector<double> u;
    for (std::size_t i = 0; i < n; ++i) {
        const double now = (job.values()[at(leaves[i])] - low[i]) / (high[i] - low[i]);
        u.push_back(now >= 0.0 && now <= 1.0 ? now : 0.5);
    }
    std::vector<std::vector<double>> directions;
    for (std::size_t i = 0; i < n; ++i) {
        std::vector<double> d(n, 0.0);
        d[i] = 1.0;
        directions.push_back(d);
    }
    // The least of several reserves has ridges that no single coordinate climbs.
    for (std::size_t i = 0; i < n; ++i)
        for (std::size_t k = i + 1; k < n; ++k)
            for (const double other : {1.0, -1.0}) {
                std::vector<double> d(n, 0.0);
                d[i] = 1.0;
                d[k] = other;
                directions.push_back(d);
            }
    Score best = climb.score(u);
    constexpr int rounds = 12;
    for (int round = 0; round < rounds; ++round) {
        const Score was = best;
        const std::vector<double> from = u;
        for (const auto& d : directions)
            climb.along(u, d, best);
        std::vector<double> movement(n);
        double length = 0.0;
        for (std::size_t i = 0; i < n; ++i) {
            movement[i] = u[i] - from[i];
            length = std::max(length, std::fabs(movement[i]));
        }
        if (n == 1 || length < 1e-9)
            break;
        climb.along(u, movement, best);
        if (best.first - was.first < 1e-9 && best.second - was.second < 1e-6)
            break;
    }
    Best found;
    found.values = climb.values(u);
    found.verdict = judge(leaves, found.values);
    found.judged = judge.count() - before;
    return found;
}

std::vector<double> reserve_matrix(const job::Job& job, int row_leaf,
                                   const std::vector<double>& rows, int column_leaf,
                                   const std::vector<double>& columns,
                                   const std::vector<int>& fixed,
                                   const std::vector<std::vector<double>>& fixed_values) {
    const std::vector<Side> sides = sides_of(job);
    std::vector<int> outputs;
    for (const Side& s : sides)
        outputs.push_back(s.output);
    std::sort(outputs.begin(), outputs.end());
    outputs.erase(std::unique(outputs.begin(), outputs.end()), outputs.end());
    std::vector<double> matrix;
    matrix.reserve(rows.size() * columns.size());
    std::vector<double> full(job.outputs().size(), 0.0);
    const auto least = [&] {
        double r = infinity;
        for (const Side& s : sides)
            r = std::min(r, reserve_of(s, full));
        return r == r ? r : -infinity;
    };
    for (std::size_t i = 0; i < rows.size(); ++i) {
        job::Job there = job;
        there.set(row_leaf, rows[i]);
        for (std::size_t k = 0; k < fixed.size(); ++k)
            there.set(fixed[k], fixed_values[k][i]);
        try {
            const auto found = there.sweep({column_leaf}, {columns}, outputs, 1);
            for (std::size_t j = 0; j < columns.size(); ++j) {
                for (std::size_t k = 0; k < outputs.size(); ++k)
                    full[at(outputs[k])] = found[k][j];
                matrix.push_back(least());
            }
        } catch (const DomainError&) {
            // Some pair of this row cannot be: one by one.
            for (const double c : columns) {
                there.set(column_leaf, c);
                matrix.push_back(try_evaluate(there, full, nullptr) ? least() : -infinity);
                full.resize(job.outputs().size());
            }
        }
    }
    return matrix;
}

// Every finding is taken as normal about its nominal value, misses are added up (a bound that holds
// whatever hangs together with what).
std::vector<Allocated> allocate(const job::Job& job, const std::vector<Spread>& others,
                                const std::vector<int>& leaves,
                                const std::vector<std::vector<double>>& widths,
                                const std::vector<std::vector<double>>& costs, double rate,
                                std::size_t most) {
    const std::vector<Side> sides = sides_of(job);
    const job::Job middle = in_the_middle(job, edges_of(job, others));
    const job::Job::Jacobian j = middle.jacobian();
    const std::size_t n = job.inputs().size();
    const std::vector<double> parts = contributions(j.derivatives, n, others);
    const std::vector<double> rest = linear_deviation(parts, others.size());

    std::vector<Allocated> sets;
    std::vector<int> options(leaves.size(), 0);
    for (bool more = true; more;) {
        double cost = 0.0;
        for (std::size_t i = 0; i < leaves.size(); ++i)
            cost += costs[i][at(options[i])];
        double missed = 0.0;
        for (const Side& s : sides) {
            double square = rest.empty() ? 0.0 : rest[at(s.output)] * rest[at(s.output)];
            for (std::size_t i = 0; i < leaves.size(); ++i) {
                const double part = j.derivatives[at(s.output) * n + at(leaves[i])] *
                                    widths[i][at(options[i])] / 6.0;
                square += part * part;
            }
            const double value = j.outputs[at(s.output)];
            const double margin = s.is_least ? value - s.limit : s.limit - value;
            if (square > 0.0)
                missed += number::normal_probability(-margin / std::sqrt(square));
            else if (margin < 0.0)
                missed += 1.0;
        }
        const double linear = std::max(0.0, 1.0 - missed);
        // The bound is on the safe side: a set that misses twice as often as allowed may still do.
        if (1.0 - linear <= 2.0 * (1.0 - rate))
            sets.push_back({options, cost, linear});
        more = false;
        for (std::size_t i = 0; i < leaves.size() && !more; ++i) {
            if (++options[i] < static_cast<int>(widths[i].size()))
                more = true;
            else
                options[i] = 0;
        }
    }
    std::stable_sort(sets.begin(), sets.end(), [](const Allocated& a, const Allocated& b) {
        return a.cost != b.cost ? a.cost < b.cost : a.linear_rate > b.linear_rate;
    });
    if (sets.size() > most)
        sets.resize(most);
    return sets;
}

} // namespace fitwright::study
