// Rare failures against limit states whose probability is known.
#include "cases.hpp"
#include "catch.hpp"

#include <cmath>
#include <fitwright/fields/error.hpp>
#include <fitwright/number/number.hpp>
#include <fitwright/study/own_outputs.hpp>
#include <fitwright/study/rare.hpp>
#include <limits>

using namespace fitwright;
using namespace fitwright::study;

namespace {

constexpr double none = std::numeric_limits<double>::quiet_NaN();
std::size_t at(int number) { return static_cast<std::size_t>(number); }
using Steps = std::vector<Step>;
using O = Operation;

// Four sizes of a fit that stand for plain normal numbers x = (size - middle)/deviation.
struct Plane {
    System fit;
    std::vector<Spread> spreads;
    explicit Plane(int count = 2)
        : fit(SingleModel{&fields::model_named("rings.fit"),
                          {materials::find("4340"), materials::find("52100")},
                          {}}) {
        const struct {
            const char* path;
            double value, deviation;
        } inputs[] = {{"shaft.seat", 0.08004, 1e-7},
                      {"ring.bore", 0.08, 1e-7},
                      {"ring.outside", 0.105, 1e-6},
                      {"ring.length", 0.030, 1e-6}};
        for (int i = 0; i < 4; ++i) {
            const int leaf = fit.leaf(inputs[i].path);
            fit.set(leaf, inputs[i].value);
            if (i < count)
                spreads.push_back({leaf, -1, -1, inputs[i].path, Shape::normal, inputs[i].value,
                                   inputs[i].deviation, none, none});
        }
    }
    // The number that input i stands for.
    Steps x(int i) const {
        const Spread& s = spreads[at(i)];
        return {{O::input, s.leaf, 0.0},
                {O::number, 0, s.middle},
                {O::subtract, 0, 0.0},
                {O::number, 0, s.deviation},
                {O::divide, 0, 0.0}};
    }
    System with(const std::vector<Steps>& limits) const {
        std::vector<OwnOutput> own;
        for (std::size_t i = 0; i < limits.size(); ++i)
            own.push_back({as_given, "g" + std::to_string(i), "a limit state",
                           fields::Quantity::ratio, 1.0, limits[i], 0.0, none});
        return with_own_outputs(fit, own);
    }
    static std::vector<Side> sides(std::size_t count) {
        std::vector<Side> all;
        for (std::size_t i = 0; i < count; ++i)
            all.push_back({static_cast<int>(i), 0.0, true, 1.0});
        return all;
    }
};
Steps joined(std::initializer_list<Steps> parts) {
    Steps all;
    for (const Steps& p : parts)
        all.insert(all.end(), p.begin(), p.end());
    return all;
}
Steps value(double x) { return {{O::number, 0, x}}; }
Steps does(O what) { return {{what, 0, 0.0}}; }

// Of samples round the points, to `share` of the answer; checked to lie within 4 deviations of it.
RareEstimate sampled(const System& system, const std::vector<Spread>& spreads,
                     const std::vector<Side>& sides, const DesignPoints& points, std::int64_t count,
                     const std::vector<Correlation>& tied = {}) {
    RareStudy study(system, spreads, tied, sides, points.points, 11);
    study.advance(count, 2);
    return study.estimate();
}
void near(const RareEstimate& e, double wanted) {
    INFO(e.probability << " +- " << e.half << ", wanted " << wanted);
    CHECK(std::fabs(e.probability - wanted) <= 2.0 * e.half + 1e-3 * wanted);
    CHECK(e.half < 0.1 * wanted);
}
constexpr std::int64_t some = (watched ? 4 : 20) * chunk;

} // namespace

TEST_CASE("a linear limit of normal inputs is exact at first order", "[rare]") {
    // Textbook: beta = mean over deviation of the margin.
    const Plane plane(4);
    for (const double beta : {1.0, 3.0, 4.75, 6.0}) {
        // g = beta - (0.6 x0 - 0.8 x1)
        const System system = plane.with(
            {joined({value(beta), value(0.6), plane.x(0), does(O::multiply), does(O::subtract),
                     value(0.8), plane.x(1), does(O::multiply), does(O::add)})});
        const DesignPoints found = design_points(system, plane.spreads, {}, Plane::sides(1), 4);
        REQUIRE(found.points.size() == 1);
        const DesignPoint& p = found.points[0];
        CHECK(p.beta == Approx(beta).epsilon(1e-6));
        CHECK(p.first_order == Approx(number::normal_probability(-beta)).epsilon(1e-5));
        CHECK(p.second_order == Approx(p.first_order).epsilon(1e-4)); // a plane has no curvature
        CHECK(p.scores[0] == Approx(0.6 * beta).epsilon(1e-6));
        CHECK(p.scores[1] == Approx(-0.8 * beta).epsilon(1e-6));
        CHECK(p.shares[0] == Approx(0.36).epsilon(1e-6));
        near(sampled(system, plane.spreads, Plane::sides(1), found, some), p.first_order);
    }
}

