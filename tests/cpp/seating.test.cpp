// Seating against the finite-element figures: two shapes, two programs (from the reference table of
// two independent finite-element programs, F and G there). One family of geometry: shaft 40/80,
// ring 80/120 x 40, interference 60 um, friction 0.15, steel.
#include "cases.hpp"
#include "catch.hpp"

#include <cmath>
#include <fitwright/fields/error.hpp>
#include <fitwright/heat/seating.hpp>

using namespace fitwright;
using namespace fitwright::heat;

namespace {

const materials::Entry steel = cases::even_metal(206e9, 11.5e-6, 0.3);

SeatingInputs<double> shape(double press) {
    auto in = fields::standard_inputs<SeatingInputs>();
    in.shaft.bore = 0.040;
    in.shaft.seat = 0.080;
    in.ring.bore = 0.080;
    in.ring.outside = 0.120;
    in.ring.length = 0.040;
    in.interference = 60e-6;
    in.press_force = press;
    return in;
}
// F1: shaft as long as the ring. F2: shaft that goes on both ways.
SeatingInputs<double> as_long(double press) {
    auto in = shape(press);
    in.wall_shear = 0.21;
    in.springback = 1.84;
    in.end_effect = 0.0;
    return in;
}
SeatingInputs<double> goes_on(double press) {
    auto in = shape(press);
    in.wall_shear = 0.30;
    in.springback = 1.55;
    in.end_effect = 0.10;
    return in;
}
SeatingOutputs<double> run(const SeatingInputs<double>& in, Reaction r = Reaction::outside) {
    return seating(in, steel.numbers, steel.numbers, r);
}

struct Row {
    double kilonewton, stick_1, stick_2, held_1, free_1, held_2, free_2;
};
const Row table[] = {
    {0, 20.0, 19.8, 18.77, 18.77, 17.01, 17.01}, {2, 19.3, 18.9, 16.39, 16.58, 15.00, 15.16},
    {5, 18.1, 17.7, 13.97, 14.41, 12.87, 13.25}, {20, 12.4, 11.6, 6.44, 7.91, 6.32, 7.56},
    {40, 4.7, 4.2, 1.35, 3.66, 1.79, 3.72},      {50, 2.9, 1.4, 0.51, 2.84, 0.36, 2.57}};

} // namespace

TEST_CASE("seating against finite elements: stick point, gap held and released", "[seating]") {
    for (const Row& row : table) {
        CAPTURE(row.kilonewton);
        const auto one = run(as_long(1e3 * row.kilonewton));
        const auto two = run(goes_on(1e3 * row.kilonewton));
        CHECK(1e3 * one.stick_point == Approx(row.stick_1).margin(1.3));
        CHECK(1e3 * two.stick_point == Approx(row.stick_2).margin(1.3));
        CHECK(1e6 * one.gap_held == Approx(row.held_1).margin(0.35));
        CHECK(1e6 * one.gap == Approx(row.free_1).margin(0.45));
        CHECK(1e6 * two.gap_held == Approx(row.held_2).margin(0.25));
        CHECK(1e6 * two.gap == Approx(row.free_2).margin(0.25));
        // The formula of the rigid walls is a lower bound once the press counts (F/CAP above 0.1),
        // and the range that is told holds both shapes.
        const auto told = run(shape(1e3 * row.kilonewton));
        if (one.press_share > 0.1) {
            CHECK(1e6 * told.gap_formula < row.held_1);
            CHECK(1e6 * told.gap_formula < row.held_2);
        }
        CHECK(1e6 * told.gap_low < std::min(row.free_1, row.free_2) + 0.1);
        CHECK(1e6 * told.gap_high > std::max(row.free_1, row.free_2));
    }
    const auto soft = cases::even_metal(110e9, 11.5e-6, 0.34);
    CHECK(1e6 * seating(as_long(0), soft.numbers, steel.numbers).gap == Approx(20.22).margin(0.2));
}

TEST_CASE("where the press is reacted decides what stays clamped", "[seating]") {
    // F2, pulling on the shaft itself: 12.98, 6.64, 2.26, 0.00 um, and 16.8 kN at 80 kN.
    const double kilonewton[] = {5, 20, 40, 80}, gap[] = {12.98, 6.64, 2.26, 0.0};
    for (int k = 0; k < 4; ++k) {
        const auto pulled = run(goes_on(1e3 * kilonewton[k]), Reaction::shaft);
        CHECK(1e6 * pulled.gap == Approx(gap[k]).margin(0.3));
        CHECK(run(goes_on(1e3 * kilonewton[k])).clamp_left == 0.0);
    }
    CHECK(run(goes_on(80e3), Reaction::shaft).clamp_left == Approx(16.8e3).epsilon(0.02));
    // However hard it pushed, a press outside leaves an open shoulder.
    CHECK(run(goes_on(500e3)).gap == Approx(run(goes_on(500e3)).gap_least));
    CHECK(run(goes_on(500e3)).gap > 2e-6);
}

