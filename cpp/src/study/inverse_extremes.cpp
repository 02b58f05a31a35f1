// The least and the greatest value over the box of all ends.
#include "fields/pause.hpp"
#include "inverse_detail.hpp"
#include <algorithm>
#include <cmath>
#include <fitwright/job/enclosed.hpp>
#include <limits>
#include <queue>
#include <utility>

namespace fitwright::study {

namespace {

constexpr double golden = 0.6180339887498949;

// One output, turned so that less is wanted.
class Search {
public:
    Search(const System& middle, const std::vector<Edge>& edges, int output, bool least,
           std::int64_t budget, const fields::Between& between)
        : edges_(edges)
        , there_(middle)
        , output_(output)
        , sign_(least ? 1.0 : -1.0)
        , budget_(budget)
        , between_(between)
        , pace_(between) {}

    // Derivatives times sign; empty where the point cannot be evaluated.
    std::vector<double> slopes(const std::vector<double>& x) {
        move_to(x);
        std::vector<double> outputs;
        ++result.evaluations;
        if (!evaluated(outputs)) {
            ++result.out_of_domain;
            return {};
        }
        const fields::Slopes j = there_.jacobian(between_);
        const double* row = j.derivatives.data() + at(output_) * there_.inputs().size();
        std::vector<double> slopes;
        for (const Edge& e : edges_)
            slopes.push_back(sign_ * slope_of(row, e));
        return slopes;
    }
    double value(const std::vector<double>& x) {
        move_to(x);
        std::vector<double> outputs;
        ++result.evaluations;
        if (evaluated(outputs))
            return sign_ * outputs[at(output_)];
        ++result.out_of_domain;
        return std::numeric_limits<double>::infinity();
    }
    std::vector<double> corner(const std::vector<double>& slopes) const {
        std::vector<double> x;
        for (std::size_t i = 0; i < edges_.size(); ++i) {
            const double s = slopes[i];
            x.push_back(s > 0.0 ? edges_[i].low : s < 0.0 ? edges_[i].high : edges_[i].middle);
        }
        return x;
    }
    void coordinates(std::vector<double>& x, double& best) {
        for (bool better = true; better && spare();) {
            better = false;
            for (std::size_t i = 0; i < edges_.size() && spare(); ++i)
                better = along(x, i, best) || better;
        }
    }
    bool spare() const { return result.evaluations < budget_; }

    Extreme result;

private:
    bool evaluated(std::vector<double>& outputs) {
        pace_();
        return try_evaluate(there_, outputs, nullptr, between_);
    }
    void move_to(const std::vector<double>& x) {
        for (std::size_t i = 0; i < edges_.size(); ++i)
            put(there_, edges_[i], x[i]);
    }
    bool along(std::vector<double>& x, std::size_t i, double& best) {
        const Edge& e = edges_[i];
        const double before = best;
        double here = x[i];
        std::vector<double> trial = x;
        const auto look = [&](double v) {
            trial[i] = v;
            const double f = value(trial);
            if (f < best) {
                best = f;
                here = v;
            }
            return f;
        };
        const double quarter = 0.25 * (e.high - e.low);
        for (int k = 0; k <= 4; ++k)
            look(k == 4 ? e.high : e.low + k * quarter);
        if (here > e.low && here < e.high) {
            double a = std::max(e.low, here - quarter);
            double b = std::min(e.high, here + quarter);
            double c = b - golden * (b - a);
            double d = a + golden * (b - a);
            double fc = look(c);
            double fd = look(d);
            for (int k = 0; k < 30 && spare(); ++k) {
                if (fc < fd) {
                    b = d;
                    d = c;
                    fd = fc;
                    fc = look(c = b - golden * (b - a));
                } else {
                    a = c;
                    c = d;
                    fc = fd;
                    fd = look(d = a + golden * (b - a));
                }
            }
        }
        x[i] = here;
        return before - best > 1e-12 * std::fabs(before);
    }

