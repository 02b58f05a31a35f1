// Questions turned round: how far a dimension may go before a limit fails, what the worst corner of
// the scatter gives, which values of some inputs leave most in reserve.
#pragma once

#include <fitwright/study/system.hpp>
#include <span>

namespace fitwright::study {

// How a job is judged: every input at its value, all that scatters at its worst end, or the share
// of samples in which every limit holds.
enum class Basis : int { nominal, worst_case, rate };
struct Judgement {
    Basis basis = Basis::nominal;
    double rate = 0.99;
    std::uint64_t seed = 1;
    std::int64_t samples = 20000;
    int threads = 1;
    // (path, path, value) of inputs that scatter together; Basis::rate only.
    std::vector<std::tuple<std::string, std::string, double>> correlations = {};
    fields::Between between = {}; // before each judgement too
};

// One side of a limit.
struct Side {
    int output;
    double limit;
    bool is_least;
    double scale; // of the reserve
};
std::vector<Side> sides_of(const System&);
double reserve_of(const Side&, const std::vector<double>& outputs);

struct Verdict {
    bool evaluated = false;
    bool passed = false;
    double reserve = 0.0; // the least of all
    double rate = 0.0;    // Basis::rate only
    int side = -1;        // that leaves the least reserve, or is missed most often
    std::string problem;  // when not evaluated: "path: rule"
    // Sides that do not hold; at a rate, those that are missed more often than the rate allows.
    std::vector<int> failing = {};
};

// The ends between which an input scatters: its own, or mean and three deviations of a normal one (of
// another without ends, what is as likely); never beyond its allowed range. An input with a low and a
// high end is one number here.
struct Edge {
    int leaf, low_leaf, high_leaf;
    double low, middle, high;
};
std::vector<Edge> edges_of(const System&, const std::vector<Spread>&);

// The least or greatest value of an output over the box of all ends. The box is bounded as a whole
// (job::Encloser): an input whose derivative has one sign all over it stands at one of its ends, and
// where that holds for all of them the corner is the answer (`corner`). Else the box is halved where
// it matters most, and what cannot hold anything better is dropped, until value and bound are
// `extreme_tolerance` apart (`proven`) or the work told is spent.
inline constexpr double extreme_tolerance = 1e-6; // of the value, at least of the field's scale
struct Extreme {
    double value = 0.0;
    std::vector<double> at; // a value per edge
    double bound = 0.0;     // nothing in the box goes beyond
    bool proven = false, corner = false;
    std::int64_t boxes = 0; // bounded
    std::int64_t evaluations = 0;
    std::int64_t out_of_domain = 0; // points of the search that could not be evaluated
};
// Throws DomainError when the middle cannot be evaluated. At most `budget` evaluations, `boxes` boxes.
std::vector<Extreme> extremes(const System&, const std::vector<Edge>&,
                              const std::vector<std::pair<int, bool>>& output_and_least,
                              std::int64_t budget, std::int64_t boxes,
                              const fields::Between& between = {});

// Judges a job with some inputs changed.
class Judge {
public:
    Judge(const System&, const std::vector<Spread>&, const Judgement&);

    // The scatter of a changed input moves along with it; one that is `known` does not scatter.
    Verdict operator()(const std::vector<int>& leaves, const std::vector<double>& values,
                       bool known = false) const;
    const std::vector<Side>& sides() const { return sides_; }
    const std::vector<Spread>& spreads() const { return spreads_; }
    const Judgement& how() const { return how_; }
    std::int64_t count() const { return count_; } // judgements so far
    // The same judge, who looks away from some sides; all of them keep their numbers.
    Judge without(const std::vector<int>& sides) const;

private:
    Verdict worst(const System&, const std::vector<Edge>&) const;
    Verdict share(const System&, const std::vector<Spread>&) const;

    System system_;
    std::vector<Spread> spreads_;
    Judgement how_;
    std::vector<Side> sides_;
    std::vector<char> aside_; // a flag for each
    mutable std::int64_t count_ = 0;
};

// How far one dimension may go, with the dimension itself known (a measured size).
struct Reach {
    enum class Stop : int { limit, domain, range, already };
    double value; // the last one that passed
    Stop stop;
    int side;            // of Judge::sides(), where a limit stops it
    std::string problem; // where the domain stops it
    // Worst case only: that corner of that side looked at once more, as `extremes` does.
    bool checked = false, proven = false;
    double worst = 0.0, bound = 0.0;
};
// Limits that fail at the value it has are set aside for the rest (`aside`); of those, `moved` hang on this
// dimension: their reserve is another one at the ends found.
struct Reuse {
    Reach down, up;
    std::vector<int> aside = {}, moved = {};
};
// Steps outwards grow from a millionth of the size (not below 0.1 um) by a third, at a rate twofold:
// a failing stretch narrower than a step can be stepped over. The end is found to a millionth of the
// way, at a rate to a thousandth.
Reuse reuse_limits(const Judge&, const System&, int leaf);

// Values of some inputs between bounds that leave the greatest least reserve; at a rate, that reach
// the rate with the most nominal reserve. Equals are told apart by the nominal reserve. Coordinates, their diagonals and the last movement are
// searched in turn, each by a grid of nine and a golden section: a local optimum.
struct Best {
    std::vector<double> values;
    Verdict verdict;
    std::int64_t judged = 0;
};
Best solve_for(const Judge&, const Judge& nominal, const System&, const std::vector<int>& leaves,
               const std::vector<double>& low, const std::vector<double>& high);

// Least reserve of every pair of values (rows: first leaf, columns: second); -inf where the pair
// cannot be evaluated. `fixed` inputs belong to the rows.
std::vector<double> reserve_matrix(const System&, int row_leaf, const std::vector<double>& rows,
                                   int column_leaf, const std::vector<double>& columns,
                                   const std::vector<int>& fixed,
                                   const std::vector<std::vector<double>>& fixed_values,
                                   const fields::Between& between = {});

// Costs whose least sum gives the most good pairs, and of those the greatest sum of reserves.
void assignment_costs(std::span<const double> reserves, std::size_t rows, std::span<double> costs);

// Sets of rings of several kinds, one ring of each kind to a shaft: most good sets, and of those the
// greatest sum of reserves. reserves: shafts x (counts[0] x counts[1] x ...), the last kind fastest; a
// set is told by that place. `start` is what to beat. `proven`: nothing is better (the search came to
// its end within `budget` steps).
struct MatchedSets {
    std::vector<int> sets;
    bool proven;
};
MatchedSets match_sets(std::span<const double> reserves, std::size_t shafts,
                       std::span<const int> counts, std::span<const int> start, std::int64_t budget,
                       const fields::Between& between = {});

// A size made to a tolerance about its value: normal, six deviations wide (common practice, Cp = 1).
Spread tolerance_spread(const System&, const std::string& path, double width);
// Tolerances by the linear budget: share of good parts when tolerance i of option k is
// widths[i][k], six deviations wide. One row of options per dimension, cheapest sets first.
struct Allocated {
    std::vector<int> options;
    double cost;
    double linear_rate;
};
std::vector<Allocated> allocate(const System&, const std::vector<Spread>& others,
                                const std::vector<int>& leaves,
                                const std::vector<std::vector<double>>& widths,
                                const std::vector<std::vector<double>>& costs, double rate,
                                std::size_t most, const fields::Between& between = {});

} // namespace fitwright::study
