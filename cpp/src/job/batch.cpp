// Derivatives and sweeps of a job, on the kernels that serve every model.
#include "fields/at_level.hpp"
#include "fields/kernels.hpp"
#include "fields/parallel.hpp"
#include "quick.hpp"
#include <algorithm>
#include <cmath>
#include <fitwright/fields/level.hpp>
#include <fitwright/job/job.hpp>
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

// Derivatives of what the level adds: its steps go through time once for as many inputs as one of the
// baseline's duals has directions, which are more than a pass over the quick level takes.
void add_slopes(const Layout& at, Level level, const std::vector<double>& values,
                const fields::Context& context, Job::Jacobian& j) {
    const auto n = static_cast<std::size_t>(at.input_count);
    const auto count = static_cast<std::size_t>(at.level_counts[static_cast<int>(level)]);
    const std::size_t stride = n + 1; // a value and its slopes
    std::vector<double> in(n * stride);
    std::vector<double> out(count * stride);
    for (std::size_t i = 0; i < n; ++i) {
        in[i * stride] = values[i];
        in[i * stride + 1 + i] = 1.0;
    }
    double code = 0.0;
    at.calls[static_cast<int>(level)].slopes(in.data(), out.data(), static_cast<int>(stride), 1,
                                             at.input_count, context, code, j.one_sided);
    const auto first =
        static_cast<std::size_t>(at.outputs_at(static_cast<Level>(static_cast<int>(level) - 1)));
    const auto arches = static_cast<std::size_t>(at.arches_at);
    const auto arch_count =
        at.has_arch ? static_cast<std::size_t>(at.states * Inputs<double>::size<ArchOutputs>()) : 0;
    for (std::size_t k = 0; k < count; ++k) {
        if (first + k >= arches && first + k < arches + arch_count)
            continue; // a formula on every number type: the passes had them
        j.outputs[first + k] = out[k * stride];
        for (std::size_t i = 0; i < n; ++i)
            j.derivatives[(first + k) * n + i] = out[k * stride + 1 + i];
    }
}

} // namespace

Job::Jacobian Job::jacobian() const {
    const int n = layout_->input_count;
    const int m = output_count();
    Jacobian j{std::vector<double>(static_cast<std::size_t>(m)),
               std::vector<double>(static_cast<std::size_t>(m) * static_cast<std::size_t>(n)),
               false};
    evaluate(); // the full message, should a rule be broken
    Layout quick = *layout_;
    for (LevelCalls& calls : quick.calls)
        calls = {};
    fields::at_level(
        formulas(), fields::active_level(), [&]<class AtLevel>(fields::Formulas<AtLevel> served) {
            fields::AlignedDoubles workspace(
                static_cast<std::size_t>((n + m) * fields::doubles_per_dual<AtLevel>()));
            fields::JacobianWork work{
                values_.data(),   n,     m,  j.outputs.data(), j.derivatives.data(),
                workspace.data(), false, 0.0};
            fields::jacobian_passes(served, work, {nullptr, nullptr, &quick});
            j.one_sided = work.one_sided;
        });
    for (int level = 1; level <= static_cast<int>(level_); ++level)
        add_slopes(*layout_, static_cast<Level>(level), values_, context(), j);
    return j;
}

std::vector<std::vector<double>> Job::sweep(const std::vector<int>& leaves,
                                            const std::vector<std::vector<double>>& columns,
                                            const std::vector<int>& outputs, int threads) const {
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
    for (int t = 0; t < threads; ++t)
        workspaces.emplace_back((n + m) * static_cast<std::size_t>(number::lane_count));
    fields::run_parallel(slices, threads, [&](std::int64_t k, int thread) {
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
                                   workspaces[static_cast<std::size_t>(thread)].data()};
        found[static_cast<std::size_t>(k)] =
            fields::at_level(formulas(), fields::active_level(), [&](auto served) {
                return fields::batch_slice(served, s, context());
            });
    });
    for (const fields::FaultPlace& f : found) {
        if (f.sample < 0)
            continue;
        Job there = *this;
        for (std::size_t k = 0; k < leaves.size(); ++k)
            there.set(leaves[k], columns[k][static_cast<std::size_t>(f.sample)]);
        std::vector<Problem> problems = there.problems();
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

double Job::solve(int leaf, int output, double target, double lower, double upper) const {
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
        formulas().scalar(there.values_.data(), out.data(), context(), collecting);
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
