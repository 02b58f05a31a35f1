// From the oven to a gripping joint: working window, grab, first touch, room temperature.
#include "catch.hpp"
#include "heat_cases.hpp"

#include <cmath>
#include <fitwright/fields/error.hpp>
#include <fitwright/heat/slip_on.hpp>

using namespace fitwright;
using namespace fitwright::heat;
using heat_cases::plain_metal;

namespace {

SlipOnInputs<double> usual() {
    auto in = fields::standard_inputs<SlipOnInputs>();
    in.shaft.bore = 0.030;
    in.shaft.seat = 0.080038;
    in.ring.bore = 0.080;
    in.ring.outside = 0.105;
    in.ring.length = 0.030;
    in.slip_clearance = 50e-6;
    return in;
}
SlipOnOutputs<double> run(const SlipOnInputs<double>& in) {
    return slip_on(in, cases::metal("4340"), cases::metal("52100"));
}

// Ring and solid shaft so conductive that each is of one temperature; the gap's own 1 mm keeps the
// conductance of the joint constant.
SlipOnInputs<double> lumped() {
    auto in = fields::standard_inputs<SlipOnInputs>();
    in.shaft.seat = 0.080;
    in.ring.bore = 0.080;
    in.ring.outside = 0.105;
    in.ring.length = 0.030;
    in.interference = 4e-6;
    in.oven = 40.0;
    in.least_clearance = 5e-6;
    in.carry_time = 0.0;
    in.emissivity = 0.0;
    in.air_film = in.air_film_low = in.air_film_high = 0.1;
    in.gas_conductivity = 0.2;
    in.standing_gap = in.standing_gap_low = in.standing_gap_high = 1e-3;
    in.shaft_goes_on = 0.0;
    return in;
}
constexpr double pi = 3.14159265358979323846;

} // namespace

TEST_CASE("two bodies of one temperature each meet as an exponential", "[slip_on]") {
    const auto m = plain_metal(5000.0, 7850.0, 460.0);
    const auto out = slip_on(lumped(), m, m);
    const double ring = 7850.0 * 460.0 * pi / 4 * (0.105 * 0.105 - 0.08 * 0.08);
    const double shaft = 7850.0 * 460.0 * pi / 4 * 0.08 * 0.08;
    // Half the mean gap on the way (0 to 15 um on diameter) adds to 1 mm.
    const double rate = 0.2 / 1.004e-3 * pi * 0.08 * (1.0 / ring + 1.0 / shaft);
    // The difference that is left closes the bore: 12e-6 0.08 dT = 4 um (and 5 um).
    const double start = 20.0;
    CHECK(out.grab == Approx(std::log(start / (4e-6 / (12e-6 * 0.08))) / rate).epsilon(0.01));
    CHECK(out.window == Approx(std::log(start / (9e-6 / (12e-6 * 0.08))) / rate).epsilon(0.01));
    CHECK(out.ring_at_touch - out.shaft_at_touch == Approx(4e-6 / (12e-6 * 0.08)).epsilon(1e-3));
    // Nearly no heat is lost on the way.
    CHECK((out.ring_at_touch - 20.0) * ring + (out.shaft_at_touch - 20.0) * shaft ==
          Approx(20.0 * ring).epsilon(0.01));
    // Then both cool in the air as one: 0.1 W/(m2 K) on the outside and the ring's two ends.
    const double area = pi * 0.105 + 2.0 / 0.03 * pi / 4 * (0.105 * 0.105 - 0.08 * 0.08);
    const double joined = 20.0 * ring / (ring + shaft);
    CHECK(out.time_to_room ==
          Approx(std::log(joined / 2.0) * (ring + shaft) / (0.1 * area)).epsilon(0.01));
}

TEST_CASE("half the cells, half the tolerance: the times stay within 1 %", "[slip_on]") {
    const auto out = run(usual());
    for (const double cells : {50.0, 200.0})
        for (const double tolerance : {1e-4, 2e-5}) {
            auto in = usual();
            in.cells = cells;
            in.tolerance = tolerance;
            const auto other = run(in);
            CHECK(other.window == Approx(out.window).epsilon(0.01));
            CHECK(other.grab == Approx(out.grab).epsilon(0.01));
            CHECK(other.time_to_room == Approx(out.time_to_room).epsilon(0.01));
            CHECK(other.ring_at_touch == Approx(out.ring_at_touch).margin(0.05));
        }
}

