// Seals: the clearance that is left, against the models it is made of and against hand sums.
#include "cases.hpp"
#include "catch.hpp"

#include <cmath>
#include <fitwright/fields/error.hpp>
#include <fitwright/rings/fit.hpp>
#include <fitwright/rings/seal.hpp>
#include <fitwright/rings/thick_ring.hpp>
#include <functional>

using namespace fitwright;
using namespace fitwright::rings;

namespace {

double um(double metres) { return metres * 1e6; }

std::string message(const std::function<void()>& call) {
    try {
        call();
    } catch (const DomainError& error) {
        return error.what();
    }
    return "";
}

SealInputs<double> example() {
    auto in = fields::standard_inputs<SealInputs>();
    in.rotor.bore = 0.080;
    in.rotor.outside = 0.105;
    in.rotor.fit_pressure = 20e6;
    in.rotor.built_pressure = 36e6;
    in.rotor.temperature = 85.0;
    in.stator.diameter = 0.1054;
    in.stator.temperature = 70.0;
    in.speed = 1150.0;
    return in;
}

SealOutputs<double> run(const SealInputs<double>& in, bool at_bore = false) {
    return seal(in, cases::metal("4340"), cases::metal("grey_iron"), at_bore);
}

} // namespace

// The growth of a loaded ring is that of rings.thick_ring, written there by hoop strain and here by
// the closed form of a free face.
TEST_CASE("the surface of a seal moves as a thick ring does, outside and bore") {
    const SealInputs<double> in = example();
    auto ring = fields::standard_inputs<ThickRingInputs>();
    ring.bore = in.rotor.bore;
    ring.outside = in.rotor.outside;
    ring.inner_pressure = in.rotor.fit_pressure;
    ring.speed = in.speed;
    ring.temperature = in.rotor.temperature;
    ring.axial_stress = -15e6;
    ring.radius = in.rotor.outside / 2;
    SealInputs<double> loaded = in;
    loaded.rotor.axial_stress = -15e6;
    CHECK(run(loaded).rotor_growth ==
          Approx(thick_ring(ring, cases::metal("4340")).growth).epsilon(1e-10));

    // A ring shrunk into the rotor: pressure outside, the bore seals.
    ring.inner_pressure = 0.0;
    ring.outer_pressure = in.rotor.fit_pressure;
    ring.radius = in.rotor.bore / 2;
    loaded.stator.diameter = 0.0797;
    CHECK(run(loaded, true).rotor_growth ==
          Approx(thick_ring(ring, cases::metal("4340")).growth).epsilon(1e-10));
}

// rings.fit tells pressure and outside growth of a ring on a shaft: fed with that pressure the seal
// must find the same growth.
TEST_CASE("a seal on a ring of a fit moves by the outside growth of the fit") {
    const FitInputs<double> fit_in = cases::fit();
    const FitOutputs<double> held = fit(fit_in, cases::metal("4340"), cases::metal("52100"));
    auto in = fields::standard_inputs<SealInputs>();
    in.rotor.bore = fit_in.ring.bore;
    in.rotor.outside = fit_in.ring.outside;
    in.rotor.fit_pressure = held.pressure;
    in.rotor.axial_stress =
        -fit_in.axial_force /
        (fields::pi / 4 * (std::pow(fit_in.ring.outside, 2) - std::pow(fit_in.ring.bore, 2)));
    in.rotor.temperature = fit_in.ring_temperature;
    in.speed = fit_in.speed;
    in.stator.diameter = 0.1056;
    const auto out = seal(in, cases::metal("52100"), cases::metal("304"));
    CHECK(out.rotor_growth == Approx(held.outside_growth).epsilon(1e-10));
    CHECK(out.clearance == Approx(0.1056 - 0.105 - held.outside_growth).epsilon(1e-10));
}

// By hand, plain numbers: a solid disc of 200 mm, E 200 GPa, nu 0.3, rho 7800, 12e-6/K, at 500 rad/s and
// 70 degC in a bore of 200.5 mm of the same metal at 45 degC.
TEST_CASE("a solid spinning disc in a cooler bore by hand") {
    const materials::Entry metal = cases::even_metal(200e9, 12e-6, 0.3);
    auto in = fields::standard_inputs<SealInputs>();
    in.rotor.outside = 0.2;
    in.rotor.temperature = 70.0;
    in.stator.diameter = 0.2005;
    in.stator.temperature = 45.0;
    in.speed = 500.0;
    in.offset = 30e-6;
    in.touch_clearance = 20e-6;
    const auto out = seal(in, metal.numbers, metal.numbers);
    const double spin =
        7850.0 * 500.0 * 500.0 * 0.7 / 4.0 * 0.01 / 200e9 * 0.2; // (1-nu) rho w2 b2/4E
    const double growth = 0.2 * 12e-6 * 50.0 + spin;
    CHECK(um(out.built_clearance) == Approx(500.0));
    CHECK(out.rotor_growth == Approx(growth).epsilon(1e-12));
    CHECK(out.stator_growth == Approx(0.2005 * 12e-6 * 25.0).epsilon(1e-12));
    CHECK(out.clearance == Approx(500e-6 - growth + 0.2005 * 12e-6 * 25.0).epsilon(1e-9));
    CHECK(out.closing == Approx(out.built_clearance - out.clearance).epsilon(1e-12));
    CHECK(out.least_radial == Approx(out.clearance / 2 - 30e-6).epsilon(1e-12));
    CHECK(out.touch_margin == Approx(out.least_radial - 20e-6).epsilon(1e-12));
}

