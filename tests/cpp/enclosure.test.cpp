// Bounds of formulas over boxes of inputs, against functions whose range is known and against samples.
#include "cases.hpp"
#include "catch.hpp"

#include <algorithm>
#include <cmath>
#include <fitwright/job/enclosed.hpp>
#include <fitwright/number/enclosure.hpp>
#include <random>

using namespace fitwright;
using number::Box;
using number::Enclosure;
using number::Interval;

namespace {

std::size_t at(int number) { return static_cast<std::size_t>(number); }

// f over x in [a, b] and y in [c, d].
template <class F>
void over(double a, double b, double c, double d, const F& f) {
    Box box(2, 4);
    const Box::Open open(box);
    const double x = 0.5 * (a + b);
    const double y = 0.5 * (c + d);
    box.span(0, {a - x, b - x});
    box.span(1, {c - y, d - y});
    f(Enclosure::input(0, {a, b}, x), Enclosure::input(1, {c, d}, y));
}
bool near(const Interval& x, double low, double high, double slack) {
    return x.low <= low && x.high >= high && x.low >= low - slack && x.high <= high + slack;
}

// x^3 + p x = q, rising for p > 0.
template <class T>
struct Cubic {
    T p, q;
    number::Residual<T> operator()(const T& x) const {
        return {x * x * x + p * x - q, x * x * 3.0 + p};
    }
    Cubic values() const { return *this; }
};
double cubic_root(double p, double q) {
    double x = 0.0;
    for (int k = 0; k < 100; ++k)
        x -= (x * x * x + p * x - q) / (3.0 * x * x + p);
    return x;
}

std::vector<job::BoxSide> wide_box(const job::Job& job) {
    std::vector<job::BoxSide> sides;
    const auto side = [&](const std::string& path, double half) {
        const int leaf = job.leaf(path);
        const double x = job.values()[at(leaf)];
        sides.push_back({{leaf}, x - half, x + half});
    };
    side("nut.torque", 60.0);
    side("seats." + job.plan().seats[0] + ".diameter", 6e-6);
    for (const job::RingPlan& r : job.plan().rings)
        side("rings." + r.name + ".bore", 5e-6);
    for (const std::string& s : job.plan().states) {
        side("states." + s + ".shaft_temperature", 6.0);
        side("states." + s + ".thrust", 600.0);
    }
    return sides;
}

} // namespace

TEST_CASE("bounds of functions whose range is known", "[enclosure]") {
    over(1.0, 2.0, 3.0, 4.0, [](const Enclosure& x, const Enclosure& y) {
        CHECK(near((x + y).value, 4.0, 6.0, 1e-14));
        CHECK(near((x - y).value, -3.0, -1.0, 1e-14));
        CHECK(near((x * y).value, 3.0, 8.0, 1e-14));
        CHECK(near((x / y).value, 0.25, 2.0 / 3.0, 1e-15));
        // An input that comes in twice is one input.
        CHECK(near((x - x).value, 0.0, 0.0, 1e-15));
        CHECK(near((x / x).value, 1.0, 1.0, 1e-15));
        CHECK(near((x * x).value, 1.0, 4.0, 1e-14));
        CHECK((x * x).slope(0).low >= 2.0 * (1.0 - 1e-15));
        CHECK(near((x * x).slope(0), 2.0, 4.0, 1e-14));
        CHECK((x * x).slope(1).size() == 0.0);
        CHECK(near(exp(x).value, std::exp(1.0), std::exp(2.0), 1e-14));
        CHECK(near(log(y).value, std::log(3.0), std::log(4.0), 1e-15));
        CHECK(near(sqrt(y).value, std::sqrt(3.0), 2.0, 1e-15));
        CHECK(near(cbrt(y).value, std::cbrt(3.0), std::cbrt(4.0), 1e-15));
        CHECK(near(atan(x).value, std::atan(1.0), std::atan(2.0), 1e-15));
        CHECK(near(expm1_over(x).value, std::expm1(1.0), std::expm1(2.0) / 2.0, 1e-14));
        CHECK(near(larger(x, y).value, 3.0, 4.0, 0.0));
        CHECK(near(smaller(x, y * 0.5).value, 1.0, 2.0, 1e-15));
    });
    over(-1.0, 2.0, 0.0, 1.0, [](const Enclosure& x, const Enclosure& y) {
        CHECK(near(number::square(x).value, 0.0, 4.0, 1e-14));
        CHECK(near(number::abs(x).value, 0.0, 2.0, 0.0));
        CHECK(near(number::positive(x).value, 0.0, 2.0, 0.0));
        CHECK(near(number::positive(x).slope(0), 0.0, 1.0, 1e-15)); // both sides of the kink
        CHECK(near(number::root0(y).value, 0.0, 1.0, 1e-15));
        // A jump has no slope that bounds it, and says so.
        const Enclosure step = select(x > Enclosure(0.0), Enclosure(1.0), Enclosure(0.0));
        CHECK(near(step.value, 0.0, 1.0, 0.0));
        CHECK(step.slope(0).size() >= number::unbounded);
        CHECK(step.slope(1).size() == 0.0);
        // Nothing bounds a quotient whose divisor may vanish.
        CHECK((1.0 / x).value.high >= number::unbounded);
        CHECK((1.0 / x).value.low <= -number::unbounded);
    });
}

