// The least and the greatest value over the box of all ends.
#include "inverse_detail.hpp"
#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

namespace fitwright::study {

namespace {

constexpr double golden = 0.6180339887498949;

// One output, turned so that less is wanted.
class Search {
public:
    Search(const job::Job& middle, const std::vector<Edge>& edges, int output, bool least,
           std::int64_t budget)
        : edges_(edges)
        , there_(middle)
        , output_(output)
        , sign_(least ? 1.0 : -1.0)
        , budget_(budget) {}

    // Derivatives times sign; empty where the point cannot be evaluated.
    std::vector<double> slopes(const std::vector<double>& x) {
        move_to(x);
        std::vector<double> outputs;
        ++result.evaluations;
        if (!try_evaluate(there_, outputs, nullptr)) {
            ++result.out_of_domain;
            return {};
        }
        const job::Job::Jacobian j = there_.jacobian();
        result.one_sided = result.one_sided || j.one_sided;
        ++result.points;
        return turned(j);
    }
    std::vector<double> turned(const job::Job::Jacobian& j) const {
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
        if (try_evaluate(there_, outputs, nullptr))
            return sign_ * outputs[at(output_)];
        ++result.out_of_domain;
        return std::numeric_limits<double>::infinity();
    }
    std::vector<double> corner(const std::vector<double>& slopes, bool opposite) const {
        std::vector<double> x;
        for (std::size_t i = 0; i < edges_.size(); ++i) {
            const double s = opposite ? -slopes[i] : slopes[i];
            x.push_back(s > 0.0 ? edges_[i].low : s < 0.0 ? edges_[i].high : edges_[i].middle);
        }
        return x;
    }
    // Of the corners that differ in one input, moves to the best that is better.
    bool a_neighbour_is_better(std::vector<double>& x, double& best) {
        const std::vector<double> from = x;
        bool better = false;
        for (std::size_t i = 0; i < edges_.size(); ++i) {
            std::vector<double> other = from;
            for (const double end : {edges_[i].low, edges_[i].high}) {
                if (end == from[i])
                    continue;
                other[i] = end;
                if (const double f = value(other); f < best) {
                    best = f;
                    x = other;
                    better = true;
                }
            }
        }
        return better;
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
    job::Job there_;
    int output_;
    double sign_;
    std::int64_t budget_;
};

// Each derivative has the sign its end was chosen by. One that vanished where the ends were chosen
// must vanish here too.
bool agree(const std::vector<double>& chosen, const std::vector<double>& here) {
    if (here.empty())
        return false;
    for (std::size_t i = 0; i < chosen.size(); ++i)
        if (chosen[i] == 0.0 ? here[i] != 0.0 : chosen[i] * here[i] < 0.0)
            return false;
    return true;
}

Extreme extreme(const job::Job& middle, const job::Job::Jacobian& there,
                const std::vector<Edge>& edges, int output, bool least, std::int64_t budget) {
    Search search(middle, edges, output, least, budget);
    const std::vector<double> chosen = search.turned(there);
    search.result.points = 1;
    search.result.one_sided = there.one_sided;
    std::vector<double> centre;
    for (const Edge& e : edges)
        centre.push_back(e.middle);
    std::vector<double> x = search.corner(chosen, false);
    std::vector<double> half(x.size());
    for (std::size_t i = 0; i < x.size(); ++i)
        half[i] = 0.5 * (x[i] + centre[i]);
    const std::vector<double> at_corner = search.slopes(x);
    search.result.monotonic = agree(chosen, at_corner) && agree(chosen, search.slopes(half)) &&
                              agree(chosen, search.slopes(search.corner(chosen, true)));
    double best = search.value(x);
    if (search.result.monotonic && search.a_neighbour_is_better(x, best))
        search.result.monotonic = false;
    if (!search.result.monotonic) {
        // Towards the ends the derivatives at the corner point to, then one input after the other,
        // from the best corner and from the middle.
        std::vector<double> slopes = at_corner;
        for (int k = 0; k < 4 && !slopes.empty() && search.spare(); ++k) {
            const std::vector<double> next = search.corner(slopes, false);
            const double f = search.value(next);
            if (!(f < best))
                break;
            best = f;
            x = next;
            slopes = search.slopes(x);
        }
        search.coordinates(x, best);
        double other = search.value(centre);
        search.coordinates(centre, other);
        if (other < best) {
            best = other;
            x = std::move(centre);
        }
    }
    search.result.value = least ? best : -best;
    search.result.at = std::move(x);
    return search.result;
}

} // namespace

std::vector<Extreme> extremes(const job::Job& job, const std::vector<Edge>& edges,
                              const std::vector<std::pair<int, bool>>& output_and_least,
                              std::int64_t budget) {
    const job::Job middle = in_the_middle(job, edges);
    const job::Job::Jacobian there = middle.jacobian();
    std::vector<Extreme> found;
    for (const auto& [output, least] : output_and_least)
        found.push_back(extreme(middle, there, edges, output, least, budget));
    return found;
}

} // namespace fitwright::study