// Laws: one metal at one temperature keeps the ratio of the clearance; a seal round a stator closes
// where the one inside opens.
TEST_CASE("one metal at one temperature grows all round") {
    const materials::Entry metal = cases::even_metal(200e9, 12e-6, 0.3);
    auto in = fields::standard_inputs<SealInputs>();
    in.rotor.outside = 0.2;
    in.rotor.bore = 0.1;
    in.rotor.temperature = in.stator.temperature = 120.0;
    in.stator.diameter = 0.2005;
    const auto outside = seal(in, metal.numbers, metal.numbers);
    CHECK(outside.clearance ==
          Approx(outside.built_clearance * (1.0 + 12e-6 * 100.0)).epsilon(1e-9));
    in.stator.diameter = 0.0995;
    const auto bore = seal(in, metal.numbers, metal.numbers, true);
    CHECK(bore.built_clearance == Approx(500e-6).epsilon(1e-9));
    CHECK(bore.clearance == Approx(bore.built_clearance * (1.0 + 12e-6 * 100.0)).epsilon(1e-9));
    in.rotor.temperature = 150.0; // the ring outside the stator opens
    CHECK(seal(in, metal.numbers, metal.numbers, true).clearance > bore.clearance);
}

TEST_CASE("the fit has closed a seal before it runs") {
    SealInputs<double> in = example();
    const auto tight = run(in);
    in.rotor.built_pressure = 0.0;
    const auto loose = run(in);
    CHECK(tight.built_clearance < loose.built_clearance);
    CHECK(tight.clearance == loose.clearance);
    in.rotor.built_pressure = fields::worked_out; // the running one
    CHECK(run(in).built_clearance > tight.built_clearance);
    in.rotor.surface = 0.1048; // teeth stand a little inside the outside
    CHECK(um(run(in).clearance) == Approx(um(loose.clearance) + 200.0).margin(1.0));
}

TEST_CASE("what a seal cannot be is refused by part and rule") {
    SealInputs<double> in = example();
    in.rotor.bore = 0.0;
    CHECK(message([&] { run(in, true); }).find("rotor.bore: 0 mm must be above 0") !=
          std::string::npos);
    in = example();
    in.rotor.outside = 0.07;
    CHECK(message([&] { run(in); }).find("rotor.outside: 70 mm must be larger than the bore") !=
          std::string::npos);
    in = example();
    in.rotor.surface = 0.09;
    CHECK(message([&] { run(in); }).find("rotor.surface: 90 mm must lie within a tenth") !=
          std::string::npos);
    in = example();
    in.stator.temperature = 343.0;
    CHECK(message([&] {
              run(in);
          }).find("stator.temperature: 343 degC is outside the temperature range") !=
          std::string::npos);
    in = example();
    in.speed = 11000.0;
    CHECK(message([&] { run(in); }).find("did you mean \"11000 rpm\"?") != std::string::npos);
}

// By hand: 900 mm of steel 40 K hotter than 900 mm of casing of the same metal at 60 degC.
TEST_CASE("a face moves by what the rotor grows more than the casing") {
    const materials::Entry metal = cases::even_metal(200e9, 12e-6, 0.3);
    auto in = fields::standard_inputs<FaceGapInputs>();
    in.rotor.length = in.casing.length = 0.9;
    in.rotor.temperature = 100.0;
    in.casing.temperature = 60.0;
    in.rotor.strain = -50e-6;
    in.movement = 80e-6;
    in.built_gap = 1e-3;
    const auto closes = face_gap(in, metal.numbers, metal.numbers);
    CHECK(um(closes.rotor_expansion) == Approx(0.9 * (12.0 * 80.0 - 50.0) + 80.0));
    CHECK(um(closes.casing_expansion) == Approx(0.9 * 12.0 * 40.0));
    CHECK(um(closes.difference) == Approx(467.0));
    CHECK(um(closes.gap) == Approx(533.0));
    const auto opens = face_gap(in, metal.numbers, metal.numbers, true);
    CHECK(um(opens.gap) == Approx(1467.0));
    in.touch_clearance = 600e-6;
    CHECK(um(face_gap(in, metal.numbers, metal.numbers).touch_margin) == Approx(-67.0));
    in.casing.temperature = 700.0;
    CHECK(message([&] {
              face_gap(in, metal.numbers, metal.numbers);
          }).find("casing.temperature: 700 degC is outside") != std::string::npos);
}
