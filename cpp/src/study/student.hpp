// Student's t as a table over normal scores, made once per study.
#pragma once

#include <vector>

namespace fitwright::study {

// table_nodes pairs of value and slope (per unit of normal score) of middle + scale t + gauge z: t of
// `freedom` degrees of freedom, z a normal number of its own (gauge 0: none).
// Error below 1e-7 of scale + gauge to six deviations of a normal number, 1e-4 of the value beyond. Where
// the scale is less than a twentieth of the gauge both are taken as one normal number: a probability
// is then wrong by less than 1e-5. The numbers are rounded to 2^-30 of scale + gauge, so that the
// library's functions, which differ by machine in their last bit, do not show.
std::vector<double> student_table(double freedom, double middle, double scale, double gauge);

} // namespace fitwright::study
