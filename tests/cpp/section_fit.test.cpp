// Fits in section against axisymmetric finite elements: two independent programs (CalculiX, a general one,
// and a separate code) that agree to 0.1 % in pressure. Cases A to E and I of the shared checks; steel
// unless said, no friction. tests/python/test_calculix.py makes A, B and E again.
#include "bodies_cases.hpp"

#include <array>

using namespace fitwright;
using namespace cases;

namespace {

constexpr double half_percent = 0.005;

// Lame's pressure of two rings of one steel, MPa (docs/theory.md, section 1).
double lame(double bore, double seat, double outside, double interference) {
    const double shaft = (seat * seat + bore * bore) / (seat * seat - bore * bore) - Steel::poisson;
    const double ring =
        (outside * outside + seat * seat) / (outside * outside - seat * seat) + Steel::poisson;
    return interference * 1e-3 / seat * Steel::modulus * 1e-6 / (shaft + ring);
}

// Mean pressure over a stretch of a seat; a point at its end belongs to it by half.
double mean_over(const SectionResult<double>& r, const Sections& sections, double from, double to) {
    const auto& points = sections.contacts();
    double force = 0.0, area = 0.0;
    for (std::size_t j = 0; j < points.seats(); ++j) {
        const double z = points.seat_z[j];
        const bool first = j == 0 || j + 1 == points.seats();
        const double edge =
            std::min(std::abs(z - from), std::abs(z - to)) < 1e-9 && !first ? 0.5 : 1.0;
        if (z < from - 1e-9 || z > to + 1e-9)
            continue;
        force += edge * r.history.steps[1].seats[j].pressure * points.seat_area[j];
        area += edge * points.seat_area[j];
    }
    return force / area * 1e-6;
}

double pressure_at(const SectionResult<double>& r, double place) {
    const auto& seats = r.history.steps[1].seats;
    for (std::size_t j = 0; j + 1 < seats.size(); ++j)
        if (place >= seats[j].place && place < seats[j + 1].place) {
            const double share = (place - seats[j].place) / (seats[j + 1].place - seats[j].place);
            return ((1.0 - share) * seats[j].pressure + share * seats[j + 1].pressure) * 1e-6;
        }
    return 0.0;
}

} // namespace

TEST_CASE("ring and shaft of equal length press as Lame says", "[once][section]") {
    const StackSection s = stack_of({slice(40, 40, 80)}, {ring_of({slice(40, 80, 120)})});
    const auto r = fitted(s, {60});
    CHECK(mean_pressure(r, 1) == Approx(36.2105).epsilon(1e-3));
    CHECK(lame(40, 80, 120, 60) == Approx(36.211).epsilon(1e-5));
    for (const auto& seat : r.history.steps[1].seats)
        CHECK(seat.pressure * 1e-6 == Approx(36.2105).epsilon(2e-3));
    for (const double growth : r.steps[1].growth[1])
        CHECK(growth * 1e6 == Approx(16.875).margin(0.02));
}

TEST_CASE("shaft that goes on beside the ring raises its pressure as finite elements say",
          "[once][section]") {
    struct Row {
        double bore, outside, length, factor; // mean pressure over Lame's
    };
    constexpr Row rows[] = {{0, 100, 10, 1.072},  {0, 100, 40, 1.022},  {0, 100, 80, 1.010},
                            {0, 120, 10, 1.115},  {0, 120, 40, 1.036},  {40, 100, 10, 1.163},
                            {40, 100, 40, 1.052}, {40, 120, 10, 1.256}, {40, 120, 30, 1.113},
                            {40, 120, 80, 1.037}, {60, 100, 10, 1.349}, {60, 100, 40, 1.095},
                            {60, 120, 10, 1.517}, {60, 120, 30, 1.199}, {60, 120, 80, 1.069}};
    for (const Row& row : rows) {
        CAPTURE(row.bore, row.outside, row.length);
        const auto r = fitted(alone(row.bore, 80, {slice(row.length, 80, row.outside)}, 85), {60});
        CHECK(mean_pressure(r, 1) / lame(row.bore, 80, row.outside, 60) ==
              Approx(row.factor).epsilon(half_percent));
    }
}

