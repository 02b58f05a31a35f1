// The outer ring in its housing, and preloaded pairs.
#include "../../cpp/src/bearings/detail/mounting.hpp"
#include "bearings_cases.hpp"
#include "catch.hpp"

#include <fitwright/fields/error.hpp>

using namespace fitwright;
using namespace fitwright::bearings;
using namespace bearings_cases;

namespace {

const materials::Material aluminium = metal(70e9, 0.33, 23e-6);

HousingFitOutputs<double> run(const HousingFitInputs<double>& in) {
    const materials::Material* both[] = {&steel, &aluminium};
    HousingFitOutputs<double> out;
    number::Faults<double> faults;
    HousingFit::run<double>(&in.outside, &out.interference, {both, nullptr, nullptr}, faults);
    return out;
}
template <class T>
PairOutputs<T> run(const PairInputs<T>& in, int arrangement, int preload,
                   number::Faults<T>& faults) {
    const materials::Material* both[] = {&steel, &steel};
    const int choices[] = {arrangement, preload};
    PairOutputs<T> out;
    Pair::run<T>(&in.bearing.balls, &out.offset, {both, choices, nullptr}, faults);
    return out;
}
PairOutputs<double> run(const PairInputs<double>& in, int arrangement = 0, int preload = 0) {
    number::Faults<double> faults;
    return run(in, arrangement, preload, faults);
}
PairInputs<double> rows(double preload, double thrust) {
    // 25 degrees free angle
    const double clearance = 2 * 0.04 * 0.012 * (1 - std::cos(25 * degree));
    return {{16, 0.012, 0.08, 0.52, 0.52, clearance, 0, fields::worked_out, 1, 1, 0.2, 0.2,
             fields::worked_out},
            0.0,
            0.0,
            20.0,
            preload,
            0.0,
            thrust,
            1.0};
}

} // namespace

TEST_CASE("an outer ring in its housing", "[bearings]") {
    HousingFitInputs<double> in{
        0.160, 0.140, fields::worked_out, 20.0, 1.0, 1.0, {0.15998, 0.22, 20.0, 1.0, 1.0}};
    const auto tight = run(in);
    CHECK(tight.interference == Approx(20e-6));
    // Lame by hand: compliance on diameter d/E [(D^2 + d^2)/(D^2 - d^2) +- nu].
    const double ring = 0.160 / 206.84e9 *
                        ((0.160 * 0.160 + 0.140 * 0.140) / (0.160 * 0.160 - 0.140 * 0.140) - 0.3);
    const double house =
        0.15998 / 70e9 *
        ((0.22 * 0.22 + 0.15998 * 0.15998) / (0.22 * 0.22 - 0.15998 * 0.15998) + 0.33);
    CHECK(tight.pressure == Approx(20e-6 / (ring + house)).epsilon(1e-9));
    // The bore of a squeezed ring closes by 2 p d/E b^2/(b^2 - a^2).
    CHECK(tight.outer_growth == Approx(-2 * tight.pressure * 0.140 / 206.84e9 * 0.160 * 0.160 /
                                       (0.160 * 0.160 - 0.140 * 0.140)));
    CHECK(tight.growth_spread == 0.0);
    in.shoulder = 0.134;
    CHECK(run(in).growth_spread > 0.0); // a stiffer ring closes less
    // An aluminium housing lets go when hot: 160 mm times 11e-6 times 80 K is 141 um.
    in.temperature = in.housing.temperature = 100.0;
    const auto loose = run(in);
    CHECK(loose.interference == Approx(20e-6 - 0.16 * 11e-6 * 80).margin(1e-7));
    CHECK(loose.pressure == 0.0);
    CHECK(loose.outer_growth == Approx(0.140 * 12e-6 * 80));
    in.shoulder = 0.15;
    CHECK_THROWS_AS(run(in), Fault);
}

TEST_CASE("a clamped pair comes off its second row at 2.8 times the preload", "[bearings]") {
    // common practice: 2^1.5 = 2.83; the contact angle turns up under thrust, which adds some percent
    for (const double preload : {50.0, 300.0}) {
        const auto at = run(rows(preload, 0.0));
        CHECK(at.preload_left == Approx(preload).epsilon(1e-9));
        CHECK(at.first_load == Approx(preload).epsilon(1e-9));
        CHECK(at.unloading_thrust / preload == Approx(std::pow(2.0, 1.5)).epsilon(0.06));
        const auto just = run(rows(preload, at.unloading_thrust * 0.999));
        CHECK(just.second_load < preload * 0.01);
        CHECK(just.second_load > 0.0);
        CHECK(just.first_load - just.second_load == Approx(at.unloading_thrust * 0.999));
        const auto off = run(rows(preload, at.unloading_thrust * 1.2));
        CHECK(off.second_load == 0.0);
        CHECK(off.unloading_margin < 0.0);
        CHECK(off.displacement > just.displacement);
        CHECK(off.displacement < just.displacement * 1.5);
    }
}

TEST_CASE("what changes a preload", "[bearings]") {
    auto in = rows(300.0, 0.0);
    const double built = run(in).preload_left;
    in.inner_longer = 2e-6;
    CHECK(run(in, 0).preload_left < built); // back to back
    CHECK(run(in, 1).preload_left > built); // face to face
    in.inner_longer = 1e-3;
    CHECK(run(in, 0).preload_left == 0.0);
    // A row with less clearance stands flatter: its centres come together, and the preload grows.
    in = rows(300.0, 0.0);
    in.inner_growth = 5e-6;
    CHECK(run(in, 0).preload_left > built);
    // A spring keeps its force; in tandem both share.
    in = rows(300.0, 1000.0);
    CHECK(run(in, 0, 1).second_load == 300.0);
    CHECK(run(in, 0, 1).first_load == 1300.0);
    CHECK(run(in, 2, 0).second_load == 650.0);
    CHECK(run(in, 2, 0).displacement < run(in, 0, 1).displacement);
}

TEST_CASE("exact derivatives of the pair", "[bearings]") {
    const auto in = rows(300.0, 400.0);
    for (const std::size_t i : {std::size_t(1), std::size_t(5), std::size_t(13), std::size_t(16),
                                std::size_t(17), std::size_t(18)}) {
        PairInputs<D2> dual;
        for (std::size_t k = 0; k < sizeof in / sizeof(double); ++k)
            (&dual.bearing.balls)[k] = (&in.bearing.balls)[k];
        (&dual.bearing.balls)[i].d.set_lane(0, 1.0);
        number::Faults<D2> faults;
        const auto exact = run(dual, 0, 0, faults);
        const double x = (&in.bearing.balls)[i];
        const double step = std::max(std::abs(x) * 1e-5, 1e-10);
        auto low = in;
        auto high = in;
        (&low.bearing.balls)[i] -= step;
        (&high.bearing.balls)[i] += step;
        const auto a = run(low);
        const auto b = run(high);
        for (std::size_t j = 0; j < sizeof a / sizeof(double); ++j) {
            INFO("input " << i << " output " << j);
            CHECK((&exact.offset)[j].d.lane(0) ==
                  Approx(((&b.offset)[j] - (&a.offset)[j]) / (2 * step))
                      .epsilon(1e-4)
                      .margin(1e-7 * std::abs((&a.offset)[j]) / step));
        }
    }
}
