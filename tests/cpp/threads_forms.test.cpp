// Threads by form: balance on the flank, split of the torque, self-locking, stripping. What books
// print is checked in reference.test.cpp.
#include "catch.hpp"
#include "threads_cases.hpp"

#include <cmath>

using namespace threads_cases;

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

TEST_CASE("a lead is a whole number of pitches", "[threads][bad]") {
    auto in = cases::nut();
    in.nut.lead = 0.005;
    CHECK_THAT(refusal("threads.tighten", in),
               ContainsSubstring("lead: 5 mm must be a whole number of pitches"));
    in.nut.lead = 0.0005;
    CHECK_THAT(refusal("threads.tighten", in), ContainsSubstring("must be a whole number of"));
}
