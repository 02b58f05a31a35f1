// What holds a nut: growth at speed, lock tabs, hand. Every angle in turn is tried in test_threads.py.
#include "catch.hpp"
#include "threads_cases.hpp"

#include <cmath>
#include <numeric>

using namespace threads_cases;

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
