#include <cmath>
#include <fitwright/materials/material.hpp>
#include <stdexcept>

namespace fitwright::materials {

namespace {
std::string told(std::size_t k, const std::pair<double, double>& point) {
    return "point " + std::to_string(k + 1) + " (" + std::to_string(point.first) + " degC)";
}
} // namespace

Table table_of(const std::vector<std::pair<double, double>>& points) {
    if (points.empty())
        throw std::invalid_argument("a property table needs at least one point");
    if (points.size() > static_cast<std::size_t>(table_limit))
        throw std::invalid_argument("a property table has at most " + std::to_string(table_limit) +
                                    " points, not " + std::to_string(points.size()));
    for (std::size_t k = 0; k < points.size(); ++k) {
        if (!std::isfinite(points[k].first) || !std::isfinite(points[k].second))
            throw std::invalid_argument(told(k, points[k]) + " of a property table is not finite");
        if (k > 0 && !(points[k].first > points[k - 1].first))
            throw std::invalid_argument(told(k, points[k]) + " of a property table is not above " +
                                        told(k - 1, points[k - 1]));
    }
    // The last point needs no hinge: the slope into it goes on.
    Table table{};
    table.count = static_cast<int>(points.size()) - 1;
    table.first = points.front().second;
    double slope = 0.0;
    for (std::size_t k = 0; k + 1 < points.size(); ++k) {
        const double next =
            (points[k + 1].second - points[k].second) / (points[k + 1].first - points[k].first);
        table.knot[k] = points[k].first;
        table.slope_change[k] = next - slope;
        slope = next;
    }
    return table;
}

} // namespace fitwright::materials
