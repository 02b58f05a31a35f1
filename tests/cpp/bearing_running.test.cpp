// Creep of the rings on their seats, and frequencies.
// Published values stand in tests/reference/ratings.toml.
#include "../../cpp/src/bearings/detail/creep.hpp"
#include "../../cpp/src/bearings/detail/frequencies.hpp"
#include "rating_cases.hpp"

#include <cmath>

using namespace rating_cases;

TEST_CASE("pitch angle, cage and balls of equal angles are the textbook's", "[frequencies]") {
    auto in = fields::standard_inputs<FrequenciesInputs>();
    in.balls = 15;
    in.ball_diameter = 0.017462;
    in.pitch_diameter = 0.1155;
    in.speed = 1000.0;
    for (const double angle : {0.0, 25.0, 40.0, 90.0}) {
        in.inner_angle = angle * degree;
        const double g = 0.017462 / 0.1155 * std::cos(angle * degree);
        for (const auto control : {RaceControl::outer, RaceControl::inner}) {
            const auto out = frequencies(in, TurningRing::inner, control);
            CHECK(out.cage_order == Approx((1.0 - g) / 2.0));
            CHECK(out.outer_pass_order == Approx(15.0 * (1.0 - g) / 2.0));
            CHECK(out.inner_pass_order == Approx(15.0 * (1.0 + g) / 2.0));
            CHECK(frequencies(in, TurningRing::outer, control).cage_order ==
                  Approx((1.0 + g) / 2.0));
            // Nothing spins on the raceway that controls.
            CHECK(
                (control == RaceControl::outer ? out.outer_spin_to_roll : out.inner_spin_to_roll) ==
                Approx(0.0).margin(1e-14));
            CHECK(out.inner_pass == Approx(out.inner_pass_order * 1000.0 / (2.0 * fields::pi)));
        }
    }
    // D/2d (1 - g^2) of a deep groove bearing.
    in.inner_angle = 0.0;
    const double ratio = 0.1155 / 0.017462;
    CHECK(frequencies(in).ball_spin_order == Approx(ratio / 2.0 * (1.0 - 1.0 / (ratio * ratio))));
}

TEST_CASE("cage speed under outer race control", "[frequencies]") {
    // Harris & Kotzalas, Rolling Bearing Analysis: wm/w = (1 - g cos ai)/(1 + cos(ai - ao)),
    // g = D/dm (from memory).
    auto in = fields::standard_inputs<FrequenciesInputs>();
    in.balls = 15;
    in.ball_diameter = 0.017462;
    in.pitch_diameter = 0.1155;
    for (const double inner : {20.0, 34.0, 48.0})
        for (const double outer : {5.0, 15.0, 30.0}) {
            in.inner_angle = inner * degree;
            in.outer_angle = outer * degree;
            CHECK(frequencies(in).cage_order ==
                  Approx((1.0 - 0.017462 / 0.1155 * std::cos(inner * degree)) /
                         (1.0 + std::cos((inner - outer) * degree))));
        }
}

TEST_CASE("a ring is held by grip and by clamped faces", "[creep]") {
    const auto out = creep(dragged(), DraggedBearing::angular_contact);
    CHECK(out.inner_holding == Approx(0.12 * 20e6 * fields::pi * 0.08 * 0.08 * 0.03 / 2.0));
    CHECK(out.outer_holding == Approx(2.0 * 0.1 * 10e3 * 0.15 / 2.0));
    CHECK(out.friction_torque == Approx(out.viscous_torque + out.load_torque));
    CHECK(out.inner_margin == Approx(out.inner_holding - out.friction_torque));
    CHECK(out.inner_share == Approx(out.friction_torque / out.inner_holding));
    // A bearing that fails drags what the user says; a ring that nothing holds creeps.
    auto in = dragged();
    in.failing_torque = 900.0;
    in.outer.clamp_force = 0.0;
    const auto failing = creep(in, DraggedBearing::angular_contact);
    CHECK(failing.friction_torque == 900.0);
    CHECK(failing.inner_margin < 0.0);
    CHECK(failing.outer_holding == 0.0);
    CHECK(failing.outer_share == 1e6);
}

TEST_CASE("friction torque by Palmgren", "[creep]") {
    // M0 = 1e-7 f0 (nu n)^(2/3) dm^3, M1 = z (P0/C0)^y P1 dm in N mm
    auto in = dragged();
    in.speed = 3000.0 * fields::pi / 30.0;
    const auto out = creep(in);
    CHECK(out.viscous_torque ==
          Approx(1e-7 * 2.0 * std::pow(20.0 * 3000.0, 2.0 / 3.0) * std::pow(115.0, 3.0) * 1e-3));
    CHECK(out.load_torque == Approx(0.0006 * std::pow(0.04, 0.55) * 27e3 * 0.115));
    in.speed = 10.0 * fields::pi / 30.0; // nu n = 200
    CHECK(creep(in).viscous_torque == Approx(160e-7 * 2.0 * std::pow(115.0, 3.0) * 1e-3));
}
