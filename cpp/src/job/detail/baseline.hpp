// Serves what a level adds, a tag struct with `inputs`, `outputs` and `run<T>(inputs, outputs, context,
// faults)`, on double and on the baseline's own dual: the same bits whatever the active level is.
#pragma once

#include <algorithm>
#include <fitwright/fields/error.hpp>
#include <fitwright/job/layout.hpp>
#include <fitwright/number/number.hpp>
#include <vector>

namespace fitwright::job {

// What steps through time does so once for as many directions as there are; a short formula takes two
// registers of them, which is sooner compiled.
using Slope = number::Dual<FITWRIGHT_DIRECTIONS, number::Isa<0>>;
using ShortSlope = number::Dual<number::direction_count<number::Isa<0>>, number::Isa<0>>;

// How many numbers go in and come out: those of a job and its level.
template <Level Adding>
struct OfLevel {
    static int inputs(const Layout& at) { return at.input_count; }
    static int outputs(const Layout& at) { return at.level_counts[static_cast<int>(Adding)]; }
};

template <class Adds>
void baseline_values(const double* inputs, double* outputs, int stride,
                     const fields::Context& context, double& code, double& value) {
    const Layout& at = *static_cast<const Layout*>(context.layout);
    const auto step = static_cast<std::size_t>(stride);
    std::vector<double> in(static_cast<std::size_t>(Adds::inputs(at)));
    std::vector<double> out(static_cast<std::size_t>(Adds::outputs(at)));
    for (std::size_t i = 0; i < in.size(); ++i)
        in[i] = inputs[i * step];
    std::vector<Fault> broken;
    number::Faults<double> faults;
    faults.collected = &broken;
    Adds::template run<double>(in.data(), out.data(), context, faults);
    if (!broken.empty()) {
        code = broken.front().rule + 4096.0 * broken.front().place;
        value = broken.front().value;
        return;
    }
    for (std::size_t i = 0; i < out.size(); ++i)
        outputs[i * step] = out[i];
}

template <class Adds, class S>
void baseline_slopes(const double* inputs, double* outputs, int stride, int slope_at,
                     int directions, const fields::Context& context, double& code,
                     bool& one_sided) {
    const Layout& at = *static_cast<const Layout*>(context.layout);
    const auto step = static_cast<std::size_t>(stride);
    std::vector<S> in(static_cast<std::size_t>(Adds::inputs(at)));
    std::vector<S> out(static_cast<std::size_t>(Adds::outputs(at)));
    for (int first = 0; first < directions; first += S::directions) {
        const int count = std::min(S::directions, directions - first);
        const auto from = static_cast<std::size_t>(slope_at + first);
        for (std::size_t i = 0; i < in.size(); ++i) {
            in[i] = S(inputs[i * step]);
            for (int k = 0; k < count; ++k)
                in[i].d.set_lane(k, inputs[i * step + from + static_cast<std::size_t>(k)]);
        }
        number::Faults<S> faults;
        Adds::template run<S>(in.data(), out.data(), context, faults);
        one_sided = one_sided || faults.one_sided;
        if (faults.code != 0.0) {
            code = faults.code;
            return;
        }
        for (std::size_t i = 0; i < out.size(); ++i) {
            outputs[i * step] = out[i].value;
            for (int k = 0; k < count; ++k)
                outputs[i * step + from + static_cast<std::size_t>(k)] = out[i].d.lane(k);
        }
    }
}

template <class Adds, class S = Slope>
LevelCalls baseline_calls() {
    return {&baseline_values<Adds>, &baseline_slopes<Adds, S>};
}

} // namespace fitwright::job
