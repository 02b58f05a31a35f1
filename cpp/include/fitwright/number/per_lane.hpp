// Runs a model that only knows double (data-dependent flow, integration in time) on lanes, one
// lane after the other. The model is reached by pointer, so that it stays in the baseline.
#pragma once

#include <fitwright/number/basic.hpp>

namespace fitwright::number {

// Answers false where it could not; it must not throw (no exception crosses lanes or threads).
using ScalarModel = bool (*)(const double* inputs, double* outputs, const void* context);

// The largest number of inputs or outputs a per-lane model may have.
inline constexpr int per_lane_limit = 256;

FITWRIGHT_INLINE bool per_lane(ScalarModel model, const double* inputs, int, double* outputs, int,
                               const void* context) {
    return model(inputs, outputs, context);
}

template <int W, class Level>
FITWRIGHT_INLINE Mask<W, Level> per_lane(ScalarModel model, const Lanes<W, Level>* inputs,
                                         int input_count, Lanes<W, Level>* outputs,
                                         int output_count, const void* context) {
    double in[per_lane_limit];
    double out[per_lane_limit];
    Lanes<W, Level> ok(0.0);
    for (int k = 0; k < W; ++k) {
        for (int i = 0; i < input_count; ++i)
            in[i] = inputs[i].lane(k);
        ok.set_lane(k, model(in, out, context) ? 1.0 : 0.0);
        for (int i = 0; i < output_count; ++i)
            outputs[i].set_lane(k, out[i]);
    }
    return ok > Lanes<W, Level>(0.0);
}

// No derivative can be had from a model that only knows double.
template <int N, class Level>
bool per_lane(ScalarModel, const Dual<N, Level>*, int, Dual<N, Level>*, int, const void*) = delete;

// f for every lane of x, for what looks something up by value.
template <class F>
FITWRIGHT_INLINE double each_lane(double x, const F& f) {
    return f(x);
}
template <int W, class Level, class F>
FITWRIGHT_INLINE Lanes<W, Level> each_lane(const Lanes<W, Level>& x, const F& f) {
    Lanes<W, Level> r;
    for (int k = 0; k < W; ++k)
        r.set_lane(k, f(x.lane(k)));
    return r;
}

} // namespace fitwright::number
