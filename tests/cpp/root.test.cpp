// Newton inside a bracket: what it finds, that a lane is alone, and the exact derivative.
#include "catch.hpp"
#include "levels.hpp"

#include <cmath>
#include <fitwright/fields/level.hpp>
#include <limits>
#include <vector>

using namespace fitwright;
using namespace fitwright::number;
namespace lt = fitwright::level_test;

namespace {

using D2 = Dual<2, Isa<0>>;
constexpr double no_number = std::numeric_limits<double>::quiet_NaN();

template <class Run>
void at_active_level(Run run) {
    lt::on_level(fields::active_level(), run);
}

struct Answers {
    std::vector<double> x, converged;
};
Answers solved(const std::vector<double>& e, const std::vector<double>& m) {
    Answers a{std::vector<double>(e.size()), std::vector<double>(e.size())};
    at_active_level([&]<class Level>(Level) {
        lt::solve_kepler<Level>(
            {static_cast<int>(e.size()), e.data(), m.data(), a.x.data(), a.converged.data()});
    });
    return a;
}

// Easy and hard samples next to each other.
constexpr std::size_t samples = 512;
std::vector<double> eccentricities() {
    std::vector<double> e;
    for (std::size_t i = 0; i < samples; ++i)
        e.push_back(i % 3 == 0 ? 0.1 : i % 5 == 0 ? 0.99999 : 0.9);
    return e;
}
std::vector<double> anomalies() {
    std::vector<double> m;
    for (std::size_t i = 0; i < samples; ++i)
        m.push_back(uniform_open(philox({{i, 0, 0, 0}}, {1, 2}).word[0]) * (i % 7 == 0 ? 1e-4 : 3));
    return m;
}

// atan x = m: plain Newton from |x| > 1.39 runs away.
template <class T>
struct Arctangent {
    T m;
    Residual<T> operator()(const T& x) const {
        return {fitwright::number::atan(x) - m, 1.0 / (x * x + 1.0)};
    }
    Arctangent<double> values() const { return {value_of(m)}; }
};
// x^3 = m: no slope at the root when m = 0.
template <class T>
struct Cube {
    T m;
    Residual<T> operator()(const T& x) const { return {cube(x) - m, square(x) * 3.0}; }
    Cube<double> values() const { return {value_of(m)}; }
};

} // namespace

TEST_CASE("the root solves its equation, on every lane", "[root]") {
    const auto e = eccentricities();
    const auto m = anomalies();
    const Answers a = solved(e, m);
    for (std::size_t i = 0; i < samples; ++i) {
        CHECK(a.converged[i] == 1.0);
        // Kepler's equation itself, with the standard library's sine.
        CHECK(std::fabs(a.x[i] - e[i] * std::sin(a.x[i]) - m[i]) <= 1e-14);
    }
}

TEST_CASE("a lane's bits do not depend on its neighbours", "[root]") {
    auto e = eccentricities();
    auto m = anomalies();
    const Answers a = solved(e, m);
    // The packs begin three samples later.
    const auto width = static_cast<std::size_t>(lane_count);
    const std::size_t count = (samples - 3) / width * width;
    const auto shifted = [&](const std::vector<double>& v) {
        return std::vector<double>(v.begin() + 3,
                                   v.begin() + 3 + static_cast<std::ptrdiff_t>(count));
    };
    const Answers b = solved(shifted(e), shifted(m));
    int different = 0;
    for (std::size_t i = 0; i < count; ++i)
        different += to_bits(a.x[i + 3]) != to_bits(b.x[i]);
    CHECK(different == 0);

    // A neighbour without a solution is told, and disturbs no one.
    for (std::size_t i = 0; i < samples; i += width)
        m[i] = no_number;
    const Answers c = solved(e, m);
    different = 0;
    for (std::size_t i = 0; i < samples; ++i) {
        CHECK(c.converged[i] == (i % width == 0 ? 0.0 : 1.0));
        different += i % width != 0 && to_bits(c.x[i]) != to_bits(a.x[i]);
    }
    CHECK(different == 0);
}

TEST_CASE("the bracket holds what Newton alone would lose", "[root]") {
    for (const double start : {-40.0, -3.0, 2.0, 45.0}) {
        const auto r = root(Arctangent<double>{1.2}, -50.0, 50.0, start, 1.0);
        CHECK(r.converged);
        CHECK(std::fabs(r.x - std::tan(1.2)) <= 1e-13);
    }
}

TEST_CASE("one Newton step on duals is the exact derivative of a root", "[root]") {
    // Implicit function theorem: dx/dm = 1/(1 - e cos x), dx/de = sin x/(1 - e cos x).
    const auto e = eccentricities();
    const auto m = anomalies();
    const Answers a = solved(e, m);
    for (std::size_t i = 0; i < 64; ++i) {
        double by_e = 0;
        double by_m = 0;
        at_active_level(
            [&]<class Level>(Level) { lt::kepler_slopes<Level>(e[i], m[i], &by_e, &by_m); });
        const double slope = 1.0 - e[i] * std::cos(a.x[i]);
        CHECK(by_m == Approx(1.0 / slope).epsilon(1e-9));
        CHECK(by_e == Approx(std::sin(a.x[i]) / slope).epsilon(1e-9));
    }
    D2 m2(0.7);
    m2.d.set_lane(0, 1.0);
    const auto r = root(Arctangent<D2>{m2}, D2(-50.0), D2(50.0), D2(0.0), D2(1.0));
    CHECK(r.x.d.lane(0) == Approx(1.0 + std::tan(0.7) * std::tan(0.7)).epsilon(1e-13));
    CHECK(r.x.d.lane(1) == 0.0);
}

TEST_CASE("where the slope vanishes the root has no derivative, and none is made up", "[root]") {
    D2 m(0.0);
    m.d.set_lane(0, 1.0);
    const auto r = root(Cube<D2>{m}, D2(-1.0), D2(1.0), D2(0.0), D2(1.0));
    CHECK(r.x.value == 0.0);
    CHECK(r.x.d.lane(0) == 0.0);
}