TEST_CASE("the closed form is what its own integral says", "[seating]") {
    const auto out = run(shape(0.0));
    // theory: CAP = mu p pi d L, Lame p = 36.211 MPa; one material parts by (1 + nu) delta/d.
    CHECK(out.capacity == Approx(54605.0).epsilon(1e-4));
    CHECK(out.parting == Approx(1.3 * 60e-6 / 0.08).epsilon(1e-12));
    const GripSlice one[] = {{0, 0.040, out.capacity / 0.040, out.parting}};
    for (const double press : {0.0, 5e3, 20e3, 50e3}) {
        const double s = press / out.capacity;
        const double drag = out.capacity * 0.04 / 8 *
                            (1 / (206e9 * 3.14159265 * (0.06 * 0.06 - 0.04 * 0.04)) +
                             1 / (206e9 * 3.14159265 * (0.04 * 0.04 - 0.02 * 0.02)));
        CHECK(run(shape(press)).gap_formula ==
              Approx(seating_together(one, press)[0] - drag * (1 - s) * (1 - s)).epsilon(1e-3));
    }
    CHECK(out.gap_nut_side_first == Approx(2.0 * out.gap_formula).epsilon(0.06));
}

TEST_CASE("two rings that cool together under one press", "[seating]") {
    // G: two rings of 20 mm, 10 kN: 8.39 um at the shoulder, 6.75 between; together 15.1. The rigid
    // walls share them out differently and are off by 13 and 30 %, their sum by 6 %.
    const auto whole = run(shape(0.0));
    const double grip = whole.capacity / 0.040;
    const GripSlice two[] = {{0, 0.02, grip, whole.parting}, {1, 0.02, grip, whole.parting}};
    const auto gaps = seating_together(two, 10e3);
    CHECK(1e6 * gaps[0] == Approx(8.39).epsilon(0.15));
    CHECK(1e6 * gaps[1] == Approx(6.75).epsilon(0.31));
    CHECK(1e6 * (gaps[0] + gaps[1]) == Approx(15.14).epsilon(0.07));
    // One after another each ring is on its own: half as long, half the gap, and a press counts double.
    const GripSlice half[] = {{0, 0.02, grip, whole.parting}};
    CHECK(seating_together(half, 0.0)[0] == Approx(whole.parting * 0.01).epsilon(1e-6));
    CHECK(seating_together(half, 10e3)[0] < gaps[0]);
    // Without a press every gap between is the halves of both rings.
    CHECK(seating_together(two, 0.0)[1] == Approx(whole.parting * 0.02).epsilon(1e-6));
}

TEST_CASE("a stepped ring stays put where its grip is", "[seating]") {
    // Nine tenths of the grip on the shoulder half: the point lies inside it, at L/2 10/18.
    const GripSlice heavy[] = {{0, 0.02, 9e5, 1e-3}, {0, 0.02, 1e5, 1e-3}};
    CHECK(seating_together(heavy, 0.0)[0] == Approx(1e-3 * 0.02 * 10.0 / 18.0).epsilon(1e-9));
    const GripSlice light[] = {{0, 0.02, 1e5, 1e-3}, {0, 0.02, 9e5, 1e-3}};
    CHECK(seating_together(light, 0.0)[0] ==
          Approx(1e-3 * (0.04 - 0.02 * 10.0 / 18.0)).epsilon(1e-9));
    // Cut in slices or whole, the same.
    const GripSlice whole[] = {{0, 0.04, 5e5, 1e-3}};
    const GripSlice cut[] = {{0, 0.01, 5e5, 1e-3}, {0, 0.03, 5e5, 1e-3}};
    CHECK(seating_together(whole, 7e3)[0] == Approx(seating_together(cut, 7e3)[0]).epsilon(1e-12));
}

TEST_CASE("what to measure, and what proves nothing", "[seating]") {
    auto out = run(shape(20e3));
    CHECK(out.reading - out.reading_shut == Approx(out.gap));
    // p nu 2 kr/E: 36.211 MPa shortens the ring by 3.4 um
    CHECK(0.040 - out.reading_shut ==
          Approx(0.04 * 36.211e6 * 0.3 * 2 * 0.8 / 206e9).epsilon(1e-4));
    CHECK(out.seen_by_gauge == Approx(out.gap - 2e-6));
    CHECK(out.feeler_reading == 0.0); // 7.9 um: below the thinnest leaf
    auto in = shape(0.0);
    in.ring.length = 0.080;
    CHECK(run(in).feeler_reading > 30e-6);
    CHECK(run(shape(0.0)).gap_margin < 0.0); // a finding: the remedies are in docs/how-to.md
}

TEST_CASE("seating that makes no sense is refused", "[seating][bad]") {
    auto in = shape(0.0);
    in.interference = -5e-6;
    CHECK_THROWS_WITH(run(in), ContainsSubstring("interference: -5 um does not grip"));
    in = shape(-1.0);
    CHECK_THROWS_WITH(run(in), ContainsSubstring("press_force"));
    CHECK_THROWS_WITH(seating_together({}, 0.0), ContainsSubstring("slices: there must be"));
    const GripSlice wrong[] = {{1, 0.02, 5e5, 1e-3}, {0, 0.02, -5e5, 1e-3}};
    CHECK_THROWS_WITH(seating_together(wrong, 0.0),
                      ContainsSubstring("slices[1].grip") &&
                          ContainsSubstring("slices[1].ring: rings are told in order"));
}
