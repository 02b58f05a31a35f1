// Thread forms, measured friction, stripping, angle, stretch, nut growth, lock tabs, hand. What books
// print is checked in reference.test.cpp; lock tabs against every angle in test_threads.py.
#include "../../cpp/src/stack/detail/compliance.hpp"
#include "cases.hpp"
#include "catch.hpp"

#include <cmath>
#include <fitwright/fields/error.hpp>
#include <fitwright/threads/friction.hpp>
#include <fitwright/threads/locking.hpp>
#include <fitwright/threads/nut_growth.hpp>
#include <fitwright/threads/preload.hpp>
#include <fitwright/threads/stripping.hpp>
#include <numeric>

using namespace fitwright;
using namespace fitwright::threads;

namespace {

constexpr double pi = fields::pi;
const materials::Material& shaft_metal = cases::metal("4340");
const materials::Material& nut_metal = cases::metal("1045");

template <class Outputs, class Inputs>
Outputs run(const char* name, const Inputs& in, std::initializer_list<int> choices = {0, 0, 0, 0}) {
    return fields::evaluate<Outputs>(fields::model_named(name), in, {&shaft_metal, &nut_metal},
                                     choices);
}
template <class Inputs>
std::string refusal(const char* name, const Inputs& in) {
    std::vector<double> outputs(100);
    const int choices[4] = {};
    const materials::Material* metals[] = {&shaft_metal, &nut_metal};
    try {
        fields::evaluate(fields::model_named(name), reinterpret_cast<const double*>(&in),
                         outputs.data(), {metals, choices, nullptr});
    } catch (const DomainError& error) {
        return error.what();
    }
    return "";
}

void set_friction(Nut<double>& nut, double thread, double face) {
    nut.thread_friction = nut.thread_friction_low = nut.thread_friction_high = thread;
    nut.face_friction = nut.face_friction_low = nut.face_friction_high = face;
}

template <template <class> class Inputs>
Inputs<double> with_nut() {
    auto in = fields::standard_inputs<Inputs>();
    in.nut = cases::nut().nut;
    return in;
}

} // namespace

TEST_CASE("on every form the torque balances normal force and friction on the flank", "[threads]") {
    // As in threads.test.cpp, with the half angle of the form and two starts.
    const double half[] = {30.0, 30.0, 15.0, 14.5, 0.0};
    for (int form = iso_metric; form <= square_thread; ++form)
        for (const double mu : {0.0, 0.05, 0.15, 0.4}) {
            auto in = cases::nut();
            in.nut.pitch = 0.006;
            in.nut.lead = 0.012;
            set_friction(in.nut, mu, 0.0);
            const auto out = tighten(in, shaft_metal, {right, form, even_pressure});
            const double lead = std::atan(0.012 / (pi * out.pitch_diameter));
            CHECK(out.lead_angle == Approx(lead).epsilon(1e-14));
            const double flank = half[form] * pi / 180.0;
            const double e[] = {0.0, std::cos(lead), std::sin(lead)};
            const double g[] = {std::cos(flank), 0.0, -std::sin(flank)};
            double n[] = {e[1] * g[2] - e[2] * g[1], e[2] * g[0] - e[0] * g[2],
                          e[0] * g[1] - e[1] * g[0]};
            const double size = std::sqrt(n[0] * n[0] + n[1] * n[1] + n[2] * n[2]);
            for (double& part : n)
                part *= (n[2] < 0.0 ? 1.0 : -1.0) / size;
            const double tightening = (n[1] + mu * e[1]) / (-n[2] - mu * e[2]);
            const double loosening = (-n[1] + mu * e[1]) / (-n[2] + mu * e[2]);
            CHECK(out.thread_torque / out.preload ==
                  Approx(out.pitch_diameter / 2.0 * tightening).epsilon(1e-12));
            CHECK(out.loosening_torque / out.preload ==
                  Approx(out.pitch_diameter / 2.0 * loosening).epsilon(1e-11));
        }
}

