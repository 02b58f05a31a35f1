// A measured size against the worked example of the GUM, against its own derivatives taken by
// differences, and by hand.
#include "catch.hpp"

#include <cmath>
#include <fitwright/fields/error.hpp>
#include <fitwright/sizes/measured.hpp>
#include <functional>

using namespace fitwright;
using namespace fitwright::sizes;

namespace {
std::string message(const std::function<void()>& call) {
    try {
        call();
    } catch (const DomainError& error) {
        return error.what();
    }
    return "";
}
double nm(double metres) { return metres * 1e9; }
} // namespace

// T8-06, JCGM 100:2008 (GUM), H.1, from memory: a 50 mm gauge block against a standard of its own
// material, mean temperature 19.9 degC. Components 25, 9.7, 2.9, 16.6 nm; the second order 11.7 nm.
TEST_CASE("T8-06 end-gauge calibration of the GUM") {
    Reading in;
    in.readings = {50.000838e-3};
    in.gauge_uncertainty = 25e-9;
    in.repeatability = 9.7e-9;
    in.part_temperature = 19.9;
    in.gauge_temperature = 19.9;
    in.temperature_uncertainty = 0.41;
    in.difference_uncertainty = 0.029;
    in.expansion_uncertainty = 1.2e-6;
    in.expansion_difference_uncertainty = 0.58e-6;
    const MeasuredSize out = measured_size(in);
    const auto& b = out.budget;
    REQUIRE(b.size() == 7);
    CHECK(nm(b[0].contribution) == Approx(9.7).margin(0.05));
    CHECK(nm(b[1].contribution) == Approx(25.0).margin(0.05));
    CHECK(nm(b[2].contribution) == Approx(16.6).margin(0.1));
    CHECK(nm(b[3].contribution) == Approx(0.0).margin(1e-6));
    CHECK(nm(b[4].contribution) == Approx(2.9).margin(0.05));
    CHECK(nm(b[5].contribution) == Approx(0.0).margin(1e-6));
    // The GUM prints 11.7 nm of one product; with that of the other (1.7 nm) it is 12.0.
    CHECK(nm(b[6].contribution) == Approx(11.7).margin(0.4));
    CHECK(nm(combined_uncertainty({b.begin(), b.begin() + 6})) == Approx(32.0).margin(0.5));
    CHECK(nm(out.uncertainty) == Approx(34.0).margin(0.5));
    CHECK(out.size == Approx(in.readings[0]).epsilon(1e-12)); // same material, same temperature
}

TEST_CASE("T8-06 effective degrees of freedom of the GUM's example") {
    const std::vector<BudgetLine> budget{{"standard", 0, 0, 25e-9, 18},
                                         {"comparison", 0, 0, 9.7e-9, 25.6},
                                         {"expansion", 0, 0, 2.9e-9, 50},
                                         {"temperature", 0, 0, 16.6e-9, 2}};
    CHECK(nm(combined_uncertainty(budget)) == Approx(31.67).margin(0.01));
    CHECK(effective_degrees_of_freedom(budget) == Approx(16.76).margin(0.01));
}

// By hand: 120 mm of bronze at 28 degC under a steel micrometer at 22 degC reads 120.020 mm.
TEST_CASE("a warm part under a cooler gauge is smaller than it reads") {
    Reading in;
    in.readings = {120.020e-3};
    in.part_temperature = 28.0;
    in.gauge_temperature = 22.0;
    in.part_expansion = 18e-6;
    in.gauge_expansion = 11.5e-6;
    const MeasuredSize out = measured_size(in);
    const double by_hand = 120.020e-3 * (1.0 + 11.5e-6 * 2.0) / (1.0 + 18e-6 * 8.0);
    CHECK(out.size == Approx(by_hand).epsilon(1e-14));
    CHECK((in.readings[0] - out.size) * 1e6 == Approx(14.52).margin(0.01));
    CHECK(out.budget[5].contribution * 1e6 ==
          Approx(120.02 * 1.2e-3 * 6.0).margin(0.01)); // 6 K apart times an unknown 1.2e-6/K
}

TEST_CASE("sensitivities are the derivatives of the corrected size") {
    Reading in;
    in.readings = {0.3};
    in.part_temperature = 31.0;
    in.gauge_temperature = 23.0;
    in.part_expansion = 22e-6;
    in.gauge_expansion = 11e-6;
    const MeasuredSize out = measured_size(in);
    const auto slope = [&](const std::function<void(Reading&, double)>& move, double step) {
        Reading up = in, down = in;
        move(up, step);
        move(down, -step);
        return (measured_size(up).size - measured_size(down).size) / (2.0 * step);
    };
    CHECK(out.budget[0].sensitivity ==
          Approx(slope([](Reading& r, double s) { r.readings[0] += s; }, 1e-6)));
    CHECK(out.budget[2].sensitivity ==
          Approx(slope([](Reading& r, double s) { r.gauge_temperature -= s; }, 0.01)));
    CHECK(out.budget[3].sensitivity == Approx(slope(
                                           [](Reading& r, double s) {
                                               r.part_temperature += s;
                                               r.gauge_temperature += s;
                                           },
                                           0.01)));
    CHECK(out.budget[4].sensitivity ==
          Approx(slope([](Reading& r, double s) { r.part_expansion += s; }, 1e-8)));
    CHECK(out.budget[5].sensitivity == Approx(slope(
                                           [](Reading& r, double s) {
                                               r.part_expansion += s;
                                               r.gauge_expansion += s;
                                           },
                                           1e-8)));
}

TEST_CASE("several readings make a mean, and their scatter divides by the root of their number") {
    Reading in;
    in.readings = {80.001e-3, 80.003e-3, 80.002e-3, 80.002e-3};
    in.gauge_uncertainty = 1e-6;
    in.expansion_uncertainty = in.expansion_difference_uncertainty = 0.0;
    const MeasuredSize out = measured_size(in);
    CHECK(out.size == Approx(80.002e-3).epsilon(1e-12));
    const double deviation = std::sqrt(2.0 / 3.0) * 1e-6; // of 1, 3, 2, 2 um
    CHECK(out.budget[0].contribution == Approx(deviation / 2.0));
    CHECK(out.gauge_part == Approx(1e-6));
    CHECK(out.uncertainty == Approx(std::hypot(1e-6, deviation / 2.0)));
    CHECK(out.degrees_of_freedom ==
          Approx(3.0 * std::pow(out.uncertainty / (deviation / 2.0), 4.0)));
}

TEST_CASE("what is no measurement is refused") {
    Reading in;
    CHECK(message([&] { measured_size(in); }).find("measured: needs at least one reading") !=
          std::string::npos);
    in.readings = {80e-3, 8e-3};
    CHECK(message([&] { measured_size(in); }).find("8 mm is no second reading of 80 mm") !=
          std::string::npos);
    in.readings = {80e-3};
    in.part_temperature = 293.0;
    CHECK(message([&] { measured_size(in); }).find("measured.part_temperature: 293 degC must be") !=
          std::string::npos);
    in.part_temperature = 20.0;
    in.gauge_uncertainty = -1e-6;
    CHECK(message([&] {
              measured_size(in);
          }).find("measured.gauge_uncertainty: must be a standard") != std::string::npos);
    in.gauge_uncertainty = 0.0;
    in.part_expansion = 11.5;
    CHECK(message([&] {
              measured_size(in);
          }).find("measured.part_expansion: must be from 0 to 100") != std::string::npos);
}
