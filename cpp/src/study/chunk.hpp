// One fixed chunk of samples: draw, evaluate, reduce. Instantiated once per level; plain pointers.
#pragma once

#include <fitwright/fields/formula.hpp>
#include <fitwright/study/study.hpp>

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
    bool mixed;                      // tied to others: drawn with them
};

// A tabulated quantile: normal scores from -8.25 to 8.25 in steps of 1/64, value and slope at each.
inline constexpr double table_reach = 8.25;
inline constexpr double table_steps = 64.0; // per unit of score
inline constexpr int table_nodes = static_cast<int>(2.0 * table_reach * table_steps) + 1;
// Inputs that can be correlated with others: two of every ring of the longest stack, and what else a job
// ties by its standard.
inline constexpr int correlation_limit = 160;

struct Partial {
    double sum, square_sum, cube_sum; // of the distance from the shift
    double least, greatest, least_at, greatest_at;
    std::int64_t passed;
};

// Kinds of faults (a rule at a place) that one chunk tells apart; what comes after them counts as the last.
inline constexpr int fault_kinds = 16;
struct FaultCount {
    double code;
    std::int64_t first, count; // its first sample
};

// A limit on an output of a part of the formula: minus and plus infinity where there is no such side.
struct Hold {
    int output, stage;
    double at_least, at_most;
};
struct Watch {
    Hold hold;
    Scale scale;
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
    const Hold* holds; // limits without statistics
    int hold_count;
    int stages; // parts of the formula
    std::uint64_t seed;
    int design;
    std::int64_t total; // samples of the whole study
    // Correlated streams, and the triangle that mixes their normal scores: row i from column
    // mixing_from[i] to i, row by row (what is not tied to each other lies in rows of its own).
    const int* mixed;
    const int* mixing_from;
    int mixed_count;
    const double* mixing;
    std::int64_t first, count;
    double* workspace;        // 64-byte aligned; see workspace_packs
    std::uint32_t* bins;      // watches x bin_count, or null
    double* columns;          // watches x column_length, or null
    const fields::Stop* stop; // asked at each pack; the answers are then worth nothing
    std::int64_t column_length;
    // What is seen of every pack, to be kept or taken again; null: neither.
    double* kept;
    bool taken_again;
    // Values of the inputs, streams x chunk, where they are not drawn here; 64-byte aligned, or null.
    const double* given;
    // answers
    Partial* partials;
    std::int64_t valid, fault_sample;
    std::int64_t passed[stage_limit]; // samples that keep all limits up to the end of each part
    double fault_code;
    FaultCount faults[fault_kinds]; // in the order they came
    int fault_count;
};
// Packs that hold what is looked at of as many samples as there are lanes.
constexpr int seen_packs(int watches, int holds, int stages) { return watches + holds + stages; }
constexpr int workspace_packs(int inputs, int outputs, int streams, int watches, int holds,
                              int stages) {
    return inputs + outputs + streams + 8 * watches + seen_packs(watches, holds, stages);
}

template <class Level>
void run_chunk(fields::Formulas<Level>, ChunkWork&, const fields::Context&);
// Draws the sample `index` alone into `inputs`; the workspace holds one pack per stream.
template <class Level>
void draw_sample(const ChunkWork&, std::int64_t index, double* inputs);

} // namespace fitwright::study
