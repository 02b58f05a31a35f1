// Questions turned round, against the plain answers: the solver of a job, every corner, a dense grid.
#include "cases.hpp"
#include "catch.hpp"

#include <algorithm>
#include <cmath>
#include <fitwright/fields/error.hpp>
#include <fitwright/study/inverse.hpp>
#include <limits>

using namespace fitwright;
using namespace fitwright::study;

namespace {

constexpr double no_limit = std::numeric_limits<double>::quiet_NaN();
std::size_t at(int number) { return static_cast<std::size_t>(number); }

Spread uniform(const job::Job& job, const char* path, double half) {
    const int leaf = job.leaf(path);
    const double value = job.values()[at(leaf)];
    return {leaf, -1, -1, path, Shape::uniform, value, 0.0, value - half, value + half};
}
std::vector<Spread> some_spreads(const job::Job& job) {
    const auto bore = [](const job::RingPlan& r) { return "rings." + r.name + ".bore"; };
    std::vector<Spread> spreads{uniform(job, "nut.torque", 50.0)};
    spreads.push_back(uniform(job, ("seats." + job.plan().seats[0] + ".diameter").c_str(), 3e-6));
    spreads.push_back(uniform(job, bore(job.plan().rings[0]).c_str(), 4e-6));
    spreads.push_back(uniform(job, bore(job.plan().rings[1]).c_str(), 3e-6));
    spreads.push_back(
        uniform(job, ("states." + job.plan().states[1] + ".shaft_temperature").c_str(), 8.0));
    return spreads;
}
double least_reserve(const job::Job& job) {
    const auto outputs = job.evaluate();
    double least = 1e300;
    for (const job::Finding& f : job.findings(outputs))
        least = std::min(least, f.reserve);
    return least;
}

} // namespace

TEST_CASE("the end of a dimension is where a finding meets its limit", "[inverse]") {
    job::Job job = cases::blower();
    for (const job::Finding& f : job.findings(job.evaluate()))
        if (f.reserve < 0.05) { // only what holds to begin with can be told an end
            const job::OutputPath& o = job.outputs()[at(f.output)];
            job.set_limit(o.path, o.state, no_limit, no_limit);
        }
    const Judge judge(job, {}, {});
    const std::string path = "seats." + job.plan().seats[0] + ".diameter";
    const int leaf = job.leaf(path);
    REQUIRE(least_reserve(job) >= 0.0);
    REQUIRE(judge.sides().size() > 10);
    const Reuse r = reuse_limits(judge, job, leaf);
    for (const Reach* end : {&r.down, &r.up}) {
        REQUIRE(end->stop == Reach::Stop::limit);
        const Side& side = judge.sides()[at(end->side)];
        // The other solver of the job, from the end found, stays where it is.
        job::Job there = job;
        there.set(leaf, end->value);
        CHECK(least_reserve(there) >= 0.0);
        const double exact = there.solve(leaf, side.output, side.limit, no_limit, no_limit);
        CHECK(std::fabs(exact - end->value) < 1e-9);
        there.set(leaf, exact + (end == &r.up ? 1e-9 : -1e-9));
        CHECK(least_reserve(there) < 0.0);
    }
}

