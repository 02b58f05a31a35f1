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
        at.calls[level].values(inputs, outputs, 1, context, code, value);
        faults.place = number::place_of(code);
        faults.require(code == 0.0, number::rule_of(code), value);
    }

    template <int W, class Isa>
    static void beyond(const Lanes<W, Isa>* inputs, Lanes<W, Isa>* outputs, const Layout& at,
                       int level, const fields::Context& context, Faults<Lanes<W, Isa>>& faults) {
        const auto* in = reinterpret_cast<const double*>(inputs);
        auto* out = reinterpret_cast<double*>(outputs);
        for (int lane = 0; lane < W; ++lane) {
            double code = faults.code.lane(lane); // a sample that is out already is left out
            double value = 0.0;
            for (int i = 0; i < at.level_counts[level]; ++i)
                outputs[i].set_lane(lane, 0.0);
            if (code == 0.0)
                at.calls[level].values(in + lane, out + lane, W, context, code, value);
            faults.code.set_lane(lane, code);
        }
    }

    template <int N, class Isa>
    static void beyond(const Dual<N, Isa>* inputs, Dual<N, Isa>* outputs, const Layout& at,
                       int level, const fields::Context& context, Faults<Dual<N, Isa>>& faults) {
        const auto* in = reinterpret_cast<const double*>(inputs);
        const auto slope_at = reinterpret_cast<const double*>(&inputs->d) - in;
        double code = faults.code;
        for (int i = 0; i < at.level_counts[level]; ++i)
            outputs[i] = Dual<N, Isa>(0.0);
        if (code == 0.0)
            at.calls[level].slopes(in, reinterpret_cast<double*>(outputs),
                                   static_cast<int>(sizeof(Dual<N, Isa>) / sizeof(double)),
                                   static_cast<int>(slope_at), N, context, code, faults.one_sided);
        faults.code = code;
    }
};

using History = Beyond<Level::history>;
using Heating = Beyond<Level::heating>;

} // namespace fitwright::job
