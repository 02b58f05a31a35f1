// Load ratings of bearings: what must hold whatever the numbers, and what is refused.
// Published values stand in tests/reference/ratings.toml.
#include "../../cpp/src/bearings/detail/dynamic_rating.hpp"
#include "../../cpp/src/bearings/detail/roller_rating.hpp"
#include "rating_cases.hpp"

#include <cmath>

using namespace rating_cases;

TEST_CASE("powers agree with the standard library", "[number]") {
    for (const double p : {-9.3, -0.83, 0.3, 0.41, 2.0 / 3.0, 1.8, 10.0 / 3.0})
        for (double x = 1e-12; x < 1e12; x *= 7.3)
            CHECK(number::power(x, p) ==
                  Approx(std::pow(x, p)).epsilon(4e-16 * (1.0 + std::abs(p * std::log(x)))));
    CHECK(number::power(0.0, 0.5) == 0.0);
    CHECK(number::power(-1.0, 2.0) == 0.0);
}

TEST_CASE("thrust ratings go on to 90 degrees without a step", "[ratings]") {
    const auto near = dynamic_rating(loaded(90 * degree - 1e-7, 0, 1e3), BearingKind::thrust);
    const auto at = dynamic_rating(loaded(90 * degree, 0, 1e3), BearingKind::thrust);
    CHECK(near.dynamic_rating == Approx(at.dynamic_rating).epsilon(1e-6));
    CHECK(at.equivalent_load == 1e3);
    CHECK(std::isfinite(at.radial_factor));
}

TEST_CASE("ratings scale as the standard says", "[ratings]") {
    const auto one = dynamic_rating(loaded(0, 1e3, 0));
    auto in = loaded(40 * degree, 0, 1e3);
    const auto single = dynamic_rating(in);
    in.row.rows = 2.0;
    const auto tandem = dynamic_rating(in);
    const auto pair = dynamic_rating(in, BearingKind::radial, Arrangement::opposed);
    CHECK(tandem.dynamic_rating == Approx(std::pow(2.0, 0.7) * single.dynamic_rating));
    CHECK(pair.dynamic_rating == Approx(tandem.dynamic_rating));
    // A double row without contact angle is rated by 0.90 in place of 0.95.
    auto deep = loaded(0, 1e3, 0);
    deep.row.rows = 2.0;
    CHECK(dynamic_rating(deep).dynamic_rating ==
          Approx(std::pow(2.0, 0.7) * 0.90 / 0.95 * one.dynamic_rating));
    // D^1.8 below an inch, D^1.4 above, with the same D/dm.
    const auto rating_of = [](double d) {
        auto x = loaded(0, 1e3, 0);
        x.row.ball_diameter = d;
        x.row.pitch_diameter = 6.0 * d;
        return dynamic_rating(x).dynamic_rating;
    };
    CHECK(rating_of(0.020) / rating_of(0.010) == Approx(std::pow(2.0, 1.8)));
    CHECK(rating_of(0.060) / rating_of(0.030) == Approx(std::pow(2.0, 1.4)));
    CHECK(rating_of(0.0254) == Approx(rating_of(0.02540001)).epsilon(1e-5));
    // Ten times the load: a thousandth of the life.
    CHECK(dynamic_rating(loaded(0, 1e3, 0)).life ==
          Approx(1e3 * dynamic_rating(loaded(0, 1e4, 0)).life));
}

