// Slip at a seat and the end effect of a short ring. Finite elements are in tests/reference/rings.toml.
#include "cases.hpp"
#include "catch.hpp"

#include <cmath>
#include <fitwright/fields/error.hpp>
#include <fitwright/rings/overhang.hpp>
#include <fitwright/rings/slip.hpp>

using namespace fitwright;
using namespace fitwright::rings;

namespace {

const materials::Material& shaft_metal = cases::metal("4340");
const materials::Material& ring_metal = cases::metal("52100");

} // namespace

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
