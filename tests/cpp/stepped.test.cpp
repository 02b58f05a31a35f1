// Stepped rings: slices of one wall. Finite elements are in tests/reference/rings.toml.
#include "cases.hpp"
#include "catch.hpp"

#include <cmath>
#include <fitwright/fields/error.hpp>
#include <fitwright/rings/stepped.hpp>

using namespace fitwright;
using namespace fitwright::rings;

namespace {

const materials::Material& shaft_metal = cases::metal("4340");
const materials::Material& ring_metal = cases::metal("52100");

SteppedInputs<double> stepped_of(double interference) {
    auto in = fields::standard_inputs<SteppedInputs>();
    in.shaft.seat = in.ring.bore = 0.080;
    in.shaft.bore = 0.040;
    in.interference = interference;
    return in;
}
std::string refusal(const SteppedInputs<double>& in, int slices) {
    try {
        stepped(in, slices, shaft_metal, ring_metal);
    } catch (const DomainError& error) {
        return error.what();
    }
    return "";
}

} // namespace

TEST_CASE("slices of one outside are one ring", "[stepped]") {
    auto in = stepped_of(60e-6);
    in.speed = 900.0;
    in.ring_temperature = 45.0;
    in.axial_force = 20e3;
    in.slice1 = {0.11, 0.010, HUGE_VAL, HUGE_VAL, HUGE_VAL, HUGE_VAL, HUGE_VAL};
    in.slice2 = {0.11, 0.015, HUGE_VAL, HUGE_VAL, HUGE_VAL, HUGE_VAL, HUGE_VAL};
    in.slice3 = {0.11, 0.005, HUGE_VAL, HUGE_VAL, HUGE_VAL, HUGE_VAL, HUGE_VAL};
    auto one = fields::standard_inputs<FitInputs>();
    one.shaft = in.shaft;
    one.ring.bore = 0.08;
    one.ring.outside = 0.11;
    one.ring.length = 0.03;
    one.interference = 60e-6;
    one.speed = in.speed;
    one.ring_temperature = in.ring_temperature;
    one.axial_force = in.axial_force;
    const auto whole = fit(one, shaft_metal, ring_metal);
    const auto out = stepped(in, 3, shaft_metal, ring_metal);
    CHECK(out.pressure == Approx(whole.pressure).epsilon(1e-12));
    CHECK(out.holding_force == Approx(whole.holding_force).epsilon(1e-12));
    CHECK(out.torque_capacity == Approx(whole.torque_capacity).epsilon(1e-12));
    CHECK(out.ring_lengthening == Approx(0.03 * whole.ring_strain).epsilon(1e-12));
    CHECK(out.shaft_lengthening == Approx(0.03 * whole.shaft_strain).epsilon(1e-12));
    CHECK(out.loss_speed == Approx(whole.loss_speed).epsilon(1e-12));
    CHECK(out.slice2.outside_growth == Approx(whole.outside_growth).epsilon(1e-12));
    CHECK(out.slice4.pressure == 0.0);
}

TEST_CASE("steps in seat, bore and shaft bore belong to their slice", "[stepped]") {
    auto in = stepped_of(HUGE_VAL);
    in.slice1 = {0.12, 0.020, HUGE_VAL, HUGE_VAL, HUGE_VAL, HUGE_VAL, HUGE_VAL};
    in.slice2 = {0.12, 0.020, 0.025, 0.015, 0.07004, 0.070, 0.0}; // a gap of 5 mm before it
    in.shaft.seat = 0.08006;
    const auto out = stepped(in, 2, shaft_metal, ring_metal);
    CHECK(out.slice1.interference_left == Approx(60e-6).epsilon(1e-9));
    CHECK(out.slice2.interference_left == Approx(40e-6).epsilon(1e-9));
    CHECK(out.slice2.shaft_bore_growth == 0.0);
    CHECK(out.holding_force ==
          Approx(out.slice1.holding_force + out.slice2.holding_force).epsilon(1e-13));
    CHECK(out.slice2.holding_force ==
          Approx(0.12 * out.slice2.pressure * fields::pi * 0.07004 * 0.015).epsilon(1e-12));

    // The second alone, in contact all along, is a fit.
    in.slice1 = in.slice2;
    in.slice1.start = HUGE_VAL;
    in.slice1.contact_length = 0.02;
    auto second = fields::standard_inputs<FitInputs>();
    second.shaft.seat = 0.07004;
    second.ring.bore = 0.070;
    second.ring.outside = 0.12;
    second.ring.length = 0.02;
    CHECK(stepped(in, 1, shaft_metal, ring_metal).pressure ==
          Approx(fit(second, shaft_metal, ring_metal).pressure).epsilon(1e-11));
}

