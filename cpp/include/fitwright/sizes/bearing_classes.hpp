// What a rolling bearing is bought to: ISO 492 limits of the mean bore and outside diameter of
// radial bearings (not tapered roller), ISO 5753-1 radial clearance of deep groove ball bearings.
// Where the values come from is told in src/sizes/bearing_classes.cpp and docs/sizes.md.
#pragma once

#include <fitwright/sizes/iso286.hpp>

namespace fitwright::sizes {

// Class "normal", "6", "5" or "4"; "P6" and the like are read too. Throws DomainError.
Limits bearing_bore(double nominal, const std::string& class_text);
Limits bearing_outside(double nominal, const std::string& class_text);

struct Clearance {
    std::string group;
    double least; // radial, before mounting, without load [m]
    double greatest;
};
// Group "C2" to "C4" to 800 mm, "C5" to 250 mm, by the nominal bore.
Clearance bearing_clearance(double bore, const std::string& group);

} // namespace fitwright::sizes
