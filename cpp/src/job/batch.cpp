// Derivatives and sweeps of a job, on the kernels that serve every model.
#include "fields/at_level.hpp"
#include "fields/kernels.hpp"
#include "fields/parallel.hpp"
#include "quick.hpp"
#include <algorithm>
#include <cmath>
#include <fitwright/fields/level.hpp>
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
    const int n = layout_->input_count;
    const int m = output_count();
    const int none = 0; // a list that is empty means no output, not all of them
    Jacobian j{std::vector<double>(static_cast<std::size_t>(m)),
               std::vector<double>(outputs.size() * leaves.size()), false};
    evaluate(between); // the full message, should a rule be broken
    Layout quick = *layout_;
    for (LevelCalls& calls : quick.calls)
        calls = {};
    return fields::with_pauses(between, [&](const fields::Stop& stop) {
        fields::Context of_quick = context(&stop);
        of_quick.layout = &quick;
        fields::at_level(formulas(), fields::active_level(),
                         [&]<class AtLevel>(fields::Formulas<AtLevel> served) {
                             fields::AlignedDoubles workspace(static_cast<std::size_t>(
                                 (n + m) * fields::doubles_per_dual<AtLevel>()));
                             fields::JacobianWork work{values_.data(),
                                                       n,
                                                       m,
                                                       j.outputs.data(),
                                                       j.derivatives.data(),
                                                       workspace.data(),
                                                       false,
                                                       0.0,
                                                       outputs.empty() ? &none : outputs.data(),
                                                       static_cast<int>(outputs.size()),
                                                       leaves.empty() ? &none : leaves.data(),
                                                       static_cast<int>(leaves.size())};
                             fields::jacobian_passes(served, work, of_quick);
                             j.one_sided = work.one_sided;
                         });
        const AddedSlopes added(*layout_, values_, outputs, leaves);
        const bool above =
            outputs.empty() || // whether a kink stands on any of them
            *std::max_element(outputs.begin(), outputs.end()) >= layout_->outputs_at(Level::quick);
        for (int level = 1; above && level <= static_cast<int>(level_); ++level)
            added.add(static_cast<Level>(level), context(&stop), j);
        return std::move(j);
    });
}

std::vector<std::vector<double>> Job::sweep(const std::vector<int>& leaves,
                                            const std::vector<std::vector<double>>& columns,
                                            const std::vector<int>& outputs, int threads,
                                            const fields::Between& between) const {
    const std::size_t count = columns.empty() ? 0 : columns.front().size();
    for (const auto& c : columns)
        if (c.size() != count)
            throw std::invalid_argument("sweep columns differ in length");
    const auto n = static_cast<std::size_t>(layout_->input_count);
    const auto m = static_cast<std::size_t>(output_count());
    std::vector<const double*> pointers(n);
    std::vector<std::int64_t> strides(n, 0);
    std::vector<double> low(n);
    std::vector<double> high(n);
    std::vector<unsigned char> flags(n);
    for (std::size_t i = 0; i < n; ++i) {
        const fields::Range& range = (*inputs_)[i].field->range;
        pointers[i] = &values_[i];
        low[i] = range.low;
        high[i] = range.high;
        flags[i] = fields::range_flags(*(*inputs_)[i].field);
    }
    for (std::size_t k = 0; k < leaves.size(); ++k) {
        pointers[static_cast<std::size_t>(leaves[k])] = columns[k].data();
        strides[static_cast<std::size_t>(leaves[k])] = 1;
    }
    std::vector<std::vector<double>> wanted(outputs.size(), std::vector<double>(count));
    std::vector<double*> results(m, nullptr);
    for (std::size_t k = 0; k < outputs.size(); ++k)
        results[static_cast<std::size_t>(outputs[k])] = wanted[k].data();

    constexpr std::int64_t slice = 64;
    const auto total = static_cast<std::int64_t>(count);
    const std::int64_t slices = (total + slice - 1) / slice;
    std::vector<fields::FaultPlace> found(static_cast<std::size_t>(slices), {-1, 0.0});
    std::vector<fields::AlignedDoubles> workspaces;
    for (int t = 0; t < fields::thread_count(threads, slices); ++t)
        workspaces.emplace_back((n + m) * static_cast<std::size_t>(number::lane_count));
    const auto run = [&](std::int64_t k, int thread, const fields::Stop& stop) {
        const fields::BatchSlice s{pointers.data(),
                                   strides.data(),
                                   results.data(),
                                   k * slice,
                                   std::min(total, (k + 1) * slice),
                                   static_cast<int>(n),
                                   static_cast<int>(m),
                                   low.data(),
                                   high.data(),
                                   flags.data(),
                                   workspaces[static_cast<std::size_t>(thread)].data(),
                                   &stop};
        found[static_cast<std::size_t>(k)] =
            fields::at_level(formulas(), fields::active_level(), [&](auto served) {
                return fields::batch_slice(served, s, context(&stop));
            });
    };
    fields::run_parallel(slices, threads, run, between);
    for (const fields::FaultPlace& f : found) {
        if (f.sample < 0)
            continue;
        Job there = *this;
        for (std::size_t k = 0; k < leaves.size(); ++k)
            there.set(leaves[k], columns[k][static_cast<std::size_t>(f.sample)]);
        std::vector<Problem> problems = there.problems();
        if (problems.empty()) // what a level above quick has against it
            try {
                there.evaluate();
                problems.push_back({"", "has no answer"});
            } catch (const DomainError& e) {
                problems = e.problems();
            }
        for (Problem& p : problems)
            p.text += " (point " + std::to_string(f.sample) + " of the sweep)";
        throw DomainError(std::move(problems));
    }
    return wanted;
}

