// Failures too rare for counting: where each limit fails first, and how often by sampling round there.
//
// Inputs stand as independent normal scores u (Gaussian copula; an input of any shape is the value that its
// score stands for). A limit is g(u) >= 0, its reserve. Where it fails first is the point of g = 0 nearest
// to the middle, at the distance beta; first order: P = Phi(-beta). It is looked for by the iteration of
// Hasofer, Lind, Rackwitz and Fiessler with a step that lets a merit fall (Zhang and Der Kiureghian), on
// the exact derivatives, from several starts. Second order: times the product of (1 + beta kappa)^(-1/2)
// over the curvatures there (Breitung), from differences of the exact derivatives.
//
// How often any limit fails is then counted in samples about those points: each is weighed by the normal
// density over that of the mixture it was drawn from. A tenth of them are drawn about the middle, so that
// no weight is above ten (defensive importance sampling).
//
// Sources, from memory: A. M. Hasofer, N. C. Lind, J. Eng. Mech. Div. ASCE 100 (1974); R. Rackwitz, B.
// Fiessler, Computers & Structures 9 (1978); Y. Zhang, A. Der Kiureghian, IFIP WG 7.5 (1995); K. Breitung,
// J. Eng. Mech. 110 (1984) 357; T. Hesterberg, Technometrics 37 (1995) 185.
#pragma once

#include <fitwright/study/inverse.hpp>
#include <memory>

namespace fitwright::study {

// Where one side of a limit fails first.
struct DesignPoint {
    int side;                   // of the list
    double beta;                // below 0: it fails in the middle already
    std::vector<double> scores; // independent ones, per spread
    std::vector<double> values; // of the inputs that scatter
    std::vector<double> shares; // of beta^2 per independent score; they sum to 1
    double first_order;         // probability
    double second_order;        // none (NaN): the curvatures leave no such point
    std::int64_t evaluations;
};
// What was looked for and not found.
struct Unfound {
    int side;
    enum class Why : int {
        never,
        unsettled
    } why; // nothing moves it within eight scores; not settled
};
struct DesignPoints {
    std::vector<DesignPoint> points; // of all sides, likeliest first
    std::vector<Unfound> unfound;
};
// Inputs that scatter in steps (readings of these parts) have no such point: problem_of_rare says so.
std::string problem_of_rare(const std::vector<Spread>&);
// `starts` for each side that fails about as often as the likeliest. Throws DomainError when the middle
// cannot be evaluated.
DesignPoints design_points(const System&, const std::vector<Spread>&,
                           const std::vector<Correlation>&, const std::vector<Side>&, int starts,
                           const fields::Between& between = {});

struct RareEstimate {
    double probability; // that any side fails, or the sample is out of domain
    double half;        // of its 95 % interval
    double low, high;   // that interval; where none failed, up to three over their number
    std::int64_t samples, failed;
    double effective;      // samples of equal weight that would tell as much
    double greatest_share; // of one sample in the whole
    double out_of_domain;  // probability of it
};

class RareStudy {
public:
    RareStudy(const System&, const std::vector<Spread>&, const std::vector<Correlation>&,
              const std::vector<Side>&, const std::vector<DesignPoint>&, std::uint64_t seed);
    ~RareStudy();
    RareStudy(RareStudy&&) noexcept;
    // Whole chunks of samples more. The same seed gives the same bits on any threads.
    void advance(std::int64_t samples, int threads, const fields::Between& between = {});
    RareEstimate estimate() const;
    // Of one side alone.
    RareEstimate estimate(std::size_t side) const;

private:
    struct State;
    std::unique_ptr<State> state_;
};

} // namespace fitwright::study
