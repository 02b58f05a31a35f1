// One fixed chunk of samples: draw, evaluate, reduce. Instantiated once per level; plain pointers.
#pragma once

#include <fitwright/fields/formula.hpp>

namespace fitwright::study {

// A spread, ready to be drawn.
struct Stream {
    int leaf, low_leaf, high_leaf;
    int shape;
    double middle, deviation, low, high;
    double probability_low, probability_high; // of a truncated normal's ends
    std::uint64_t key;
    const double* table; // value and slope at even normal scores (table_score), or readings
    int table_size;
    const std::uint64_t* directions; // of a Sobol' dimension: sobol_bits numbers and the shift
};

// A tabulated quantile: normal scores from -8.25 to 8.25 in steps of 1/64, value and slope at each.
inline constexpr double table_reach = 8.25;
inline constexpr double table_steps = 64.0; // per unit of score
inline constexpr int table_nodes = static_cast<int>(2.0 * table_reach * table_steps) + 1;
// Inputs that can be correlated with each other.
inline constexpr int correlation_limit = 64;

struct Partial {
    double sum, square_sum, cube_sum; // of the distance from the shift
    double least, greatest, least_at, greatest_at;
    std::int64_t passed;
};

struct Watch {
    int output;
    double at_least, at_most; // minus and plus infinity where there is no limit
    double shift;
    double bins_from, bins_per_unit;
};

struct ChunkWork {
    const Stream* streams;
    int stream_count;
    const double* nominal;
    const double* low;
    const double* high;
    int input_count, output_count;
    const Watch* watches;
    int watch_count;
    std::uint64_t seed;
    int design;
    std::int64_t total; // samples of the whole study
    // Correlated streams and the lower triangle, row by row, that mixes their normal scores.
    const int* mixed;
    int mixed_count;
    const double* mixing;
    std::int64_t first, count;
    double* workspace;        // 64-byte aligned; see workspace_packs
    std::uint32_t* bins;      // watches x bin_count, or null
    double* columns;          // watches x chunk, or null
    const fields::Stop* stop; // asked at each pack; the answers are then worth nothing
    // answers
    Partial* partials;
    std::int64_t valid, all_passed, fault_sample;
    double fault_code;
};
constexpr int workspace_packs(int inputs, int outputs, int streams, int watches) {
    return inputs + outputs + streams + 9 * watches;
}

template <class Level>
void run_chunk(fields::Formulas<Level>, ChunkWork&, const fields::Context&);
// Draws the sample `index` alone into `inputs`; the workspace holds one pack per stream.
template <class Level>
void draw_sample(const ChunkWork&, std::int64_t index, double* inputs);

} // namespace fitwright::study
