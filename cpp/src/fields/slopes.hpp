// One pass of a model's duals for slopes that come from elsewhere, instantiated once per level.
#pragma once

#include <fitwright/fields/formula.hpp>

namespace fitwright::fields {

// Value i is inputs[i * stride], its slopes are the `directions` numbers from `slope_at` on; the same for
// the outputs.
struct SlopeWork {
    const double* inputs;
    double* outputs;
    int input_count, output_count;
    int stride, slope_at, directions;
    double* workspace; // 64-byte aligned
    bool one_sided;    // answer: some slope holds on one side only
    double code;       // answer: first broken rule
};
template <class Level>
void slope_passes(Formulas<Level>, SlopeWork&, const Context&);

} // namespace fitwright::fields
