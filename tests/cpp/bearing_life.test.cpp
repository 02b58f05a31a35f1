// Lives of bearings: what must hold whatever the numbers, and what is refused.
// Published values stand in tests/reference/ratings.toml.
#include "../../cpp/src/bearings/detail/modified_life.hpp"
#include "../../cpp/src/bearings/detail/reference_life.hpp"
#include "rating_cases.hpp"

#include <cmath>
#include <vector>

using namespace rating_cases;

TEST_CASE("the reference life of even loads is the basic life", "[life]") {
    // Thrust alone on a thrust bearing: ISO/TS 16281 says nothing new then.
    for (const double angle : {50.0, 60.0, 90.0}) {
        const double thrust = 40e3;
        const auto basic = dynamic_rating(loaded(angle * degree, 0, thrust), BearingKind::thrust);
        auto in = fields::standard_inputs<ReferenceLifeInputs>();
        in.row = row_at(angle * degree);
        in.inner_load = thrust / (16.0 * std::sin(angle * degree));
        const auto out = reference_life(in, BearingKind::thrust);
        CHECK(out.life == Approx(basic.life).epsilon(1e-12));
        CHECK(out.reference_load == Approx(thrust).epsilon(1e-12));
        CHECK(std::pow(out.life, -10.0 / 9.0) == Approx(std::pow(out.inner_life, -10.0 / 9.0) +
                                                        std::pow(out.outer_life, -10.0 / 9.0)));
    }
}

TEST_CASE("the reference life of half a ring loaded is close to the basic life", "[life]") {
    // Radial load without clearance: Q = Qmax cos^1.5 over half the ring, Qmax = 4.37 Fr/Z. The
    // constants 0.407 and 0.389 of the standard were made for it.
    constexpr int n = 720;
    const double radial = 20e3;
    const auto basic = dynamic_rating(loaded(0, radial, 0));
    number::Faults<double> faults;
    BallRow<double> b = row_at(0);
    const RowChoices c{BearingKind::radial, Arrangement::tandem, Grooves::standard};
    const auto row = rated_row(b, c, faults);
    const auto ratings =
        race_ratings(row, c.kind, ball_capacity(row, c).ratio, basic.dynamic_rating);
    std::vector<double> loads;
    for (int k = 0; k < n; ++k) {
        const double cosine = std::cos(2.0 * fields::pi * k / n);
        loads.push_back(cosine > 0 ? 4.37 * radial / 16.0 * std::pow(cosine, 1.5) : 0.0);
    }
    const auto lives = race_lives(loads.data(), loads.data(), n, ratings, 1.0, TurningRing::inner);
    CHECK(lives.both == Approx(basic.life).epsilon(0.01));
    // With the outer ring turning the inner one stands in the load and suffers more.
    const auto turned = race_lives(loads.data(), loads.data(), n, ratings, 1.0, TurningRing::outer);
    CHECK(turned.both < lives.both);
    CHECK(turned.inner < lives.inner);
    CHECK(turned.outer > lives.outer);
}

TEST_CASE("two like rows that share a load last as one double row", "[life]") {
    // C goes with i^0.7, so that rows which must all last (slope 10/9) last longer than one of them
    // by 2^(3 - 0.9).
    auto in = fields::standard_inputs<ReferenceLifeInputs>();
    in.row = row_at(30 * degree);
    in.inner_load = 2e3;
    const auto one = reference_life(in);
    in.row.rows = 2.0;
    in.inner_load = 1e3;
    const auto two = reference_life(in);
    CHECK(two.life == Approx(one.life * std::pow(2.0, 3.0 - 0.9)));
    CHECK(two.reference_load == Approx(one.reference_load));
}

