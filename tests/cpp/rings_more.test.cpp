// Stepped rings, hot rings, slip and end effect of a seat. What finite elements give is checked in
// tests/reference/rings_fe.toml.
#include "cases.hpp"
#include "catch.hpp"

#include <cmath>
#include <fitwright/fields/error.hpp>
#include <fitwright/rings/hot_ring.hpp>
#include <fitwright/rings/nest.hpp>
#include <fitwright/rings/overhang.hpp>
#include <fitwright/rings/slip.hpp>
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

TEST_CASE("a hot ring: Timoshenko's disc and cylinder", "[hot_ring]") {
    // Theory of Elasticity, ch. 13. Logarithmic profile, dT the bore less the outside:
    // radial = E alpha dT/(2 (1 - nu) ln(b/a)) [-ln(b/r) - a^2/(b^2 - a^2) (1 - b^2/r^2) ln(b/a)],
    // hoop the same with 1 - ln(b/r) - a^2/(b^2 - a^2) (1 + b^2/r^2) ln(b/a), long; thin without
    // 1 - nu.
    const auto even = cases::even_metal(200e9, 12e-6, 0.3);
    const double a = 0.03, b = 0.05, drop = 60.0;
    auto in = fields::standard_inputs<HotRingInputs>();
    in.bore = 2 * a;
    in.outside = 2 * b;
    in.bore_temperature = 20.0 + drop;
    in.outside_temperature = 20.0;
    const double l = std::log(b / a);
    for (const double r : {a, 0.037, 0.045, b}) {
        in.radius = r;
        CAPTURE(r);
        const auto tube = hot_ring(in, even.numbers, false, true);
        const auto disc = hot_ring(in, even.numbers, false, false);
        const double unit = 200e9 * 12e-6 * drop / (2.0 * 0.7 * l);
        const double share = a * a / (b * b - a * a) * l;
        const double radial = unit * (-std::log(b / r) - share * (1.0 - b * b / (r * r)));
        const double hoop = unit * (1.0 - std::log(b / r) - share * (1.0 + b * b / (r * r)));
        const double axial = unit * (1.0 - 2.0 * std::log(b / r) - 2.0 * share);
        CHECK(tube.radial_stress == Approx(radial).epsilon(1e-9).margin(10.0));
        CHECK(tube.hoop_stress == Approx(hoop).epsilon(1e-9));
        CHECK(tube.long_stress == Approx(axial).epsilon(1e-9));
        CHECK(disc.radial_stress == Approx(0.7 * radial).epsilon(1e-9).margin(10.0));
        CHECK(disc.hoop_stress == Approx(0.7 * hoop).epsilon(1e-9));
        CHECK(disc.long_stress == 0.0);
    }
    // A solid disc with a linear profile, hot by dT at the rim: at the centre both stresses are
    // E alpha (mean - there)/2, the mean is 2/3 dT.
    in.bore = 0.0;
    in.radius = 0.0;
    in.bore_temperature = 20.0;
    in.outside_temperature = 80.0;
    const auto centre = hot_ring(in, even.numbers, true);
    CHECK(centre.mean_temperature == Approx(20.0 + 40.0));
    CHECK(centre.hoop_stress == Approx(0.5 * 200e9 * 12e-6 * 40.0).epsilon(1e-12));
    CHECK(centre.radial_stress == Approx(centre.hoop_stress).epsilon(1e-12));
    in.radius = b;
    CHECK(hot_ring(in, even.numbers, true).hoop_stress ==
          Approx(200e9 * 12e-6 * -20.0).epsilon(1e-12));
    CHECK_THROWS_WITH(hot_ring(in, even.numbers),
                      ContainsSubstring("bore: 0 mm must be above 0 for a logarithmic profile"));
    in.outside_temperature = 900.0;
    CHECK_THROWS_WITH(hot_ring(in, even.numbers, true),
                      ContainsSubstring("outside_temperature: 900 degC is outside the"));
}

TEST_CASE("both faces of a hot ring move by the mean, thin or long, and cells say the same",
          "[hot_ring]") {
    auto in = fields::standard_inputs<HotRingInputs>();
    in.bore = 0.06;
    in.outside = 0.14;
    in.bore_temperature = 40.0;
    in.outside_temperature = 160.0;
    // Cells of a real metal, expansion with temperature: the midpoint rule, second order.
    constexpr int count = 400;
    std::vector<double> edges;
    std::vector<double> temperatures;
    for (int k = 0; k <= count; ++k)
        edges.push_back(0.03 + 0.04 * k / count);
    for (int k = 0; k < count; ++k)
        temperatures.push_back(40.0 + 120.0 * (k + 0.5) / count);
    const CellProfile cells = cell_profile(ring_metal, edges, temperatures);
    for (const bool is_long : {false, true}) {
        for (const double r : {0.03, 0.07}) {
            in.radius = r;
            const auto out = hot_ring(in, ring_metal, true, is_long);
            CHECK(out.growth == Approx(2.0 * r * out.strain).epsilon(1e-9));
            CHECK(out.radial_stress == Approx(0.0).margin(100.0));
            CHECK(out.mean_temperature == Approx(cells.mean_temperature).epsilon(1e-6));
            // The expansion table has a kink between its points: 1e-5 by ten points of Gauss.
            CHECK(out.strain == Approx(cells.mean_strain).epsilon(2e-5));
            if (!is_long)
                CHECK(face_stress(ring_metal, cells, r < 0.05 ? 40.0 : 160.0) ==
                      Approx(out.hoop_stress).epsilon(1e-4));
        }
    }
    // A nest of one layer with the same mean and faces feels the same.
    auto nested = fields::standard_inputs<NestInputs>();
    nested.layer1.bore = 0.06;
    nested.layer1.outside = 0.14;
    nested.layer1.temperature = cells.mean_temperature;
    nested.layer1.bore_temperature = 40.0;
    nested.layer1.outside_temperature = 160.0;
    in.radius = 0.03;
    // The mean of alpha_m (T - 20) is not that of the mean temperature: 1 %.
    CHECK(nest(nested, {&ring_metal}).layer1.bore_hoop ==
          Approx(hot_ring(in, ring_metal, true).hoop_stress).epsilon(0.02));
    CHECK_THROWS_WITH(cell_profile(ring_metal, edges, {temperatures.data(), 7}),
                      ContainsSubstring("7 cells need one edge more, not 401"));
    std::swap(edges[3], edges[4]);
    CHECK_THROWS_WITH(cell_profile(ring_metal, edges, temperatures),
                      ContainsSubstring("edge 5 of the cells is not above"));
}

