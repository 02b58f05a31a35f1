#include <algorithm>
#include <cmath>
#include <fitwright/study/joined.hpp>
#include <limits>

namespace fitwright::study {

JoinedRate joined_rate(const std::vector<LevelCount>& levels) {
    std::vector<double> shares;
    std::vector<Interval> intervals;
    bool known = !levels.empty();
    for (const LevelCount& l : levels) {
        known = known && l.samples > 0;
        const auto before = static_cast<double>(l.passed_before);
        shares.push_back(l.passed_before > 0 ? static_cast<double>(l.passed) / before : 1.0);
        intervals.push_back(interval_of_share(l.passed, l.passed_before));
    }
    if (!known)
        return {std::numeric_limits<double>::quiet_NaN(), {0.0, 1.0}};
    double rate = 1.0;
    for (const double share : shares)
        rate *= share;
    // How far the product moves when one share goes to an end of its interval.
    double down = 0.0;
    double up = 0.0;
    for (std::size_t i = 0; i < shares.size(); ++i) {
        double others = 1.0;
        for (std::size_t k = 0; k < shares.size(); ++k)
            others *= k == i ? 1.0 : shares[k];
        const double fall = others * (shares[i] - intervals[i].low);
        const double rise = others * (intervals[i].high - shares[i]);
        down += fall * fall;
        up += rise * rise;
    }
    // A single share keeps the very ends of its own interval.
    if (shares.size() == 1)
        return {rate, intervals.front()};
    return {rate, {std::max(0.0, rate - std::sqrt(down)), std::min(1.0, rate + std::sqrt(up))}};
}

} // namespace fitwright::study
