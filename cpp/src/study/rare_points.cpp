// Where each limit fails first.
#include "fields/pause.hpp"
#include "inverse_detail.hpp"
#include "scores.hpp"
#include <algorithm>
#include <cmath>
#include <fitwright/number/number.hpp>
#include <fitwright/study/rare.hpp>
#include <limits>

namespace fitwright::study {

namespace {

constexpr double none = std::numeric_limits<double>::quiet_NaN();
using Vector = std::vector<double>;

double dot(const Vector& a, const Vector& b) {
    double sum = 0.0;
    for (std::size_t i = 0; i < a.size(); ++i)
        sum += a[i] * b[i];
    return sum;
}
double length(const Vector& a) { return std::sqrt(dot(a, a)); }

struct Look {
    bool valid = false;
    double g = 0.0;
    Vector slopes; // by independent scores
};

class Surface {
public:
    Surface(const System& system, const std::vector<Spread>& spreads, const Scores& scores,
            const Side& side, const fields::Between& between)
        : there_(system)
        , spreads_(spreads)
        , scores_(scores)
        , side_(side)
        , between_(between)
        , pace_(between) {
        for (const Spread& s : spreads)
            for (const int leaf : {s.leaf, s.low_leaf, s.high_leaf})
                if (leaf >= 0)
                    leaves_.push_back(leaf);
    }
    Vector values(const Vector& u) const {
        Vector z(u.size());
        scores_.mix(u.data(), z.data());
        for (std::size_t i = 0; i < z.size(); ++i)
            z[i] = scores_.value(i, z[i]);
        return z;
    }
    Look look(const Vector& u) {
        pace_();
        ++evaluations;
        Look found;
        const Vector x = values(u);
        for (std::size_t i = 0; i < x.size(); ++i) {
            if (!fields::range_problem(x[i], *there_.inputs()[at(spreads_[i].leaf)].field).empty())
                return found;
            for (const int leaf : {spreads_[i].leaf, spreads_[i].low_leaf, spreads_[i].high_leaf})
                if (leaf >= 0)
                    there_.set(leaf, x[i]);
        }
        fields::Slopes s;
        try {
            s = there_.slopes({side_.output}, leaves_, between_);
        } catch (const DomainError&) {
            return found;
        }
        found.g = reserve_of(side_, s.outputs);
        Vector z(u.size());
        scores_.mix(u.data(), z.data());
        Vector by_z(u.size());
        const double sign = (side_.is_least ? 1.0 : -1.0) / side_.scale;
        const double* slope = s.derivatives.data();
        for (std::size_t i = 0; i < u.size(); ++i) {
            const int ends = spreads_[i].low_leaf >= 0 ? 3 : 1;
            for (int k = 0; k < ends; ++k)
                by_z[i] += *slope++;
            by_z[i] *= sign * scores_.slope(i, z[i]);
        }
        found.slopes.resize(u.size());
        scores_.unmix(by_z.data(), found.slopes.data());
        found.valid = std::isfinite(found.g) && std::isfinite(dot(found.slopes, found.slopes));
        return found;
    }

