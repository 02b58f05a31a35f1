// The running bearing: balls flung out at speed, under thrust.
// No published row was found for high speed; the checks are the equations, limits and symmetries.
#include "catch.hpp"
#include "running_cases.hpp"

#include <cstring>
#include <random>

namespace fitwright::rules {
extern const number::Rule balls_fit_circle, balls_flung_out, clearance_below_groove,
    contact_shallow, thrust_on_arch;
} // namespace fitwright::rules

using namespace fitwright;
using namespace fitwright::bearings;
using namespace running_cases;

namespace {

int rule_broken(const ThrustInputs<double>& in) {
    try {
        run(in);
    } catch (const Fault& f) {
        return f.rule;
    }
    return number::no_rule;
}
} // namespace

TEST_CASE("at rest the running bearing is the mounted one", "[running]") {
    for (const double thrust : {0.0, 1.0, 300.0, 2e4, 1e5}) {
        const auto in = example(thrust, 0.0);
        const auto moving = run(in);
        MountedOutputs<double> still;
        number::Faults<double> faults;
        const MountedInputs<double> same{in.bearing,          in.inner_growth, in.outer_growth,
                                         in.ball_temperature, in.thrust,       1.0};
        Mounted::run<double>(&same.bearing.balls, &still.clearance, context, faults);
        CHECK(moving.inner_angle == Approx(still.loaded_angle).margin(2e-5));
        CHECK(moving.outer_angle == Approx(still.loaded_angle).margin(2e-5));
        CHECK(moving.inner_load == Approx(still.ball_load).epsilon(1e-10));
        CHECK(moving.inner_peak == Approx(still.inner_stress).epsilon(1e-10));
        CHECK(moving.centrifugal_force == 0.0);
        if (thrust > 0.0)
            CHECK(moving.running_displacement == Approx(still.axial_displacement).epsilon(1e-6));
        // Hardly turning: the limit is reached smoothly.
        const auto slow = run(example(thrust, 0.01));
        if (thrust > 0.0)
            CHECK(slow.inner_load == Approx(moving.inner_load).epsilon(1e-5));
    }
}

TEST_CASE("angular contact under thrust by exact Hertz", "[running]") {
    // T6-03: Harris & Kotzalas, bearing of size 218 (from memory), computed again with exact Hertz:
    // 41.5 deg, 0.036 mm, 1679.0 N.
    const double f = 0.5232;
    const double distance = (2 * f - 1) * 22.23e-3;
    ThrustInputs<double> in = example(17800.0, 0.0);
    in.bearing.balls = 16;
    in.bearing.ball_diameter = 22.23e-3;
    in.bearing.pitch_diameter = 125.26e-3;
    in.bearing.inner_curvature = in.bearing.outer_curvature = f;
    in.bearing.clearance = 2 * distance * (1 - std::cos(40 * degree));
    in.inner_growth = in.outer_growth = 0.0;
    in.ball_temperature = 20.0;
    const auto out = run(in);
    CHECK(out.inner_angle / degree == Approx(41.5).margin(6e-3));
    CHECK(out.running_displacement == Approx(0.036e-3).margin(6e-9));
    CHECK(out.outer_load == Approx(1679.0).margin(0.06));
}

TEST_CASE("centrifugal force and gyroscopic moment of a ball", "[running]") {
    // T6-04: Harris & Kotzalas (from memory), steel of 7800 kg/m3: Fc = 2.26e-11 / 2.239e-11 D^3 n^2 dm,
    // Mg = 4.47e-12 / 4.46e-12 D^5 nR nm sin b, in N, mm, r/min (recomputed for 7800).
    const auto in = example(8e3, 15000.0);
    const auto out = run(in);
    const double n_cage = out.cage_ratio * 15000.0;
    CHECK(out.centrifugal_force ==
          Approx(2.239e-11 * std::pow(19.0, 3) * n_cage * n_cage * 110.0).epsilon(5e-4));
    CHECK(out.gyroscopic_moment * 1e3 ==
          Approx(4.4787e-12 * 7800.0 / 7831.0 * std::pow(19.0, 5) * out.ball_ratio * 15000.0 *
                 n_cage * std::sin(out.ball_pitch))
              .epsilon(5e-3));
    // Jones's closed form of the cage speed under outer race control.
    const double g = 19.0 / 110.0;
    CHECK(out.cage_ratio == Approx((1 - g * std::cos(out.inner_angle)) /
                                   (1 + std::cos(out.inner_angle - out.outer_angle))));
    CHECK(std::tan(out.ball_pitch) ==
          Approx(std::sin(out.outer_angle) / (std::cos(out.outer_angle) + g)));
}

