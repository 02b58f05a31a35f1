// Pairs of measured parts, and the cheapest tolerances.
#include "fields/pause.hpp"
#include "inverse_detail.hpp"
#include <algorithm>
#include <cmath>
#include <fitwright/number/quantile.hpp>
#include <limits>

namespace fitwright::study {

namespace {

constexpr double infinity = std::numeric_limits<double>::infinity();

} // namespace

std::vector<double> reserve_matrix(const System& system, int row_leaf,
                                   const std::vector<double>& rows, int column_leaf,
                                   const std::vector<double>& columns,
                                   const std::vector<int>& fixed,
                                   const std::vector<std::vector<double>>& fixed_values,
                                   const fields::Between& between) {
    fields::Pace pace(between);
    const std::vector<Side> sides = sides_of(system);
    std::vector<int> outputs;
    for (const Side& s : sides)
        outputs.push_back(s.output);
    std::sort(outputs.begin(), outputs.end());
    outputs.erase(std::unique(outputs.begin(), outputs.end()), outputs.end());
    std::vector<double> matrix;
    matrix.reserve(rows.size() * columns.size());
    std::vector<double> full(system.outputs().size(), 0.0);
    const auto least = [&] {
        double r = infinity;
        for (const Side& s : sides)
            r = std::min(r, reserve_of(s, full));
        return r == r ? r : -infinity;
    };
    for (std::size_t i = 0; i < rows.size(); ++i) {
        pace();
        System there = system;
        there.set(row_leaf, rows[i]);
        for (std::size_t k = 0; k < fixed.size(); ++k)
            there.set(fixed[k], fixed_values[k][i]);
        try {
            const auto found = there.sweep({column_leaf}, {columns}, outputs, 1, between);
            for (std::size_t j = 0; j < columns.size(); ++j) {
                for (std::size_t k = 0; k < outputs.size(); ++k)
                    full[at(outputs[k])] = found[k][j];
                matrix.push_back(least());
            }
        } catch (const DomainError&) {
            // Some pair of this row cannot be: one by one.
            for (const double c : columns) {
                pace();
                there.set(column_leaf, c);
                matrix.push_back(try_evaluate(there, full, nullptr, between) ? least() : -infinity);
                full.resize(system.outputs().size());
            }
        }
    }
    return matrix;
}

void assignment_costs(std::span<const double> reserves, std::size_t rows, std::span<double> costs) {
    double least = infinity;
    double greatest = -infinity;
    for (const double r : reserves)
        if (std::isfinite(r)) {
            least = std::min(least, r);
            greatest = std::max(greatest, r);
        }
    const double span = greatest > least ? greatest - least : 1.0;
    // One bad pair costs more than all that reserves can save.
    const double bad = 2.0 * static_cast<double>(rows) + 1.0;
    for (std::size_t i = 0; i < reserves.size(); ++i) {
        const double r = reserves[i];
        costs[i] = std::isfinite(r) ? (greatest - r) / span + (r < 0.0 ? bad : 0.0) : bad + 2.0;
    }
}

Spread tolerance_spread(const System& system, const std::string& path, double width) {
    const int leaf = system.leaf(path);
    const double value = system.values()[at(leaf)];
    constexpr double none = std::numeric_limits<double>::quiet_NaN();
    return {leaf, -1, -1, path, Shape::normal, value, width / 6.0, none, none};
}

// Every finding is taken as normal about its nominal value, misses are added up (a bound that holds
// whatever hangs together with what).
std::vector<Allocated> allocate(const System& system, const std::vector<Spread>& others,
                                const std::vector<int>& leaves,
                                const std::vector<std::vector<double>>& widths,
                                const std::vector<std::vector<double>>& costs, double rate,
                                std::size_t most, const fields::Between& between) {
    fields::Pace pace(between);
    const std::vector<Side> sides = sides_of(system);
    const System middle = in_the_middle(system, edges_of(system, others));
    const fields::Slopes j = middle.jacobian(between);
    const std::size_t n = system.inputs().size();
    const std::vector<double> parts = contributions(j.derivatives, n, others);
    const std::vector<double> rest = linear_deviation(parts, others.size());

    std::vector<Allocated> sets;
    std::vector<int> options(leaves.size(), 0);
    for (bool more = true; more;) {
        pace();
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
