// Friction and preload from what is measured: there and back, and what uncertainty does.
#include "catch.hpp"
#include "threads_cases.hpp"

#include <cmath>

using namespace threads_cases;

TEST_CASE("measured torque and force tell the friction that made them", "[threads]") {
    for (int form = iso_metric; form <= square_thread; ++form)
        for (const double mu : {0.0, 0.05, 0.125, 0.3})
            for (const double share : {0.0, 0.8, 1.5}) {
                auto made = cases::nut();
                made.nut.lead = 0.004;
                set_friction(made.nut, mu, mu * share);
                const auto out = tighten(made, shaft_metal, {right, form, even_pressure});
                auto in = with_nut<FrictionInputs>();
                in.nut.lead = 0.004;
                in.torque = 650.0;
                in.preload = out.preload * (1.0 - 1e-15); // on the safe side of no friction
                in.face_over_thread = share;
                in.shaft_bore = 0.03;
                const auto found =
                    run<FrictionOutputs<double>>("threads.friction", in, {0, form, 0});
                CHECK(found.thread_friction == Approx(mu).epsilon(1e-11).margin(1e-13));
                CHECK(found.face_friction == Approx(mu * share).epsilon(1e-11).margin(1e-13));
                CHECK(found.nut_factor == Approx(650.0 / (out.preload * 0.075)).epsilon(1e-12));
            }
}

TEST_CASE("the uncertainty of a measured friction follows its measurements", "[threads]") {
    auto in = with_nut<FrictionInputs>();
    in.torque = 650.0;
    in.preload = 60e3;
    const auto friction = [](const FrictionInputs<double>& i) {
        return run<FrictionOutputs<double>>("threads.friction", i).thread_friction;
    };
    const auto slope = [&](double FrictionInputs<double>::* input) {
        auto high = in;
        high.*input *= 1.0 + 1e-5;
        auto low = in;
        low.*input *= 1.0 - 1e-5;
        return (friction(high) - friction(low)) / 2e-5;
    };
    const double by_torque = slope(&FrictionInputs<double>::torque) * in.torque_uncertainty;
    const double by_force = slope(&FrictionInputs<double>::preload) * in.preload_uncertainty;
    CHECK(run<FrictionOutputs<double>>("threads.friction", in).uncertainty ==
          Approx(std::hypot(by_torque, by_force)).epsilon(1e-6));
    in.preload = 3e6;
    CHECK_THAT(refusal("threads.friction", in),
               ContainsSubstring("torque: 650 N m is less than the pitch alone asks for"));
}

TEST_CASE("a pair of torques tells friction and force", "[threads]") {
    for (const double mu : {0.02, 0.1, 0.25})
        for (const double sticks : {1.0, 1.2}) {
            auto made = cases::nut();
            set_friction(made.nut, mu, 1.3 * mu);
            const auto tight = tighten(made, shaft_metal);
            set_friction(made.nut, sticks * mu, 1.3 * sticks * mu);
            made.torque *= tighten(made, shaft_metal).torque / tight.torque;
            // The same force, turned back with the other friction.
            TorqueInputs<double> back{made.nut, tight.preload, 0.03, 20.0};
            auto in = with_nut<BreakawayInputs>();
            in.torque = 650.0;
            in.loosening_torque = torque(back, shaft_metal).loosening_torque;
            in.face_over_thread = 1.3;
            in.breakaway_factor = sticks;
            in.shaft_bore = 0.03;
            const auto found = run<BreakawayOutputs<double>>("threads.breakaway", in);
            CHECK(found.thread_friction == Approx(mu).epsilon(1e-8));
            CHECK(found.preload == Approx(tight.preload).epsilon(1e-8));
            // Its uncertainty by moving both torques.
            const auto preload = [&](double more, double back_more) {
                auto moved = in;
                moved.torque *= more;
                moved.loosening_torque *= back_more;
                return run<BreakawayOutputs<double>>("threads.breakaway", moved).preload;
            };
            const double h = 1e-6;
            const double first = (preload(1.0 + h, 1.0) - preload(1.0 - h, 1.0)) / (2.0 * h);
            const double second = (preload(1.0, 1.0 + h) - preload(1.0, 1.0 - h)) / (2.0 * h);
            CHECK(found.preload_uncertainty ==
                  Approx(0.04 * std::hypot(first, second) / found.preload).epsilon(1e-4));
        }
    auto in = with_nut<BreakawayInputs>();
    in.torque = 650.0;
    in.loosening_torque = 660.0;
    CHECK_THAT(refusal("threads.breakaway", in),
               ContainsSubstring("loosening_torque: 660 N m cannot come with that tightening"));
}