    const std::vector<Edge>& edges_;
    System there_;
    int output_;
    double sign_;
    std::int64_t budget_;
    const fields::Between& between_;
    fields::Pace pace_;
};

// What is left of the box, and the least that is in it.
struct Piece {
    std::vector<job::BoxSide> sides;
    double bound;
    std::size_t widest; // the side to halve
    bool finely;        // whether a finer look told a sign lately
    // Only those inputs that bring a quantity between (a force, say) into a part of its range; -1: all.
    int hub = -1;
    number::Interval part{};
    bool cut_part = false; // halve that, not a side
    int most_hub = -1;     // the one to start with
    number::Interval most_range{};
    friend bool operator<(const Piece& x, const Piece& y) { return x.bound > y.bound; }
};

class Proof {
public:
    Proof(const System& middle, const std::vector<Edge>& edges, int output, bool least,
          Search& search)
        : bounded_(middle.bounded(output))
        , values_(middle.values())
        , edges_(edges)
        , output_(output)
        , sign_(least ? 1.0 : -1.0)
        , standard_(middle.outputs()[study::at(output)].field->standard)
        , search_(search) {}

    // Sides along which the output runs one way over the piece are moved to their worst end, until
    // none is left or no more sign can be told.
    void tighten(Piece& p) {
        if (bounded_.job == nullptr) // nothing is known of a box
            return;
        const job::Encloser encloser(*bounded_.job);
        if (p.hub >= 0) {
            bound_part(p);
            return;
        }
        bool finely = false;
        for (bool moved = true; moved;) {
            moved = false;
            const job::Enclosed e = encloser.one(values_, p.sides, bounded_.output, finely);
            boxes += finely ? 25 : 1;
            p.bound = std::max(p.bound, sign_ > 0.0 ? e.value.low : -e.value.high);
            p.most_hub = e.hub;
            p.most_range = e.hub_range;
            double most = -1.0;
            std::vector<double> x;
            for (std::size_t i = 0; i < p.sides.size(); ++i) {
                job::BoxSide& s = p.sides[i];
                const number::Interval slope = sign_ > 0.0 ? e.slopes[i] : -e.slopes[i];
                if (s.low < s.high && (slope.low >= 0.0 || slope.high <= 0.0)) {
                    (slope.low >= 0.0 ? s.high : s.low) = slope.low >= 0.0 ? s.low : s.high;
                    moved = moved || slope.low != 0.0 || slope.high != 0.0;
                }
                if (const double w = slope.size() * (s.high - s.low); s.low < s.high && w > most) {
                    most = w;
                    p.widest = i;
                }
                const double towards = slope.middle();
                x.push_back(towards > 0.0 ? s.low : towards < 0.0 ? s.high : middle_of(s));
            }
            settled = std::none_of(p.sides.begin(), p.sides.end(),
                                   [](const job::BoxSide& s) { return s.low < s.high; });
            meet(x);
            const double far = extreme_tolerance * std::max(std::fabs(best), standard_);
            if (settled || best - p.bound <= far)
                break;
            if (moved) {
                finely = false; // what is left is less
                p.finely = true;
            } else if (!finely && p.finely) {
                finely = moved = true;
                p.finely = false;
            }
        }
        if (settled) // one point: its value is the least of the piece
            p.bound = std::max(p.bound, search_.value(point(p)));
    }
    // Inputs that lead into a part of a range are no box: none of them can be told to stand at an end.
    // Answers whether the sides do next to nothing while the quantity is held.
    bool bound_part(Piece& p) {
        const job::Enclosed e =
            job::Encloser(*bounded_.job).within(values_, p.sides, bounded_.output, p.hub, p.part);
        ++boxes;
        settled = false;
        p.bound = std::max(p.bound, sign_ > 0.0 ? e.value.low : -e.value.high);
        // The range itself may be narrower than it was.
        p.part = number::common(p.part, e.hub_range);
        const double by_part = e.hub_slope.size() * p.part.width();
        double most = by_part;
        double sum = 0.0;
        p.cut_part = true;
        for (std::size_t i = 0; i < p.sides.size(); ++i) {
            const double w = e.slopes[i].size() * (p.sides[i].high - p.sides[i].low);
            sum += w;
            if (w > most) {
                most = w;
                p.widest = i;
                p.cut_part = false;
            }
        }
        return sum <= 0.05 * by_part;
    }
    // Many inputs that act through one quantity alone are one dimension, not many: then the piece is
    // cut along that.
    Piece by_one_quantity(const Piece& whole) {
        Piece p = whole;
        p.hub = whole.most_hub;
        p.part = whole.most_range;
        return p.hub >= 0 && bound_part(p) ? p : whole;
    }
    // A point that may be better than the best so far.
    void meet(const std::vector<double>& x) {
        if (const double f = search_.value(x); f < best) {
            best = f;
            at = x;
        }
    }
    double middle_of(const job::BoxSide& s) const { return s.low + (s.high - s.low) * 0.5; }
    std::vector<double> point(const Piece& p) const {
        std::vector<double> x;
        for (const job::BoxSide& s : p.sides)
            x.push_back(s.low);
        return x;
    }

