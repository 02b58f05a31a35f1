// How an input scatters: a share of its distribution gives a value, exactly.
#include "cases.hpp"
#include "catch.hpp"

#include <cmath>
#include <limits>

using namespace fitwright::study;

namespace {

constexpr double no_limit = std::numeric_limits<double>::quiet_NaN();
double below(double z) { return std::erfc(-z / std::sqrt(2.0)) / 2.0; }
Spread scatter(Shape shape, double middle, double deviation, double low, double high) {
    return {0, -1, -1, "shaft.seat", shape, middle, deviation, low, high};
}

} // namespace

TEST_CASE("a drawn value lies where its share of the distribution lies", "[study]") {
    const double low = 1.0;
    const double mode = 1.5;
    const double high = 3.0;
    const auto spread = [&](Shape shape) { return scatter(shape, mode, 0.7, low, high); };
    for (double u = 0.0005; u < 1.0; u += 0.01) {
        const double a = quantile(spread(Shape::normal), u);
        CHECK(below((a - mode) / 0.7) == Approx(u).epsilon(1e-12));
        CHECK(quantile(spread(Shape::uniform), u) == Approx(low + 2.0 * u).epsilon(1e-14));
        const double t = quantile(spread(Shape::triangular), u);
        const double share = t < mode ? (t - low) * (t - low) / (2.0 * 0.5)
                                      : 1.0 - (high - t) * (high - t) / (2.0 * 1.5);
        CHECK(share == Approx(u).epsilon(1e-12));
        const double c = quantile(spread(Shape::truncated_normal), u);
        const double p0 = below((low - mode) / 0.7);
        const double p1 = below((high - mode) / 0.7);
        CHECK((below((c - mode) / 0.7) - p0) / (p1 - p0) == Approx(u).epsilon(1e-11));
    }
    // Half of all lie below the mode of an even triangle; the ends are never passed.
    CHECK(quantile(spread(Shape::triangular), 1e-300) >= low);
    CHECK(quantile(spread(Shape::triangular), 1.0 - 1e-16) <= high);
}

TEST_CASE("a scatter that makes no sense is refused", "[study][bad]") {
    const auto problem = [&](Shape shape, double middle, double deviation, double low,
                             double high) {
        return problem_of(scatter(shape, middle, deviation, low, high));
    };
    CHECK(problem(Shape::normal, 1, 0, 0, 0) == "needs a deviation above zero");
    CHECK(problem(Shape::normal, 1, no_limit, 0, 0) == "needs a deviation above zero");
    CHECK(problem(Shape::uniform, 1, 0, 2, 2) == "needs low below high");
    CHECK(problem(Shape::uniform, 1, 0, no_limit, 2) == "needs low below high");
    CHECK(problem(Shape::triangular, 3, 0, 1, 2) == "needs its value between low and high");
    CHECK(problem(Shape::truncated_normal, 0, 1, 20, 30) == "keeps nothing between low and high");
    CHECK(problem(Shape::truncated_normal, 0, 1, -1, 3).empty());
}

TEST_CASE("a moved scatter keeps its shape, an input with ends its ends", "[study]") {
    const Spread s = scatter(Shape::triangular, 2.0, 0.0, 1.0, 4.0);
    CHECK(moved(s, 0.5).middle == 2.5);
    CHECK(moved(s, 0.5).low == 1.5);
    CHECK(standard_deviation(moved(s, 0.5)) == Approx(standard_deviation(s)));
    Spread ends = s;
    ends.low_leaf = 1;
    CHECK(moved(ends, 0.5).low == 1.0);
    CHECK(moved(ends, 0.5).high == 4.0);
}
