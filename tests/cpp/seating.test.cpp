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
const Row table[] = {{0, 20.0, 19.8, 18.77, 18.77, 17.01, 17.01},
                     {2, 19.3, 18.9, 16.39, 16.58, 15.00, 15.16},
                     {5, 18.1, 17.7, 13.97, 14.41, 12.87, 13.25},
                     {20, 12.4, 11.6, 6.44, 7.91, 6.32, 7.56},
                     {40, 4.7, 4.2, 1.35, 3.66, 1.79, 3.72},
                     {50, 2.9, 1.4, 0.51, 2.84, 0.36, 2.57}};

} // namespace

TEST_CASE("x", "[seating]") {
    for (const Row& row : table) {
        const auto one = run(as_long(1e3 * row.kilonewton));
        const auto two = run(goes_on(1e3 * row.kilonewton));
        const auto mid = run(shape(1e3 * row.kilonewton));
        std::printf("%2g stick %.1f (%.1f %.1f) formula %.2f F1 held %.2f (%.2f) free %.2f (%.2f) F2 held %.2f (%.2f) free %.2f (%.2f) range %.2f..%.2f..%.2f\n", row.kilonewton, 1e3*one.stick_point, row.stick_1, row.stick_2, 1e6*one.gap_formula, 1e6*one.gap_held, row.held_1, 1e6*one.gap, row.free_1, 1e6*two.gap_held, row.held_2, 1e6*two.gap, row.free_2, 1e6*mid.gap_low,1e6*mid.gap,1e6*mid.gap_high);
    }
    for (double f : {5., 20., 40., 80.}) { auto o = run(goes_on(f*1e3), Reaction::shaft); std::printf("shaft %g gap %.2f clamp %.2f\n", f, 1e6*o.gap, 1e-3*o.clamp_left); }
    const auto soft = cases::even_metal(110e9, 11.5e-6, 0.34);
    std::printf("mixed %.2f (20.22)\n", 1e6 * seating(as_long(0), soft.numbers, steel.numbers).gap);
    const auto o = run(shape(0));
    const double q = o.capacity / 0.04;
    const GripSlice two[] = {{0, 0.02, q, o.parting}, {1, 0.02, q, o.parting}};
    auto g = seating_together(two, 10e3); std::printf("G %.2f %.2f (8.39 6.75)\n", 1e6*g[0], 1e6*g[1]);
    const GripSlice one[] = {{0, 0.04, q, o.parting}};
    for (double f : {0.,20e3}) { std::printf("one %.3f formula+drag %.3f\n", 1e6*seating_together(one, f)[0], 1e6*run(shape(f)).gap_formula); }
}
