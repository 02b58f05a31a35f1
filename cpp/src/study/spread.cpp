#include "spread.hpp"
#include "beta.hpp"
#include "design.hpp"
#include "detail/draw.hpp"
#include "student.hpp"
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

// What readings say of a part: middle + scale t + gauge z (see Readings). freedom 0: t is normal.
struct ReadingsLaw {
    double middle, scale, freedom, gauge;
};
ReadingsLaw law_of(const Spread& s) {
    const auto n = static_cast<double>(s.measured.size());
    double mean = 0.0;
    for (const double x : s.measured)
        mean += x / n;
    double square = 0.0;
    for (const double x : s.measured)
        square += (x - mean) * (x - mean);
    const double deviation = n > 1.0 ? std::sqrt(square / (n - 1.0)) : 0.0;
    if (s.of == Readings::process)
        return {mean, deviation * std::sqrt(1.0 + 1.0 / n), n - 1.0, s.deviation};
    if (std::isfinite(s.repeatability))
        return {mean, s.repeatability / std::sqrt(n), 0.0, s.deviation};
    return {mean, deviation / std::sqrt(n), n > 1.0 ? n - 1.0 : 0.0, s.deviation};
}
bool has_law(const Spread& s) {
    return s.shape == Shape::measured && s.of != Readings::these_parts;
}
double deviation_of(const ReadingsLaw& law) {
    const double own =
        law.freedom > 0.0 ? law.scale * std::sqrt(law.freedom / (law.freedom - 2.0)) : law.scale;
    return number::norm2(own, law.gauge);
}

std::string problem_of_readings(const Spread& s) {
    if (s.measured.empty())
        return "needs at least one reading";
    if (!(s.deviation >= 0.0))
        return "needs a gauge deviation of zero or more";
    if (s.of == Readings::these_parts)
        return s.measured.size() == 1 && s.deviation == 0.0
                   ? "needs a gauge deviation where there is one reading"
                   : "";
    if (!std::isnan(s.repeatability) && !(s.repeatability > 0.0))
        return "needs a repeatability above zero";
    const ReadingsLaw law = law_of(s);
    const bool few = s.measured.size() < 4;
    if (s.measured.size() == 1 && s.of == Readings::one_part && !(deviation_of(law) > 0.0))
        return "needs a gauge deviation, or the repeatability, where there is one reading";
    if (s.of == Readings::process && few)
        return "of a process needs four readings or more: fewer leave its deviation open";
    if (s.of == Readings::one_part && few && std::isnan(s.repeatability) &&
        (s.measured.size() > 1 || s.deviation == 0.0))
        return "of one part needs four readings or more, or the repeatability of one reading: "
               "fewer "
               "leave the deviation open (JCGM 101, 6.4.9)";
    if (!(deviation_of(law) > 0.0))
        return "has readings that do not differ: needs a gauge deviation";
    return {};
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
    } else if (has_law(s)) {
        const ReadingsLaw law = law_of(s);
        if (law.freedom > 0.0 && law.scale > 0.0)
            data.table = student_table(law.freedom, law.middle, law.scale, law.gauge);
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
    } else if (has_law(s)) {
        const ReadingsLaw law = law_of(s);
        t.shape = static_cast<int>(data.table.empty() ? Shape::normal : Shape::beta); // a table
        t.middle = law.middle;
        t.deviation = deviation_of(law);
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
    if (s.shape == Shape::measured)
        return problem_of_readings(s);
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
        if (has_law(s))
            return deviation_of(law_of(s));
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
        return "at most 160 inputs may be correlated";
    for (const double x : m.triangle)
        if (!std::isfinite(x))
            return "the correlations contradict each other (not positive definite)";
    return {};
}

// Cholesky's triangle of the correlation matrix, group by group; NaN where there is none.
Mixing mixing_of(const std::vector<Correlation>& correlations, std::size_t spread_count) {
    // Groups of what hangs together, each named by its first member.
    std::vector<std::size_t> group(spread_count);
    std::vector<char> tied(spread_count, 0);
    for (std::size_t i = 0; i < spread_count; ++i)
        group[i] = i;
    for (const Correlation& c : correlations) {
        if (c.value == 0.0)
            continue;
        const auto first = static_cast<std::size_t>(c.first);
        const auto second = static_cast<std::size_t>(c.second);
        tied[first] = tied[second] = 1;
        const std::size_t from = std::max(group[first], group[second]);
        const std::size_t to = std::min(group[first], group[second]);
        std::replace(group.begin(), group.end(), from, to);
    }
    Mixing m;
    for (std::size_t g = 0; g < spread_count; ++g) {
        const auto begin = m.streams.size();
        for (std::size_t i = g; i < spread_count; ++i)
            if (tied[i] != 0 && group[i] == g)
                m.streams.push_back(static_cast<int>(i));
        m.from.resize(m.streams.size(), static_cast<int>(begin));
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
        if (i < n && j < n)
            full[i * n + j] = full[j * n + i] = c.value;
    }
    std::vector<double> l(n * n, 0.0);
    for (std::size_t i = 0; i < n; ++i)
        for (auto j = static_cast<std::size_t>(m.from[i]); j <= i; ++j) {
            double rest = full[i * n + j];
            for (auto k = static_cast<std::size_t>(m.from[i]); k < j; ++k)
                rest -= l[i * n + k] * l[j * n + k];
            if (i == j)
                l[i * n + i] = rest > 1e-12 ? std::sqrt(rest) : std::nan("");
            else
                l[i * n + j] = rest / l[j * n + j];
            m.triangle.push_back(l[i * n + j]);
        }
    return m;
}

} // namespace fitwright::study