TEST_CASE("slip: torque and thrust together, and what is locked", "[slip]") {
    auto in = fields::standard_inputs<SlipInputs>();
    in.shaft.seat = in.ring.bore = 0.08;
    in.ring.outside = 0.12;
    in.ring.length = 0.04;
    in.pressure = 50e6;
    in.torque = 1200.0; // 30 kN round the seat
    in.thrust = 40e3;
    in.locked_force = -20e3;
    const auto out = slip(in, shaft_metal, ring_metal);
    CHECK(out.tangential == Approx(50e3));
    CHECK(out.capacity == Approx(0.12 * 50e6 * fields::pi * 0.08 * 0.04));
    CHECK(out.slip_use == Approx(50e3 / out.capacity));
    CHECK(out.locked_tangential == Approx(std::hypot(60e3, 30e3)));
    CHECK(out.micro_slip_use > out.slip_use);

    // A ring so stiff that the shaft cannot twist inside: all torque goes over within the slip
    // length, T/(mu p pi d^2/2). And slip and length go as T^2 and T.
    in.ring.outside = 2.0;
    const auto stiff = slip(in, shaft_metal, ring_metal);
    const double per_length = 0.12 * 50e6 * fields::pi * 0.08 * 0.08 / 2.0;
    CHECK(stiff.torsion_slip_length == Approx(1200.0 / per_length).epsilon(1e-4));
    const double shear = materials::at(shaft_metal.modulus, 20.0) / 2.0 / (1 + shaft_metal.poisson);
    const double twist = 1200.0 / (shear * fields::pi / 32.0 * std::pow(0.08, 4));
    CHECK(stiff.torsion_slip == Approx(0.04 * twist * stiff.torsion_slip_length / 2.0));
    in.torque *= 2.0;
    CHECK(slip(in, shaft_metal, ring_metal).torsion_slip == Approx(4.0 * stiff.torsion_slip));
    CHECK(stiff.bending_slip == 0.0);
    // Bending: strain at the surface M/(E W), friction moment per length mu p pi r^2.
    in.bending_moment = 1500.0;
    const auto bent = slip(in, shaft_metal, ring_metal);
    const double strain =
        1500.0 / (materials::at(shaft_metal.modulus, 20.0) * fields::pi / 32.0 * std::pow(0.08, 3));
    CHECK(bent.bending_slip_length ==
          Approx(1500.0 / (0.12 * 50e6 * fields::pi * 0.04 * 0.04)).epsilon(1e-4));
    CHECK(bent.bending_slip == Approx(strain * bent.bending_slip_length / 2.0));
    CHECK(bent.edge_slip == Approx(std::hypot(bent.torsion_slip, bent.bending_slip)));
    in.ring.friction_low = 0.0;
    CHECK_THROWS_WITH(slip(in, shaft_metal, ring_metal),
                      ContainsSubstring("ring.friction_low: 0 must be above 0"));
}

TEST_CASE("end effect: none among its like, refused where it has not been measured",
          "[overhang][bad]") {
    auto in = fields::standard_inputs<OverhangInputs>();
    in.shaft.seat = in.ring.bore = 0.08;
    in.shaft.bore = 0.03;
    in.ring.outside = 0.11;
    in.ring.length = 0.03;
    in.interference = 60e-6;
    in.speed = 800.0;
    in.axial_force = 25e3;
    in.overhang = 0.0;
    auto plain = fields::standard_inputs<FitInputs>();
    plain.shaft = in.shaft;
    plain.ring = in.ring;
    plain.interference = in.interference;
    plain.speed = in.speed;
    plain.axial_force = in.axial_force;
    const auto lame = fit(plain, shaft_metal, ring_metal);
    auto out = overhang(in, shaft_metal, ring_metal);
    CHECK(out.pressure == lame.pressure);
    CHECK(out.ring_hoop == lame.ring_hoop);
    CHECK(out.ring_von_mises == Approx(lame.ring_von_mises).epsilon(1e-12));
    CHECK(out.outside_growth == lame.outside_growth);
    in.overhang = 1.0;
    out = overhang(in, shaft_metal, ring_metal);
    CHECK(out.factor > 1.05);
    CHECK(out.holding_force == Approx(lame.holding_force * out.factor));
    CHECK(out.outside_growth > lame.outside_growth);
    CHECK(out.ring_von_mises > lame.ring_von_mises);
    in.ring.length = 0.009;
    CHECK_THROWS_WITH(overhang(in, shaft_metal, ring_metal),
                      ContainsSubstring("ring.contact_length: 9 mm is below an eighth"));
}
