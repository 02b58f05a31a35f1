// Sampling designs: how the uniform number of a sample is laid out over the whole study.
#pragma once

#include <cstdint>
#include <vector>

namespace fitwright::study {

inline constexpr int sobol_bits = 52;
inline constexpr int sobol_dimensions = 256;

// Polynomial and first numbers of each dimension after the first (sobol_numbers.cpp).
const unsigned short* sobol_rows();

// Direction numbers of one dimension, scrambled by a random lower-triangular matrix (Matousek's linear
// scramble) that `key` draws; the last entry is the random digital shift.
std::vector<std::uint64_t> scrambled_directions(int dimension, std::uint64_t key);

} // namespace fitwright::study