TEST_CASE("pitch, flank and face share the torque", "[threads]") {
    const auto out = tighten(cases::nut(), shaft_metal);
    CHECK(out.pitch_torque == Approx(out.preload * 0.002 / (2.0 * pi)).epsilon(1e-14));
    CHECK(out.pitch_torque + out.flank_torque + out.face_torque == Approx(650.0).epsilon(1e-14));
    CHECK(out.efficiency == Approx(out.pitch_torque / out.torque).epsilon(1e-13));
    CHECK(out.loosening_torque < out.loosening_torque_high);
    // common practice: most of the torque is friction.
    CHECK(out.efficiency < 0.1);
}

TEST_CASE("a thread lets go just below its self-locking friction", "[threads]") {
    auto in = cases::nut();
    in.nut.pitch = 0.005;
    in.nut.lead = 0.02;
    const NutKind kind{right, trapezoidal, mean};
    const double alone = tighten(in, shaft_metal, kind).self_locking_friction;
    const double both = tighten(in, shaft_metal, kind).letting_go_friction;
    CHECK(both < alone);
    set_friction(in.nut, alone, 0.0);
    CHECK(tighten(in, shaft_metal, kind).loosening_torque == Approx(0.0).margin(1e-10));
    set_friction(in.nut, both, both);
    CHECK(tighten(in, shaft_metal, kind).loosening_torque == Approx(0.0).margin(1e-10));
    set_friction(in.nut, both * 0.99, both * 0.99);
    CHECK(tighten(in, shaft_metal, kind).loosening_torque < 0.0);
    CHECK(tighten(in, shaft_metal, kind).self_locking_margin < 0.0);
}

TEST_CASE("a face worn in rubs at its mean diameter, an even one a little further out",
          "[threads]") {
    const auto in = cases::nut();
    const auto even = tighten(in, shaft_metal, {right, iso_metric, even_pressure});
    const auto worn = tighten(in, shaft_metal, {right, iso_metric, mean});
    CHECK(worn.face_torque / worn.preload == Approx(0.125 * 0.25 * (0.077 + 0.096)).epsilon(1e-13));
    CHECK(worn.face_torque / worn.preload < even.face_torque / even.preload);
}

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

