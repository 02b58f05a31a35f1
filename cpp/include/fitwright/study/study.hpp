// A Monte Carlo study of anything that takes a flat list of inputs to a flat list of outputs.
// Sample i of the input with a given path under a given seed is one number, whatever the threads,
// blocks, levels or restarts. Partial sums are over fixed chunks, merged in index order.
#pragma once

#include <cstdint>
#include <fitwright/fields/model.hpp>
#include <limits>
#include <memory>
#include <string>
#include <vector>

namespace fitwright::study {

inline constexpr std::int64_t chunk = 4096; // samples
// Of what takes milliseconds a sample: few samples, too, are to fill the cores.
inline constexpr std::int64_t small_chunk = 16;
inline constexpr int bin_count = 1024;
inline constexpr int stage_limit = 3;

// lognormal: middle and deviation are those of the quantity. beta: between low and high with that mean
// and deviation. measured: a list of readings, which share the gauge's standard uncertainty (deviation).
enum class Shape : int { normal, truncated_normal, uniform, triangular, lognormal, beta, measured };

// What a list of readings tells.
// these_parts: one reading of each of the parts at hand, of which one goes in: each equally likely.
// one_part: repeated readings of the part that goes in. What is known of it is their mean, with
//   Student's t of n - 1 degrees of freedom and scale s/sqrt(n) (JCGM 101:2008, 6.4.9.2, from memory);
//   normal with repeatability/sqrt(n) where the deviation of one reading is known from before.
// process: one reading each of parts that a process made, for one it has yet to make: Student's t of
//   n - 1 degrees of freedom and scale s sqrt(1 + 1/n) about their mean, the prediction of one more
//   from a normal process (textbook, from memory).
// The gauge's uncertainty, which all readings share, is added to each.
enum class Readings : int { these_parts, one_part, process };

// How the samples are laid out over the whole study. A Latin hypercube and a scrambled Sobol'
// sequence are for the number of samples they were made for; a plain study can be carried on.
enum class Design : int { plain, latin_hypercube, sobol };

// How an input scatters. Low and high are the ends of uniform, triangular and truncated normal;
// middle is the mean or the mode.
struct Spread {
    int leaf;
    int low_leaf = -1; // an input with a low and a high end is one number in a sample
    int high_leaf = -1;
    std::string path; // names the stream
    Shape shape;
    double middle;
    double deviation; // standard deviation; for beta and lognormal of the quantity itself
    double low, high;
    std::vector<double> measured = {};
    Readings of = Readings::these_parts;
    double repeatability =
        std::numeric_limits<double>::quiet_NaN(); // of one reading; NaN: not known
};
// Fills in what follows from the rest where it is NaN: the middle (mean of the readings, or half-way
// between low and high), and a truncated normal's deviation (a sixth of the way from low to high).
Spread completed(Spread);
// A process held between two limits with capability Cp and Cpk, off centre towards one of them: normal
// with deviation (high - low)/(6 Cp) and its mean 3 Cpk deviations inside that limit.
Spread process_spread(const std::string& path, int leaf, double low, double high, double cp,
                      double cpk, bool towards_high);
// Empty when the spread makes sense, else the sentence the user reads.
std::string problem_of(const Spread&);
double standard_deviation(const Spread&);
// The same scatter about another value. An input with ends keeps them: they are its range.
Spread moved(const Spread&, double step);
// The value that a uniform number 0 < u < 1 stands for.
double quantile(const Spread&, double u);

// Inputs that scatter together: correlation of their normal scores (Gaussian copula).
struct Correlation {
    int first, second; // positions in the list of spreads
    double value;
};
// Empty when the correlations are possible together, else the sentence the user reads.
std::string problem_of(const std::vector<Correlation>&, std::size_t spread_count);

struct Tracked {
    int output;
    double at_least; // none (NaN): no limit
    double at_most;
};

// A formula in parts (the levels of a job), each of which adds outputs to those of the parts before,
// tells the study where each part ends: a sample is then known to pass up to a part.
struct Subject {
    const fields::AllFormulas* formulas;
    fields::Context context;
    std::vector<double> nominal;
    std::vector<double> low, high; // allowed range of each input
    int output_count;
    std::vector<int> stage_ends = {};       // outputs up to the end of each part but the last
    std::int64_t chunk = study::chunk;      // samples summed at a time
    std::shared_ptr<const void> owner = {}; // of what the context points to
};

// Where the bins of a tracked output lie, and what its sums are counted from.
struct Scale {
    double bins_from, bins_per_unit, shift;
};
// What a study can be told beside its inputs and outputs.
struct Extras {
    std::vector<Tracked> held = {}; // limits that count without statistics of their own
    std::vector<Scale> scales =
        {};          // those of another run of the same study: spares the first samples
    int threads = 1; // for the first samples
    fields::Between between = {}; // called while they are looked at
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
// Root of the sum of squares of the contributions to each output, with twice the product of what is
// tied times its correlation: the linear budget.
std::vector<double> linear_deviation(const std::vector<double>& contributions,
                                     std::size_t spread_count,
                                     const std::vector<Correlation>& correlations = {});
// The share of that budget's square that each makes; what is tied shares its products evenly. They
// sum to 1, or are 0 where nothing contributes.
std::vector<double> linear_shares(const std::vector<double>& contributions,
                                  std::size_t spread_count,
                                  const std::vector<Correlation>& correlations = {});

// What a run of whole chunks found: plain numbers that can be kept on disk or sent from elsewhere.
struct Block {
    std::int64_t first_chunk, chunks;
    std::vector<double> sums;
    std::vector<std::int64_t> counts;
    std::vector<double> fault_codes;
    std::vector<std::int64_t> bins;
    std::vector<double> columns; // of the kept outputs, one after the other
    std::vector<double> faults;  // of all chunks: code, first sample, how many; in order of code
};

// Samples out of domain by the rule they break and its place (see number/faults).
struct FaultKind {
    double code;
    std::int64_t first, count;
};

class Study {
public:
    Study(Subject subject, const std::vector<Spread>& spreads, const std::vector<Tracked>& tracked,
          std::uint64_t seed, std::int64_t count, Design design = Design::plain,
          const std::vector<Correlation>& correlations = {}, const Extras& extras = {});
    ~Study();
    Study(Study&&) noexcept;