TEST_CASE("heavier outer loads at speed shorten the life by the outer raceway alone", "[life]") {
    auto in = fields::standard_inputs<ReferenceLifeInputs>();
    in.row = row_at(30 * degree);
    in.inner_load = 1.5e3;
    const auto still = reference_life(in);
    in.outer_load = 2.5e3;
    const auto fast = reference_life(in);
    CHECK(fast.inner_life == still.inner_life);
    CHECK(fast.outer_life == Approx(still.outer_life * std::pow(0.6, 3.0)));
    CHECK(fast.life < still.life);
}

TEST_CASE("states in turn add up their damage", "[life]") {
    DutyCycle<double> cycle;
    cycle.add(0.5, 100.0, 2e9);
    cycle.add(0.3, 300.0, 5e8);
    cycle.add(0.2, 0.0, 1e18); // at rest
    // Miner: hours in each state over the hours it would last alone.
    const double per_second = (0.5 * 100.0 / 2e9 + 0.3 * 300.0 / 5e8) / (2.0 * fields::pi);
    CHECK(cycle.time() == Approx(1.0 / per_second));
    CHECK(cycle.life() == Approx((50.0 + 90.0) / (50.0 / 2e9 + 90.0 / 5e8)));
    // One state alone is itself; shares need not sum to one.
    DutyCycle<double> alone;
    alone.add(7.0, 100.0, 2e9);
    CHECK(alone.life() == Approx(2e9));
    CHECK(alone.time() == Approx(2e9 * 2.0 * fields::pi / 100.0));
    CHECK(DutyCycle<double>().time() == longest_time);
}

TEST_CASE("what the oil does stays between 0.1 and 50", "[life]") {
    auto in = oiled();
    in.oil.viscosity = 1.0; // a film many times too thick counts as kappa = 4
    in.equivalent_load = 100.0;
    const auto best = modified_life(in);
    CHECK(best.modification_factor == 50.0);
    CHECK(best.viscosity_ratio > 4.0);
    in.contamination_factor = 0.0;
    CHECK(modified_life(in).modification_factor == Approx(0.1));
    in = oiled();
    in.speed = 0.1; // barely turning: no film
    const auto creeping = modified_life(in);
    CHECK(creeping.viscosity_ratio < 0.1);
    CHECK(creeping.modification_factor == 0.1);
    in.speed = 0.0;
    CHECK(modified_life(in).running_time == longest_time);
}

TEST_CASE("the fatigue limit left out is estimated from the static rating", "[life]") {
    auto in = oiled();
    CHECK(modified_life(in).fatigue_limit == Approx(80e3 / 22.0));
    CHECK(modified_life(in, RatedBearing::radial_roller).fatigue_limit == Approx(80e3 / 8.2));
    in.pitch_diameter = 0.4;
    CHECK(modified_life(in).fatigue_limit == Approx(80e3 / 22.0 * 0.5));
    CHECK(modified_life(in, RatedBearing::radial_roller).fatigue_limit ==
          Approx(80e3 / 8.2 * std::pow(0.25, 0.3)));
}

TEST_CASE("a thicker or cleaner oil is never worse", "[life]") {
    double before = 0.0;
    for (double nu = 1e-6; nu < 400e-6; nu *= 1.1) {
        auto in = oiled();
        in.oil.viscosity = nu;
        const double factor = modified_life(in).modification_factor;
        CHECK(factor >= before * (1.0 - 5e-4)); // the formulas meet within this at 0.4
        before = factor;
    }
    for (const auto supply : {Lubrication::oil_bath, Lubrication::grease}) {
        double last = 1.0;
        for (const auto oil : {Cleanliness::high, Cleanliness::normal, Cleanliness::slight,
                               Cleanliness::severe, Cleanliness::very_severe}) {
            const double factor =
                modified_life(oiled(), RatedBearing::radial_ball, supply, oil).contamination_factor;
            CHECK(factor < last);
            CHECK(factor >= 0.0);
            last = factor;
        }
    }
}

TEST_CASE("the oil passes through the two viscosities it is told by", "[life]") {
    auto in = oiled();
    in.temperature = 40.0;
    CHECK(modified_life(in).viscosity == Approx(68e-6).epsilon(1e-12));
    in.temperature = 100.0;
    CHECK(modified_life(in).viscosity == Approx(8.7e-6).epsilon(1e-12));
}

