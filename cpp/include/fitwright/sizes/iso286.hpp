// Limits of size by ISO 286: "80 m5", "120 H7/s6". Nominal sizes above 0 to 3150 mm.
// Where the values come from is told in src/sizes/iso286_tables.hpp and docs/sizes.md.
#pragma once

#include <cstddef>
#include <optional>
#include <span>
#include <string>
#include <vector>

namespace fitwright::sizes {

enum class Feature { hole, shaft };

// A tolerance class: capital letters for a hole, small ones for a shaft. Grades 1 to 18; 0 is IT0
// and -1 is IT01.
struct ToleranceClass {
    Feature feature;
    std::string letters; // in small letters, whatever the feature
    int grade;
};

// From the nominal size to the lower and to the upper limit [m].
struct Deviations {
    double lower;
    double upper;
};

struct Limits {
    std::string name; // "80 m5"
    Feature feature;
    double nominal; // [m]
    Deviations deviations;
    double lower; // limits of size [m]
    double upper;
};

// Interference counts on the diameter [m]; a negative one is a clearance.
struct Fit {
    std::string name; // "120 H7/s6"
    Limits hole;
    Limits shaft;
    double interference_least;
    double interference_greatest;
};

// Each throws DomainError; `path` is the field the error speaks of.
ToleranceClass parse_class(const std::string& text, const std::string& path = "class_");
Limits limits(const std::string& text, const std::string& path = "size"); // "80 m5", "80m5"
Limits limits(const ToleranceClass& wanted, double nominal, const std::string& path = "size");
Fit fit(const std::string& text, const std::string& path = "fit"); // "120 H7/s6"
Fit fit(const Limits& hole, const Limits& shaft);

// One class for many nominal sizes [m]. The first size that cannot be served is told by its place.
void limits_of(const ToleranceClass& wanted, std::span<const double> nominal,
               std::span<double> lower, std::span<double> upper);

// Width of a grade [m].
double standard_tolerance(int grade, double nominal);
// Nothing where the standard defines none.
std::optional<Deviations> deviations(const ToleranceClass& wanted, double nominal);

std::string text(const ToleranceClass& c);                       // "m5", "H7", "JS01"
std::string text(double nominal, const std::string& class_text); // "80 m5"

// All classes of the standard, holes first, in order of letter and grade.
const std::vector<ToleranceClass>& tolerance_classes();

} // namespace fitwright::sizes
