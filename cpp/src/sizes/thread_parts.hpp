// What the files of the threads share.
#pragma once

#include <fitwright/sizes/threads.hpp>

namespace fitwright::sizes::parts {

// Heights of the 60 degree profile over the pitch (ISO 68-1, ASME B1.1): H = sqrt(3)/2 P.
inline constexpr double sharp_height = 0.86602540378443864676;
inline constexpr double pitch_diameter_depth = 0.75 * sharp_height; // major less pitch diameter
inline constexpr double minor_depth = 1.25 * sharp_height;          // major less minor diameter

// To the nearest whole multiple of `step`, halves away from zero, free of what the decimal digits
// of the value lost in binary.
double rounded(double value, double step);

// A metric length as a designation writes it: "75", "1.5".
std::string millimetres(double metres);

} // namespace fitwright::sizes::parts