TEST_CASE("an angle from snug gives the force of the joint's springs", "[threads]") {
    auto in = with_nut<TurnInputs>();
    in.snug_torque = 150.0;
    in.compliance = 0.5e-9;
    in.preload = 60e3;
    in.settling = 2e-6;
    const auto wanted = run<TurnOutputs<double>>("threads.turn_of_nut", in);
    // Its advance closes the springs and the embedding.
    CHECK(wanted.angle * 0.002 / (2.0 * pi) ==
          Approx((60e3 - wanted.snug_preload) * 0.5e-9 + 2e-6).epsilon(1e-13));
    in.preload = fields::standard_inputs<TurnInputs>().preload;
    in.angle = wanted.angle;
    const auto turned = run<TurnOutputs<double>>("threads.turn_of_nut", in);
    CHECK(turned.preload == Approx(60e3).epsilon(1e-13));
    CHECK(turned.preload_low < 60e3);
    CHECK(turned.preload_high > 60e3);
    CHECK(turned.torque_low < turned.torque);
    // common practice: an angle scatters less than a torque.
    CHECK(turned.scatter < turned.scatter_by_torque);
    in.compliance_uncertainty = 0.0;
    set_friction(in.nut, 0.125, 0.125);
    CHECK(run<TurnOutputs<double>>("threads.turn_of_nut", in).scatter == Approx(0.0).margin(1e-14));

    in.preload = 60e3;
    CHECK_THAT(refusal("threads.turn_of_nut", in), ContainsSubstring("give either angle or"));
    in.angle = in.preload = fields::standard_inputs<TurnInputs>().preload;
    CHECK_THAT(refusal("threads.turn_of_nut", in), ContainsSubstring("give either angle or"));
    in.preload = 5e3;
    CHECK_THAT(refusal("threads.turn_of_nut", in),
               ContainsSubstring("preload: 5 kN is already reached by the snug torque"));
}

TEST_CASE("stretch is the sum of bars, and its uncertainty the sum of squares", "[threads]") {
    auto in = with_nut<StretchInputs>();
    in.preload = 50e3;
    in.body_diameter = 0.08;
    in.body_length = 0.1;
    in.thread_length = 0.004;
    in.shaft_bore = 0.03;
    const auto out = run<StretchOutputs<double>>("threads.stretch", in);
    const double d3 = 0.075 - 0.002 * 17.0 * std::sqrt(3.0) / 24.0;
    const double d2 = 0.075 - 0.002 * 3.0 * std::sqrt(3.0) / 8.0;
    const auto area = [](double d) { return pi / 4.0 * (d * d - 0.03 * 0.03); };
    const double modulus = materials::at(shaft_metal.modulus, 20.0);
    CHECK(out.stretch ==
          Approx(50e3 / modulus *
                 (0.1 / area(0.08) + 0.004 / area((d2 + d3) / 2.0) + 0.01 / area(d3)))
              .epsilon(1e-12));
    const double alpha = materials::at(shaft_metal.expansion, 20.0);
    CHECK(out.heat_part == Approx(alpha * 0.5 * 0.114 / out.compliance).epsilon(1e-12));
    CHECK(out.gauge_part == Approx(1e-6 / out.compliance).epsilon(1e-14));
    CHECK(out.uncertainty ==
          Approx(std::sqrt(out.gauge_part * out.gauge_part + out.heat_part * out.heat_part +
                           out.modulus_part * out.modulus_part + out.length_part * out.length_part))
              .epsilon(1e-13));
    in.stretch = out.stretch;
    in.preload = fields::standard_inputs<StretchInputs>().preload;
    CHECK(run<StretchOutputs<double>>("threads.stretch", in).preload ==
          Approx(50e3).epsilon(1e-13));
    in.preload = 1e3;
    CHECK_THAT(refusal("threads.stretch", in), ContainsSubstring("give either stretch or preload"));
}

TEST_CASE("scatter lies inside the worst case, which is the corners", "[threads]") {
    auto in = with_nut<ScatterInputs>();
    in.torque = 650.0;
    in.shaft_bore = 0.03;
    const auto out = run<ScatterOutputs<double>>("threads.scatter", in);
    auto corner = cases::nut();
    corner.torque = 650.0 * 1.05;
    CHECK(out.preload_greatest == Approx(tighten(corner, shaft_metal).preload_high).epsilon(1e-13));
    corner.torque = 650.0 * 0.95;
    CHECK(out.preload_least == Approx(tighten(corner, shaft_metal).preload_low).epsilon(1e-13));
    CHECK(out.preload_least < out.preload_low);
    CHECK(out.preload_greatest > out.preload_high);
    CHECK(out.scatter ==
          Approx(std::sqrt(out.tool_part * out.tool_part + out.thread_part * out.thread_part +
                           out.face_part * out.face_part))
              .epsilon(1e-13));
    set_friction(in.nut, 0.125, 0.125);
    CHECK(run<ScatterOutputs<double>>("threads.scatter", in).scatter == Approx(0.05));
}
