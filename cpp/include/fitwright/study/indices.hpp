// Sobol' indices: which share of the variance of an output an input makes alone (first order), and
// which share is left when all the others are known (total). Pick and freeze: sample i is drawn
// twice (A and B), and once more for each input, with all of A but that input of B. Inputs that are tied
// to each other share their variance: they go together, as one.
//
// First order: mean of B (AB - A) / V; total: mean of (A - AB)^2 / (2 V), after Jansen. Saltelli et
// al., "Variance based sensitivity analysis of model output", Computer Physics Communications 181
// (2010) 259-270 (rows (b) and (f) of its table 2: from memory). V is taken from A and B together,
// B is counted from their middle. The 95 % interval is that of a ratio of two means in a large
// sample (delta method), from squares and products of what was averaged.
#pragma once

#include <fitwright/study/study.hpp>

namespace fitwright::study {

struct Index {
    double value, half; // half of the 95 % interval
};
struct InputIndices {
    Index first, total;
    std::int64_t count; // samples of which A, B and AB are all inside the domain
};

class IndexStudy {
public:
    IndexStudy(Subject subject, const std::vector<Spread>& spreads, const std::vector<int>& outputs,
               std::uint64_t seed, std::int64_t count,
               const std::vector<Correlation>& correlations = {},
               const fields::Between& between = {});
    ~IndexStudy();
    IndexStudy(IndexStudy&&) noexcept;

    std::int64_t count() const;
    std::int64_t done() const;
    // What goes together: places in the list of spreads, most often one.
    const std::vector<std::vector<int>>& groups() const;
    // As Study::advance. A sample is evaluated once per group and twice more.
    void advance(std::int64_t samples, int threads, const fields::Between& between = {});

    // An output that does not vary has indices of zero.
    InputIndices indices(std::size_t output, std::size_t group) const;
    bool varies(std::size_t output) const;
    std::int64_t evaluations() const;
    std::int64_t out_of_domain() const; // evaluations

private:
    struct State;
    std::unique_ptr<State> state_;
};

} // namespace fitwright::study