TEST_CASE("at the end of the window and at the grab the sizes are what they are named for",
          "[slip_on]") {
    const auto in = usual();
    const auto out = run(in);
    CHECK(out.energy_error < 1e-6);
    CHECK(out.start_clearance == Approx(50e-6).epsilon(1e-6));
    CHECK(out.window < out.grab);
    CHECK(out.window_low < out.window);
    CHECK(out.time_left == Approx(out.window_low - 10.0));
    const Cooling c = slip_on_curve(in, cases::metal("4340"), cases::metal("52100"));
    double least = 1.0;
    for (std::size_t k = 1; k < c.time.size(); ++k) {
        CHECK(c.time[k] >= c.time[k - 1]);
        if (c.time[k] == out.window)
            CHECK(c.bore[k] - c.seat[k] == Approx(50e-6 / 3.0).epsilon(1e-6));
        least = std::min(least, std::fabs(c.time[k] - out.grab));
    }
    CHECK(least == 0.0);
    CHECK(c.bore.front() - c.seat.front() == Approx(50e-6).epsilon(1e-6));
    CHECK(std::fabs(c.ring_mean.back() - 20.0) <= 2.0);
}

TEST_CASE("what makes the window longer", "[slip_on]") {
    const double usually = run(usual()).window;
    auto in = usual();
    in.oven = 120.0;
    CHECK(run(in).window > usually);
    in = usual();
    in.carry_time = 10.0; // the air takes less than the seat
    CHECK(run(in).window > usually);
    in = usual();
    in.oven = run(usual()).oven_setting;
    in.shaft_temperature = 0.0;
    CHECK(run(in).window > usually);
    in = usual();
    in.gas_conductivity = 0.13; // oil on the seat
    CHECK(run(in).window < usually);
    in = usual();
    in.carry_time = 600.0; // too long: the window closes in the air, and the finding says so
    CHECK(run(in).time_left < 0.0);
}

TEST_CASE("a ring that grabs when all is nearly cold is cold at once", "[slip_on]") {
    auto in = usual();
    in.interference = 0.4e-6;
    in.shaft.seat = in.ring.bore;
    in.oven = 110.0;
    in.room_band = 50.0; // both are near 55 degC when it grabs
    const auto out = run(in);
    CHECK(out.ring_at_touch < 70.0);
    CHECK(out.time_to_room == out.grab);
}

TEST_CASE("a window of zero seconds is refused with the way out", "[slip_on][bad]") {
    auto in = usual();
    in.oven = 70.0;
    CHECK_THROWS_WITH(run(in), ContainsSubstring("oven: ") &&
                                   ContainsSubstring("the working window is zero seconds") &&
                                   ContainsSubstring("heat.chill"));
    in = usual();
    in.least_clearance = 60e-6;
    CHECK_THROWS_WITH(run(in), ContainsSubstring("the working window is zero seconds"));
    in = usual();
    in.oven = 600.0;
    CHECK_THROWS_WITH(run(in),
                      ContainsSubstring("oven: 600 degC is outside the temperature range"));
    in = usual();
    in.interference = -100e-6;
    in.shaft.seat = in.ring.bore;
    in.oven = 15.0;
    CHECK_THROWS_WITH(run(in), ContainsSubstring("oven: 15 degC is not above the room"));
    in = usual();
    in.interference = -5e-6;
    in.shaft.seat = in.ring.bore;
    CHECK_THROWS_WITH(run(in), ContainsSubstring("interference: -5") &&
                                   ContainsSubstring("the ring never grabs"));
    const auto no_data = cases::even_metal(200e9, 12e-6, 0.3).numbers;
    CHECK_THROWS_WITH(slip_on(usual(), cases::metal("4340"), no_data),
                      ContainsSubstring("ring.material: 0 W/m/K of conductivity"));
}

TEST_CASE("derivatives of the times are those of differences", "[slip_on][derivatives]") {
    auto in = usual();
    in.tolerance = 1e-6;
    in.cells = 40.0;
    in.shaft_temperature = 22.0;
    heat_cases::compare_slopes("heat.slip_on", in, {"4340", "52100"},
                               {"oven_setting", "start_clearance", "window", "window_low", "grab",
                                "ring_at_touch", "shaft_at_touch", "time_to_room"});
}

TEST_CASE("a batch on threads is every sample alone, and names the one that fails", "[slip_on]") {
    heat_cases::compare_batch<SlipOnOutputs<double>>("heat.slip_on", usual(), {"4340", "52100"},
                                                     [](SlipOnInputs<double>& in, double x) {
                                                         in.carry_time = 20.0 * x;
                                                         in.slip_clearance = 40e-6 + 20e-6 * x;
                                                     });
}