TEST_CASE("a stepped ring: the wall makes the movements of its slices one", "[stepped]") {
    auto in = stepped_of(60e-6);
    in.slice1 = {0.12, 0.015, HUGE_VAL, HUGE_VAL, HUGE_VAL, HUGE_VAL, HUGE_VAL};
    in.slice2 = {0.10, 0.025, HUGE_VAL, HUGE_VAL, HUGE_VAL, HUGE_VAL, HUGE_VAL};
    const auto pair = stepped(in, 2, shaft_metal, ring_metal);
    const auto alone = [&](double outside) {
        auto one = in;
        one.slice1.outside = outside;
        return stepped(one, 1, shaft_metal, ring_metal).slice1;
    };
    // The stiff slice gives some of its pressure to the soft one, and holds its wall back.
    CHECK(pair.slice1.pressure < alone(0.12).pressure);
    CHECK(pair.slice2.pressure > alone(0.10).pressure);
    CHECK(pair.slice1.outside_growth > alone(0.12).outside_growth);
    CHECK(pair.slice2.outside_growth < alone(0.10).outside_growth);
    CHECK(pair.slice1.ring_hoop > alone(0.12).ring_hoop);
    // Cut finer it is the same: elements and means converge.
    auto fine = in;
    fine.slice1.length = 0.0075;
    fine.slice2 = fine.slice1;
    fine.slice3 = in.slice2;
    fine.slice3.length = 0.0125;
    fine.slice4 = fine.slice3;
    const auto cut = stepped(fine, 4, shaft_metal, ring_metal);
    CHECK(cut.pressure == Approx(pair.pressure).epsilon(1e-4));
    CHECK(0.5 * (cut.slice3.pressure + cut.slice4.pressure) ==
          Approx(pair.slice2.pressure).epsilon(1e-3));
    // A wall far away is hardly felt (slices of 0.5 m, elements far longer than the wall's bend).
    in.slice1.length = in.slice2.length = 0.5;
    const auto apart = stepped(in, 2, shaft_metal, ring_metal);
    CHECK(apart.slice1.pressure == Approx(alone(0.12).pressure).epsilon(1e-2));
    // A slice that hangs over is dragged along and carries nothing.
    in.slice1.length = 0.015;
    in.slice2.length = 0.025;
    in.slice2.contact_length = 0.0;
    const auto hanging = stepped(in, 2, shaft_metal, ring_metal);
    CHECK(hanging.slice2.pressure == 0.0);
    CHECK(hanging.slice2.outside_growth > 1e-6);
    // Fast, the heavy slice lets go, and its gap is what is missing.
    in.slice2.contact_length = HUGE_VAL;
    const auto lost = [&](double outside) {
        auto one = in;
        one.slice1.outside = outside;
        return stepped(one, 1, shaft_metal, ring_metal).loss_speed;
    };
    REQUIRE(lost(0.12) < lost(0.10));
    in.speed = 0.3 * lost(0.12) + 0.7 * lost(0.10);
    const auto fast = stepped(in, 2, shaft_metal, ring_metal);
    CHECK(fast.slice1.pressure == 0.0);
    CHECK(fast.slice1.gap > 0.0);
    CHECK(fast.slice2.gap == 0.0);
}

TEST_CASE("slices that make no sense are refused", "[stepped][bad]") {
    auto in = stepped_of(60e-6);
    in.slice1 = {0.12, 0.015, HUGE_VAL, HUGE_VAL, HUGE_VAL, HUGE_VAL, HUGE_VAL};
    in.slice2 = {0.10, 0.025, HUGE_VAL, HUGE_VAL, HUGE_VAL, HUGE_VAL, HUGE_VAL};
    CHECK(refusal(in, 2).empty());
    in.slice2.start = 0.012;
    CHECK_THAT(refusal(in, 2), ContainsSubstring("slice2.start: 12 mm lies before the end") &&
                                   ContainsSubstring("slices must not overlap"));
    in.slice2.start = 0.015;
    CHECK(refusal(in, 2).empty());
    in.slice2.outside = 0.079;
    CHECK_THAT(refusal(in, 2), ContainsSubstring("slice2.outside: 79 mm must be larger than the "
                                                 "seat"));
    CHECK_THAT(refusal(in, 3), ContainsSubstring("slice2.outside"));
    in.slice2.outside = 0.1;
    CHECK_THAT(refusal(in, 3), ContainsSubstring("slice3.outside: ") &&
                                   ContainsSubstring("must be given for every slice"));
    in.slice1.contact_length = in.slice2.contact_length = 0.0;
    CHECK_THAT(refusal(in, 2), ContainsSubstring("at least one slice must touch"));
    CHECK_THAT(refusal(in, 9), ContainsSubstring("1 to 8 slices, not 9"));
    in = stepped_of(60e-6);
    in.slice1 = {0.12, 0.015, HUGE_VAL, HUGE_VAL, 0.0801, HUGE_VAL, HUGE_VAL};
    CHECK_THAT(refusal(in, 1),
               ContainsSubstring("slice1.seat: 100 um as seat minus bore of this slice "
                                 "disagrees"));
}
