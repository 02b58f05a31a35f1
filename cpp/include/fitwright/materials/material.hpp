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
    // One line per property: modulus, expansion, yield, poisson, density, heating limit, conductivity,
    // heat capacity. Each ends with its status: published, common practice, or from memory.
    std::vector<std::string> sources;
};

// The metals that come with the library, in order of name.
const std::vector<Entry>& library();
// By name; throws DomainError listing the nearest names.
const Entry& find(const std::string& name);

// Properties against temperature by their names: modulus, expansion, yield, conductivity,
// heat_capacity. Throws DomainError for another name, and for a property the material does not tell.
const Table& table_named(const Entry& entry, const std::string& property);
// Throws DomainError outside the material's range of temperature as well.
double value_of(const Entry& entry, const std::string& property, double temperature);
// Standard deviation of its expansion over the table's value: how far one melt of one metal lies from what
// is printed for its kind. Metals that are not of the library count as steel.
double expansion_deviation(const Entry& entry);
// Conductivity and heat capacity are what a transient asks for; throws DomainError naming those that
// are missing.
void require_heat_data(const Entry& entry);

} // namespace fitwright::materials