TEST_CASE("pressure along a seat and growth along the outside", "[once][section]") {
    const Fineness fine{2.0, 1};
    const auto r = fitted(alone(40, 80, {slice(30, 80, 120)}, 85), {60}, 0.0, {}, fine);
    CHECK(mean_pressure(r, 1) == Approx(40.31).epsilon(0.002));
    constexpr double away[] = {0.5, 1, 2, 3, 5, 8, 12};
    constexpr double pressure[] = {69.6, 58.9, 49.6, 44.7, 39.2, 35.2, 32.8};
    for (std::size_t k = 0; k < 7; ++k) {
        CAPTURE(away[k]);
        CHECK(pressure_at(r, 0.085 + away[k] * 1e-3) == Approx(pressure[k]).epsilon(0.015));
        CHECK(pressure_at(r, 0.115 - away[k] * 1e-3) == Approx(pressure[k]).epsilon(0.015));
    }
    CHECK(pressure_at(r, 0.1) == Approx(32.37).epsilon(half_percent));
    const auto& growth = r.steps[1].growth[1];
    CHECK(growth[growth.size() / 2] * 1e6 == Approx(18.66).margin(0.02));
    CHECK(growth.front() * 1e6 == Approx(18.94).margin(0.02));
    CHECK(r.steps[1].roll[0] == Approx(0.0).margin(1e-8));
}

TEST_CASE("speed takes pressure by its square, to where the ring lets go", "[once][section]") {
    const StackSection s = alone(40, 80, {slice(30, 80, 120)}, 85);
    CHECK(mean_pressure(fitted(s, {60}, 1000.0), 1) == Approx(34.91).epsilon(half_percent));
    CHECK(mean_pressure(fitted(s, {60}, 2000.0), 1) == Approx(18.71).epsilon(half_percent));
    const auto open = [&](double speed) {
        int apart = 0;
        for (const auto& seat : fitted(s, {60}, speed).history.steps[1].seats)
            apart += seat.grip == stack::Grip::apart ? 1 : 0;
        return apart;
    };
    // First opens at mid-length at 2653 rad/s, quite open at 2749.
    CHECK(open(2630.0) == 0);
    CHECK(open(2680.0) > 0);
    CHECK(mean_pressure(fitted(s, {60}, 2720.0), 1) > 0.0);
    CHECK(mean_pressure(fitted(s, {60}, 2760.0), 1) == 0.0);
}

TEST_CASE("a hotter ring grips less, in one proportion", "[once][section]") {
    const StackSection s = alone(40, 80, {slice(30, 80, 120)}, 85);
    const double cold = mean_pressure(fitted(s, {60}), 1);
    const double gone = 60e-6 / (Steel::expansion * 0.08); // 65.2 K, as the closed form says
    for (const double share : {0.25, 0.5, 0.75})
        CHECK(mean_pressure(fitted(s, {60}, 0.0, {share * gone}), 1) ==
              Approx((1.0 - share) * cold).epsilon(1e-6));
    CHECK(mean_pressure(fitted(s, {60}, 0.0, {1.001 * gone}), 1) == 0.0);
}

TEST_CASE("a ring with a step in its outside, both ends free", "[once][section]") {
    StackSection s =
        stack_of({slice(40, 40, 80)}, {ring_of({slice(15, 80, 120), slice(25, 80, 100)})});
    s.shaft.far_end = FarEnd::free;
    const Sections sections(s);
    const auto r = fitted(s, {60});
    CHECK(mean_pressure(r, 1) == Approx(29.21).epsilon(half_percent));
    CHECK(mean_over(r, sections, 0.0, 0.015) == Approx(35.11).epsilon(half_percent));
    CHECK(mean_over(r, sections, 0.015, 0.040) == Approx(25.66).epsilon(half_percent));
    const auto at = [&](double z, double radius) {
        double nearest = 1.0, growth = 0.0;
        for (std::size_t j = 0; j < sections.outside_z(1).size(); ++j)
            if (const double away = std::abs(sections.outside_z(1)[j] - z);
                std::abs(sections.outside_radius(1)[j] - radius) < 1e-6 && away < nearest) {
                nearest = away;
                growth = r.steps[1].growth[1][j] * 1e6;
            }
        return growth;
    };
    CHECK(at(0.0, 0.06) == Approx(16.39).margin(0.1));
    CHECK(at(0.015, 0.06) == Approx(18.22).margin(0.1));
    CHECK(at(0.015, 0.05) == Approx(19.59).margin(0.1));
    CHECK(at(0.040, 0.05) == Approx(22.12).margin(0.1));
}

