// The oven: what it must open, and what it may not do.
#include "cases.hpp"
#include "catch.hpp"

#include <cmath>
#include <fitwright/fields/error.hpp>

using namespace fitwright;
using namespace fitwright::heat;

namespace {

const materials::Entry even = cases::even_metal(205e9, 12e-6, 0.3);

OvenOutputs<double> run(const OvenInputs<double>& in) {
    return oven(in, cases::metal("4340"), cases::metal("52100"));
}

} // namespace

TEST_CASE("with an even coefficient: t = 20 + (interference + slip)/(alpha bore)", "[oven]") {
    auto in = cases::oven();
    in.slip_clearance = 50e-6;
    const auto out = oven(in, even.numbers, even.numbers);
    CHECK(out.oven_needed == Approx(20.0 + (38e-6 + 50e-6) / (12e-6 * 0.080)).epsilon(1e-12));
    CHECK(out.opening == Approx(50e-6).epsilon(1e-9));
    CHECK(out.opening_margin == Approx(0.0).margin(1e-15));
    // A shaft 10 K above 20 degC must be caught up with.
    in.shaft_temperature = 30.0;
    const double more = oven(in, even.numbers, even.numbers).oven_needed - out.oven_needed;
    CHECK(more == Approx(10.0 * 0.080038 / 0.080).epsilon(1e-9));
}

TEST_CASE("at the temperature needed the bore clears the seat by the slip clearance", "[oven]") {
    const auto& ring = cases::metal("52100");
    for (const double slip : {0.0, 30e-6, 120e-6}) {
        auto in = cases::oven();
        in.slip_clearance = slip;
        const double t = run(in).oven_needed;
        const double bore = 0.080 * (1.0 + materials::at(ring.expansion, t) * (t - 20.0));
        CHECK(bore - 0.080038 == Approx(slip).margin(1e-12));
    }
    // Left out, the slip clearance is the larger of 30 um and half a thousandth (common practice).
    auto in = cases::oven();
    in.oven = 140.0;
    CHECK(run(in).opening - run(in).opening_margin == Approx(0.0005 * 0.080038));
    in.shaft.seat = 0.040;
    in.ring.bore = 0.03998;
    CHECK(run(in).opening - run(in).opening_margin == Approx(30e-6));
}

TEST_CASE("margins: the limit less what is needed, and less what is set", "[oven]") {
    auto in = cases::oven();
    in.oven = 110.0;
    in.heating_limit = 120.0;
    const auto out = run(in);
    CHECK(out.setting_margin == Approx(10.0));
    CHECK(out.oven_margin == Approx(120.0 - out.oven_needed));
    in.heating_limit = std::numeric_limits<double>::infinity();
    CHECK(run(in).setting_margin == Approx(cases::metal("52100").heating_limit - 110.0));
}

TEST_CASE("an oven that cannot be is refused", "[oven][bad]") {
    auto in = cases::oven();
    in.oven = 1500.0;
    CHECK_THROWS_WITH(run(in),
                      ContainsSubstring("oven: 1500 degC is outside the temperature range"));
    in = cases::oven();
    in.shaft_temperature = 1500.0;
    CHECK_THROWS_WITH(run(in), ContainsSubstring("shaft_temperature: 1500 degC is outside"));
    in = cases::oven();
    in.interference = 50e-6;
    CHECK_THROWS_WITH(run(in), ContainsSubstring("disagrees with seat minus bore"));
}
