// Ring limit and shaft chill together, and taking a ring off again.
#include "cases.hpp"
#include "catch.hpp"

#include <cmath>
#include <fitwright/heat/chill.hpp>
#include <fitwright/heat/oven.hpp>
#include <fitwright/heat/take_off.hpp>
#include <fitwright/rings/fit.hpp>

using namespace fitwright;
using namespace fitwright::heat;

namespace {

const materials::Entry even = cases::even_metal(205e9, 12e-6, 0.3);

ChillInputs<double> tight() {
    auto in = fields::standard_inputs<ChillInputs>();
    in.shaft.seat = 0.080;
    in.ring.bore = 0.080;
    in.ring.outside = 0.105;
    in.ring.length = 0.030;
    in.interference = 90e-6;
    in.slip_clearance = 40e-6;
    return in;
}
ChillOutputs<double> run(const ChillInputs<double>& in) {
    return chill(in, cases::metal("4340"), cases::metal("52100"));
}

TakeOffInputs<double> on_seat() {
    auto in = fields::standard_inputs<TakeOffInputs>();
    in.shaft.bore = 0.030;
    in.shaft.seat = 0.080;
    in.ring.bore = 0.080;
    in.ring.outside = 0.105;
    in.ring.length = 0.030;
    in.interference = 38e-6;
    return in;
}
TakeOffOutputs<double> off(const TakeOffInputs<double>& in) {
    return take_off(in, even.numbers, even.numbers);
}

} // namespace

TEST_CASE("with an even coefficient the chill is what the ring lacks", "[chill]") {
    auto in = tight();
    in.heating_limit = 120.0;
    const auto out = chill(in, even.numbers, even.numbers);
    // bore 12e-6 100 = 95.9 um; seat must give the other 34.1 um
    const double lacks = 130e-6 - 12e-6 * (0.080 - 90e-6) * 100.0;
    CHECK(out.ring_temperature == 120.0);
    CHECK(out.shaft_needed == Approx(20.0 - lacks / (12e-6 * 0.080)).epsilon(1e-9));
    CHECK(out.chill == Approx(20.0 - out.shaft_needed));
    CHECK(out.chill_margin == Approx(out.shaft_needed + 100.0)); // data end at -100 degC
    CHECK(out.opening_at_limit == Approx(40e-6 - lacks).margin(1e-12));
    CHECK(out.dry_ice_margin == Approx(12e-6 * 0.080 * 98.5 - lacks).margin(1e-12));
    // Nitrogen is beyond the data: the end of them stands.
    CHECK(out.nitrogen_margin == Approx(12e-6 * 0.080 * 120.0 - lacks).margin(1e-12));
}

TEST_CASE("a ring that opens alone needs no chill; oven and chill agree where they meet",
          "[chill]") {
    auto in = tight();
    in.interference = 20e-6;
    const auto easy = run(in);
    CHECK(easy.chill == 0.0);
    CHECK(easy.ring_temperature < cases::metal("52100").heating_limit);
    // The oven, asked with the shaft that cold, needs just the limit.
    const auto out = run(tight());
    auto oven_in = fields::standard_inputs<OvenInputs>();
    oven_in.shaft = tight().shaft;
    oven_in.ring = tight().ring;
    oven_in.interference = 90e-6;
    oven_in.slip_clearance = 40e-6;
    oven_in.shaft_temperature = out.shaft_needed;
    CHECK(oven(oven_in, cases::metal("4340"), cases::metal("52100")).oven_needed ==
          Approx(out.ring_temperature).epsilon(1e-9));
}

TEST_CASE("the library's cold metals against the polynomial of cold assembly",
          "[chill][reference]") {
    // T3-07, NIST cryogenic fits (coefficients recalled, from memory): 304 contracts by 146.2e-5 to
    // 195 K from 293 K. A 100 mm 304 shaft in dry ice lets in what that gives.
    auto in = tight();
    in.shaft.seat = 0.1;
    in.ring.bore = 0.1;
    in.ring.outside = 0.14;
    in.interference = 100e-6;
    in.slip_clearance = 0.0;
    in.heating_limit = 20.0;
    const auto out = chill(in, cases::metal("304"), cases::metal("52100"));
    CHECK(out.dry_ice_margin + 100e-6 == Approx(146.2e-6).epsilon(0.06));
}

TEST_CASE("a fit that nothing opens, and a chill the data do not reach", "[chill][bad]") {
    auto in = tight();
    in.interference = 500e-6;
    CHECK_THROWS_WITH(run(in), ContainsSubstring("shaft_temperature: ") &&
                                   ContainsSubstring("of clearance is missing") &&
                                   ContainsSubstring("smaller interference"));
    in = tight();
    in.shaft_lowest = -270.0;
    CHECK_THROWS_WITH(run(in), ContainsSubstring("shaft_lowest: -270 degC is below what"));
    in = tight();
    in.heating_limit = 1900.0;
    CHECK_THROWS_WITH(run(in), ContainsSubstring("ring"));
}

TEST_CASE("off again: the difference that frees, the force that pulls", "[take_off]") {
    const auto out = off(on_seat());
    CHECK(out.difference_loose == Approx(38e-6 / (12e-6 * (0.080 - 38e-6))).epsilon(1e-9));
    CHECK(out.difference_free == Approx(78e-6 / (12e-6 * (0.080 - 38e-6))).epsilon(1e-9));
    // Pressure and holding force are those of the fit.
    auto fit_in = fields::standard_inputs<rings::FitInputs>();
    fit_in.shaft = on_seat().shaft;
    fit_in.ring = on_seat().ring;
    fit_in.interference = 38e-6;
    const auto fit = rings::fit(fit_in, even.numbers, even.numbers);
    CHECK(out.cold_pressure == Approx(fit.pressure));
    CHECK(out.cold_pull_low == Approx(fit.holding_force * 1.0));
    CHECK(out.cold_pull_high == Approx(fit.holding_force * 0.20 / 0.12 * 2.5));
    CHECK(out.warm_pull == out.cold_pull);
    // Half the way to loose: half the force; all the way: none, and it opens.
    auto in = on_seat();
    in.difference = 0.5 * out.difference_loose;
    CHECK(off(in).warm_pull == Approx(0.5 * out.cold_pull).epsilon(1e-3));
    in.difference = out.difference_free;
    CHECK(off(in).warm_pull == 0.0);
    CHECK(off(in).opening == Approx(40e-6).epsilon(1e-6));
    // The peaks that were pressed flat do not come back.
    in = on_seat();
    in.shaft.roughness = in.ring.roughness = 4e-6;
    CHECK(off(in).difference_loose == Approx((38e-6 - 6.4e-6) / (12e-6 * 0.0799684)).epsilon(1e-6));
}

TEST_CASE("taking off within the range of the data", "[take_off][bad]") {
    auto in = on_seat();
    in.difference = 900.0;
    CHECK_THROWS_WITH(off(in), ContainsSubstring("temperature range of the material data"));
    in = on_seat();
    in.ring.contact_length = 0.05;
    CHECK_THROWS_WITH(off(in), ContainsSubstring("ring.contact_length: 50 mm must not exceed"));
}