TEST_CASE("each ball is in balance to 1e-10 of its centrifugal force", "[running]") {
    std::mt19937 random(11);
    const auto between = [&](double low, double high) {
        return std::uniform_real_distribution<double>(low, high)(random);
    };
    for (int i = 0; i < 2000; ++i) {
        auto in = example(std::pow(10.0, between(1.5, 4.5)), between(3000.0, 25000.0));
        in.bearing.inner_curvature = between(0.51, 0.56);
        in.bearing.outer_curvature = between(0.51, 0.56);
        in.bearing.clearance = between(80e-6, 400e-6);
        in.outer_control = i % 2 == 0 ? 1.0 : between(0.0, 1.0);
        const auto out = run(in);
        const double ai = out.inner_angle;
        const double ao = out.outer_angle;
        const double m = out.gyroscopic_moment / 0.019;
        // The share of the moment: friction on the inner contact, from the axial balance of the ball.
        const double thrust = in.thrust / 14.0;
        const double pi_ = (out.inner_load * std::sin(ai) - thrust) / std::cos(ai);
        const double po = 2.0 * m - pi_;
        const double axial = out.outer_load * std::sin(ao) - po * std::cos(ao) - thrust;
        const double radial = out.outer_load * std::cos(ao) + po * std::sin(ao) -
                              out.inner_load * std::cos(ai) - pi_ * std::sin(ai) -
                              out.centrifugal_force;
        REQUIRE(std::abs(axial) < 1e-10 * out.centrifugal_force + 1e-13 * out.outer_load);
        REQUIRE(std::abs(radial) < 1e-10 * out.centrifugal_force + 1e-13 * out.outer_load);
        if (i % 2 == 0)
            REQUIRE(std::abs(pi_) < 1e-10 * out.centrifugal_force + 1e-12 * out.inner_load);
        // Flung out: flatter outside, steeper inside.
        REQUIRE(ai > ao);
        REQUIRE(out.outer_load > out.inner_load);
    }
}

constexpr int many = watched ? 10000 : 1000000;

TEST_CASE("a million bearings find their balance", "[running]") {
    std::mt19937_64 random(5);
    const auto between = [&](double low, double high) {
        return std::uniform_real_distribution<double>(low, high)(random);
    };
    // Free angles to 45 degrees, 120 m/s of the ball centres if they kept up with the shaft, thrusts
    // from a thousandth of the centrifugal forces to 3000 MPa or so.
    int flung = 0;
    for (int i = 0; i < many; ++i) {
        ThrustInputs<double> in = example(0.0, 0.0);
        auto& b = in.bearing;
        b.pitch_diameter = std::pow(10.0, between(-2.0, 0.0));
        b.ball_diameter = b.pitch_diameter * between(0.05, 0.3);
        b.balls = std::floor(between(0.5, 0.98) * fields::pi /
                             std::asin(b.ball_diameter / b.pitch_diameter));
        b.inner_curvature = between(0.51, 0.56);
        b.outer_curvature = between(0.51, 0.56);
        const double a = (b.inner_curvature + b.outer_curvature - 1.0) * b.ball_diameter;
        b.clearance = smaller(1e-2, 2.0 * a * (1.0 - std::cos(between(0.0, 45.0 * degree))));
        b.shim = i % 3 == 0 ? (2.0 * b.inner_curvature - 1.0) * b.ball_diameter * between(0.0, 0.5)
                            : 0.0;
        in.inner_growth = a * between(-0.02, 0.03);
        in.outer_growth = 0.0;
        in.ball_temperature = 20.0;
        in.speed = i % 5 == 0 ? 0.0 : between(0.0, 120.0) / (b.pitch_diameter / 2.0);
        in.outer_control = i % 2 == 0 ? 1.0 : between(0.0, 1.0);
        const double flings = 7800.0 * fields::pi / 6.0 * std::pow(b.ball_diameter, 3) *
                              b.pitch_diameter * in.speed * in.speed / 8.0;
        const double strong = 3e7 * b.ball_diameter * b.ball_diameter;
        in.thrust = b.balls * larger(1e-3 * flings, strong * std::pow(10.0, between(-6.0, 0.0)));
        const int broken = rule_broken(in);
        flung += broken == rules::balls_flung_out ? 1 : 0;
        INFO("bearing " << i);
        REQUIRE((broken == number::no_rule || broken == rules::balls_flung_out));
    }
    CHECK(flung < many / 100); // tight grooves at the highest speeds
}

TEST_CASE("lanes give the bits of double, whatever runs beside", "[running]") {
    using L4 = number::Lanes<4, number::Isa<0>>;
    const double thrusts[4] = {0.0, 30.0, 5e3, 8e4};
    const double speeds[4] = {900.0, 0.0, 1500.0, 2500.0};
    const double shims[4] = {100e-6, 0.0, 200e-6, 0.0};
    ThrustInputs<L4> lanes;
    ThrustInputs<double> in = example(0.0, 0.0);
    for (std::size_t i = 0; i < sizeof in / sizeof(double); ++i)
        (&lanes.bearing.balls)[i] = L4((&in.bearing.balls)[i]);
    lanes.thrust = L4::load(thrusts);
    lanes.speed = L4::load(speeds);
    lanes.bearing.shim = L4::load(shims);
    number::Faults<L4> faults;
    const auto out = run(lanes, faults);
    CHECK(!any(faults.code > L4(0.0)));
    for (int w = 0; w < 4; ++w) {
        in.thrust = thrusts[w];
        in.speed = speeds[w];
        in.bearing.shim = shims[w];
        const auto one = run(in);
        for (std::size_t j = 0; j < sizeof one / sizeof(double); ++j)
            CHECK((&out.inner_angle)[j].lane(w) == (&one.inner_angle)[j]);
    }
}

