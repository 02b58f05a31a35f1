// The mounted bearing. Published values stand beside their source as "printed / computed again";
// the computed column is what an exact solution must give.
#include "bearings_cases.hpp"
#include "catch.hpp"

#include <algorithm>
#include <random>

namespace fitwright::rules {
extern const number::Rule balls_fit_circle, clearance_below_groove, inner_groove_open,
    outer_groove_open, shim_below_arch, temperature_in_material_range;
} // namespace fitwright::rules

using namespace fitwright;
using namespace fitwright::bearings;
using namespace bearings_cases;

namespace {

using L4 = number::Lanes<4, number::Isa<0>>;

template <class T>
MountedOutputs<T> run_mounted(const MountedInputs<T>& in, number::Faults<T>& faults,
                              const materials::Material& rings = steel,
                              const materials::Material& balls = steel) {
    const materials::Material* both[] = {&rings, &balls};
    MountedOutputs<T> out;
    Mounted::run<T>(&in.bearing.balls, &out.clearance, {both, nullptr, nullptr}, faults);
    return out;
}
MountedOutputs<double> run_mounted(const MountedInputs<double>& in) {
    number::Faults<double> faults;
    return run_mounted(in, faults);
}

// An invented thrust bearing of 110 mm pitch diameter.
MountedInputs<double> example() {
    return {{14.0, 0.019, 0.110, 0.52, 0.53, 250e-6, 0.0, fields::worked_out, 1.0, 1.0, 0.2, 0.2,
             fields::worked_out},
            60e-6,
            20e-6,
            90.0,
            20e3,
            1.0};
}

int fault_of(const MountedInputs<double>& in) {
    MountedInputs<L4> lanes;
    for (std::size_t i = 0; i < sizeof in / sizeof(double); ++i)
        (&lanes.bearing.balls)[i] = L4((&in.bearing.balls)[i]);
    number::Faults<L4> faults;
    const auto out = run_mounted(lanes, faults);
    for (std::size_t i = 0; i < sizeof out / sizeof(L4); ++i)
        CHECK(std::isfinite((&out.clearance)[i].lane(1)));
    return number::rule_of(faults.code.lane(1));
}

} // namespace

TEST_CASE("geometry of a deep groove bearing", "[bearings]") {
    // T6-01: Harris & Kotzalas, examples 2.1 to 2.3, bearing of size 209, f = 0.52 (from memory):
    // contact angle 9.86 / 9.858 deg, end play 0.174 / 0.1739 mm, curvature sums 0.202 / 0.20178 and
    // 0.138 / 0.1378 per mm, F 0.9399 / 0.93996 and 0.912 / 0.91209 (at contact angle 0)
    const auto out = run_mounted({{9, 12.7e-3, 65e-3, 0.52, 0.52, 15e-6, 0, fields::worked_out, 1,
                                   1, 0.2, 0.2, fields::worked_out},
                                  0,
                                  0,
                                  20,
                                  0,
                                  1});
    CHECK(out.contact_angle / degree == Approx(9.858).margin(6e-4));
    CHECK(out.end_play == Approx(0.1739e-3).margin(6e-8));
    CHECK(out.radial_play == out.clearance);
    const auto inner = inner_curvatures(12.7e-3, 12.7 / 65, 0.52);
    const auto outer = outer_curvatures(12.7e-3, 12.7 / 65, 0.52);
    CHECK(inner.along + inner.across == Approx(201.78).margin(6e-3));
    CHECK(outer.along + outer.across == Approx(137.8).margin(6e-2));
    CHECK((inner.along - inner.across) / (inner.along + inner.across) ==
          Approx(0.93996).margin(6e-6));
    CHECK((outer.along - outer.across) / (outer.along + outer.across) ==
          Approx(0.91209).margin(6e-6));
}

TEMPLATE_TEST_CASE("angular contact under centric thrust", "[bearings]", double, D2) {
    // T6-03: Harris & Kotzalas, bearing of size 218 (from memory). With the charted constant
    // K = 896.7 N/mm^2 in Q = K D^2 (y/A)^1.5: 41.6 / 41.592 deg, 0.0386 / 0.03832 mm; exact Hertz,
    // computed again: 41.5 deg, 0.036 mm, 1679.0 N.
    using T = TestType;
    const auto v = [](const T& x) { return number::value_of(x); };
    const double f = 0.5232; // as printed; 11.63/22.23 is 0.52317
    const double distance = (2 * f - 1) * 22.23e-3;
    const Bearing<T> bearing{16.0,
                             22.23e-3,
                             125.26e-3,
                             f,
                             f,
                             2 * distance * (1 - std::cos(40 * degree)),
                             0.0,
                             fields::worked_out,
                             1.0,
                             1.0,
                             0.2,
                             0.2,
                             fields::worked_out};
    number::Faults<T> faults;
    auto contacts = contact_constants(bearing, steel, steel, T(1.0), faults);
    const T none(0.0);
    const auto exact = mounted_state(bearing, contacts, none, none, none, T(17800.0), faults);
    CHECK(v(exact.contact_angle) / degree == Approx(40.0));
    CHECK(v(exact.loaded_angle) / degree == Approx(41.5).margin(6e-3));
    CHECK(v(exact.axial_displacement) == Approx(0.036e-3).margin(6e-9));
    CHECK(v(exact.ball_load) == Approx(1679.0).margin(0.06));
    contacts.stiffness = 896.7e6 * 22.23e-3 * 22.23e-3 / std::pow(distance, 1.5);
    const auto charted = mounted_state(bearing, contacts, none, none, none, T(17800.0), faults);
    CHECK(v(charted.loaded_angle) / degree == Approx(41.592).margin(6e-4));
    CHECK(v(charted.axial_displacement) == Approx(0.03832e-3).margin(6e-9));
}