    std::int64_t count() const;
    std::int64_t done() const;
    // The next samples, at most `samples` rounded up to whole chunks. Call until done() == count().
    void advance(std::int64_t samples, int threads, const fields::Between& between = {});
    // The same in two steps: run any block anywhere, merge the blocks in order. `kept` are places in
    // the list of tracked outputs whose samples come back as columns.
    Block run_block(std::int64_t first_chunk, std::int64_t chunks, int threads,
                    const std::vector<int>& kept, const fields::Between& between = {}) const;
    void merge(const Block& block);
    // Empty when a block, from wherever it came, can be one of this study with so many kept columns:
    // its sizes, its counts and its bins agree with each other.
    std::string problem_of(const Block& block, std::size_t kept) const;

    Statistics statistics(std::size_t tracked) const;
    std::int64_t all_passed() const; // samples in which every limit holds
    // Samples in which every limit of the parts up to this one holds, the first part being 0.
    std::int64_t passed_to(int stage) const;
    int stages() const;
    std::int64_t chunk_samples() const;
    // How many samples were looked at to find the scales.
    std::int64_t first_samples() const;
    std::vector<Scale> scales() const;
    std::int64_t out_of_domain() const;
    // The first sample out of domain, its rule and place (see number/faults); -1 when there is none.
    std::int64_t first_fault() const;
    double first_fault_code() const;
    // All of them, the most often broken first.
    std::vector<FaultKind> faults() const;

    // Inputs of one sample, as the study draws them.
    std::vector<double> sample(std::int64_t index) const;

private:
    struct State;
    std::unique_ptr<State> state_;
};

} // namespace fitwright::study
