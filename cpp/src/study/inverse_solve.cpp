// Values that leave most in reserve.
#include "inverse_detail.hpp"
#include <algorithm>
#include <cmath>
#include <limits>

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

Best solve_for(const Judge& judge, const Judge& nominal, const System& system,
               const std::vector<int>& leaves, const std::vector<double>& low,
               const std::vector<double>& high) {
    const Climb climb(judge, nominal, leaves, low, high);
    const std::int64_t before = judge.count();
    const std::size_t n = leaves.size();
    std::vector<double> u;
    for (std::size_t i = 0; i < n; ++i) {
        const double now = (system.values()[at(leaves[i])] - low[i]) / (high[i] - low[i]);
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

} // namespace fitwright::study