TEST_CASE("balls carry the thrust and store its work", "[bearings]") {
    std::mt19937 random(7);
    const auto between = [&](double low, double high) {
        return std::uniform_real_distribution<double>(low, high)(random);
    };
    for (int i = 0; i < 2000; ++i) {
        MountedInputs<double> in = example();
        in.bearing.clearance = between(-60e-6, 400e-6);
        in.bearing.inner_curvature = between(0.505, 0.56);
        in.bearing.outer_curvature = between(0.505, 0.56);
        in.thrust = std::pow(10.0, between(-6, 5.5));
        const auto out = run_mounted(in);
        REQUIRE(in.bearing.balls * out.ball_load * std::sin(out.loaded_angle) ==
                Approx(in.thrust).epsilon(1e-9));
        REQUIRE(out.loaded_angle >= out.contact_angle);
        // Energy of Z springs Q = K y^1.5: U = 2/5 Q y each; dU = F dx.
        number::Faults<double> faults;
        const double k = contact_constants(in.bearing, steel, steel, 1.0, faults).stiffness;
        const auto energy = [&](const MountedOutputs<double>& o) {
            return in.bearing.balls * 0.4 * o.ball_load * std::cbrt(std::pow(o.ball_load / k, 2));
        };
        in.thrust *= 1.001;
        const auto more = run_mounted(in);
        if (out.clearance > 0.0 || in.thrust > 100.0)
            REQUIRE((energy(more) - energy(out)) /
                        (more.axial_displacement - out.axial_displacement) ==
                    Approx(in.thrust / 1.001 * 1.0005).epsilon(1e-4));
    }
}

TEST_CASE("limits of the mounted bearing", "[bearings]") {
    MountedInputs<double> in = example();
    SECTION("one material at one temperature scales the clearance") {
        const double warm = 12e-6 * 80.0;
        const double ball = in.bearing.ball_diameter;
        in.ball_temperature = 100.0;
        in.inner_growth = (in.bearing.pitch_diameter - ball - in.bearing.clearance / 2) * warm;
        in.outer_growth = (in.bearing.pitch_diameter + ball + in.bearing.clearance / 2) * warm;
        CHECK(run_mounted(in).clearance == Approx(in.bearing.clearance * (1 + warm)));
    }
    SECTION("no thrust") {
        in.thrust = 0.0;
        const auto out = run_mounted(in);
        CHECK(out.ball_load == 0.0);
        CHECK(out.axial_displacement == 0.0);
        CHECK(out.inner_stress == 0.0);
        CHECK(out.loaded_angle == out.contact_angle);
        in.thrust = 1e-9;
        CHECK(run_mounted(in).axial_displacement < 1e-12);
    }
    SECTION("radial preload") {
        in.inner_growth = 300e-6;
        in.thrust = 0.0;
        const auto idle = run_mounted(in);
        REQUIRE(idle.clearance < 0.0);
        CHECK(idle.contact_angle == 0.0);
        CHECK(idle.end_play == 0.0);
        CHECK(idle.loaded_angle == 0.0);
        number::Faults<double> faults;
        const double k = contact_constants(in.bearing, steel, steel, 1.0, faults).stiffness;
        CHECK(idle.ball_load == Approx(k * std::pow(-idle.clearance / 2, 1.5)));
        // A small thrust moves it straight: F = Z Q x/Ar.
        in.thrust = 1.0;
        const double radial = 0.05 * 0.019 - idle.clearance / 2;
        CHECK(run_mounted(in).axial_displacement ==
              Approx(radial / (in.bearing.balls * idle.ball_load)).epsilon(1e-4));
    }
    SECTION("neither clearance nor preload: thrust goes as x^4") {
        in = example();
        in.inner_growth = in.bearing.clearance;
        in.outer_growth = 0.0;
        in.ball_temperature = 20.0;
        in.thrust = 1e-3;
        const double x = run_mounted(in).axial_displacement;
        in.thrust = 16e-3;
        CHECK(run_mounted(in).axial_displacement == Approx(2 * x).epsilon(1e-3));
        in.thrust = 0.0;
        CHECK(run_mounted(in).axial_displacement == 0.0);
    }
    SECTION("the shim takes end play and raises the balls") {
        const auto whole = run_mounted(in);
        in.bearing.shim = 100e-6;
        const auto split = run_mounted(in);
        CHECK(split.end_play == Approx(whole.end_play - 100e-6));
        const double arch = 0.04 * 0.019;
        CHECK(split.clearance - split.radial_play ==
              Approx(arch * (1 - std::cos(std::asin(100e-6 / arch)))));
        CHECK(split.ball_load == whole.ball_load);
    }
}

