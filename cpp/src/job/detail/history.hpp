// The whole job at the levels above quick: the quick level, then what only the baseline can do,
// reached through the pointers of the layout.
#pragma once

#include "job/detail/quick.hpp"

namespace fitwright::job {

template <Level last>
struct Beyond {
    template <class T>
    static void run(const T* inputs, T* outputs, const fields::Context& context,
                    Faults<T>& faults) {
        Quick::run<T>(inputs, outputs, context, faults);
        const Layout& at = *static_cast<const Layout*>(context.layout);
        for (int level = 1; level <= static_cast<int>(last); ++level)
            beyond(inputs, outputs + at.outputs_at(static_cast<Level>(level - 1)), at, level,
                   context, faults);
    }

private:
    static void beyond(const double* inputs, double* outputs, const Layout& at, int level,
                       const fields::Context& context, Faults<double>& faults) {
        double code = 0.0;
        double value = 0.0;
        at.calls[level].values(inputs, outputs, context, code, value);
        faults.place = number::place_of(code);
        faults.require(code == 0.0, number::rule_of(code), value);
    }

    template <int W, class Level>
    static void beyond(const Lanes<W, Level>* inputs, Lanes<W, Level>* outputs, const Layout& at,
                       int level, const fields::Context& context, Faults<Lanes<W, Level>>& faults) {
        double in[input_limit];
        double out[output_limit];
        for (int lane = 0; lane < W; ++lane) {
            for (int i = 0; i < at.input_count; ++i)
                in[i] = inputs[i].lane(lane);
            double code = faults.code.lane(lane); // a sample that is out already is left out
            double value = 0.0;
            if (code == 0.0)
                at.calls[level].values(in, out, context, code, value);
            faults.code.set_lane(lane, code);
            for (int i = 0; i < at.level_counts[level]; ++i)
                outputs[i].set_lane(lane, code == 0.0 ? out[i] : 0.0);
        }
    }

    template <int N, class Level>
    static void beyond(const Dual<N, Level>* inputs, Dual<N, Level>* outputs, const Layout& at,
                       int level, const fields::Context& context, Faults<Dual<N, Level>>& faults) {
        double in[input_limit];
        double in_slopes[input_limit * N];
        double out[output_limit];
        double out_slopes[output_limit * N];
        for (int i = 0; i < at.input_count; ++i) {
            in[i] = inputs[i].value;
            for (int k = 0; k < N; ++k)
                in_slopes[i * N + k] = inputs[i].d.lane(k);
        }
        double code = faults.code;
        if (code == 0.0)
            at.calls[level].slopes(in, in_slopes, N, out, out_slopes, context, code,
                                   faults.one_sided);
        faults.code = code;
        for (int i = 0; i < at.level_counts[level]; ++i) {
            outputs[i].value = code == 0.0 ? out[i] : 0.0;
            for (int k = 0; k < N; ++k)
                outputs[i].d.set_lane(k, code == 0.0 ? out_slopes[i * N + k] : 0.0);
        }
    }
};

using History = Beyond<Level::history>;
using Heating = Beyond<Level::heating>;

} // namespace fitwright::job
