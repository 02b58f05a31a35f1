#include <fitwright/stack/section_history.hpp>

#include "detail/history_path.hpp"
#include "detail/section_stack.hpp"
#include <fitwright/fields/error.hpp>

namespace fitwright::rules {
extern const number::Rule temperature_in_material_range;
} // namespace fitwright::rules

namespace fitwright::stack {

template <class T>
struct SectionRun<T>::Workspace {
    const bodies::Sections* sections = nullptr;
    Steps<T, SectionStack<T>> steps;
};

template <class T>
SectionRun<T>::SectionRun(const bodies::Sections& sections)
    : work_(std::make_unique<Workspace>()) {
    work_->sections = &sections;
}
template <class T>
SectionRun<T>::~SectionRun() = default;
template <class T>
SectionRun<T>::SectionRun(SectionRun&&) noexcept = default;

namespace {

// Growth of the outsides follows straight from what acts; so do its derivatives.
void grow(const bodies::Sections& sections, SectionStep<double>& step) {
    const auto parts = static_cast<int>(step.mean_pressure.size()) + 1;
    step.growth.clear();
    step.roll.clear();
    for (int part = 0; part < parts; ++part) {
        step.growth.push_back(sections.growth(part, step.acts));
        if (part == 0)
            continue;
        const std::vector<double>& z = sections.outside_z(part);
        const std::vector<double>& u = step.growth.back();
        double mean_z = 0.0, mean_u = 0.0, over = 0.0, under = 0.0;
        const double n = static_cast<double>(z.size());
        for (std::size_t i = 0; i < z.size(); ++i) {
            mean_z += z[i] / n;
            mean_u += u[i] / n;
        }
        for (std::size_t i = 0; i < z.size(); ++i) {
            over += (z[i] - mean_z) * (u[i] - mean_u);
            under += (z[i] - mean_z) * (z[i] - mean_z);
        }
        step.roll.push_back(over / under);
    }
}

} // namespace

template <class T>
bool SectionRun<T>::run(const SectionHistory<T>& history, SectionResult<T>& result) {
    work_->steps.stack().set(work_->sections->contacts(), history, &result.steps);
    const bool good = work_->steps.run(history.plan, result.history);
    result.steps.resize(result.history.steps.size());
    if constexpr (std::is_same_v<T, double>)
        for (SectionStep<double>& step : result.steps)
            grow(*work_->sections, step);
    return good;
}

template class SectionRun<double>;
template class SectionRun<number::Dual<FITWRIGHT_DIRECTIONS, number::Isa<0>>>;

SectionState<double> section_state(const std::vector<const materials::Entry*>& metals,
                                   const std::vector<double>& inside,
                                   const std::vector<double>& outside, double speed) {
    SectionState<double> state;
    std::vector<Problem> problems;
    for (std::size_t i = 0; i < metals.size(); ++i) {
        const materials::Material& m = metals[i]->numbers;
        for (const double t : {inside[i], outside[i]})
            if (!(t >= m.lowest && t <= m.highest))
                problems.push_back({"temperatures[" + std::to_string(i) + "]",
                                    fault_text(Fault(rules::temperature_in_material_range, 0, t))});
        const double at_bore = materials::free_growth(m, 1.0, inside[i]);
        state.warm.push_back(at_bore);
        state.gradient.push_back(materials::free_growth(m, 1.0, outside[i]) - at_bore);
        state.spin.push_back(m.density * speed * speed);
    }
    if (!problems.empty())
        throw DomainError(std::move(problems));
    return state;
}

SectionResult<double> section_history(const bodies::Sections& sections,
                                      const SectionHistory<double>& history) {
    SectionResult<double> result;
    SectionRun<double> run(sections);
    if (!run.run(history, result))
        refuse_history(history.plan, result.history);
    return result;
}

} // namespace fitwright::stack
