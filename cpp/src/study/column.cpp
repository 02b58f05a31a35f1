#include <fitwright/study/column.hpp>

#include <algorithm>
#include <cmath>

namespace fitwright::study {

namespace {
constexpr std::size_t bins = 2048;

// Mean and sum of squares about it, in one pass without cancelling (Welford).
struct Moments {
    double count = 0.0, mean = 0.0, squares = 0.0;
    void add(double x) {
        count += 1.0;
        const double off = x - mean;
        mean += off / count;
        squares += off * (x - mean);
    }
};
} // namespace

Statistics statistics_of(std::span<const double> column, double at_least, double at_most) {
    Statistics s;
    Moments moments;
    for (std::size_t i = 0; i < column.size(); ++i) {
        const double x = column[i];
        if (!std::isfinite(x))
            continue;
        moments.add(x);
        if (s.least_at < 0 || x < s.least) {
            s.least = x;
            s.least_at = static_cast<std::int64_t>(i);
        }
        if (s.greatest_at < 0 || x > s.greatest) {
            s.greatest = x;
            s.greatest_at = static_cast<std::int64_t>(i);
        }
        s.passed += x >= at_least && x <= at_most;
    }
    s.count = static_cast<std::int64_t>(moments.count);
    if (s.count == 0)
        return s;
    s.mean = moments.mean;
    s.deviation = std::sqrt(moments.squares / std::max(1.0, moments.count - 1.0));
    s.bins_from = s.least;
    s.bin_width = (s.greatest - s.least) / static_cast<double>(bins);
    s.bins.assign(bins, 0);
    double cubes = 0.0;
    for (const double x : column) {
        if (!std::isfinite(x))
            continue;
        const double off = x - s.mean;
        cubes += off * off * off;
        const double place = s.bin_width > 0.0 ? (x - s.least) / s.bin_width : 0.0;
        ++s.bins[std::min(bins - 1, static_cast<std::size_t>(place))];
    }
    const double second = moments.squares / moments.count;
    s.skewness = second > 0.0 ? cubes / moments.count / (second * std::sqrt(second)) : 0.0;
    return s;
}

std::vector<double> correlation_squares(std::span<const double> column,
                                        std::span<const double> inputs, std::size_t input_count) {
    Moments own;
    for (const double y : column)
        if (std::isfinite(y))
            own.add(y);
    std::vector<double> found(input_count, 0.0);
    for (std::size_t j = 0; j < input_count; ++j) {
        Moments input;
        for (std::size_t i = 0; i < column.size(); ++i)
            if (std::isfinite(column[i]))
                input.add(inputs[i * input_count + j]);
        double product = 0.0;
        for (std::size_t i = 0; i < column.size(); ++i)
            if (std::isfinite(column[i]))
                product += (column[i] - own.mean) * (inputs[i * input_count + j] - input.mean);
        if (own.squares > 0.0 && input.squares > 0.0)
            found[j] = std::min(1.0, product / own.squares * (product / input.squares));
    }
    return found;
}

} // namespace fitwright::study