TEST_CASE("the static rating presses the worst ball with 4200 MPa", "[ratings]") {
    auto in = fields::standard_inputs<StaticRatingInputs>();
    in.row = row_at(25 * degree);
    in.row.inner_curvature = 0.53;
    const auto out = static_rating(in);
    // The same contact by the model of contacts.
    auto hertz_in = fields::standard_inputs<HertzInputs>();
    const double d = 22e-3;
    const double gamma = d * std::cos(25 * degree) / 125e-3;
    hertz_in.first.curvature_x = hertz_in.first.curvature_y = 2.0 / d;
    hertz_in.second.curvature_y = -1.0 / (0.53 * d);
    hertz_in.second.curvature_x = 2.0 / d * gamma / (1.0 - gamma);
    const auto steel207 = bearings_cases::metal(207e9, 0.3);
    hertz_in.load = 5.0 * out.static_rating / (16.0 * std::cos(25 * degree));
    CHECK(hertz(hertz_in, steel207, steel207).contact_stress == Approx(4200e6).epsilon(1e-9));
    // 1/4.37 of the load and 1500 MPa make Cu, less above 100 mm.
    hertz_in.load = out.fatigue_limit / (0.2288 * 16.0 * std::cos(25 * degree) * std::sqrt(0.8));
    CHECK(hertz(hertz_in, steel207, steel207).contact_stress == Approx(1500e6).epsilon(1e-9));
}

TEST_CASE("a groove tighter than the standard's gains nothing unless told", "[ratings]") {
    auto in = loaded(0, 1e3, 0);
    in.row.inner_curvature = 0.515;
    const auto standard = dynamic_rating(in);
    const auto measured =
        dynamic_rating(in, BearingKind::radial, Arrangement::tandem, Grooves::measured);
    in.row.inner_curvature = 0.52;
    CHECK(dynamic_rating(in).dynamic_rating == standard.dynamic_rating);
    CHECK(measured.dynamic_rating > 1.03 * standard.dynamic_rating);
    in.row.inner_curvature = 0.55; // worn wide
    CHECK(dynamic_rating(in).dynamic_rating < 0.85 * standard.dynamic_rating);
}

TEST_CASE("what cannot be rated is refused by name", "[ratings][bad]") {
    using S = std::string;
    const S steep = refusal([] { dynamic_rating(loaded(50 * degree, 0, 1e3)); });
    CHECK(says(steep, "row.contact_angle: 50 deg is that of a thrust bearing"));
    const S flat =
        refusal([] { dynamic_rating(loaded(40 * degree, 0, 1e3), BearingKind::thrust); });
    CHECK(says(flat, "row.contact_angle: 40 deg is that of a radial bearing"));
    CHECK(says(refusal([] { dynamic_rating(loaded(60 * degree, 1e3, 1e3), BearingKind::thrust); }),
               "radial_load: 1 kN is too large for a thrust bearing of one direction"));
    CHECK(says(refusal([] {
                   dynamic_rating(loaded(40 * degree, 0, 1e3), BearingKind::radial,
                                  Arrangement::opposed);
               }),
               "row.rows: 1 must be 2 where the rows are opposed"));
    CHECK(says(refusal([] {
                   auto in = loaded(0, 1e3, 0);
                   in.row.rows = 1.5;
                   dynamic_rating(in);
               }),
               "row.rows: 1.5 must be a whole number"));
    CHECK(says(refusal([] {
                   auto in = loaded(0, 1e3, 0);
                   in.row.balls = 40;
                   dynamic_rating(in);
               }),
               "row.balls: 40 do not fit side by side on the pitch circle"));
    CHECK(says(refusal([] {
                   auto in = loaded(5 * degree, 1e3, 0);
                   in.row.rows = 2.0;
                   dynamic_rating(in, BearingKind::radial, Arrangement::opposed);
               }),
               "row.contact_angle: 5 deg must be at least 10 deg where ball rows are opposed"));
    auto rollers = fields::standard_inputs<RollerRatingInputs>();
    rollers.row.rollers = 14;
    rollers.row.roller_diameter = 12e-3;
    rollers.row.effective_length = 11e-3;
    rollers.row.pitch_diameter = 65e-3;
    rollers.radial_load = 1e3;
    CHECK(roller_rating(rollers).equivalent_load == 1e3);
    rollers.axial_load = 200.0;
    CHECK(says(refusal([&] { roller_rating(rollers); }),
               "axial_load: 0.2 kN cannot be rated: rollers at a contact angle below 1 deg"));
    rollers.row.rollers = 60;
    CHECK(says(refusal([&] { roller_rating(rollers); }), "row.rollers: 60 do not fit"));
}
