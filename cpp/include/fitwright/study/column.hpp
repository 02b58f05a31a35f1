// Statistics of a column of numbers that a user's own function made of the samples of a study.
#pragma once

#include <fitwright/study/study.hpp>
#include <span>

namespace fitwright::study {

// What is not finite is no sample of them: `count` tells how many are left.
Statistics statistics_of(std::span<const double> column, double at_least, double at_most);

// Squares of the correlation of the column with inputs, each row of `inputs` one sample; rows whose
// number is not finite are left out, and an input that does not move has 0.
std::vector<double> correlation_squares(std::span<const double> column,
                                        std::span<const double> inputs, std::size_t input_count);

} // namespace fitwright::study