TEST_CASE("the margin of two correlated inputs", "[rare]") {
    // interference left = seat - bore; variance 1 + 1 - 2 r of it (textbook).
    const Plane plane;
    const double r = 0.6;
    const double deviation = 1e-7 * std::sqrt(2.0 - 2.0 * r);
    const double beta = 4.5;
    const std::vector<Side> sides{
        {plane.fit.output(as_given, "interference_left"), 40e-6 - beta * deviation, true, 1e-6}};
    const std::vector<Correlation> tied{{0, 1, r}};
    const DesignPoints found = design_points(plane.fit, plane.spreads, tied, sides, 4);
    REQUIRE(found.points.size() == 1);
    CHECK(found.points[0].beta == Approx(beta).epsilon(1e-6));
    // The point is where the margin is spent: half by each.
    CHECK(found.points[0].values[0] - found.points[0].values[1] ==
          Approx(40e-6 - beta * deviation).epsilon(1e-6));
    CHECK(found.points[0].values[0] - 0.08004 == Approx(-0.5 * beta * deviation).epsilon(1e-4));
    near(sampled(plane.fit, plane.spreads, sides, found, some, tied),
         number::normal_probability(-beta));
}

TEST_CASE("a lognormal margin: resistance over load", "[rare]") {
    // Of two lognormal inputs the ratio is lognormal: beta = (m1 - m2)/sqrt(s1^2 + s2^2) of the
    // logarithms (textbook). A size here stands for 1000 times its value.
    Plane plane;
    const int outside = plane.fit.leaf("ring.outside");
    const int length = plane.fit.leaf("ring.length");
    const std::vector<Spread> spreads{
        {outside, -1, -1, "ring.outside", Shape::lognormal, 0.105, 0.003, none, none},
        {length, -1, -1, "ring.length", Shape::lognormal, 0.030, 0.003, none, none}};
    const auto log_of = [](double mean, double deviation) {
        const double variance = std::log(1.0 + deviation * deviation / (mean * mean));
        return std::pair{std::log(mean) - 0.5 * variance, variance};
    };
    const auto [m1, v1] = log_of(0.105, 0.003);
    const auto [m2, v2] = log_of(0.030, 0.003);
    const double least_ratio = 2.3;
    const double beta = (m1 - m2 - std::log(least_ratio)) / std::sqrt(v1 + v2);
    REQUIRE(beta > 3.0);
    // outside / length - 2.3
    const System system = plane.with({{{O::input, outside, 0.0},
                                       {O::input, length, 0.0},
                                       {O::divide, 0, 0.0},
                                       {O::number, 0, least_ratio},
                                       {O::subtract, 0, 0.0}}});
    const DesignPoints found = design_points(system, spreads, {}, Plane::sides(1), 4);
    REQUIRE(found.points.size() == 1);
    CHECK(found.points[0].beta == Approx(beta).epsilon(1e-6));
    near(sampled(system, spreads, Plane::sides(1), found, some), number::normal_probability(-beta));
}

TEST_CASE("a parabola: curvature, and both sides of a symmetric one", "[rare]") {
    const Plane plane;
    // g = b - x1 + k x0^2 / 2, k > 0: curved away from the middle. Exact by one integral: P = E[Phi(-(b +
    // k z^2/2))], here by Simpson. Second order (Breitung): Phi(-b)/sqrt(1 + b k).
    const double b = 4.0;
    for (const double k : {0.2, -0.1}) {
        const System system =
            plane.with({joined({value(b), plane.x(1), does(O::subtract), value(0.5 * k), plane.x(0),
                                plane.x(0), does(O::multiply), does(O::multiply), does(O::add)})});
        double exact = 0.0;
        constexpr int steps = 4000;
        for (int i = 0; i <= steps; ++i) {
            const double z = -8.0 + 16.0 * i / steps;
            const double w = i == 0 || i == steps ? 1.0 : i % 2 == 1 ? 4.0 : 2.0;
            exact +=
                w * std::exp(-0.5 * z * z) * number::normal_probability(-(b + 0.5 * k * z * z));
        }
        exact *= 16.0 / steps / 3.0 / std::sqrt(2.0 * 3.14159265358979323846);
        const DesignPoints found = design_points(system, plane.spreads, {}, Plane::sides(1), 4);
        REQUIRE_FALSE(found.points.empty());
        const DesignPoint& p = found.points[0];
        CHECK(p.beta == Approx(b).epsilon(1e-6));
        CHECK(p.second_order ==
              Approx(number::normal_probability(-b) / std::sqrt(1.0 + b * k)).epsilon(1e-3));
        CHECK(std::fabs(p.second_order / exact - 1.0) < 0.1);
        CHECK(std::fabs(p.first_order / exact - 1.0) > 0.2);
        near(sampled(system, plane.spreads, Plane::sides(1), found, some), exact);
    }
    // g = 9 - x0^2 / 1 fails at both ends: |x0| > 3, two points.
    const System both = plane.with(
        {joined({value(9.0), plane.x(0), plane.x(0), does(O::multiply), does(O::subtract),
                 value(1e-3), plane.x(0), does(O::multiply), does(O::add)})});
    const DesignPoints found = design_points(both, plane.spreads, {}, Plane::sides(1), 8);
    CHECK(found.points.size() == 2);
    near(sampled(both, plane.spreads, Plane::sides(1), found, some),
         2.0 * number::normal_probability(-3.0));
}

