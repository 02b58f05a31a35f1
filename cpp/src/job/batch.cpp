// Derivatives and sweeps of a job, on the kernels that serve every model.
#include "fields/asked.hpp"
#include "fields/at_level.hpp"
#include "fields/pause.hpp"
#include "quick.hpp"
#include <algorithm>
#include <fitwright/job/job.hpp>
#include <numeric>
#include <stdexcept>

namespace fitwright::job {

const fields::AllFormulas& quick_formulas() {
    static const fields::AllFormulas all = fields::study_formulas<Quick>(&Quick::run<double>);
    return all;
}
const fields::AllFormulas& history_formulas() {
    static const fields::AllFormulas all = fields::all_formulas<History>(&History::run<double>);
    return all;
}
const fields::AllFormulas& heating_formulas() {
    static const fields::AllFormulas all = fields::all_formulas<Heating>(&Heating::run<double>);
    return all;
}
const fields::AllFormulas& Job::formulas() const {
    switch (level_) {
    case Level::quick:
        return quick_formulas();
    case Level::history:
        return history_formulas();
    default:
        return heating_formulas();
    }
}

fields::Served Job::served() const {
    return {formulas(), *inputs_, static_cast<std::size_t>(output_count())};
}

namespace {

// Derivatives of what the level adds, into those of the whole job.
class AddedSlopes {
public:
    AddedSlopes(const Layout& at, const std::vector<double>& values,
                const std::vector<int>& outputs, const std::vector<int>& leaves)
        : at_(at)
        , values_(values)
        , outputs_(outputs)
        , leaves_(leaves) {}