TEST_CASE("exact derivatives of the running bearing", "[running]") {
    auto in = example(4e3, 12000.0);
    in.outer_control = 0.7;
    in.bearing.shim = 150e-6;
    constexpr std::size_t inputs = sizeof in / sizeof(double);
    constexpr std::size_t outputs = sizeof(ThrustOutputs<double>) / sizeof(double);
    for (std::size_t i = 0; i < inputs; ++i) {
        const double x = (&in.bearing.balls)[i];
        if (!(x < 1e300))
            continue;
        ThrustInputs<D2> dual;
        for (std::size_t k = 0; k < inputs; ++k)
            (&dual.bearing.balls)[k] = (&in.bearing.balls)[k];
        (&dual.bearing.balls)[i].d.set_lane(1, 1.0);
        number::Faults<D2> faults;
        const auto exact = run(dual, faults);
        CHECK(faults.code == 0.0);
        const double step = std::max(std::abs(x) * 1e-5, 1e-9);
        auto low = in;
        auto high = in;
        (&low.bearing.balls)[i] = x - step;
        (&high.bearing.balls)[i] = x + step;
        const auto a = run(low);
        const auto b = run(high);
        const auto middle = run(in);
        for (std::size_t j = 0; j < outputs; ++j) {
            const double plain = ((&b.inner_angle)[j] - (&a.inner_angle)[j]) / (2 * step);
            INFO("input " << i << " output " << j);
            CHECK((&exact.inner_angle)[j].value == (&middle.inner_angle)[j]);
            CHECK((&exact.inner_angle)[j].d.lane(1) ==
                  Approx(plain).epsilon(1e-4).margin(1e-7 * std::abs((&middle.inner_angle)[j]) /
                                                     step));
        }
    }
    // Stiffness is the derivative of thrust to displacement.
    const auto at = [&](double thrust) {
        auto other = in;
        other.thrust = thrust;
        return run(other).running_displacement;
    };
    CHECK(run(in).axial_stiffness == Approx(2.0 / (at(4001.0) - at(3999.0))).epsilon(1e-5));
}

TEST_CASE("the other half of a split ring", "[running]") {
    // Tight: at rest the ball stands on both halves until the thrust has turned its contact.
    auto in = example(100.0, 9000.0);
    in.bearing.shim = 100e-6;
    in.bearing.clearance = 80e-6;
    const auto out = run(in);
    REQUIRE(out.arch_limit > 0.0);
    in.thrust = out.arch_limit;
    CHECK(std::abs(run(in).arch_gap) < 1e-12);
    in.thrust = out.arch_limit * 1.05;
    CHECK(run(in).arch_gap < 0.0);
    in.thrust = out.arch_limit * 0.95;
    CHECK(run(in).arch_gap > 0.0);
    // A free bearing's ball clears it by simple geometry as the thrust goes to nothing:
    // (fi - 1/2) D less the distance to the other centre.
    auto open = example(1e-3, 0.0);
    open.bearing.shim = 100e-6;
    const auto light = run(open);
    const double l = 0.02 * 0.019;
    const double other =
        std::hypot(l * std::sin(light.inner_angle) - 100e-6, l * std::cos(light.inner_angle));
    CHECK(light.arch_gap == Approx(l - other).margin(2e-9));
    CHECK(light.arch_thrust == 0.0);
    // A least thrust at rest: a shim whose resting angle the free contact just misses.
    auto close = example(1.0, 0.0);
    close.ball_temperature = 20.0;
    close.inner_growth = close.outer_growth = 0.0;
    close.bearing.clearance = 60e-6;
    const double free = std::acos(1.0 - 30e-6 / (0.05 * 0.019));
    close.bearing.shim = 2.0 * l * std::sin(free + 0.1 * degree);
    const auto touching = run(close);
    CHECK(touching.arch_gap < 0.0);
    if (touching.arch_thrust > 0.0) {
        close.thrust = touching.arch_thrust;
        CHECK(std::abs(run(close).arch_gap) < 1e-12);
    }
}

TEST_CASE("what cannot run is refused", "[running]") {
    auto in = example(5e3, 12000.0);
    CHECK(rule_broken(in) == number::no_rule);
    in.thrust = -5e3;
    CHECK(rule_broken(in) == number::no_rule);
    CHECK(run(in).inner_angle == -run(example(5e3, 12000.0)).inner_angle);
    in.bearing.back_shoulder = 0.0;
    CHECK(rule_broken(in) == rules::thrust_on_arch);
    in = example(5e3, 12000.0);
    in.bearing.clearance = 2e-3;
    CHECK(rule_broken(in) == rules::clearance_below_groove);
    in = example(5e7, 0.0);
    CHECK(rule_broken(in) == rules::contact_shallow);
    in = example(10.0, 300000.0);
    CHECK(rule_broken(in) == rules::balls_flung_out);
    in = example(5e3, 12000.0);
    in.bearing.balls = 19.0;
    CHECK(rule_broken(in) == rules::balls_fit_circle);
}