TEST_CASE("a series system of four branches", "[rare]") {
    // The four-branch function of the literature (from memory: Waarts 2000, k = 7): min of
    // 3 + (x0-x1)^2/10 -+ (x0+x1)/sqrt2, +-(x0-x1) + 7/sqrt2. Its probability near 2.2e-3; here against
    // the same function counted by a plain study of many samples.
    const Plane plane;
    const double root2 = std::sqrt(2.0);
    const Steps difference = joined({plane.x(0), plane.x(1), does(O::subtract)});
    const Steps sum = joined({plane.x(0), plane.x(1), does(O::add)});
    const Steps bowl = joined({value(3.0), difference, difference, does(O::multiply), value(0.1),
                               does(O::multiply), does(O::add)});
    const std::vector<Steps> branches{
        joined({bowl, sum, value(root2), does(O::divide), does(O::subtract)}),
        joined({bowl, sum, value(root2), does(O::divide), does(O::add)}),
        joined({difference, value(7.0 / root2), does(O::add)}),
        joined({difference, does(O::negate), value(7.0 / root2), does(O::add)})};
    const System system = plane.with(branches);
    const DesignPoints found = design_points(system, plane.spreads, {}, Plane::sides(4), 4);
    CHECK(found.points.size() == 4);
    const RareEstimate e = sampled(system, plane.spreads, Plane::sides(4), found, 2 * some);
    near(e, 2.2e-3);
    std::vector<Tracked> tracked;
    for (int i = 0; i < 4; ++i)
        tracked.push_back({i, 0.0, none});
    const std::int64_t count = (watched ? 20 : 500) * chunk;
    Study plain(system.subject(), plane.spreads, tracked, 5, count);
    plain.advance(count, 2);
    const auto n = static_cast<double>(count);
    const double rate = 1.0 - static_cast<double>(plain.all_passed()) / n;
    CHECK(std::fabs(e.probability - rate) <= 2.0 * e.half + 4.0 * std::sqrt(rate / n));
}

TEST_CASE("a fit at rest: rare loss of grip counted plainly and round its point", "[rare]") {
    Plane plane;
    for (Spread& s : plane.spreads)
        s.deviation = 4e-6;
    const std::vector<Side> sides{{plane.fit.output(as_given, "holding_force"), 30e3, true, 30e3}};
    const DesignPoints found = design_points(plane.fit, plane.spreads, {}, sides, 4);
    REQUIRE_FALSE(found.points.empty());
    const RareEstimate e = sampled(plane.fit, plane.spreads, sides, found, some);
    const std::int64_t count = (watched ? 20 : 500) * chunk;
    Study plain(plane.fit.subject(), plane.spreads, {{sides[0].output, 30e3, none}}, 5, count);
    plain.advance(count, 2);
    const auto n = static_cast<double>(count);
    const double rate = 1.0 - static_cast<double>(plain.all_passed()) / n;
    INFO(rate << " " << e.probability);
    CHECK(std::fabs(e.probability - rate) <= 2.0 * e.half + 4.0 * std::sqrt(rate / n));
    // The same bits on any threads.
    RareStudy one(plane.fit, plane.spreads, {}, sides, found.points, 3);
    RareStudy two(plane.fit, plane.spreads, {}, sides, found.points, 3);
    one.advance(4 * chunk, 1);
    two.advance(2 * chunk, 2);
    two.advance(2 * chunk, 2);
    CHECK(one.estimate().probability == two.estimate().probability);
}

TEST_CASE("what never fails, what fails already, and what has no such point", "[rare]") {
    const Plane plane;
    const System never = plane.with({value(1.0)});
    const DesignPoints nothing = design_points(never, plane.spreads, {}, Plane::sides(1), 4);
    CHECK(nothing.points.empty());
    REQUIRE(nothing.unfound.size() == 1);
    CHECK(nothing.unfound[0].why == Unfound::Why::never);
    const RareEstimate e = sampled(never, plane.spreads, Plane::sides(1), nothing, chunk);
    CHECK(e.probability == 0.0);
    CHECK(e.failed == 0);

    // g = x0 - 1: fails in the middle, in Phi(1) of all.
    const System already = plane.with({joined({plane.x(0), value(1.0), does(O::subtract)})});
    const DesignPoints found = design_points(already, plane.spreads, {}, Plane::sides(1), 4);
    REQUIRE(found.points.size() == 1);
    CHECK(found.points[0].beta == Approx(-1.0).epsilon(1e-6));
    near(sampled(already, plane.spreads, Plane::sides(1), found, some),
         number::normal_probability(1.0));

    Spread readings = plane.spreads[0];
    readings.shape = Shape::measured;
    readings.measured = {0.08003, 0.08004};
    CHECK(problem_of_rare({readings}) ==
          "shaft.seat scatters in steps (readings of these_parts): tell its readings as of a "
          "process");
    CHECK(problem_of_rare({}) == "nothing scatters");
}
