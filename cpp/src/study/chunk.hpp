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
};
struct Spread;
Stream stream_of(const Spread&);

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
    std::int64_t first, count;
    double* workspace;   // 64-byte aligned; see workspace_packs
    std::uint32_t* bins; // watches x bin_count, or null
    double* columns;     // watches x chunk, or null
    // answers
    Partial* partials;
    std::int64_t valid, all_passed, fault_sample;
    double fault_code;
};
constexpr int workspace_packs(int inputs, int outputs, int watches) {
    return inputs + outputs + 8 * watches;
}

template <class Level>
void run_chunk(fields::Formulas<Level>, ChunkWork&, const fields::Context&);
// Draws the sample `index` alone into `inputs`.
template <class Level>
void draw_sample(const ChunkWork&, std::int64_t index, double* inputs);

} // namespace fitwright::study