TEST_CASE("the worst case is the worst of all corners", "[once][inverse]") {
    const job::Job job = cases::blower();
    const std::vector<Edge> edges = edges_of(job, some_spreads(job));
    const std::vector<Side> sides = sides_of(job);
    const std::size_t corners = std::size_t{1} << edges.size();
    std::vector<double> least(sides.size(), 1e300);
    std::vector<double> greatest(sides.size(), -1e300);
    for (std::size_t c = 0; c < corners; ++c) {
        job::Job corner = job;
        for (std::size_t i = 0; i < edges.size(); ++i)
            corner.set(edges[i].leaf, (c >> i & 1) != 0 ? edges[i].high : edges[i].low);
        const auto outputs = corner.evaluate();
        for (std::size_t s = 0; s < sides.size(); ++s) {
            least[s] = std::min(least[s], outputs[at(sides[s].output)]);
            greatest[s] = std::max(greatest[s], outputs[at(sides[s].output)]);
        }
    }
    std::vector<std::pair<int, bool>> wanted;
    for (const Side& s : sides) {
        wanted.emplace_back(s.output, true);
        wanted.emplace_back(s.output, false);
    }
    const std::vector<Extreme> found = extremes(job, edges, wanted, 20000, 300);
    int proven = 0;
    int bounded = 0;
    for (std::size_t s = 0; s < sides.size(); ++s) {
        const double close = 1e-12 * (std::fabs(least[s]) + std::fabs(greatest[s]));
        const Extreme& low = found[2 * s];
        const Extreme& high = found[2 * s + 1];
        // A search may find more within the box than its corners hold; never less.
        CHECK(low.value <= least[s] + close);
        CHECK(high.value >= greatest[s] - close);
        if (low.corner)
            CHECK(std::fabs(low.value - least[s]) <= close);
        if (high.corner)
            CHECK(std::fabs(high.value - greatest[s]) <= close);
        // The bound is on the far side, and where it is told to be proven it is close by.
        const double standard = job.outputs()[at(sides[s].output)].field->standard;
        const double far = 1e-6 * (standard + std::fabs(low.value) + std::fabs(high.value));
        CHECK(low.bound <= low.value);
        CHECK(high.bound >= high.value);
        if (low.proven)
            CHECK(low.value - low.bound <= far);
        if (high.proven)
            CHECK(high.bound - high.value <= far);
        // What rests on running balls is searched and not bounded.
        const std::string& path = job.outputs()[at(sides[s].output)].path;
        if (path != "bearing.inner_edge" && path != "bearing.outer_edge" &&
            path != "bearing.arch_gap") {
            bounded += 2;
            proven += (low.proven ? 1 : 0) + (high.proven ? 1 : 0);
            if (!low.proven || !high.proven)
                UNSCOPED_INFO(path << " has no proof");
        }
        // What is said to be there is there.
        job::Job there = job;
        for (std::size_t i = 0; i < edges.size(); ++i)
            there.set(edges[i].leaf, low.at[i]);
        CHECK(there.evaluate()[at(sides[s].output)] == low.value);
    }
    // Five inputs: nearly everything has its proof.
    CHECK(bounded > static_cast<int>(sides.size()));
    CHECK(proven >= bounded * 95 / 100);
}

TEST_CASE("an output that turns back within the box is searched, and said so", "[inverse]") {
    // Thrust to both sides of none: the contact stress of the bearing is least in between.
    job::Job job = cases::blower();
    const std::string state = job.plan().states[1];
    const std::string path = "states." + state + ".thrust";
    job.set(job.leaf(path), 1.0);
    const Spread s{job.leaf(path), -1, -1, path, Shape::uniform, 1.0, 0.0, -3000.0, 4000.0};
    const int output = job.output(state, "bearing.inner_stress");
    double least = 1e300;
    double greatest = -1e300;
    for (int k = 0; k <= 700; ++k) {
        job::Job there = job;
        there.set(s.leaf, s.low + 10.0 * k);
        const double value = there.evaluate()[at(output)];
        least = std::min(least, value);
        greatest = std::max(greatest, value);
    }
    const auto found =
        extremes(job, edges_of(job, {s}), {{output, true}, {output, false}}, 20000, 300);
    // A cube root about no thrust (Hertz): the place is sharp where the value is not.
    CHECK(least == 0.0);
    CHECK(std::fabs(found[0].at[0]) < 0.1);
    CHECK_FALSE(found[0].corner);
    CHECK_FALSE(found[1].corner);
    CHECK(found[0].bound <= 0.0);
    CHECK(found[1].bound >= greatest);
    CHECK(found[1].value >= greatest * (1.0 - 1e-9));
}

TEST_CASE("the best values beat a grid", "[inverse]") {
    const job::Job job = cases::blower();
    const std::vector<Spread> spreads = some_spreads(job);
    const std::vector<int> leaves{job.leaf("nut.torque"), spreads[1].leaf};
    const double seat = job.values()[at(leaves[1])];
    const std::vector<double> low{300.0, seat - 20e-6};
    const std::vector<double> high{1000.0, seat + 20e-6};
    for (const Basis basis : {Basis::nominal, Basis::worst_case}) {
        Judgement how;
        how.basis = basis;
        const Judge judge(job, spreads, how);
        const Judge nominal(job, spreads, {});
        const Best best = solve_for(judge, nominal, job, leaves, low, high);
        REQUIRE(best.verdict.evaluated);
        const double there = judge(leaves, best.values).reserve;
        CHECK(there == best.verdict.reserve);
        for (int i = 0; i <= 10; ++i)
            for (int k = 0; k <= 10; ++k) {
                const Verdict v = judge(leaves, {low[0] + (high[0] - low[0]) * i / 10.0,
                                                 low[1] + (high[1] - low[1]) * k / 10.0});
                if (v.evaluated)
                    CHECK(v.reserve <= there + 1e-9);
            }
    }
}

