#include "spread.hpp"
#include "beta.hpp"
#include "design.hpp"
#include "detail/draw.hpp"
#include <algorithm>
#include <cmath>

namespace fitwright::study {

namespace {

BetaShape beta_of(const Spread& s) {
    const double width = s.high - s.low;
    return beta_shape((s.middle - s.low) / width, s.deviation / width);
}

double squared(double x) { return x * x; }

// Standard deviation of a standard normal between a and b. The closed form takes large numbers from
// each other where the window is narrow or far out; so it is integrated, about its middle, by five
// points of Gauss in steps (Abramowitz & Stegun, table 25.4).
double truncated_deviation(double a, double b) {
    constexpr double place[] = {0.0, 0.5384693101056831, 0.9061798459386640};
    constexpr double weight[] = {0.5688888888888889, 0.4786286704993665, 0.2369268850561891};
    // Beyond there is nothing that counts beside the rest.
    const double nearest = a > 0.0 ? a : b < 0.0 ? -b : 0.0;
    const double from = std::max(a, -nearest - 12.0);
    const double to = std::min(b, nearest + 12.0);
    const double middle = 0.5 * (from + to);
    const int steps = std::max(4, static_cast<int>(std::ceil((to - from) / 0.125)));
    const double half = 0.5 * (to - from) / steps;
    double sums[3] = {0.0, 0.0, 0.0};
    const auto add = [&](double x, double w) {
        // Over the density at the nearest point: far out both would vanish.
        const double density =
            number::exp(-0.5 * (std::fabs(x) - nearest) * (std::fabs(x) + nearest));
        const double d = x - middle;
        sums[0] += w * density;
        sums[1] += w * density * d;
        sums[2] += w * density * d * d;
    };
    for (int k = 0; k < steps; ++k) {
        const double centre = from + (2 * k + 1) * half;
        add(centre, weight[0]);
        for (int i = 1; i < 3; ++i) {
            add(centre - half * place[i], weight[i]);
            add(centre + half * place[i], weight[i]);
        }
    }
    const double shift = sums[1] / sums[0];
    return std::sqrt(std::max(0.0, sums[2] / sums[0] - shift * shift));
}

bool is_bounded(Shape shape) {
    return shape == Shape::truncated_normal || shape == Shape::uniform ||
           shape == Shape::triangular || shape == Shape::beta;
}

} // namespace

StreamData data_of(const Spread& s, int dimension, std::uint64_t seed) {
    StreamData data;
    if (s.shape == Shape::beta) {
        data.table = beta_table(beta_of(s), s.low, s.high);
    } else if (s.shape == Shape::measured) {
        data.table = s.measured;
        std::sort(data.table.begin(), data.table.end());
    }
    if (dimension >= 0)
        data.directions = scrambled_directions(
            dimension, number::stream_key(s.path.data(), s.path.size()) ^ seed);
    return data;
}

Stream stream_of(const Spread& s, const StreamData& data) {
    Stream t{};
    t.leaf = s.leaf;
    t.low_leaf = s.low_leaf;
    t.high_leaf = s.high_leaf;
    t.shape = static_cast<int>(s.shape);
    t.middle = s.middle;
    t.deviation = s.deviation;
    t.low = s.low;
    t.high = s.high;
    t.key = number::stream_key(s.path.data(), s.path.size());
    t.table = data.table.data();
    t.table_size = static_cast<int>(data.table.size());
    t.directions = data.directions.data();
    if (s.shape == Shape::truncated_normal) {
        // The upper tail is the lower one of the mirror image: there probabilities keep their digits.
        const double side = s.low > s.middle ? -1.0 : 1.0;
        t.probability_low = number::normal_probability(side * (s.low - s.middle) / s.deviation);
        t.probability_high = number::normal_probability(side * (s.high - s.middle) / s.deviation);
        t.deviation = side * s.deviation;
    } else if (s.shape == Shape::lognormal) {
        const double ratio = s.deviation / s.middle;
        const double square = ratio * ratio;
        const double moved = 1.0 + square; // ln(1 + x), with the digits that 1 + x loses
        const double variance =
            moved == 1.0 ? square : number::log(moved) * (square / (moved - 1.0));
        t.low = -0.5 * variance; // of the value over its mean
        t.high = number::sqrt(variance);
    }
    return t;
}

Spread completed(Spread s) {
    if (std::isnan(s.middle)) {
        s.middle = 0.5 * (s.low + s.high);
        if (s.shape == Shape::measured) {
            s.middle = 0.0;
            for (const double x : s.measured)
                s.middle += x / static_cast<double>(s.measured.size());
        }
    }
    if (std::isnan(s.deviation) && s.shape == Shape::truncated_normal)
        s.deviation = (s.high - s.low) / 6.0;
    if (std::isnan(s.deviation) && s.shape == Shape::measured)
        s.deviation = 0.0;
    return s;
}

Spread process_spread(const std::string& path, int leaf, double low, double high, double cp,
                      double cpk, bool towards_high) {
    const double deviation = (high - low) / (6.0 * cp);
    const double mean = towards_high ? high - 3.0 * cpk * deviation : low + 3.0 * cpk * deviation;
    return {leaf, -1, -1, path, Shape::normal, mean, deviation, std::nan(""), std::nan("")};
}

std::string problem_of(const Spread& s) {
    const bool has_deviation = s.deviation > 0.0 && std::isfinite(s.deviation);
    const bool needs_deviation =
        s.shape != Shape::uniform && s.shape != Shape::triangular && s.shape != Shape::measured;
    if (needs_deviation && !has_deviation)
        return "needs a deviation above zero";
    if (is_bounded(s.shape) && !(std::isfinite(s.low) && std::isfinite(s.high) && s.low < s.high))
        return "needs low below high";
    if ((s.shape == Shape::triangular || s.shape == Shape::beta) &&
        !(s.low <= s.middle && s.middle <= s.high))
        return "needs its value between low and high";
    if (s.shape == Shape::lognormal && !(s.middle > 0.0))
        return "needs a value above zero";
    if (s.shape == Shape::beta) {
        const BetaShape b = beta_of(s);
        if (!(b.first > 0.05 && b.second > 0.05 && b.first < 1e4 && b.second < 1e4))
            return "has no beta distribution of that deviation between low and high";
    }
    if (s.shape == Shape::measured) {
        if (s.measured.empty())
            return "needs at least one reading";
        if (!(s.deviation >= 0.0))
            return "needs a gauge deviation of zero or more";
        if (s.measured.size() == 1 && s.deviation == 0.0)
            return "needs a gauge deviation where there is one reading";
    }
    if (s.shape == Shape::truncated_normal) {
        const Stream t = stream_of(s, {});
        if (!(std::fabs(t.probability_high - t.probability_low) > 1e-9))
            return "keeps nothing between low and high";
    }
    return {};
}

double standard_deviation(const Spread& s) {
    switch (s.shape) {
    case Shape::normal:
    case Shape::lognormal:
    case Shape::beta:
        return s.deviation;
    case Shape::uniform:
        return (s.high - s.low) / std::sqrt(12.0);
    case Shape::triangular:
        return std::sqrt((squared(s.middle - s.low) + (s.middle - s.low) * (s.high - s.middle) +
                          squared(s.high - s.middle)) /
                         18.0);
    case Shape::measured: {
        const auto n = static_cast<double>(s.measured.size());
        double mean = 0.0;
        for (const double x : s.measured)
            mean += x / n;
        double square = s.deviation * s.deviation;
        for (const double x : s.measured)
            square += (x - mean) * (x - mean) / n;
        return std::sqrt(square);
    }
    case Shape::truncated_normal:
        break;
    }
    return s.deviation *
           truncated_deviation((s.low - s.middle) / s.deviation, (s.high - s.middle) / s.deviation);
}

Spread moved(const Spread& s, double step) {
    Spread t = s;
    t.middle += step;
    if (s.low_leaf < 0) {
        t.low += step;
        t.high += step;
    }
    for (double& x : t.measured)
        x += step;
    return t;
}

double quantile(const Spread& s, double u) {
    const StreamData data = data_of(s, -1, 0);
    return value_at(stream_of(s, data), u);
}

std::string problem_of(const std::vector<Correlation>& correlations, std::size_t spread_count) {
    for (const Correlation& c : correlations) {
        if (!(std::fabs(c.value) < 1.0))
            return "a correlation must lie between -1 and 1";
        if (c.first == c.second)
            return "an input is not correlated with itself";
    }
    const Mixing m = mixing_of(correlations, spread_count);
    if (m.streams.size() > static_cast<std::size_t>(correlation_limit))
        return "at most 64 inputs may be correlated";
    for (const double x : m.triangle)
        if (!std::isfinite(x))
            return "the correlations contradict each other (not positive definite)";
    return {};
}

// Cholesky's triangle of the correlation matrix; NaN where there is none.
Mixing mixing_of(const std::vector<Correlation>& correlations, std::size_t spread_count) {
    Mixing m;
    for (std::size_t i = 0; i < spread_count; ++i)
        for (const Correlation& c : correlations)
            if (c.first == static_cast<int>(i) || c.second == static_cast<int>(i)) {
                m.streams.push_back(static_cast<int>(i));
                break;
            }
    const std::size_t n = m.streams.size();
    std::vector<double> full(n * n, 0.0);
    for (std::size_t i = 0; i < n; ++i)
        full[i * n + i] = 1.0;
    const auto place = [&](int stream) {
        return static_cast<std::size_t>(std::find(m.streams.begin(), m.streams.end(), stream) -
                                        m.streams.begin());
    };
    for (const Correlation& c : correlations) {
        const std::size_t i = place(c.first);
        const std::size_t j = place(c.second);
        full[i * n + j] = full[j * n + i] = c.value;
    }
    std::vector<double> l(n * n, 0.0);
    for (std::size_t i = 0; i < n; ++i)
        for (std::size_t j = 0; j <= i; ++j) {
            double rest = full[i * n + j];
            for (std::size_t k = 0; k < j; ++k)
                rest -= l[i * n + k] * l[j * n + k];
            if (i == j)
                l[i * n + i] = rest > 1e-12 ? std::sqrt(rest) : std::nan("");
            else
                l[i * n + j] = rest / l[j * n + j];
        }
    for (std::size_t i = 0; i < n; ++i)
        for (std::size_t j = 0; j <= i; ++j)
            m.triangle.push_back(l[i * n + j]);
    return m;
}

} // namespace fitwright::study
