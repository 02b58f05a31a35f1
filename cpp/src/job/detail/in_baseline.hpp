// Calls what lives in the baseline from every number type: double as it is, lanes one by one, duals with
// their slopes.
#pragma once

#include <fitwright/job/layout.hpp>
#include <fitwright/number/number.hpp>

namespace fitwright::job {

using namespace number;

// `place` is added to those its faults speak of.
inline void in_baseline(const LevelCalls& calls, const double* inputs, double* outputs, int,
                        const fields::Context& context, int place, Faults<double>& faults) {
    double code = 0.0;
    double value = 0.0;
    calls.values(inputs, outputs, 1, context, code, value);
    faults.place = place_of(code) + place;
    faults.require(code == 0.0, rule_of(code), value);
}

template <int W, class Isa>
void in_baseline(const LevelCalls& calls, const Lanes<W, Isa>* inputs, Lanes<W, Isa>* outputs,
                 int count, const fields::Context& context, int place,
                 Faults<Lanes<W, Isa>>& faults) {
    const auto* in = reinterpret_cast<const double*>(inputs);
    auto* out = reinterpret_cast<double*>(outputs);
    for (int i = 0; i < count; ++i)
        outputs[i] = Lanes<W, Isa>(0.0);
    for (int lane = 0; lane < W; ++lane) {
        if (faults.code.lane(lane) != 0.0) // a sample that is out already is left out
            continue;
        double code = 0.0;
        double value = 0.0;
        calls.values(in + lane, out + lane, W, context, code, value);
        if (code != 0.0)
            faults.code.set_lane(lane, code + 4096.0 * place);
    }
}

template <int N, class Isa>
void in_baseline(const LevelCalls& calls, const Dual<N, Isa>* inputs, Dual<N, Isa>* outputs,
                 int count, const fields::Context& context, int place,
                 Faults<Dual<N, Isa>>& faults) {
    const auto* in = reinterpret_cast<const double*>(inputs);
    const auto slope_at = reinterpret_cast<const double*>(&inputs->d) - in;
    for (int i = 0; i < count; ++i)
        outputs[i] = Dual<N, Isa>(0.0);
    if (faults.code != 0.0 || calls.slopes == nullptr) // Job::jacobian asks for them itself
        return;
    double code = 0.0;
    calls.slopes(in, reinterpret_cast<double*>(outputs),
                 static_cast<int>(sizeof(Dual<N, Isa>) / sizeof(double)),
                 static_cast<int>(slope_at), N, context, code, faults.one_sided);
    if (code != 0.0)
        faults.code = code + 4096.0 * place;
}

} // namespace fitwright::job
