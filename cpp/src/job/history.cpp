// What the history level adds to the quick one: the steps of the stack.
#include "history.hpp"
#include "detail/baseline.hpp"
#include "detail/steps.hpp"
#include "fields/pause.hpp"
#include <fitwright/job/job.hpp>

namespace fitwright::job {

namespace {

// The history at the friction it has, and at both ends of it where they differ.
struct Steps : OfLevel<Level::history> {
    template <class T>
    static void run(const T* inputs, T* outputs, const fields::Context& context,
                    number::Faults<T>& faults) {
        const Layout& at = *static_cast<const Layout*>(context.layout);
        const Inputs<T> job{inputs, at};
        stack::HistoryRun<T> history;
        stack::HistoryResult<T> result;
        for (const End end : {End::value, End::low, End::high}) {
            if (end != End::value && !has_ends(job))
                break;
            stack::History<T> steps = history_of(job, end, faults);
            steps.stop = context.stop;
            if (!history.run(steps, result)) {
                faults.place =
                    Place::steps + result.step * Place::per_step + std::max(0, result.part);
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
};

} // namespace

LevelCalls history_calls() { return baseline_calls<Steps>(); }

stack::HistoryResult<double> Job::history(const fields::Between& between) const {
    at(Level::history).evaluate(between); // the full message, should a rule be broken
    return fields::with_pauses(between, [&](const fields::Stop& stop) {
        number::Faults<double> faults;
        const Inputs<double> job{values_.data(), *layout_};
        stack::HistoryRun<double> run;
        stack::HistoryResult<double> result;
        stack::History<double> steps = history_of(job, End::value, faults);
        steps.stop = &stop;
        run.run(steps, result);
        return result;
    });
}

} // namespace fitwright::job