    // Its steps go through time once for as many inputs as one of the baseline's duals has
    // directions, which are more than a pass over the quick level takes.
    void add(Level level, const fields::Context& context, Job::Jacobian& j) const {
        constexpr std::size_t together = 64;
        const auto count = static_cast<std::size_t>(at_.level_counts[static_cast<int>(level)]);
        const int first = at_.outputs_at(static_cast<Level>(static_cast<int>(level) - 1));
        for (std::size_t begin = 0; begin < leaves_.size(); begin += together) {
            const std::size_t directions = std::min(together, leaves_.size() - begin);
            const std::size_t stride = directions + 1; // a value and its slopes
            std::vector<double> in(values_.size() * stride);
            std::vector<double> out(count * stride);
            for (std::size_t i = 0; i < values_.size(); ++i)
                in[i * stride] = values_[i];
            for (std::size_t k = 0; k < directions; ++k)
                in[static_cast<std::size_t>(leaves_[begin + k]) * stride + 1 + k] = 1.0;
            double code = 0.0;
            at_.calls[static_cast<int>(level)].slopes(
                in.data(), out.data(), static_cast<int>(stride), 1, static_cast<int>(directions),
                context, code, j.one_sided);
            if (context.stopped())
                return;
            for (std::size_t k = 0; k < count; ++k)
                if (!served_by_passes(first + static_cast<int>(k)))
                    j.outputs[static_cast<std::size_t>(first) + k] = out[k * stride];
            for (std::size_t row = 0; row < outputs_.size(); ++row) {
                const int k = outputs_[row] - first;
                if (k < 0 || k >= static_cast<int>(count) || served_by_passes(outputs_[row]))
                    continue;
                const double* from = out.data() + static_cast<std::size_t>(k) * stride + 1;
                std::copy(from, from + directions,
                          j.derivatives.begin() +
                              static_cast<std::ptrdiff_t>(row * leaves_.size() + begin));
            }
        }
    }

private:
    // A formula on every number type that stands among those of its level.
    bool served_by_passes(int output) const {
        const int count = at_.has_arch ? at_.states * Inputs<double>::size<ArchOutputs>() : 0;
        return output >= at_.arches_at && output < at_.arches_at + count;
    }
    const Layout& at_;
    const std::vector<double>& values_;
    const std::vector<int>& outputs_;
    const std::vector<int>& leaves_;
};

} // namespace

Job::Jacobian Job::jacobian(const fields::Between& between) const {
    std::vector<int> outputs(static_cast<std::size_t>(output_count()));
    std::vector<int> leaves(inputs_->size());
    std::iota(outputs.begin(), outputs.end(), 0);
    std::iota(leaves.begin(), leaves.end(), 0);
    return slopes(outputs, leaves, between);
}

Job::Jacobian Job::slopes(const std::vector<int>& outputs, const std::vector<int>& leaves,
                          const fields::Between& between) const {
    evaluate(between); // the full message, should a rule be broken
    Layout quick = *layout_;
    for (LevelCalls& calls : quick.calls)
        calls = {};
    return fields::with_pauses(between, [&](const fields::Stop& stop) {
        fields::Context of_quick = context(&stop);
        of_quick.layout = &quick;
        Jacobian j = fields::slopes_of(served(), values_, outputs, leaves, of_quick);
        const AddedSlopes added(*layout_, values_, outputs, leaves);
        const bool above =
            outputs.empty() || // whether a kink stands on any of them
            *std::max_element(outputs.begin(), outputs.end()) >= layout_->outputs_at(Level::quick);
        for (int level = 1; above && level <= static_cast<int>(level_); ++level)
            added.add(static_cast<Level>(level), context(&stop), j);
        return j;
    });
}

std::vector<std::vector<double>> Job::sweep(const std::vector<int>& leaves,
                                            const std::vector<std::vector<double>>& columns,
                                            const std::vector<int>& outputs, int threads,
                                            const fields::Between& between) const {
    constexpr std::int64_t slice = 64;
    fields::Swept swept = fields::sweep_of(served(), values_, leaves, columns, outputs, context(),
                                           slice, threads, between);
    if (swept.bad >= 0) {
        Job there = *this;
        for (std::size_t k = 0; k < leaves.size(); ++k)
            there.set(leaves[k], columns[k][static_cast<std::size_t>(swept.bad)]);
        std::vector<Problem> problems = there.problems();
        if (problems.empty()) // what a level above quick has against it
            try {
                there.evaluate();
                problems.push_back({"", "has no answer"});
            } catch (const DomainError& e) {
                problems = e.problems();
            }
        for (Problem& p : problems)
            p.text += " (point " + std::to_string(swept.bad) + " of the sweep)";
        throw DomainError(std::move(problems));
    }
    return std::move(swept.columns);
}

double Job::solve(int leaf, int output, double target, double lower, double upper,
                  const fields::Between& between) const {
    return fields::with_pauses(between, [&](const fields::Stop& stop) {
        return solve_until(leaf, output, target, lower, upper, stop);
    });
}

double Job::solve_until(int leaf, int output, double target, double lower, double upper,
                        const fields::Stop& stop) const {
    const auto i = static_cast<std::size_t>(leaf);
    const InputPath& input = (*inputs_)[i];
    const OutputPath& wanted = (*outputs_)[static_cast<std::size_t>(output)];
    const auto probe = [&](double x) {
        Job there = *this;
        there.values_[i] = x;
        if (!fields::range_problem(x, *input.field).empty())
            return fields::Probe{x, 0.0, false};
        std::vector<Fault> faults;
        number::Faults<double> collecting;
        collecting.collected = &faults;
        std::vector<double> out(static_cast<std::size_t>(output_count()));
        formulas().scalar(there.values_.data(), out.data(), context(&stop), collecting);
        if (fields::asked_to_stop(&stop)) // what came back is worth nothing
            throw DomainError({{input.path, "was not solved for: stopped"}});
        return fields::Probe{x, out[static_cast<std::size_t>(output)] - target, faults.empty()};
    };
    return fields::solve_for({input, {wanted.path, wanted.field}, target, lower, upper}, values_[i],
                             probe, [&] { evaluate(); });
}

} // namespace fitwright::job
