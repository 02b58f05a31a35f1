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
        t.probability_low = number::normal_probability((s.low - s.middle) / s.deviation);
        t.probability_high = number::normal_probability((s.high - s.middle) / s.deviation);
    } else if (s.shape == Shape::lognormal) {
        const double ratio = s.deviation / s.middle;
        const double variance = number::log(1.0 + ratio * ratio);
        t.low = number::log(s.middle) - 0.5 * variance;
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
        if (!(t.probability_high - t.probability_low > 1e-9))
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
        return std::sqrt((s.low * s.low + s.middle * s.middle + s.high * s.high - s.low * s.middle -
                          s.low * s.high - s.middle * s.high) /
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
    const double a = (s.low - s.middle) / s.deviation;
    const double b = (s.high - s.middle) / s.deviation;
    const double kept = number::normal_probability(b) - number::normal_probability(a);
    const double fa = number::normal_density(a);
    const double fb = number::normal_density(b);
    const double shift = (fa - fb) / kept;
    return s.deviation * std::sqrt(1.0 + (a * fa - b * fb) / kept - shift * shift);
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