TEST_CASE("a thread shears where the ridge of the one meets the crest of the other", "[threads]") {
    const double half[] = {30.0, 30.0, 15.0, 14.5, 0.0};
    for (int form = iso_metric; form <= square_thread; ++form) {
        auto in = with_nut<StrippingInputs>();
        in.nut.pitch = 0.004;
        in.preload = 100e3;
        const auto out = run<StrippingOutputs<double>>("threads.stripping", in, {0, form, 0});
        // A ridge with straight flanks is P/2 thick at the pitch diameter.
        const bool sharp = form == iso_metric || form == unified;
        const double d2 = 0.075 - 0.004 * (sharp ? 3.0 * std::sqrt(3.0) / 8.0 : 0.5);
        const double d1 = 0.075 - 0.004 * (sharp ? 5.0 * std::sqrt(3.0) / 8.0 : 1.0);
        const double slope = std::tan(half[form] * pi / 180.0);
        const double turns = 0.020 / 0.004;
        CHECK(out.external_area ==
              Approx(pi * d1 * turns * (0.002 + (d2 - d1) * slope)).epsilon(1e-12));
        CHECK(out.internal_area ==
              Approx(pi * 0.075 * turns * (0.002 + (0.075 - d2) * slope)).epsilon(1e-12));
        CHECK(out.external_shear == Approx(100e3 / out.external_area).epsilon(1e-14));
        // At the needed height the weaker thread and the stress area give way together.
        auto long_enough = in;
        long_enough.nut.height = out.needed_height;
        const auto even =
            run<StrippingOutputs<double>>("threads.stripping", long_enough, {0, form, 0});
        CHECK(even.stripping_force == Approx(even.yield_force).epsilon(1e-12));
        CHECK(even.flank_pressure ==
              Approx(100e3 / (pi / 4.0 * (0.075 * 0.075 - d1 * d1) * out.needed_height / 0.004))
                  .epsilon(1e-11));
    }
    auto in = with_nut<StrippingInputs>();
    in.preload = 1e3;
    in.internal_minor = 0.0755;
    CHECK_THAT(refusal("threads.stripping", in),
               ContainsSubstring("internal_minor: 75.5 mm must be below the major diameter"));
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

TEST_CASE("a nut grows off its flanks as the stack says, and loses all at its loss speed",
          "[threads]") {
    auto in = with_nut<NutGrowthInputs>();
    in.preload = 50e3;
    in.compliance = 0.5e-9;
    in.speed = 1152.0;
    in.nut_temperature = 71.0;
    in.shaft_temperature = 70.0;
    in.shaft_bore = 0.03;
    const auto out = run<NutGrowthOutputs<double>>("threads.nut_growth", in);
    CHECK(out.opening == Approx(out.opening_by_heat + out.opening_by_speed).epsilon(1e-12));
    CHECK(out.opening == Approx((out.nut_growth - out.shaft_growth) / 2.0 / std::sqrt(3.0)));
    // A thin ring of the mean radius grows by rho w^2 r^3/E: the nut lies near.
    const double r = 0.25 * (0.0737 + 0.104);
    const double thin = 2.0 * nut_metal.density * 1152.0 * 1152.0 * r * r * r /
                        materials::at(nut_metal.modulus, 71.0);
    auto cold = in;
    cold.nut_temperature = cold.shaft_temperature = 20.0;
    CHECK(run<NutGrowthOutputs<double>>("threads.nut_growth", cold).nut_growth ==
          Approx(thin).epsilon(0.15));
    in.speed = out.loss_speed;
    REQUIRE(out.loss_speed * in.nut.outside < 600.0);
    CHECK(run<NutGrowthOutputs<double>>("threads.nut_growth", in).preload_left ==
          Approx(0.0).margin(1e-6));
    // A square thread has no slope to climb.
    CHECK(
        run<NutGrowthOutputs<double>>("threads.nut_growth", cold, {0, square_thread, 0}).opening ==
        0.0);
    in.speed = 11000.0;
    CHECK_THAT(refusal("threads.nut_growth", in), ContainsSubstring("did you mean \"11000 rpm\"?"));
}

TEST_CASE("tabs and slots meet as often as their least common multiple", "[threads]") {
    auto in = with_nut<LockTabsInputs>();
    in.torque_low = 550.0;
    in.torque_high = 650.0;
    in.compliance = 0.5e-9;
    for (int tabs = 1; tabs <= 60; ++tabs)
        for (int slots = 1; slots <= 24; ++slots) {
            in.tabs = tabs;
            in.slots = slots;
            CHECK(run<LockTabsOutputs<double>>("threads.lock_tabs", in).meetings_per_turn ==
                  std::lcm(tabs, slots));
        }
    for (const auto& [tabs, slots] : {std::pair{360, 360}, {359, 360}, {233, 144}, {1, 360}}) {
        in.tabs = tabs;
        in.slots = slots;
        CHECK(run<LockTabsOutputs<double>>("threads.lock_tabs", in).meetings_per_turn ==
              std::lcm(tabs, slots));
    }
    in.tabs = 12.5;
    CHECK_THAT(refusal("threads.lock_tabs", in),
               ContainsSubstring("tabs: ") && ContainsSubstring("must be a whole number"));
    in.tabs = 12.0;
    in.torque_high = 550.0;
    CHECK_THAT(refusal("threads.lock_tabs", in),
               ContainsSubstring("torque_high: 550 N m must be above the low end"));
    in.torque_high = 650.0;
    in.torque_limit = 640.0;
    CHECK_THAT(refusal("threads.lock_tabs", in),
               ContainsSubstring("torque_limit: 640 N m must not be below"));
}

TEST_CASE("stoning by the depth told brings the next meeting into the window", "[threads]") {
    auto in = with_nut<LockTabsInputs>();
    in.tabs = 5.0;
    in.slots = 4.0;
    in.torque_low = 550.0;
    in.torque_high = 650.0;
    in.compliance = 0.5e-9;
    in.miss = 0.25;
    const auto out = run<LockTabsOutputs<double>>("threads.lock_tabs", in);
    CHECK(out.window_margin < 0.0);
    // Metal off the face lets the nut turn on at the same force.
    in.miss = 0.25 - out.stone_middle * 2.0 * pi / 0.002;
    const auto middle = run<LockTabsOutputs<double>>("threads.lock_tabs", in);
    CHECK(middle.next_torque == Approx(600.0).epsilon(1e-12));
    in.miss = 0.25 - out.stone_least * 2.0 * pi / 0.002;
    CHECK(run<LockTabsOutputs<double>>("threads.lock_tabs", in).window_margin ==
          Approx(0.0).margin(1e-9));
    CHECK(out.stone_per_degree == Approx(0.002 / 360.0).epsilon(1e-14));
}

TEST_CASE("what lags behind the shaft tightens one hand and loosens the other", "[threads]") {
    auto in = with_nut<HandInputs>();
    in.preload = 50e3;
    in.drag_torque = 20.0;
    in.speed = 1152.0;
    in.start_time = 0.5;
    in.trip_time = 0.25;
    for (const int hand : {right, left})
        for (const int anticlockwise : {0, 1}) {
            const auto out =
                run<HandOutputs<double>>("threads.hand", in, {hand, 0, 0, anticlockwise});
            // Seen from the nut end a right-hand nut is tightened clockwise, and what lags pushes
            // against the rotation. common practice: on a double-ended grinder the spindle end that
            // turns clockwise, seen from that end, carries the left-hand thread.
            const bool tightens = (hand == right) == (anticlockwise == 1);
            const double sense = tightens ? 1.0 : -1.0;
            CHECK(out.sense == sense);
            CHECK(out.drag_torque == sense * 20.0);
            CHECK(out.start_torque * sense > 0.0);
            CHECK(out.trip_torque == Approx(-2.0 * out.start_torque).epsilon(1e-14));
            CHECK(out.reverse_drag_torque == -out.drag_torque);
            CHECK(out.drag_margin == Approx(out.thread_hold + sense * 20.0));
            CHECK(out.trip_margin == Approx(out.loosening_torque + out.trip_torque));
            CHECK(out.creep_torque == sense * out.face_torque);
            CHECK(out.thread_hold < out.loosening_torque);
        }
    // A drag beyond what the face can pass slips.
    in.drag_torque = 1e5;
    const auto out = run<HandOutputs<double>>("threads.hand", in);
    CHECK(out.drag_torque == -out.face_torque);
    // Inertia of the ring, by hand: m (Do^2 + Di^2)/8 with the pitch diameter inside.
    const double di = 0.075 - 0.002 * 3.0 * std::sqrt(3.0) / 8.0;
    const double mass = shaft_metal.density * pi / 4.0 * (0.104 * 0.104 - di * di) * 0.020;
    CHECK(out.start_torque ==
          Approx(-mass * (0.104 * 0.104 + di * di) / 8.0 * 1152.0 / 0.5).epsilon(1e-12));
}

TEST_CASE("a lead is a whole number of pitches", "[threads][bad]") {
    auto in = cases::nut();
    in.nut.lead = 0.005;
    CHECK_THAT(refusal("threads.tighten", in),
               ContainsSubstring("lead: 5 mm must be a whole number of pitches"));
    in.nut.lead = 0.0005;
    CHECK_THAT(refusal("threads.tighten", in), ContainsSubstring("must be a whole number of"));
}