    std::int64_t evaluations = 0;

private:
    System there_;
    const std::vector<Spread>& spreads_;
    const Scores& scores_;
    const Side& side_;
    const fields::Between& between_;
    fields::Pace pace_;
    std::vector<int> leaves_;
};

constexpr double too_far = 8.0;   // below 1e-15: no shop asks
constexpr double farthest = 12.0; // a normal score beyond which nothing is looked for

// The iteration from one start; the point is in `u` when it settled.
bool settle(Surface& surface, Vector& u, Look& here) {
    here = surface.look(u);
    for (int half = 0; !here.valid && half < 6; ++half) { // towards the middle
        for (double& x : u)
            x *= 0.5;
        here = surface.look(u);
    }
    if (!here.valid)
        return false;
    // The plane there lies out where nothing happens.
    if (here.g - dot(here.slopes, u) > 1.5 * too_far * length(here.slopes))
        return false;
    const double scale = std::max(std::fabs(here.g), 1e-12);
    for (int k = 0; k < 100; ++k) {
        const double square = dot(here.slopes, here.slopes);
        if (!(square > 0.0))
            return false;
        const double norm = std::sqrt(square);
        // To the nearest point of the plane that touches g here.
        Vector d(u.size());
        const double along = (dot(here.slopes, u) - here.g) / square;
        double off = 0.0;
        for (std::size_t i = 0; i < u.size(); ++i) {
            d[i] = along * here.slopes[i] - u[i];
            off += d[i] * d[i];
        }
        if (std::sqrt(off) <= 1e-6 * std::max(1.0, length(u)) &&
            std::fabs(here.g) <= 1e-7 * scale + 1e-9 * norm)
            return true;
        // No farther at once than three scores: g is known nearby only.
        double step = std::min(1.0, 3.0 / std::sqrt(off));
        const double weight = 2.0 * std::max(length(u) / norm, 1.0) + 10.0;
        const double merit = 0.5 * dot(u, u) + weight * std::fabs(here.g);
        bool better = false;
        for (int half = 0; half < 12 && !better; ++half, step *= 0.5) {
            Vector next = u;
            for (std::size_t i = 0; i < u.size(); ++i)
                next[i] += step * d[i];
            if (length(next) > farthest)
                continue;
            Look there = surface.look(next);
            if (there.valid && 0.5 * dot(next, next) + weight * std::fabs(there.g) < merit) {
                u = std::move(next);
                here = std::move(there);
                better = true;
            }
        }
        // As near as arithmetic comes, or a corner where two of its sides meet: no plane touches there.
        if (!better)
            return std::fabs(here.g) <= 1e-3 * scale;
    }
    return false;
}

// Product of (1 + beta kappa)^(-1/2): the determinant of 1 + beta B on the tangent plane, where B holds
// the second derivatives over the length of the first. None where it is no maximum of likelihood.
double second_order(Surface& surface, const Vector& u, const Look& here, double beta) {
    const std::size_t n = u.size();
    const double norm = length(here.slopes);
    Vector normal(n);
    for (std::size_t i = 0; i < n; ++i)
        normal[i] = here.slopes[i] / norm;
    const double h = 1e-3;
    Vector b(n * n);
    for (std::size_t i = 0; i < n; ++i) {
        Vector up = u;
        Vector down = u;
        up[i] += h;
        down[i] -= h;
        const Look above = surface.look(up);
        const Look below = surface.look(down);
        if (!above.valid || !below.valid)
            return none;
        for (std::size_t k = 0; k < n; ++k)
            b[i * n + k] = (above.slopes[k] - below.slopes[k]) / (2.0 * h * norm);
    }
    // On the tangent plane: P B P, symmetric; along the normal it is one.
    const auto project = [&](double* row, std::size_t stride) {
        double sum = 0.0;
        for (std::size_t k = 0; k < n; ++k)
            sum += row[k * stride] * normal[k];
        for (std::size_t k = 0; k < n; ++k)
            row[k * stride] -= sum * normal[k];
    };
    for (std::size_t i = 0; i < n; ++i)
        for (std::size_t k = 0; k < i; ++k)
            b[i * n + k] = b[k * n + i] = 0.5 * (b[i * n + k] + b[k * n + i]);
    for (std::size_t i = 0; i < n; ++i)
        project(b.data() + i * n, 1);
    for (std::size_t k = 0; k < n; ++k)
        project(b.data() + k, n);
    double determinant = 1.0; // by Cholesky
    for (std::size_t i = 0; i < n; ++i)
        for (std::size_t k = 0; k <= i; ++k) {
            double rest = beta * b[i * n + k] + (i == k ? 1.0 : 0.0);
            for (std::size_t m = 0; m < k; ++m)
                rest -= b[i * n + m] * b[k * n + m];
            if (i == k) {
                if (!(rest > 1e-9))
                    return none;
                determinant *= rest;
                b[i * n + i] = std::sqrt(rest);
            } else {
                b[i * n + k] = rest / b[k * n + k];
            }
        }
    return number::normal_probability(-beta) / std::sqrt(determinant);
}

bool same(const Vector& a, const Vector& b) {
    double far = 0.0;
    for (std::size_t i = 0; i < a.size(); ++i)
        far += (a[i] - b[i]) * (a[i] - b[i]);
    return std::sqrt(far) < 0.2 * std::max(1.0, length(a));
}

} // namespace

std::string problem_of_rare(const std::vector<Spread>& spreads) {
    if (spreads.empty())
        return "nothing scatters";
    for (const Spread& s : spreads)
        if (s.shape == Shape::measured && s.of == Readings::these_parts)
            return s.path + " scatters in steps (readings of these_parts): tell its readings as "
                            "of a process";
    return {};
}

DesignPoints design_points(const System& system, const std::vector<Spread>& spreads,
                           const std::vector<Correlation>& correlations,
                           const std::vector<Side>& sides, int starts,
                           const fields::Between& between) {
    const Scores scores(spreads, correlations);
    system.evaluate(between); // the full message, should a rule be broken
    DesignPoints found;
    const std::size_t n = spreads.size();
    std::vector<char> settled(sides.size(), 0);
    std::vector<char> near(sides.size(), 0); // where it did not settle
    const auto look_for = [&](int side, Vector u) {
        Surface surface(system, spreads, scores, sides[at(side)], between);
        Look here;
        if (!settle(surface, u, here)) {
            // Out where nothing happens the plane that touches there is far off.
            if (here.valid && length(u) < too_far &&
                std::fabs(dot(here.slopes, u) - here.g) <= too_far * length(here.slopes))
                near[at(side)] = 1;
            return;
        }
        settled[at(side)] = 1;
        const double norm = length(here.slopes);
        const double beta = dot(here.slopes, u) > 0.0 ? -length(u) : length(u);
        for (const DesignPoint& p : found.points)
            if (p.side == side && same(p.scores, u))
                return;
        DesignPoint p{side, beta, u, surface.values(u), {}, number::normal_probability(-beta),
                      none, 0};
        for (const double slope : here.slopes)
            p.shares.push_back(slope * slope / (norm * norm));
        p.evaluations = surface.evaluations;
        found.points.push_back(std::move(p));
    };
    for (int side = 0; side < static_cast<int>(sides.size()); ++side)
        look_for(side, Vector(n, 0.0));
    double nearest = farthest;
    for (const DesignPoint& p : found.points)
        nearest = std::min(nearest, p.beta);
    // Other starts: spread over all directions, three scores out, always the same.
    for (int side = 0; side < static_cast<int>(sides.size()); ++side) {
        double beta = farthest;
        for (const DesignPoint& p : found.points)
            if (p.side == side)
                beta = std::min(beta, p.beta);
        if (settled[at(side)] != 0 && beta > nearest + 2.0)
            continue;
        for (int start = 1; start < starts; ++start) {
            Vector u(n);
            for (std::size_t i = 0; i < n; ++i) {
                const number::PhiloxBlock block = number::philox(
                    {{static_cast<std::uint64_t>(i), static_cast<std::uint64_t>(start / 2), 0, 0}},
                    {0x72617265, 1});
                u[i] = number::normal_quantile(number::uniform_open(block.word[0]));
            }
            const double size = length(u);
            for (double& x : u) // in pairs that lie opposite
                x *= (start % 2 == 0 ? 3.0 : -3.0) / size;
            look_for(side, std::move(u));
        }
    }
    for (int side = 0; side < static_cast<int>(sides.size()); ++side)
        if (settled[at(side)] == 0)
            found.unfound.push_back(
                {side, near[at(side)] == 0 ? Unfound::Why::never : Unfound::Why::unsettled});
    std::stable_sort(found.points.begin(), found.points.end(),
                     [](const DesignPoint& a, const DesignPoint& b) { return a.beta < b.beta; });
    // Curvatures of those that count.
    for (DesignPoint& p : found.points) {
        if (p.beta > found.points.front().beta + 2.0 || p.beta < 0.0)
            continue;
        Surface surface(system, spreads, scores, sides[at(p.side)], between);
        const Look here = surface.look(p.scores);
        if (-dot(here.slopes, p.scores) < (1.0 - 1e-4) * p.beta * length(here.slopes))
            continue; // a corner
        p.second_order = second_order(surface, p.scores, here, p.beta);
        p.evaluations += surface.evaluations;
    }
    return found;
}

} // namespace fitwright::study