    double best = std::numeric_limits<double>::infinity();
    std::vector<double> at;
    bool settled = false;
    std::int64_t boxes = 0;

private:
    System::Bounded bounded_;
    std::vector<double> values_;
    const std::vector<Edge>& edges_;
    int output_;
    double sign_;
    double standard_;
    Search& search_;
};

Extreme extreme(const System& middle, const std::vector<Edge>& edges, int output, bool least,
                std::int64_t budget, std::int64_t box_budget, const fields::Between& between) {
    Search search(middle, edges, output, least, budget, between);
    Proof proof(middle, edges, output, least, search);
    Piece whole{{}, -std::numeric_limits<double>::infinity(), 0, true};
    std::vector<double> centre;
    for (const Edge& e : edges) {
        job::BoxSide s{{}, e.low, e.high};
        for (const int leaf : {e.leaf, e.low_leaf, e.high_leaf})
            if (leaf >= 0)
                s.leaves.push_back(leaf);
        whole.sides.push_back(s);
        centre.push_back(e.middle);
    }
    proof.meet(centre);
    proof.tighten(whole);
    Extreme& result = search.result;
    if (whole.bound <= -number::unbounded) { // not a kind of output that has bounds
        whole.bound = -std::numeric_limits<double>::infinity();
        box_budget = 0;
    }
    const double standard = middle.outputs()[at(output)].field->standard;
    const auto near = [&](double bound) {
        return proof.best - bound <= extreme_tolerance * std::max(std::fabs(proof.best), standard);
    };
    result.corner = proof.settled && near(whole.bound);
    double bound = whole.bound;
    if (!near(bound)) {
        // Where to start: towards the ends the derivatives point to, then one input after the other.
        std::vector<double> x = proof.at;
        double f = proof.best;
        for (int k = 0; k < 4 && search.spare(); ++k) {
            const std::vector<double> slopes = search.slopes(x);
            if (slopes.empty())
                break;
            const std::vector<double> next = search.corner(slopes);
            const double there = search.value(next);
            if (!(there < f))
                break;
            f = there;
            x = next;
        }
        search.coordinates(x, f);
        proof.meet(x);
        // What the box holds at least, found by halving within some work.
        const auto halved = [&](const Piece& start, std::int64_t most) {
            std::priority_queue<Piece> open;
            open.push(start);
            while (!open.empty() && proof.boxes < most && !near(open.top().bound)) {
                const Piece p = open.top();
                open.pop();
                for (const bool upper : {false, true}) {
                    Piece half = p;
                    if (p.hub >= 0 && p.cut_part) {
                        (upper ? half.part.low : half.part.high) = p.part.middle();
                    } else {
                        job::BoxSide& s = half.sides[p.widest];
                        (upper ? s.low : s.high) = proof.middle_of(p.sides[p.widest]);
                    }
                    proof.tighten(half);
                    if (!proof.settled || half.bound < proof.best)
                        open.push(half);
                }
            }
            return open.empty() ? proof.best : std::min(proof.best, open.top().bound);
        };
        const Piece by_one = proof.by_one_quantity(whole);
        bound = halved(whole, by_one.hub >= 0 ? box_budget * 2 / 3 : box_budget);
        if (!near(bound) && by_one.hub >= 0)
            bound = std::max(bound, halved(by_one, box_budget));
    }
    result.proven = near(bound);
    result.boxes = proof.boxes;
    result.bound = least ? bound : -bound;
    result.value = least ? proof.best : -proof.best;
    result.at = proof.at;
    return result;
}

} // namespace

std::vector<Extreme> extremes(const System& system, const std::vector<Edge>& edges,
                              const std::vector<std::pair<int, bool>>& output_and_least,
                              std::int64_t budget, std::int64_t boxes,
                              const fields::Between& between) {
    const System middle = in_the_middle(system, edges);
    middle.evaluate(between); // the full message, should a rule be broken
    std::vector<Extreme> found;
    for (const auto& [output, least] : output_and_least)
        found.push_back(extreme(middle, edges, output, least, budget, boxes, between));
    return found;
}

} // namespace fitwright::study
