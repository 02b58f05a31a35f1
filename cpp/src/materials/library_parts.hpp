// How the files of the metals library write their data: in the units and against the datum of the
// source, so that a reader can hold them against it.
#pragma once

#include <fitwright/materials/material.hpp>

namespace fitwright::materials::parts {

using Points = std::vector<std::pair<double, double>>;

struct Data {
    Points modulus;   // [GPa] against degC
    Points expansion; // mean from 20 degC [1e-6/K] against degC
    Points yield;     // [MPa] against degC
    double poisson;
    double density; // [kg/m3]
    double lowest;  // [degC]; the points may reach further and are cut here
    double highest;
    double heating_limit;
};

Entry entry(std::string name, std::string title, const Data& data,
            std::vector<std::string> sources);

double celsius(double fahrenheit);
// Points told against degF, and their values times `factor`.
Points from_fahrenheit(Points points, double factor);
// Mean coefficients told from another datum [degC], turned into means from 20 degC; at 20 degC the
// limit. A point at the datum itself is replaced by the one at 20 degC.
Points mean_from_20(double datum, const Points& means);
// A room-temperature value and the share of it that is left at each temperature.
Points shares_of(double value, Points shares);
Points joined(Points lower, const Points& upper);

inline constexpr double gpa_per_msi = 6.894757293168; // quantity.hpp: pound-force and inch

// Adds conductivity and heat capacity with their sources; throws for a metal without them.
void add_heat_data(Entry& e);
// A table of the points inside the range of the metal, cut at its ends.
Table table_within(double lowest, double highest, const Points& points, double unit);

std::vector<Entry> steels();
std::vector<Entry> bearing_steels();
std::vector<Entry> stainless_and_nickel();
std::vector<Entry> others();

} // namespace fitwright::materials::parts
