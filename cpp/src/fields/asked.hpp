// What a job and a single model are asked alike: many evaluations, slopes, and the value of one input that
// brings an output to its target. Of a served formula and the declarations of its inputs.
#pragma once

#include <fitwright/fields/model.hpp>
#include <functional>
#include <span>

namespace fitwright::fields {

struct Served {
    const AllFormulas& formulas;
    std::span<const Leaf> inputs;
    std::size_t output_count;
};

// Number of the first sample that is out of domain; -1: none. A thread takes `slice` samples at a time.
std::int64_t run_batch(const Served&, const Batch&, const Context&, std::int64_t slice, int threads,
                       const Between&);

// Some inputs take many values, the others stay at theirs: columns of the wanted outputs.
struct Swept {
    std::vector<std::vector<double>> columns;
    std::int64_t bad; // the first point out of domain; -1: none
};
Swept sweep_of(const Served&, const std::vector<double>& values, const std::vector<int>& leaves,
               const std::vector<std::vector<double>>& columns, const std::vector<int>& outputs,
               const Context&, std::int64_t slice, int threads, const Between&);

// Those of some outputs by some inputs, told by number.
Slopes slopes_of(const Served&, const std::vector<double>& values, const std::vector<int>& outputs,
                 const std::vector<int>& leaves, const Context&);

// Where what cannot be evaluated counts as "no value".
struct Probe {
    double x;
    double miss; // output - target
    bool valid;
};
struct Target {
    Leaf input, output;
    double value;
    double lower, upper; // of the input; none: its allowed range
};
// From `start` outwards in growing steps until the target is straddled, then false position. `explain`
// throws what is wrong where it starts. Throws DomainError saying what was reached.
double solve_for(const Target&, double start, const std::function<Probe(double)>& probe,
                 const std::function<void()>& explain);

} // namespace fitwright::fields
