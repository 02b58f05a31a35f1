#include "inverse_detail.hpp"
#include <algorithm>
#include <array>
#include <cmath>
#include <fitwright/number/quantile.hpp>
#include <limits>
#include <map>

namespace fitwright::study {

namespace {

// One more side that was looked at.
void note(Verdict& v, std::size_t side, double reserve) {
    if (reserve < 0.0)
        v.failing.push_back(static_cast<int>(side));
    if (reserve < v.reserve) {
        v.reserve = reserve;
        v.side = static_cast<int>(side);
    }
}

std::string joined(const std::vector<Problem>& problems) {
    return problems.empty() ? std::string() : problems.front().path + ": " + problems.front().text;
}

} // namespace

std::vector<Side> sides_of(const System& system) {
    std::vector<Side> sides;
    for (const job::Limit& l : system.limits()) {
        for (const bool is_least : {true, false}) {
            const double limit = is_least ? l.at_least : l.at_most;
            if (!std::isnan(limit))
                sides.push_back({l.output, limit, is_least,
                                 job::reserve_scale(system.outputs()[at(l.output)], limit)});
        }
    }
    return sides;
}

double reserve_of(const Side& s, const std::vector<double>& outputs) {
    const double value = outputs[at(s.output)];
    return (s.is_least ? value - s.limit : s.limit - value) / s.scale;
}

bool try_evaluate(const System& system, std::vector<double>& outputs, std::string* problem,
                  const fields::Between& between) {
    try {
        outputs = system.evaluate(between);
    } catch (const DomainError& e) {
        if (problem != nullptr)
            *problem = joined(e.problems());
        return false;
    }
    for (std::size_t i = 0; i < outputs.size(); ++i)
        if (!std::isfinite(outputs[i])) {
            if (problem != nullptr)
                *problem = system.outputs()[i].path + ": is not finite in state " +
                           system.outputs()[i].state;
            return false;
        }
    return true;
}

std::vector<Edge> edges_of(const System& system, const std::vector<Spread>& spreads) {
    std::vector<Edge> edges;
    for (const Spread& s : spreads) {
        const fields::Range& range = system.inputs()[at(s.leaf)].field->range;
        double low = s.low;
        double high = s.high;
        if (s.shape == Shape::normal) {
            low = s.middle - 3.0 * s.deviation;
            high = s.middle + 3.0 * s.deviation;
        } else if (!std::isfinite(low) || !std::isfinite(high)) {
            // Without ends of its own: as far as three deviations are of a normal one.
            const double tail = number::normal_probability(-3.0);
            low = quantile(s, tail);
            high = quantile(s, 1.0 - tail);
        }
        Edge e{s.leaf,      s.low_leaf,
               s.high_leaf, std::max(low, range.low),
               0.0,         std::min(high, range.high)};
        e.middle = std::min(std::max(system.values()[at(s.leaf)], e.low), e.high);
        edges.push_back(e);
    }
    return edges;
}

System in_the_middle(const System& system, const std::vector<Edge>& edges) {
    System middle = system;
    for (const Edge& e : edges)
        put(middle, e, e.middle);
    return middle;
}

Judge::Judge(const System& system, const std::vector<Spread>& spreads, const Judgement& how)
    : system_(system)
    , spreads_(spreads)
    , how_(how)
    , sides_(sides_of(system))
    , aside_(sides_.size(), 0) {
    if (sides_.empty())
        throw DomainError({Problem{"limits", "the job has none, so nothing can fail"}});
}

Judge Judge::without(const std::vector<int>& sides) const {
    Judge other = *this;
    for (const int s : sides)
        other.aside_[at(s)] = 1;
    return other;
}

Verdict Judge::operator()(const std::vector<int>& leaves, const std::vector<double>& values,
                          bool known) const {
    ++count_;
    if (how_.between)
        how_.between();
    System there = system_;
    std::vector<Spread> spreads = spreads_;
    for (std::size_t k = 0; k < leaves.size(); ++k) {
        const int leaf = leaves[k];
        const auto& input = system_.inputs()[at(leaf)];
        if (std::string text = fields::range_problem(values[k], *input.field); !text.empty()) {
            Verdict v;
            v.problem = input.path + ": " + text;
            return v;
        }
        const double step = values[k] - system_.values()[at(leaf)];
        there.set(leaf, values[k]);
        for (std::size_t i = spreads.size(); i-- > 0;) {
            if (spreads[i].leaf != leaf)
                continue;
            if (known) {
                // As in a sample: what is known is one number, ends and all.
                for (const int end : {spreads[i].low_leaf, spreads[i].high_leaf})
                    if (end >= 0 && how_.basis != Basis::nominal)
                        there.set(end, values[k]);
                spreads.erase(spreads.begin() + static_cast<std::ptrdiff_t>(i));
            } else {
                spreads[i] = moved(spreads[i], step);
            }
        }
    }
    if (how_.basis == Basis::worst_case && !spreads.empty())
        return worst(there, edges_of(there, spreads));
    if (how_.basis == Basis::rate && !spreads.empty())
        return share(there, spreads);
    Verdict v;
    std::vector<double> outputs;
    if (!try_evaluate(there, outputs, &v.problem, how_.between))
        return v;
    v.evaluated = true;
    v.reserve = std::numeric_limits<double>::infinity();
    for (std::size_t s = 0; s < sides_.size(); ++s)
        if (aside_[s] == 0)
            note(v, s, reserve_of(sides_[s], outputs));
    v.passed = v.reserve >= 0.0;
    v.rate = v.passed ? 1.0 : 0.0;
    return v;
}

// Each side of a limit at the corner its derivatives in the middle point to.
Verdict Judge::worst(const System& system, const std::vector<Edge>& edges) const {
    Verdict v;
    const System middle = in_the_middle(system, edges);
    std::vector<double> outputs;
    if (!try_evaluate(middle, outputs, &v.problem, how_.between))
        return v;
    const fields::Slopes j = middle.jacobian(how_.between);
    const std::size_t n = system.inputs().size();
    std::map<std::vector<signed char>, std::vector<double>> corners;
    v.reserve = std::numeric_limits<double>::infinity();
    for (std::size_t s = 0; s < sides_.size(); ++s) {
        if (aside_[s] != 0)
            continue;
        const double* row = j.derivatives.data() + at(sides_[s].output) * n;
        std::vector<signed char> signs;
        for (const Edge& e : edges) {
            const double slope = sides_[s].is_least ? slope_of(row, e) : -slope_of(row, e);
            signs.push_back(slope > 0.0 ? -1 : slope < 0.0 ? 1 : 0);
        }
        auto found = corners.find(signs);
        if (found == corners.end()) {
            System corner = middle;
            for (std::size_t i = 0; i < edges.size(); ++i)
                if (signs[i] != 0)
                    put(corner, edges[i], signs[i] < 0 ? edges[i].low : edges[i].high);
            if (!try_evaluate(corner, outputs, &v.problem, how_.between))
                return v;
            found = corners.emplace(signs, outputs).first;
        }
        note(v, s, reserve_of(sides_[s], found->second));
    }
    v.evaluated = true;
    v.passed = v.reserve >= 0.0;
    v.rate = v.passed ? 1.0 : 0.0;
    return v;
}

Verdict Judge::share(const System& system, const std::vector<Spread>& spreads) const {
    Verdict v;
    std::vector<double> outputs;
    if (!try_evaluate(system, outputs, &v.problem, how_.between))
        return v;
    std::vector<Tracked> tracked;
    constexpr double no_limit = std::numeric_limits<double>::quiet_NaN();
    std::vector<std::size_t> looked_at;
    for (std::size_t i = 0; i < sides_.size(); ++i) {
        const Side& s = sides_[i];
        if (aside_[i] != 0)
            continue;
        looked_at.push_back(i);
        tracked.push_back(
            {s.output, s.is_least ? s.limit : no_limit, s.is_least ? no_limit : s.limit});
    }
    // Correlations are told by path: an input that is known here scatters no more.
    std::vector<Correlation> correlations;
    const auto place = [&](const std::string& path) {
        for (std::size_t i = 0; i < spreads.size(); ++i)
            if (spreads[i].path == path)
                return static_cast<int>(i);
        return -1;
    };
    for (const auto& [first, second, value] : how_.correlations)
        if (place(first) >= 0 && place(second) >= 0)
            correlations.push_back({place(first), place(second), value});
    Study study(subject_of(system), spreads, tracked, how_.seed, how_.samples, Design::plain,
                correlations, {{}, {}, how_.threads, how_.between});
    while (study.done() < study.count())
        study.advance(how_.samples, how_.threads, how_.between);
    const auto count = static_cast<double>(study.count());
    v.evaluated = true;
    v.rate = static_cast<double>(study.all_passed()) / count;
    v.passed = v.rate >= how_.rate;
    std::int64_t fewest = std::numeric_limits<std::int64_t>::max();
    v.reserve = std::numeric_limits<double>::infinity();
    for (std::size_t i = 0; i < looked_at.size(); ++i) {
        const std::size_t s = looked_at[i];
        const std::int64_t passed = study.statistics(i).passed;
        if (static_cast<double>(passed) < how_.rate * count)
            v.failing.push_back(static_cast<int>(s));
        const double r = reserve_of(sides_[s], outputs);
        // Where several are kept equally often, the one with the least nominal reserve.
        if (passed < fewest || (passed == fewest && r < v.reserve)) {
            fewest = passed;
            v.reserve = r;
            v.side = static_cast<int>(s);
        }
    }
    return v;
}

namespace {

void look_again(const Judge& judge, const System& system, int leaf, Reach& r) {
    constexpr std::int64_t budget = 5000;
    constexpr std::int64_t boxes = 200;
    System there = system;
    there.set(leaf, r.value);
    std::vector<Spread> others;
    for (const Spread& s : judge.spreads()) {
        if (s.leaf != leaf) {
            others.push_back(s);
            continue;
        }
        for (const int end : {s.low_leaf, s.high_leaf})
            if (end >= 0)
                there.set(end, r.value);
    }
    const Side& side = judge.sides()[at(r.side)];
    const Extreme e = extremes(there, edges_of(there, others), {{side.output, side.is_least}},
                               budget, boxes, judge.how().between)
                          .front();
    r.checked = true;
    r.proven = e.proven;
    r.worst = e.value;
    r.bound = e.bound;
}

// Of the sides that fail, those whose output is another one where the dimension ends.
std::vector<int> moved_by(const System& system, const Judge& judge, int leaf,
                          const std::vector<int>& sides, std::array<double, 2> ends) {
    std::vector<int> moved;
    std::vector<double> here;
    if (sides.empty() || !try_evaluate(system, here, nullptr, judge.how().between))
        return moved;
    for (const int side : sides) {
        const int output = judge.sides()[at(side)].output;
        bool moves = false;
        for (const double end : ends) {
            System there = system;
            there.set(leaf, end);
            std::vector<double> outputs;
            moves = moves || (try_evaluate(there, outputs, nullptr, judge.how().between) &&
                              outputs[at(output)] != here[at(output)]);
        }
        if (moves)
            moved.push_back(side);
    }
    return moved;
}

} // namespace

Reuse reuse_limits(const Judge& every, const System& system, int leaf) {
    const auto& input = system.inputs()[at(leaf)];
    const double start = system.values()[at(leaf)];
    if (!std::isfinite(start))
        throw DomainError(
            {Problem{input.path, "has no value to start from: it is worked out from others"}});
    double bottom = input.field->range.low;
    double top = input.field->range.high;
    const auto next = at(leaf) + 1;
    if (next + 1 < system.inputs().size() &&
        system.inputs()[next].field->kind == fields::Kind::low_end) {
        // An end that is left out is the value itself, and moves with it.
        if (std::isfinite(system.values()[next]))
            bottom = std::max(bottom, system.values()[next]);
        if (std::isfinite(system.values()[next + 1]))
            top = std::min(top, system.values()[next + 1]);
    }
    // What fails already is no answer for the others.
    const Verdict as_it_is = every({leaf}, {start}, true);
    const std::vector<int> aside = as_it_is.failing;
    const bool none_left = aside.size() == every.sides().size();
    const Judge judge = aside.empty() || none_left ? every : every.without(aside);
    const Verdict here = aside.empty() || none_left ? as_it_is : judge({leaf}, {start}, true);
    const auto stopped = [&](double value, const Verdict& v) {
        Reach r{value, v.evaluated ? Reach::Stop::limit : Reach::Stop::domain, v.side, v.problem};
        if (judge.how().basis == Basis::worst_case && v.evaluated)
            look_again(judge, system, leaf, r);
        return r;
    };
    if (!here.passed) {
        Reach r = stopped(start, here);
        if (here.evaluated)
            r.stop = Reach::Stop::already;
        return {r, r, aside, {}};
    }
    // A share of samples is not known better than to some thousandths anyway.
    const bool sampled = judge.how().basis == Basis::rate;
    const double growth = sampled ? 2.0 : 4.0 / 3.0;
    const double close = sampled ? 1e-3 : 1e-6;
    const auto go = [&](double direction, double end) {
        double good = start;
        double step = std::max(std::fabs(start) * 1e-6, 1e-7);
        while (good != end) {
            double x = good + direction * step;
            if ((x - end) * direction > 0.0)
                x = end;
            Verdict v = judge({leaf}, {x}, true);
            if (v.passed) {
                good = x;
                step *= growth;
                continue;
            }
            double bad = x;
            while (std::fabs(bad - good) > close * std::fabs(bad - start)) {
                x = 0.5 * (good + bad);
                if (x == good || x == bad)
                    break;
                const Verdict w = judge({leaf}, {x}, true);
                if (w.passed) {
                    good = x;
                } else {
                    bad = x;
                    v = w;
                }
            }
            return stopped(good, v);
        }
        return Reach{good, Reach::Stop::range, -1, {}};
    };
    Reuse found{go(-1.0, bottom), go(1.0, top), aside, {}};
    found.moved = moved_by(system, every, leaf, aside, {found.down.value, found.up.value});
    return found;
}

} // namespace fitwright::study
