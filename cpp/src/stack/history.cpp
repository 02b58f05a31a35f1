#include <fitwright/fields/rules.hpp>
#include <fitwright/stack/history.hpp>

#include "detail/bar_stack.hpp"
#include "detail/history_path.hpp"
#include <fitwright/fields/error.hpp>

namespace fitwright::rules {
extern const number::Rule history_incomplete;
} // namespace fitwright::rules

namespace fitwright::stack {

template <class T>
struct HistoryRun<T>::Workspace {
    Steps<T, BarStack<T, bodies::Bars<T>>> steps;
};

template <class T>
HistoryRun<T>::HistoryRun()
    : work_(std::make_unique<Workspace>()) {}
template <class T>
HistoryRun<T>::~HistoryRun() = default;
template <class T>
HistoryRun<T>::HistoryRun(HistoryRun&&) noexcept = default;
template <class T>
HistoryRun<T>& HistoryRun<T>::operator=(HistoryRun&&) noexcept = default;

template <class T>
bool HistoryRun<T>::run(const History<T>& history, HistoryResult<T>& result) {
    return work_->steps.run(history, result);
}

template class HistoryRun<double>;
template class HistoryRun<number::Dual<FITWRIGHT_DIRECTIONS, number::Isa<0>>>;

namespace {

const char* const kinds[] = {"slip_on", "press", "release", "nut_on", "tighten",
                             "lock",    "state", "loosen",  "pull",   "repeat"};

} // namespace

std::string history_text(const HistoryResult<double>& result) {
    const Fault fault{result.rule, 0, result.value};
    std::string text = fault_text(fault);
    if (rules::row_of(result.rule).quantity == fields::Quantity::count)
        text = rules::row_of(result.rule).sentence; // the value says nothing
    return text;
}

void refuse_history(const History<double>& history, const HistoryResult<double>& result) {
    if (result.rule == rules::history_incomplete)
        throw DomainError({{"states", history_text(result)}});
    const auto step = static_cast<std::size_t>(result.step);
    const std::string part = result.part == static_cast<int>(history.parts.size())
                                 ? "the nut"
                                 : "part " + std::to_string(result.part);
    throw DomainError({{"steps[" + std::to_string(result.step) + "] (" +
                            kinds[static_cast<int>(history.steps[step].kind)] + ", " + part + ")",
                        history_text(result)}});
}

HistoryResult<double> history(const History<double>& history) {
    HistoryResult<double> result;
    HistoryRun<double> run;
    if (!run.run(history, result))
        refuse_history(history, result);
    return result;
}

} // namespace fitwright::stack
