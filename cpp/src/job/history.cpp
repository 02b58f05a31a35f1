// What the history level adds to the quick one, on doubles and on duals of the baseline.
#include "history.hpp"
#include "detail/steps.hpp"
#include <algorithm>
#include <fitwright/fields/error.hpp>
#include <fitwright/job/job.hpp>
#include <fitwright/number/number.hpp>
#include <vector>

namespace fitwright::job {

namespace {

// The baseline's own dual: the same bits whatever the active level is.
using Slope = number::Dual<FITWRIGHT_DIRECTIONS, number::Isa<0>>;

// The history at the friction it has, and at both ends of it where they differ.
template <class T>
void beyond_quick(const T* inputs, T* outputs, const fields::Context& context,
                  number::Faults<T>& faults) {
    const Layout& at = *static_cast<const Layout*>(context.layout);
    const Inputs<T> job{inputs, at};
    stack::HistoryRun<T> run;
    stack::HistoryResult<T> result;
    for (const End end : {End::value, End::low, End::high}) {
        if (end != End::value && !has_ends(job))
            break;
        if (!run.run(history_of(job, end, faults), result)) {
            faults.place = Place::steps + result.step * Place::per_step + std::max(0, result.part);
            faults.require(false, result.rule, T(result.value));
            return;
        }
        for (int k = 0; k < at.steps; ++k) {
            const auto& step = result.steps[static_cast<std::size_t>(k)];
            T* out = outputs + k * at.step_outputs;
            if (end == End::value)
                write_step(out, step, at);
            else
                widen_step(out, step);
        }
    }
}

void values(const double* inputs, double* outputs, const fields::Context& context, double& code) {
    std::vector<Fault> broken;
    number::Faults<double> faults;
    faults.collected = &broken;
    beyond_quick(inputs, outputs, context, faults);
    if (!broken.empty())
        code = broken.front().rule + 4096.0 * broken.front().place;
}

void slopes(const double* inputs, const double* input_slopes, int directions, double* outputs,
            double* output_slopes, const fields::Context& context, double& code, bool& one_sided) {
    const Layout& at = *static_cast<const Layout*>(context.layout);
    std::vector<Slope> in(static_cast<std::size_t>(at.input_count));
    std::vector<Slope> out(static_cast<std::size_t>(at.history_count));
    for (int first = 0; first < directions; first += Slope::directions) {
        const int count = std::min(Slope::directions, directions - first);
        for (std::size_t i = 0; i < in.size(); ++i) {
            in[i] = Slope(inputs[i]);
            for (int k = 0; k < count; ++k)
                in[i].d.set_lane(k, input_slopes[i * static_cast<std::size_t>(directions) +
                                                 static_cast<std::size_t>(first + k)]);
        }
        number::Faults<Slope> faults;
        beyond_quick(in.data(), out.data(), context, faults);
        code = code == 0.0 ? faults.code : code;
        one_sided = one_sided || faults.one_sided;
        for (std::size_t i = 0; i < out.size(); ++i) {
            outputs[i] = out[i].value;
            for (int k = 0; k < count; ++k)
                output_slopes[i * static_cast<std::size_t>(directions) +
                              static_cast<std::size_t>(first + k)] = out[i].d.lane(k);
        }
    }
}

} // namespace

HistoryCalls history_calls() { return {&values, &slopes}; }

stack::HistoryResult<double> Job::history() const {
    evaluate(); // the full message, should a rule be broken
    number::Faults<double> faults;
    const Inputs<double> job{values_.data(), *layout_};
    stack::HistoryRun<double> run;
    stack::HistoryResult<double> result;
    run.run(history_of(job, End::value, faults), result);
    return result;
}

} // namespace fitwright::job