TEST_CASE("a bearing that cannot be is refused and stays finite", "[bearings]") {
    MountedInputs<double> in = example();
    CHECK(fault_of(in) == number::no_rule);
    in.bearing.balls = 18.0; // chord 19.1 mm
    CHECK(fault_of(in) == number::no_rule);
    in.bearing.balls = 19.0;
    CHECK(fault_of(in) == rules::balls_fit_circle);
    in = example();
    in.bearing.inner_curvature = 0.5;
    CHECK(fault_of(in) == rules::inner_groove_open);
    in = example();
    in.bearing.outer_curvature = 0.45;
    CHECK(fault_of(in) == rules::outer_groove_open);
    in = example();
    in.bearing.clearance = 2e-3;
    CHECK(fault_of(in) == rules::clearance_below_groove);
    in = example();
    in.outer_growth = 5e-3;
    CHECK(fault_of(in) == rules::clearance_below_groove);
    in = example();
    in.bearing.shim = 0.8e-3;
    CHECK(fault_of(in) == rules::shim_below_arch);
    in = example();
    in.ball_temperature = 600.0;
    CHECK(fault_of(in) == rules::temperature_in_material_range);
}

TEST_CASE("exact derivatives of the bearing", "[bearings]") {
    const auto compare = [](const MountedInputs<double>& at) {
        constexpr std::size_t inputs = sizeof at / sizeof(double);
        constexpr std::size_t outputs = sizeof(MountedOutputs<double>) / sizeof(double);
        for (std::size_t i = 0; i < inputs; ++i) {
            const double x = (&at.bearing.balls)[i];
            if (!(x < 1e300))
                continue;
            MountedInputs<D2> dual;
            for (std::size_t k = 0; k < inputs; ++k)
                (&dual.bearing.balls)[k] = (&at.bearing.balls)[k];
            (&dual.bearing.balls)[i].d.set_lane(1, 1.0);
            number::Faults<D2> faults;
            const auto exact = run_mounted(dual, faults);
            CHECK(faults.code == 0.0);
            CHECK(!faults.one_sided);
            const double step = std::max(std::abs(x) * 1e-5, 1e-9);
            MountedInputs<double> low = at;
            MountedInputs<double> high = at;
            (&low.bearing.balls)[i] = x - step;
            (&high.bearing.balls)[i] = x + step;
            const auto a = run_mounted(low);
            const auto b = run_mounted(high);
            const auto middle = run_mounted(at);
            for (std::size_t j = 0; j < outputs; ++j) {
                const double plain = ((&b.clearance)[j] - (&a.clearance)[j]) / (2 * step);
                INFO("input " << i << " output " << j);
                CHECK((&exact.clearance)[j].value == (&middle.clearance)[j]);
                CHECK((&exact.clearance)[j].d.lane(0) == 0.0);
                CHECK((&exact.clearance)[j].d.lane(1) ==
                      Approx(plain).epsilon(1e-4).margin(1e-8 * std::abs((&middle.clearance)[j]) /
                                                         step));
            }
        }
    };
    MountedInputs<double> in = example();
    in.bearing.shim = 50e-6;
    compare(in);
    in.inner_growth = 300e-6; // preload
    compare(in);
    in.thrust = 30.0;
    compare(in);
}

TEST_CASE("lanes give the bits of double", "[bearings]") {
    const double thrusts[4] = {0.0, 3.0, 2e4, 3e5};
    const double growths[4] = {60e-6, 300e-6, 250e-6, 0.0};
    MountedInputs<L4> lanes;
    MountedInputs<double> in = example();
    for (std::size_t i = 0; i < sizeof in / sizeof(double); ++i)
        (&lanes.bearing.balls)[i] = L4((&in.bearing.balls)[i]);
    lanes.thrust = L4::load(thrusts);
    lanes.inner_growth = L4::load(growths);
    number::Faults<L4> faults;
    const auto out = run_mounted(lanes, faults);
    for (int w = 0; w < 4; ++w) {
        in.thrust = thrusts[w];
        in.inner_growth = growths[w];
        const auto one = run_mounted(in);
        for (std::size_t j = 0; j < sizeof one / sizeof(double); ++j)
            CHECK((&out.clearance)[j].lane(w) == (&one.clearance)[j]);
    }
}
