// Nut and thread: energy, equilibrium on the flank, and the way back. What books print is checked in
// reference.test.cpp.
#include "cases.hpp"
#include "catch.hpp"

#include <cmath>
#include <fitwright/fields/error.hpp>

using namespace fitwright;
using namespace fitwright::threads;

namespace {

const materials::Material& shaft_metal = cases::metal("4340");
Tightening<double> run(const TightenInputs<double>& in) { return tighten(in, shaft_metal); }

void set_friction(Nut<double>& nut, double thread, double face) {
    nut.thread_friction = nut.thread_friction_low = nut.thread_friction_high = thread;
    nut.face_friction = nut.face_friction_low = nut.face_friction_high = face;
}

} // namespace

TEST_CASE("without friction a turn's work lifts the force by a pitch: T = F P/(2 pi)",
          "[threads]") {
    auto in = cases::nut();
    set_friction(in.nut, 0.0, 0.0);
    in.torque = 10.0;
    const auto out = run(in);
    CHECK(out.preload == Approx(10.0 * 2.0 * fields::pi / in.nut.pitch).epsilon(1e-13));
    // It runs back by itself with the same torque.
    CHECK(out.loosening_torque == Approx(-10.0).epsilon(1e-13));
}

TEST_CASE("the thread torque balances normal force and friction on the flank", "[threads]") {
    // Vectors at the pitch diameter in (radial, tangential, axial): e along the helix, g along the
    // 30 degree flank, n = e x g, friction -mu |n| e. Nothing of VDI 2230's mu/cos is used.
    for (const double mu : {0.05, 0.125, 0.4})
        for (const double pitch : {0.002, 0.02}) {
            auto in = cases::nut();
            in.nut.pitch = pitch;
            set_friction(in.nut, mu, 0.0);
            const auto out = run(in);
            const double lead = std::atan(pitch / (fields::pi * out.pitch_diameter));
            const double flank = fields::pi / 6.0;
            const double e[] = {0.0, std::cos(lead), std::sin(lead)};
            const double g[] = {std::cos(flank), 0.0, -std::sin(flank)};
            double n[] = {e[1] * g[2] - e[2] * g[1], e[2] * g[0] - e[0] * g[2],
                          e[0] * g[1] - e[1] * g[0]};
            const double size = std::sqrt(n[0] * n[0] + n[1] * n[1] + n[2] * n[2]);
            // Turned so that the shaft's flank pushes against the nut's force (axial part downward).
            for (double& part : n)
                part *= (n[2] < 0.0 ? 1.0 : -1.0) / size;
            const double axial = -n[2] - mu * e[2];
            const double tangential = n[1] + mu * e[1];
            CHECK(out.thread_torque / out.preload ==
                  Approx(out.pitch_diameter / 2.0 * tangential / axial).epsilon(1e-12));
        }
}

TEST_CASE("torque to preload and back", "[threads]") {
    const auto there = run(cases::nut());
    TorqueInputs<double> back{cases::nut().nut, there.preload, 0.030, 20.0};
    CHECK(torque(back, shaft_metal).torque == Approx(650.0).epsilon(1e-14));
    CHECK(torque(back, shaft_metal).tension == Approx(there.tension).epsilon(1e-14));
    CHECK(there.thread_torque + there.face_torque == Approx(650.0).epsilon(1e-14));
}

TEST_CASE("a left-hand thread feels what a right-hand thread feels", "[threads]") {
    const auto by_hand = [](int hand) {
        return cases::numbers(fields::evaluate<Tightening<double>>(
            fields::model_named("threads.tighten"), cases::nut(), {&shaft_metal, &shaft_metal},
            {hand, 0, 0}));
    };
    CHECK(by_hand(0) == by_hand(1));
}

TEST_CASE("loosening takes less than tightening, more friction gives less force", "[threads]") {
    const auto out = run(cases::nut());
    CHECK(out.loosening_torque < out.torque);
    CHECK(out.loosening_torque > 0.0);
    CHECK(out.preload_low < out.preload);
    CHECK(out.preload < out.preload_high);
}

TEST_CASE("stress of the shaft end: tension F/A, torsion 16 T d/(pi (d^4 - b^4))", "[threads]") {
    const auto out = run(cases::nut());
    const double ds = (out.pitch_diameter + out.root_diameter) / 2.0;
    CHECK(out.stress_area == Approx(fields::pi / 4.0 * (ds * ds - 0.03 * 0.03)).epsilon(1e-13));
    CHECK(out.tension == Approx(out.preload / out.stress_area).epsilon(1e-14));
    CHECK(out.torsion == Approx(16.0 * out.thread_torque * ds /
                                (fields::pi * (std::pow(ds, 4) - std::pow(0.03, 4))))
                             .epsilon(1e-13));
    CHECK(out.von_mises == Approx(std::hypot(out.tension, std::sqrt(3.0) * out.torsion)));
    // Common practice (numbers of this size): a clamp nut leaves the threads far below yield.
    CHECK(out.yield_use < 0.3);
}

TEST_CASE("the ISO metric profile, from a triangle of height H = P sqrt(3)/2", "[threads]") {
    // ISO 68-1: d2 = d - 3/4 H; ISO 898-1: d3 = d1 - H/6 with d1 = d - 5/4 H.
    const auto out = run(cases::nut());
    const double h = 0.002 * std::sqrt(3.0) / 2.0;
    CHECK(out.pitch_diameter == Approx(0.075 - 0.75 * h).epsilon(1e-15));
    CHECK(out.root_diameter == Approx(0.075 - 1.25 * h - h / 6.0).epsilon(1e-15));
}

TEST_CASE("an impossible nut is refused", "[threads][bad]") {
    const auto with = [](auto change) {
        auto in = cases::nut();
        change(in);
        try {
            run(in);
        } catch (const DomainError& error) {
            return std::string(error.what());
        }
        return std::string();
    };
    using In = TightenInputs<double>;
    CHECK_THAT(with([](In& in) { in.nut.pitch = 0.03; }),
               ContainsSubstring("pitch: 30 mm must be below a third of the thread diameter"));
    CHECK_THAT(with([](In& in) { in.shaft_bore = 0.0735; }),
               ContainsSubstring("bore") &&
                   ContainsSubstring("73.5 mm leaves no stress area under the thread"));
    CHECK_THAT(with([](In& in) { in.nut.face_outside = 0.07; }),
               ContainsSubstring("must be larger than the inner face diameter"));
    CHECK_THAT(with([](In& in) { in.nut.outside = 0.07; }),
               ContainsSubstring("must be larger than the thread diameter"));
    CHECK_THAT(with([](In& in) { in.nut.thread_friction_low = 0.2; }),
               ContainsSubstring("must be in order"));
    CHECK_THAT(with([](In& in) { in.torque = -1.0; }), ContainsSubstring("torque: -1 N m"));
    CHECK_THAT(with([](In& in) {
                   in.nut.pitch = 0.02;
                   in.nut.diameter = 0.0601;
                   in.nut.thread_friction_high = 1.0;
               }),
               !ContainsSubstring("nan"));
}