namespace {

// One-sided test values where the job cannot be evaluated count as "no value".
struct Probe {
    double x;
    double miss; // output - target
    bool valid;
};

} // namespace

double Job::solve(int leaf, int output, double target, double lower, double upper,
                  const fields::Between& between) const {
    return fields::with_pauses(between, [&](const fields::Stop& stop) {
        return solve_until(leaf, output, target, lower, upper, stop);
    });
}

double Job::solve_until(int leaf, int output, double target, double lower, double upper,
                        const fields::Stop& stop) const {
    const auto i = static_cast<std::size_t>(leaf);
    const fields::Field& field = *(*inputs_)[i].field;
    const fields::Field& wanted = *(*outputs_)[static_cast<std::size_t>(output)].field;
    const double bottom = lower == lower ? lower : field.range.low;
    const double top = upper == upper ? upper : field.range.high;
    const auto probe = [&](double x) {
        Job there = *this;
        there.values_[i] = x;
        if (!fields::range_problem(x, field).empty())
            return Probe{x, 0.0, false};
        std::vector<Fault> faults;
        number::Faults<double> collecting;
        collecting.collected = &faults;
        std::vector<double> out(static_cast<std::size_t>(output_count()));
        formulas().scalar(there.values_.data(), out.data(), context(&stop), collecting);
        if (fields::asked_to_stop(&stop)) // what came back is worth nothing
            throw DomainError({{(*inputs_)[i].path, "was not solved for: stopped"}});
        return Probe{x, out[static_cast<std::size_t>(output)] - target, faults.empty()};
    };

    // Outwards from where the job stands (or from the end of what was asked that is nearest to it), in
    // growing steps, until the target is straddled.
    const Probe start = probe(std::min(std::max(values_[i], bottom), top));
    if (!start.valid)
        evaluate();
    if (start.miss == 0.0)
        return start.x;
    Probe a = start;
    Probe b = start;
    double best = start.miss;
    bool straddled = false;
    const double size = values_[i] != 0.0 ? std::fabs(values_[i]) : (top - bottom) * 1e-6;
    for (const double direction : {1.0, -1.0}) {
        Probe last = start;
        for (double step = size * 1e-5; !straddled; step *= 1.6) {
            double x = last.x + direction * step;
            x = std::min(std::max(x, bottom), top);
            if (x == last.x)
                break;
            const Probe next = probe(x);
            if (!next.valid)
                break;
            if (std::fabs(next.miss) < std::fabs(best))
                best = next.miss;
            if ((next.miss > 0.0) != (last.miss > 0.0)) {
                a = last;
                b = next;
                straddled = true;
            }
            last = next;
        }
        if (straddled)
            break;
    }
    if (!straddled)
        throw DomainError(
            {{(*inputs_)[i].path, "no value brings " +
                                      (*outputs_)[static_cast<std::size_t>(output)].path + " to " +
                                      show(target, wanted.quantity) + "; the nearest reached is " +
                                      show(target + best, wanted.quantity)}});

    // False position with the Illinois change, which always keeps the target straddled.
    double weight_a = a.miss;
    double weight_b = b.miss;
    for (int k = 0; k < 200 && std::fabs(b.x - a.x) > 1e-14 * std::fabs(a.x) + 1e-300; ++k) {
        const double x = (a.x * weight_b - b.x * weight_a) / (weight_b - weight_a);
        const Probe c = probe(std::min(std::max(x, std::min(a.x, b.x)), std::max(a.x, b.x)));
        if (c.miss == 0.0)
            return c.x;
        if ((c.miss > 0.0) == (b.miss > 0.0)) {
            weight_a *= 0.5;
        } else {
            a = b;
            weight_a = b.miss;
        }
        b = c;
        weight_b = c.miss;
        if (std::fabs(c.miss) <= 1e-12 * (std::fabs(target) + wanted.standard * 1e-3))
            break;
    }
    return b.x;
}

} // namespace fitwright::job