TEST_CASE("an unknown oil or limit is refused by name", "[life][bad]") {
    CHECK(says(refusal([] {
                   auto in = oiled();
                   in.oil.viscosity_100 = fields::worked_out;
                   modified_life(in);
               }),
               "oil.viscosity: must be given, or else viscosity_40 and viscosity_100"));
    CHECK(says(refusal([] {
                   auto in = oiled();
                   in.oil.viscosity_100 = 80e-6;
                   modified_life(in);
               }),
               "oil.viscosity_100: 80 mm^2/s must be below the viscosity at 40 degC"));
    CHECK(says(refusal([] {
                   auto in = oiled();
                   in.static_rating = fields::worked_out;
                   modified_life(in);
               }),
               "fatigue_limit: must be given, or else the static_rating"));
    CHECK(says(refusal([] {
                   modified_life(oiled(), RatedBearing::radial_ball, Lubrication::oil_filtered,
                                 Cleanliness::very_severe);
               }),
               "contamination_factor: must be given: filtered oil has no class"));
    CHECK(says(refusal([] {
                   auto in = dragged();
                   in.static_rating = fields::worked_out;
                   creep(in);
               }),
               "load_factor: must be given, or else static_rating"));
    CHECK(says(refusal([] {
                   auto in = fields::standard_inputs<BasicLifeInputs>();
                   basic_life(in);
               }),
               "dynamic_rating: must be given"));
}

TEST_CASE("lists of ball loads and of states", "[life]") {
    auto in = fields::standard_inputs<ReferenceLifeInputs>();
    in.row = row_at(30 * degree);
    in.inner_load = 1.5e3;
    in.outer_load = 1.8e3;
    const auto even = reference_life(in);
    const std::vector<double> inner(16, 1.5e3);
    const std::vector<double> outer(16, 1.8e3);
    const auto life = [&](std::span<const double> i, std::span<const double> o) {
        return ring_life(in, BearingKind::radial, Arrangement::tandem, Grooves::standard,
                         TurningRing::inner, i, o);
    };
    const auto same = life(inner, outer);
    CHECK(same.life == Approx(even.life).epsilon(1e-14));
    CHECK(same.reference_load == Approx(even.reference_load).epsilon(1e-14));
    std::vector<double> uneven = inner;
    uneven[3] = 3e3;
    uneven[4] = 0.0;
    CHECK(life(uneven, outer).life < even.life);
    CHECK(says(refusal([&] { life(std::vector<double>(15, 1e3), outer); }),
               "inner_loads: has 15 entries, wanted are 16"));
    uneven[4] = -1.0;
    CHECK(says(refusal([&] { life(uneven, outer); }),
               "inner_loads[4]: -0.001 kN must not be below 0 kN"));

    const std::vector<double> shares{0.7, 0.3};
    const std::vector<double> speeds{100.0, 300.0};
    const std::vector<double> lives{2e9, 5e8};
    const auto duty = duty_life(shares, speeds, lives);
    CHECK(duty.damage[0] / duty.damage[1] == Approx((70.0 / 2e9) / (90.0 / 5e8)));
    CHECK(duty.damage[0] + duty.damage[1] == Approx(1.0));
    CHECK(duty.life > 5e8);
    CHECK(duty.life < 2e9);
    const std::vector<double> none{0.0, 0.0};
    CHECK(duty_life(shares, none, lives).running_time == longest_time);
    CHECK(says(refusal([&] { duty_life(none, speeds, lives); }), "shares: are all 0"));
    CHECK(says(refusal([&] { duty_life(shares, speeds, none); }),
               "lives[0]: 0 Mrevolution must be above 0 Mrevolution"));
    CHECK(says(refusal([&] { duty_life({}, {}, {}); }), "shares: is empty"));
}