TEST_CASE("bounds of complete elliptic integrals", "[enclosure]") {
    for (const double m : {0.0, 0.015, 0.3, 0.9, 0.999})
        over(m, m + 1e-4, 0.0, 1.0, [&](const Enclosure& x, const Enclosure&) {
            const auto both = number::complete_elliptic(x);
            const double b = m + 1e-4;
            CHECK(near(both.first.value, std::comp_ellint_1(std::sqrt(m)),
                       std::comp_ellint_1(std::sqrt(b)), 1e-12 + 1e-4 * both.first.value.width()));
            CHECK(both.second.value.holds(std::comp_ellint_2(std::sqrt(m + 5e-5))));
            // dK/dm = (E/(1 - m) - K)/(2 m) (Abramowitz and Stegun 17.3.1 and 17.3.2, differentiated)
            const double c = m + 5e-5;
            const double k = std::comp_ellint_1(std::sqrt(c));
            const double e = std::comp_ellint_2(std::sqrt(c));
            CHECK(both.first.slope(0).holds((e / (1.0 - c) - k) / (2.0 * c)));
        });
}

TEST_CASE("the root of an equation over a box", "[enclosure]") {
    over(1.0, 1.3, 2.0, 2.6, [](const Enclosure& p, const Enclosure& q) {
        const auto r = number::root(Cubic<Enclosure>{p, q}, Enclosure(0.0), Enclosure(10.0),
                                    Enclosure(1.0), Enclosure(1.0));
        // It falls with p and rises with q.
        CHECK(r.x.value.holds(Interval{cubic_root(1.3, 2.0), cubic_root(1.0, 2.6)}));
        CHECK(r.x.value.width() < 1.4 * (cubic_root(1.0, 2.6) - cubic_root(1.3, 2.0)));
        CHECK(r.x.slope(0).high < 0.0);
        CHECK(r.x.slope(1).low > 0.0);
    });
    // No slope at the root (x^3 = q about 0): bounds still, and no finite slope is claimed.
    over(0.0, 0.0, -0.001, 0.001, [](const Enclosure& p, const Enclosure& q) {
        const auto r = number::root(Cubic<Enclosure>{p, q}, Enclosure(-1.0), Enclosure(1.0),
                                    Enclosure(0.0), Enclosure(1.0));
        CHECK(r.x.value.holds(Interval{-0.1, 0.1}));
        CHECK(r.x.value.width() < 0.5);
        CHECK(r.x.slope(1).high > 1e100);
        CHECK(r.x.slope(1).low >= 0.0);
    });
}