TEST_CASE("a job without limits cannot be turned round", "[inverse]") {
    job::Job job = cases::blower();
    for (const job::Limit& l : std::vector<job::Limit>(job.limits().begin(), job.limits().end()))
        job.set_limit(job.outputs()[at(l.output)].path, job.outputs()[at(l.output)].state, no_limit,
                      no_limit);
    CHECK_THROWS_AS(Judge(job, {}, {}), DomainError);
}

TEST_CASE("costs of an assignment put good pairs before reserves", "[inverse]") {
    constexpr double never = -std::numeric_limits<double>::infinity();
    // Two good pairs with little reserve against one with much and one that fails.
    const std::vector<double> reserves{0.9, 0.1, 0.1, -0.5};
    std::vector<double> costs(4);
    assignment_costs(reserves, 2, costs);
    CHECK(costs[1] + costs[2] < costs[0] + costs[3]);
    const std::vector<double> impossible{0.5, never, 0.5, -0.1};
    assignment_costs(impossible, 2, costs);
    CHECK(costs[0] + costs[3] < costs[1] + costs[2]);
    for (const double c : costs)
        CHECK(std::isfinite(c));
}

TEST_CASE("a matrix of reserves is the job, pair by pair", "[inverse]") {
    const job::Job job = cases::blower();
    const int seat = job.leaf("seats." + job.plan().seats[0] + ".diameter");
    const int bore = job.leaf("rings." + job.plan().rings[0].name + ".bore");
    const double d = job.values()[at(seat)];
    const double b = job.values()[at(bore)];
    const std::vector<double> rows{d - 4e-6, d, d + 9e-6};
    // The last is a bore twice as large: that pair cannot be evaluated, the others can.
    const std::vector<double> columns{b - 3e-6, b + 5e-6, 2.0 * d};
    const auto matrix = reserve_matrix(job, seat, rows, bore, columns, {}, {});
    for (std::size_t i = 0; i < 3; ++i) {
        for (std::size_t k = 0; k < 2; ++k) {
            job::Job there = job;
            there.set(seat, rows[i]);
            there.set(bore, columns[k]);
            CHECK(matrix[3 * i + k] == least_reserve(there));
        }
        CHECK(std::isinf(matrix[3 * i + 2]));
    }
}

TEST_CASE("matched sets of two kinds are the best of all assignments", "[inverse]") {
    // 4 shafts, 4 and 5 rings; reserves without a pattern, some of them bad.
    constexpr int shafts = 4;
    const std::vector<int> counts{4, 5};
    std::vector<double> reserves;
    for (int i = 0; i < shafts * 4 * 5; ++i)
        reserves.push_back(std::fmod(0.377 * i * i + 0.11 * i, 1.0) - 0.6);
    const std::vector<int> start{0, 6, 12, 18}; // first to first, second to second, ...
    const MatchedSets found = match_sets(reserves, shafts, counts, start, 1'000'000);
    CHECK(found.proven);
    std::vector<int> first{0, 1, 2, 3};
    std::pair<int, double> best{-1, 0.0};
    do {
        std::vector<int> second{0, 1, 2, 3, 4};
        do {
            std::pair<int, double> score{0, 0.0};
            for (int s = 0; s < shafts; ++s) {
                const double r = reserves[at((s * 4 + first[at(s)]) * 5 + second[at(s)])];
                score.first += r >= 0.0 ? 1 : 0;
                score.second += r;
            }
            best = std::max(best, score);
        } while (std::next_permutation(second.begin(), second.end()));
    } while (std::next_permutation(first.begin(), first.end()));
    std::pair<int, double> score{0, 0.0};
    for (int s = 0; s < shafts; ++s) {
        const double r = reserves[at(s * 20 + found.sets[at(s)])];
        score.first += r >= 0.0 ? 1 : 0;
        score.second += r;
    }
    CHECK(score.first == best.first);
    CHECK(std::fabs(score.second - best.second) < 1e-12);
    CHECK_FALSE(match_sets(reserves, shafts, counts, start, 3).proven); // work spent first
}
