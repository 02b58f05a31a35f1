// Models that integrate in time run on double and on duals; lanes go one after the other through the
// double of the baseline, which takes the same steps whoever its neighbours are.
#pragma once

#include <fitwright/fields/formula.hpp>
#include <fitwright/number/number.hpp>

namespace fitwright::heat {

using namespace number;

using Alone = double (*)(const double*, double*, const fields::Context&) noexcept;

template <int W, class Level>
void lane_by_lane(Alone alone, const Lanes<W, Level>* inputs, int input_count,
                  Lanes<W, Level>* outputs, int output_count, const fields::Context& context,
                  Faults<Lanes<W, Level>>& faults) {
    double in[per_lane_limit];
    double out[per_lane_limit];
    Lanes<W, Level> code(0.0);
    for (int k = 0; k < W; ++k) {
        for (int i = 0; i < input_count; ++i)
            in[i] = inputs[i].lane(k);
        // The tail of a batch repeats its last sample.
        bool again = k > 0;
        for (int i = 0; i < input_count && again; ++i)
            again = inputs[i].lane(k) == inputs[i].lane(k - 1);
        if (!again) {
            for (int i = 0; i < output_count; ++i)
                out[i] = 0.0;
            code.set_lane(k, alone(in, out, context));
        } else {
            code.set_lane(k, code.lane(k - 1));
        }
        for (int i = 0; i < output_count; ++i)
            outputs[i].set_lane(k, out[i]);
    }
    faults.code = select(faults.code == Lanes<W, Level>(0.0), code, faults.code);
}

template <class T>
inline constexpr bool is_lanes = false;
template <int W, class Level>
inline constexpr bool is_lanes<Lanes<W, Level>> = true;

} // namespace fitwright::heat
