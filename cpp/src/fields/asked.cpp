#include "asked.hpp"
#include "at_level.hpp"
#include "kernels.hpp"
#include "parallel.hpp"
#include <algorithm>
#include <cmath>
#include <fitwright/fields/error.hpp>
#include <fitwright/fields/level.hpp>
#include <stdexcept>

namespace fitwright::fields {

std::int64_t run_batch(const Served& served, const Batch& batch, const Context& context,
                       std::int64_t slice, int threads, const Between& between) {
    const std::size_t n = served.inputs.size();
    const std::size_t m = served.output_count;
    std::vector<double> low(n);
    std::vector<double> high(n);
    std::vector<unsigned char> flags(n);
    for (std::size_t i = 0; i < n; ++i) {
        const Field& field = *served.inputs[i].field;
        low[i] = field.range.low;
        high[i] = field.range.high;
        flags[i] = range_flags(field);
    }
    const std::int64_t slices = (batch.count + slice - 1) / slice;
    std::vector<FaultPlace> found(static_cast<std::size_t>(slices), FaultPlace{-1, 0.0});
    std::vector<AlignedDoubles> workspaces;
    for (int t = 0; t < thread_count(threads, slices); ++t)
        workspaces.emplace_back((n + m) * static_cast<std::size_t>(number::lane_count));
    const auto run = [&](std::int64_t k, int thread, const Stop& stop) {
        const BatchSlice s{batch.columns,
                           batch.strides,
                           batch.results,
                           k * slice,
                           std::min(batch.count, (k + 1) * slice),
                           static_cast<int>(n),
                           static_cast<int>(m),
                           low.data(),
                           high.data(),
                           flags.data(),
                           workspaces[static_cast<std::size_t>(thread)].data(),
                           &stop};
        Context here = context;
        here.stop = &stop;
        found[static_cast<std::size_t>(k)] =
            at_level(served.formulas, active_level(),
                     [&](auto formulas) { return batch_slice(formulas, s, here); });
    };
    run_parallel(slices, threads, run, between);
    for (const FaultPlace& f : found)
        if (f.sample >= 0)
            return f.sample;
    return -1;
}

Swept sweep_of(const Served& served, const std::vector<double>& values,
               const std::vector<int>& leaves, const std::vector<std::vector<double>>& columns,
               const std::vector<int>& outputs, const Context& context, std::int64_t slice,
               int threads, const Between& between) {
    const std::size_t count = columns.empty() ? 0 : columns.front().size();
    for (const auto& c : columns)
        if (c.size() != count)
            throw std::invalid_argument("sweep columns differ in length");
    std::vector<const double*> pointers;
    for (const double& value : values)
        pointers.push_back(&value);
    std::vector<std::int64_t> strides(values.size(), 0);
    for (std::size_t k = 0; k < leaves.size(); ++k) {
        pointers[static_cast<std::size_t>(leaves[k])] = columns[k].data();
        strides[static_cast<std::size_t>(leaves[k])] = 1;
    }
    Swept swept{{outputs.size(), std::vector<double>(count)}, -1};
    std::vector<double*> results(served.output_count, nullptr);
    for (std::size_t k = 0; k < outputs.size(); ++k)
        results[static_cast<std::size_t>(outputs[k])] = swept.columns[k].data();
    swept.bad = run_batch(
        served, {pointers.data(), strides.data(), results.data(), static_cast<std::int64_t>(count)},
        context, slice, threads, between);
    return swept;
}

Slopes slopes_of(const Served& served, const std::vector<double>& values,
                 const std::vector<int>& outputs, const std::vector<int>& leaves,
                 const Context& context) {
    const auto n = static_cast<int>(served.inputs.size());
    const auto m = static_cast<int>(served.output_count);
    const int nothing = 0; // a list that is empty means no output, not all of them
    Slopes found{std::vector<double>(served.output_count),
                 std::vector<double>(outputs.size() * leaves.size()), false};
    at_level(served.formulas, active_level(), [&]<class Level>(Formulas<Level> formulas) {
        AlignedDoubles workspace(static_cast<std::size_t>((n + m) * doubles_per_dual<Level>()));
        JacobianWork work{values.data(),
                          n,
                          m,
                          found.outputs.data(),
                          found.derivatives.data(),
                          workspace.data(),
                          false,
                          0.0,
                          outputs.empty() ? &nothing : outputs.data(),
                          static_cast<int>(outputs.size()),
                          leaves.empty() ? &nothing : leaves.data(),
                          static_cast<int>(leaves.size())};
        jacobian_passes(formulas, work, context);
        found.one_sided = work.one_sided;
    });
    return found;
}

double solve_for(const Target& target, double from, const std::function<Probe(double)>& probe,
                 const std::function<void()>& explain) {
    const Range& range = target.input.field->range;
    const Field& wanted = *target.output.field;
    const double bottom = target.lower == target.lower ? target.lower : range.low;
    const double top = target.upper == target.upper ? target.upper : range.high;

    // Outwards from where it stands (or from the end of what was asked that is nearest to it), in growing
    // steps, until the target is straddled.
    const Probe start = probe(std::min(std::max(from, bottom), top));
    if (!start.valid)
        explain();
    if (start.miss == 0.0)
        return start.x;
    Probe a = start;
    Probe b = start;
    double best = start.miss;
    bool straddled = false;
    const double size = from != 0.0 ? std::fabs(from) : (top - bottom) * 1e-6;
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
        throw DomainError({{target.input.path, "no value brings " + target.output.path + " to " +
                                                   show(target.value, wanted.quantity) +
                                                   "; the nearest reached is " +
                                                   show(target.value + best, wanted.quantity)}});

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
        if (std::fabs(c.miss) <= 1e-12 * (std::fabs(target.value) + wanted.standard * 1e-3))
            break;
    }
    return b.x;
}

} // namespace fitwright::fields
