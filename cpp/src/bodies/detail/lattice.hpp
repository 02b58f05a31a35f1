// One direction of the mesh, shared by all parts so that their nodes meet where they touch: stations,
// where something begins or ends, and element lines between them.
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <limits>
#include <vector>

namespace fitwright::bodies {

class Lattice {
public:
    static constexpr double any = std::numeric_limits<double>::infinity();

    // Something begins or ends at x; elements there are about `size` long.
    void add(double x, double size = any) { told_.push_back({x, size}); }
    // Elements between two places are at most so long.
    void limit(double from, double to, double longest) { limits_.push_back({from, to, longest}); }

    // Places nearer than `apart` become one station.
    void settle(double apart) {
        apart_ = apart;
        std::sort(told_.begin(), told_.end(),
                  [](const Told& a, const Told& b) { return a.at < b.at; });
        for (const Told& t : told_) {
            if (stations_.empty() || t.at - stations_.back().at > apart)
                stations_.push_back(t);
            else
                stations_.back().size = std::min(stations_.back().size, t.size);
        }
    }
    // -1: none there.
    int station(double x) const {
        for (std::size_t k = 0; k < stations_.size(); ++k)
            if (std::abs(stations_[k].at - x) <= apart_)
                return static_cast<int>(k);
        return -1;
    }
    int stations() const { return static_cast<int>(stations_.size()); }
    double at(int station) const { return stations_[static_cast<std::size_t>(station)].at; }

    // Element lines: their density follows the sizes told, growing by `growth` from element to element.
    void divide(double growth, double fineness, int halvings) {
        lines_ = {stations_.front().at};
        line_of_ = {0};
        for (std::size_t k = 0; k + 1 < stations_.size(); ++k) {
            const double a = stations_[k].at;
            const double b = stations_[k + 1].at;
            const std::vector<Step> steps = march(a, b, growth - 1.0);
            const double whole = steps.back().count;
            // What is finer than wanted already is not cut with the rest.
            const double wanted = whole * fineness;
            const int n =
                wanted >= 0.75
                    ? static_cast<int>(std::lround(wanted)) << halvings
                    : std::max(1, static_cast<int>(std::lround(wanted * (1 << halvings))));
            std::size_t s = 0;
            for (int i = 1; i < n; ++i) {
                const double count = whole * i / n;
                while (steps[s + 1].count < count)
                    ++s;
                const double share =
                    (count - steps[s].count) / (steps[s + 1].count - steps[s].count);
                lines_.push_back(steps[s].x + share * (steps[s + 1].x - steps[s].x));
            }
            lines_.push_back(b);
            line_of_.push_back(static_cast<int>(lines_.size()) - 1);
        }
    }
    int lines() const { return static_cast<int>(lines_.size()); }
    double line(int i) const { return lines_[static_cast<std::size_t>(i)]; }
    int line_of(int station) const { return line_of_[static_cast<std::size_t>(station)]; }
    // The station at or before a line.
    int before(int line) const {
        const auto next = std::upper_bound(line_of_.begin(), line_of_.end(), line);
        return std::min(static_cast<int>(next - line_of_.begin()) - 1, stations() - 2);
    }

private:
    struct Told {
        double at, size;
    };
    struct Limit {
        double from, to, longest;
    };
    struct Step {
        double x, count; // place, and elements up to there
    };

    double size_at(double x, double slope) const {
        double size = any;
        for (const Told& s : stations_)
            size = std::min(size, s.size + slope * std::abs(x - s.at));
        for (const Limit& l : limits_)
            if (x > l.from && x < l.to)
                size = std::min(size, l.longest);
        return size;
    }
    std::vector<Step> march(double a, double b, double slope) const {
        constexpr double part = 1.0 / 16.0; // of an element
        std::vector<Step> steps{{a, 0.0}};
        double x = a;
        double count = 0.0;
        while (x < b) {
            const double guess = std::min(part * size_at(x, slope), b - x);
            const double size = size_at(x + 0.5 * guess, slope);
            const double next = b - x < 1.5 * part * size ? b : x + part * size;
            count += (next - x) / size;
            x = next;
            steps.push_back({x, count});
        }
        return steps;
    }

    double apart_ = 0.0;
    std::vector<Told> told_, stations_;
    std::vector<Limit> limits_;
    std::vector<double> lines_;
    std::vector<int> line_of_;
};

} // namespace fitwright::bodies