TEST_CASE("three steps, a flange, a disc, rings side by side", "[once][section]") {
    const std::vector<Slice> steps = {slice(10, 60, 90), slice(20, 60, 72), slice(10, 60, 100)};
    StackSection flush = stack_of({slice(40, 20, 60)}, {ring_of(steps)});
    flush.shaft.far_end = FarEnd::free;
    const StackSection longer = alone(20, 60, steps, 60);
    constexpr double by_slice[2][3] = {{43.32, 27.79, 49.24}, {45.71, 28.54, 52.81}};
    for (int k = 0; k < 2; ++k) {
        const StackSection& s = k == 0 ? flush : longer;
        const auto r = fitted(s, {50});
        double z = s.start;
        for (std::size_t i = 0; i < 3; ++i) {
            CAPTURE(k, i);
            CHECK(mean_over(r, Sections(s), z, z + steps[i].length) ==
                  Approx(by_slice[k][i]).epsilon(half_percent));
            z += steps[i].length;
        }
    }
    const StackSection flange = alone(0, 60, {slice(6, 60, 120), slice(40, 60, 75)}, 80);
    const auto f = fitted(flange, {50});
    CHECK(mean_over(f, Sections(flange), 0.080, 0.086) == Approx(66.02).epsilon(half_percent));
    CHECK(mean_over(f, Sections(flange), 0.086, 0.126) == Approx(32.12).epsilon(half_percent));
    const auto disc = fitted(alone(0, 80, {slice(30, 80, 240)}, 100), {60});
    CHECK(mean_pressure(disc, 1) == Approx(74.22).epsilon(half_percent));
    const double one = lame(40, 80, 120, 60);
    for (const std::size_t n : {std::size_t{2}, std::size_t{3}}) {
        std::vector<RingSection> rings(n, ring_of({slice(20, 80, 120)}));
        StackSection s = stack_of({slice(160.0 + 20.0 * static_cast<double>(n), 40, 80)}, rings);
        s.start = 0.080;
        const auto r = fitted(s, std::vector<double>(n, 60));
        for (std::size_t k = 0; k < n; ++k)
            CHECK(mean_pressure(r, 1, k) / one == Approx(n == 2   ? 1.077
                                                         : k == 1 ? 0.992
                                                                  : 1.075)
                                                      .epsilon(half_percent));
    }
}

TEST_CASE("a steel ring on an aluminium shaft", "[once][section]") {
    const auto r = fitted(alone(30, 80, {slice(20, 80, 120)}, 80, 71e9, 0.33), {80});
    CHECK(mean_pressure(r, 1) == Approx(45.10).epsilon(half_percent));
    const auto& growth = r.steps[1].growth[1];
    CHECK(growth[growth.size() / 2] * 1e6 == Approx(21.00).margin(0.2));
}

TEST_CASE("metals of 1 to 1000 in stiffness press as Lame says", "[once][section]") {
    for (const double ratio : {1e-3, 1e3}) {
        StackSection s = stack_of({slice(40, 40, 80)}, {ring_of({slice(40, 80, 120)})});
        s.shaft.modulus = ratio < 1.0 ? 206e9 : 206e6;
        s.rings[0].modulus = s.shaft.modulus * ratio;
        const auto r = fitted(s, {60});
        const double shaft = (80. * 80 + 40. * 40) / (80. * 80 - 40. * 40) - 0.3;
        const double ring = ((120. * 120 + 80. * 80) / (120. * 120 - 80. * 80) + 0.3) / ratio;
        CHECK(mean_pressure(r, 1) ==
              Approx(0.06 / 80 * s.shaft.modulus * 1e-6 / (shaft + ring)).epsilon(2e-3));
    }
}
