#include "fields/nearest.hpp"
#include "library_parts.hpp"

#include <algorithm>
#include <fitwright/fields/error.hpp>
#include <iterator>
#include <sstream>
#include <stdexcept>

namespace fitwright::materials {

namespace parts {
namespace {
struct Line {
    double value;
    double slope;
};
// Straight between the two points around t.
Line line_at(const Points& points, double t) {
    for (std::size_t k = 0; k + 1 < points.size(); ++k) {
        const auto& [from, low] = points[k];
        const auto& [to, high] = points[k + 1];
        if (t < from || t > to)
            continue;
        const double slope = (high - low) / (to - from);
        return {low + slope * (t - from), slope};
    }
    throw std::invalid_argument("material data do not reach " + std::to_string(t) + " degC");
}
} // namespace

Table table_within(double lowest, double highest, const Points& points, double unit) {
    Points cut{{lowest, line_at(points, lowest).value * unit}};
    for (const auto& [t, value] : points)
        if (t > lowest && t < highest)
            cut.emplace_back(t, value * unit);
    cut.emplace_back(highest, line_at(points, highest).value * unit);
    return table_of(cut);
}

Entry entry(std::string name, std::string title, const Data& data,
            std::vector<std::string> sources) {
    const auto within = [&](const Points& points, double unit) {
        return table_within(data.lowest, data.highest, points, unit);
    };
    Material numbers{within(data.modulus, 1e9),
                     within(data.expansion, 1e-6),
                     within(data.yield, 1e6),
                     data.poisson,
                     data.density,
                     data.lowest,
                     data.highest,
                     data.heating_limit};
    return {std::move(name), std::move(title), numbers, std::move(sources)};
}

double celsius(double fahrenheit) { return (fahrenheit - 32.0) / 1.8; }

Points from_fahrenheit(Points points, double factor) {
    for (auto& [t, value] : points) {
        t = celsius(t);
        value *= factor;
    }
    return points;
}

Points mean_from_20(double datum, const Points& means) {
    // 1 + growth from datum to t, over 1 + growth from datum to 20 degC, is 1 + growth from 20 to t.
    const auto growth = [datum](double mean, double t) { return 1e-6 * mean * (t - datum); };
    const Line here = line_at(means, reference_temperature);
    const double base = 1.0 + growth(here.value, reference_temperature);
    const double limit = (here.value + here.slope * (reference_temperature - datum)) / base;
    Points result;
    for (const auto& [t, mean] : means) {
        if (t == datum || t == reference_temperature)
            continue;
        const double relative = (1.0 + growth(mean, t)) / base - 1.0;
        result.emplace_back(t, 1e6 * relative / (t - reference_temperature));
    }
    result.emplace_back(reference_temperature, limit);
    std::sort(result.begin(), result.end());
    return result;
}

Points shares_of(double value, Points shares) {
    for (auto& point : shares)
        point.second *= value;
    return shares;
}

Points joined(Points lower, const Points& upper) {
    lower.insert(lower.end(), upper.begin(), upper.end());
    return lower;
}
} // namespace parts

const std::vector<Entry>& library() {
    static const std::vector<Entry> entries = [] {
        std::vector<Entry> all = parts::steels();
        for (auto* room : {parts::bearing_steels, parts::stainless_and_nickel, parts::others}) {
            std::vector<Entry> more = room();
            std::move(more.begin(), more.end(), std::back_inserter(all));
        }
        for (Entry& e : all)
            parts::add_heat_data(e);
        std::sort(all.begin(), all.end(),
                  [](const Entry& a, const Entry& b) { return a.name < b.name; });
        return all;
    }();
    return entries;
}

const Entry& find(const std::string& name) {
    for (const Entry& e : library())
        if (e.name == name)
            return e;
    std::vector<std::string> names;
    for (const Entry& e : library())
        names.push_back(e.name);
    throw DomainError({{"material", quoted(name) + " is not a known material; nearest: " +
                                        fields::nearest(name, names)}});
}

namespace {
struct Property {
    const char* name;
    Table Material::* table;
};
constexpr Property properties[] = {{"modulus", &Material::modulus},
                                   {"expansion", &Material::expansion},
                                   {"yield", &Material::yield},
                                   {"conductivity", &Material::conductivity},
                                   {"heat_capacity", &Material::heat_capacity}};

std::string not_told(const Entry& entry) {
    return "is not told for material \"" + entry.name +
           "\"; give it as a number or as (temperature, value) pairs";
}
} // namespace

const Table& table_named(const Entry& entry, const std::string& property) {
    std::vector<std::string> names;
    for (const Property& p : properties) {
        names.emplace_back(p.name);
        if (property != p.name)
            continue;
        const Table& table = entry.numbers.*p.table;
        if (!told(table))
            throw DomainError({{property, not_told(entry)}});
        return table;
    }
    throw DomainError(
        {{"property", quoted(property) + " is not a property of a material; nearest: " +
                          fields::nearest(property, names)}});
}

double value_of(const Entry& entry, const std::string& property, double temperature) {
    const Table& table = table_named(entry, property);
    const Material& m = entry.numbers;
    if (!(temperature >= m.lowest && temperature <= m.highest)) {
        std::ostringstream text;
        text << temperature << " degC is outside the data of material \"" << entry.name << "\" ("
             << m.lowest << " to " << m.highest << " degC)";
        throw DomainError({{"temperature", text.str()}});
    }
    return at(table, temperature);
}

void require_heat_data(const Entry& entry) {
    std::vector<Problem> missing;
    for (const char* name : {"conductivity", "heat_capacity"})
        for (const Property& p : properties)
            if (std::string(name) == p.name && !told(entry.numbers.*p.table))
                missing.push_back({name, not_told(entry)});
    if (!missing.empty())
        throw DomainError(missing);
}

} // namespace fitwright::materials
