// What the history level adds to the quick one: the steps of the stack.
#include "history.hpp"
#include "detail/baseline.hpp"
#include "detail/section.hpp"
#include "fields/pause.hpp"
#include "section.hpp"
#include <fitwright/job/job.hpp>
#include <optional>

namespace fitwright::rules {
extern const number::Rule section_not_meshed;
} // namespace fitwright::rules

namespace fitwright::job {

namespace {

template <class T>
std::shared_ptr<const bodies::Sections> meshed_of(const Layout& at, const T* inputs) {
    std::vector<double> values(static_cast<std::size_t>(at.input_count));
    for (std::size_t i = 0; i < values.size(); ++i)
        values[i] = number::value_of(inputs[i]);
    try {
        return at.sections->of(at, values.data());
    } catch (const DomainError&) {
        return nullptr; // a job that is evaluated alone tells them all beforehand
    } catch (const Fault&) {
        return nullptr;
    }
}

// The history at the friction it has, and at both ends of it where they differ.
struct Steps : OfLevel<Level::history> {
    template <class T>
    static void run(const T* inputs, T* outputs, const fields::Context& context,
                    number::Faults<T>& faults) {
        const Layout& at = *static_cast<const Layout*>(context.layout);
        const Inputs<T> job{inputs, at};
        stack::HistoryRun<T> bars;
        std::optional<stack::SectionRun<T>> sections;
        std::shared_ptr<const bodies::Sections> meshed;
        if (at.sections != nullptr) {
            meshed = meshed_of(at, inputs);
            faults.place = Place::rotor;
            faults.require(meshed != nullptr, rules::section_not_meshed, T(0.0));
            if (meshed == nullptr)
                return;
            sections.emplace(*meshed);
        }
        stack::SectionResult<T> found;
        stack::HistoryResult<T>& result = found.history;
        for (const End end : {End::value, End::low, End::high}) {
            if (end != End::value && !has_ends(job))
                break;
            bool good = false;
            if (sections) {
                stack::SectionHistory<T> steps = section_history_of(job, end, faults);
                steps.plan.stop = context.stop;
                good = sections->run(steps, found);
            } else {
                stack::History<T> steps = history_of(job, end, faults);
                steps.stop = context.stop;
                good = bars.run(steps, result);
            }
            if (!good) {
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
    if (is_in_section())
        return section_history(between).history;
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
