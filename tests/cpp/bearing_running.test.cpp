// Creep of the rings on their seats, frequencies, and all that a job asks of a bearing in service.
// Published values stand in tests/reference/ratings.toml.
#include "../../cpp/src/bearings/detail/service.hpp"
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

TEST_CASE("a bearing in service is what its models say one by one", "[service]") {
    for (const auto kind : {BearingKind::radial, BearingKind::thrust}) {
        auto in = fields::standard_inputs<ServiceInputs>();
        in.row = row_at((kind == BearingKind::radial ? 35.0 : 60.0) * degree);
        in.oil.viscosity_40 = 46e-6;
        in.oil.viscosity_100 = 6.8e-6;
        in.service.reliability = 0.95;
        in.speed = 900.0;
        in.oil_temperature = 80.0;
        in.axial_load = 12e3;
        in.radial_load = 500.0;
        in.inner_load = 1.2e3;
        in.outer_load = 1.5e3;
        in.inner_angle = 38 * degree;
        in.outer_angle = 30 * degree;
        in.inner_holding = 100.0;
        in.outer_holding = 0.1;
        const auto out = service(in, kind, Arrangement::tandem, Grooves::standard,
                                 Lubrication::oil_filtered, Cleanliness::slight);

        auto at_rest = fields::standard_inputs<StaticRatingInputs>();
        at_rest.row = in.row;
        at_rest.radial_load = in.radial_load;
        at_rest.axial_load = in.axial_load;
        const auto still = static_rating(at_rest, kind);
        CHECK(out.static_safety == still.static_safety);

        auto by_loads = fields::standard_inputs<ReferenceLifeInputs>();
        by_loads.row = in.row;
        by_loads.inner_load = in.inner_load;
        by_loads.outer_load = in.outer_load;
        const auto reference = reference_life(by_loads, kind);
        CHECK(out.reference_life == reference.life);
        CHECK(out.reference_load == reference.reference_load);

        auto oil = fields::standard_inputs<ModifiedLifeInputs>();
        oil.oil = in.oil;
        oil.temperature = 80.0;
        oil.dynamic_rating = reference.dynamic_rating;
        oil.fatigue_limit = still.fatigue_limit;
        oil.equivalent_load = reference.reference_load;
        oil.pitch_diameter = in.row.pitch_diameter;
        oil.speed = in.speed;
        oil.reliability = 0.95;
        const auto modified = modified_life(oil,
                                            kind == BearingKind::radial ? RatedBearing::radial_ball
                                                                        : RatedBearing::thrust_ball,
                                            Lubrication::oil_filtered, Cleanliness::slight);
        CHECK(out.viscosity_ratio == Approx(modified.viscosity_ratio).epsilon(1e-13));
        CHECK(out.modification_factor == Approx(modified.modification_factor).epsilon(1e-11));
        CHECK(out.modified_life == Approx(modified.life).epsilon(1e-11));
        CHECK(out.running_time == Approx(modified.running_time).epsilon(1e-11));

        auto drag = dragged();
        drag.oil = in.oil;
        drag.temperature = 80.0;
        drag.pitch_diameter = in.row.pitch_diameter;
        drag.contact_angle = in.inner_angle;
        drag.speed = in.speed;
        drag.radial_load = in.radial_load;
        drag.axial_load = in.axial_load;
        drag.static_rating = still.static_rating;
        drag.equivalent_static_load = still.equivalent_static_load;
        const auto torque = creep(drag,
                                  kind == BearingKind::radial ? DraggedBearing::angular_contact
                                                              : DraggedBearing::thrust_ball,
                                  OilSupply::oil_jet);
        CHECK(out.friction_torque == Approx(torque.friction_torque).epsilon(1e-12));
        CHECK(out.inner_margin == Approx(100.0 - torque.friction_torque));
        CHECK(out.outer_margin < 0.0);

        auto heard = fields::standard_inputs<FrequenciesInputs>();
        heard.balls = in.row.balls;
        heard.ball_diameter = in.row.ball_diameter;
        heard.pitch_diameter = in.row.pitch_diameter;
        heard.inner_angle = in.inner_angle;
        heard.outer_angle = in.outer_angle;
        heard.speed = in.speed;
        const auto tones = frequencies(heard);
        CHECK(out.cage == Approx(tones.cage));
        CHECK(out.inner_pass == Approx(tones.inner_pass));
        CHECK(out.outer_pass == Approx(tones.outer_pass));
        CHECK(out.ball_spin == Approx(tones.ball_spin));
    }
}