TEST_CASE("no sample of a job leaves the bounds of its box", "[once][enclosure]") {
    const job::Job job = cases::blower();
    const std::vector<job::BoxSide> sides = wide_box(job);
    const job::Encloser encloser(job);
    const std::vector<job::Enclosed> all = encloser.all(job.values(), sides);
    std::vector<int> leaves, outputs;
    for (const job::BoxSide& s : sides)
        leaves.push_back(s.leaves.front());
    std::vector<Interval> bounds;
    for (int i = 0; i < job.layout().output_count; i += watched ? 9 : 1) {
        outputs.push_back(i);
        const job::Enclosed one = encloser.one(job.values(), sides, i, i % 40 == 0);
        bounds.push_back({std::max(one.value.low, all[at(i)].value.low),
                          std::min(one.value.high, all[at(i)].value.high)});
    }
    std::mt19937_64 engine(3);
    std::uniform_real_distribution<double> uniform(-0.2, 1.2); // some at the ends
    std::int64_t outside = 0;
    constexpr int block = 5000;
    for (int part = 0; part < (watched ? 2 : 20); ++part) { // 10^5 samples
        std::vector<std::vector<double>> columns;
        for (const job::BoxSide& s : sides) {
            std::vector<double> column;
            for (int k = 0; k < block; ++k)
                column.push_back(s.low + (s.high - s.low) * std::clamp(uniform(engine), 0.0, 1.0));
            columns.push_back(std::move(column));
        }
        const auto found = job.sweep(leaves, columns, outputs, 2);
        for (std::size_t i = 0; i < found.size(); ++i)
            for (const double x : found[i]) {
                const double rounding = 1e-12 * std::fabs(x) + 1e-15 * bounds[i].size();
                outside += x < bounds[i].low - rounding || x > bounds[i].high + rounding;
            }
    }
    CHECK(outside == 0);
}

TEST_CASE("no derivative within the box leaves its bounds", "[enclosure]") {
    const job::Job job = cases::blower();
    const std::vector<job::BoxSide> sides = wide_box(job);
    const std::vector<job::Enclosed> all = job::Encloser(job).all(job.values(), sides);
    std::mt19937_64 engine(4);
    std::uniform_real_distribution<double> uniform(0.0, 1.0);
    const std::size_t inputs = job.inputs().size();
    int outside = 0;
    for (int k = 0; k < 200; ++k) {
        job::Job there = job;
        for (const job::BoxSide& s : sides)
            there.set(s.leaves.front(), s.low + (s.high - s.low) * uniform(engine));
        const job::Job::Jacobian j = there.jacobian();
        for (std::size_t o = 0; o < all.size(); ++o)
            for (std::size_t i = 0; i < sides.size(); ++i) {
                const double d = j.derivatives[o * inputs + at(sides[i].leaves.front())];
                const Interval& s = all[o].slopes[i];
                const double slack = 1e-9 * s.size() + 1e-12 * std::fabs(j.outputs[o]) /
                                                           (sides[i].high - sides[i].low);
                outside += d < s.low - slack || d > s.high + slack;
            }
    }
    CHECK(outside == 0);
}

TEST_CASE("a derivative that holds on one side only is flagged, and no other", "[enclosure]") {
    job::Job job = cases::blower();
    const std::size_t inputs = job.inputs().size();
    const auto flag = [&](const job::Job& j, const char* state, const std::string& output,
                          const std::string& input) {
        return j.one_sided()[at(j.output(state, output)) * inputs + at(j.leaf(input))] != 0;
    };
    const std::string state = job.plan().states[1];
    const std::string ring = job.plan().rings[0].name;
    const std::string temperature = "states." + state + ".shaft_temperature";
    const std::string pressure = "rings." + ring + ".pressure";
    const std::string warm_pressure = "rings." + ring + ".ring_strain";
    const std::string seat = "seats." + job.plan().seats[0] + ".diameter";
    const auto in = [&](const job::Job& j, const std::string& output, const std::string& input) {
        return flag(j, state.c_str(), output, input);
    };
    // Off every knot of the material tables, and on the one at 20 degC.
    job.set(job.leaf(temperature), 31.0);
    CHECK_FALSE(in(job, warm_pressure, temperature));
    CHECK_FALSE(in(job, pressure, seat));
    job.set(job.leaf(temperature), 20.0);
    job.set(job.leaf("states." + state + ".lags." + ring), 0.0);
    CHECK(in(job, warm_pressure, temperature));
    CHECK_FALSE(in(job, pressure, seat));
    // Where the ring lets go: the pressure has a kink, the interference left has none.
    const int left = job.output(state, "rings." + ring + ".interference_left");
    job.set(job.leaf(temperature), 31.0);
    job.set(job.leaf(seat), job.solve(job.leaf(seat), left, 0.0, fields::none, fields::none));
    CHECK(in(job, pressure, seat));
    CHECK_FALSE(in(job, "rings." + ring + ".smoothing_loss", temperature));
}
