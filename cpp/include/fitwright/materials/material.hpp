// Elastic, thermal and strength data of a metal against temperature.
// Property tables are piecewise linear, written as a sum of hinges, so that every lane is served
// without a look-up (materials/table.hpp).
#pragma once

#include <fitwright/materials/table.hpp>
#include <string>
#include <vector>

namespace fitwright::materials {

// From points in order of temperature. Throws std::invalid_argument naming the point that is out
// of order.
Table table_of(const std::vector<std::pair<double, double>>& points);

// What is told about a material besides its numbers.
struct Entry {
    std::string name;
    std::string title;
    Material numbers;
    // One line per property: modulus, expansion, yield, poisson, density, heating limit. Each ends
    // with its status: published, common practice, or from memory.
    std::vector<std::string> sources;
};

// The metals that come with the library, in order of name.
const std::vector<Entry>& library();
// By name; throws DomainError listing the nearest names.
const Entry& find(const std::string& name);

} // namespace fitwright::materials
