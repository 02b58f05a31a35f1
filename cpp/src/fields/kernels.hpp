// Generic kernels over a formula, instantiated once per level (kernels.level.cpp). Plain pointers
// only: nothing of the standard library may enter a level file.
#pragma once

#include <fitwright/fields/formula.hpp>

namespace fitwright::fields {

struct FaultPlace {
    std::int64_t sample; // -1: none
    double code;
};

inline constexpr unsigned char low_excluded = 1;  // the low end itself is not allowed
inline constexpr unsigned char or_worked_out = 2; // +infinity is: the formula works it out

// Samples begin to end of a batch. `low`, `high` and `flags` hold the allowed range of each input.
struct BatchSlice {
    const double* const* columns;
    const std::int64_t* strides;
    double* const* results;
    std::int64_t begin, end;
    int input_count, output_count;
    const double* low;
    const double* high;
    const unsigned char* flags; // low_excluded, or_worked_out
    double* workspace;          // 64-byte aligned, (inputs + outputs) packs
    const Stop* stop = nullptr; // asked now and then; the rest of the slice is then left out
};

template <class Level>
FaultPlace batch_slice(Formulas<Level>, const BatchSlice&, const Context&);

struct JacobianWork {
    const double* inputs;
    int input_count, output_count;
    double* outputs;
    double* derivatives; // rows x leaves
    double* workspace;   // 64-byte aligned
    bool one_sided;      // answer: some derivative holds on one side only
    double code;         // answer: first broken rule
    // Which outputs by which inputs, by number; null: all of them.
    const int* rows = nullptr;
    int row_count = 0;
    const int* leaves = nullptr;
    int leaf_count = 0;
};
template <class Level>
void jacobian_passes(Formulas<Level>, JacobianWork&, const Context&);

template <class Level>
int doubles_per_dual();

} // namespace fitwright::fields
