// A Monte Carlo study of anything that takes a flat list of inputs to a flat list of outputs.
// Sample i of the input with a given path under a given seed is one number, whatever the threads,
// blocks, levels or restarts. Partial sums are over fixed chunks, merged in index order.
#pragma once

#include <cstdint>
#include <fitwright/fields/model.hpp>
#include <memory>
#include <string>
#include <vector>

namespace fitwright::study {

inline constexpr std::int64_t chunk = 4096; // samples
inline constexpr int bin_count = 1024;

enum class Shape : int { normal, truncated_normal, uniform, triangular };

// How an input scatters. Low and high are the ends of uniform, triangular and truncated normal;
// middle is the mean or the mode.
struct Spread {
    int leaf;
    int low_leaf = -1; // an input with a low and a high end is one number in a sample
    int high_leaf = -1;
    std::string path; // names the stream
    Shape shape;
    double middle;
    double deviation; // standard deviation of (truncated) normal
    double low, high;
};
// Empty when the spread makes sense, else the sentence the user reads.
std::string problem_of(const Spread&);
double standard_deviation(const Spread&);
// The same scatter about another value. An input with ends keeps them: they are its range.
Spread moved(const Spread&, double step);
// The value that a uniform number 0 < u < 1 stands for.
double quantile(const Spread&, double u);

struct Tracked {
    int output;
    double at_least; // none (NaN): no limit
    double at_most;
};

struct Subject {
    const fields::AllFormulas* formulas;
    fields::Context context;
    std::vector<double> nominal;
    std::vector<double> low, high; // allowed range of each input
    int output_count;
};

struct Statistics {
    std::int64_t count = 0; // samples inside the domain
    double mean = 0.0, deviation = 0.0, skewness = 0.0;
    double least = 0.0, greatest = 0.0;
    std::int64_t least_at = -1, greatest_at = -1;
    std::int64_t passed = 0;
    double bins_from = 0.0, bin_width = 0.0;
    std::vector<std::int64_t> bins; // the first and the last also hold what lies beyond
};

// The value below which a share of the samples lies; the error is at most one bin.
struct Quantile {
    double value, error;
};
Quantile quantile_of(const Statistics&, double share);

// 95 % interval of a share seen `passed` times in `count` (Wilson).
struct Interval {
    double low, high;
};
Interval interval_of_share(std::int64_t passed, std::int64_t count);

// Which input matters: exact derivative times standard deviation, per output and spread
// (derivatives: outputs x inputs). An input with ends moves with them.
std::vector<double> contributions(const std::vector<double>& derivatives, std::size_t input_count,
                                  const std::vector<Spread>& spreads);
// Root of the sum of squares of the contributions to each output: the linear budget.
std::vector<double> linear_deviation(const std::vector<double>& contributions,
                                     std::size_t spread_count);

class Study {
public:
    Study(Subject subject, const std::vector<Spread>& spreads, const std::vector<Tracked>& tracked,
          std::uint64_t seed, std::int64_t count);
    ~Study();
    Study(Study&&) noexcept;

    std::int64_t count() const;
    std::int64_t done() const;
    // The next samples, at most `samples` rounded up to whole chunks. Call until done() == count().
    void advance(std::int64_t samples, int threads);

    Statistics statistics(std::size_t tracked) const;
    std::int64_t all_passed() const; // samples in which every tracked limit holds
    std::int64_t out_of_domain() const;
    // The first sample out of domain, its rule and place (see number/faults); -1 when there is none.
    std::int64_t first_fault() const;
    double first_fault_code() const;

    // Inputs of one sample, as the study draws them.
    std::vector<double> sample(std::int64_t index) const;

private:
    struct State;
    std::unique_ptr<State> state_;
};

} // namespace fitwright::study
