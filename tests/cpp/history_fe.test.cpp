// The history on bars against finite elements (docs/theory-history.md, "Against finite elements"):
// axisymmetric, quadratic, two independent programs, one a general one; base case shaft 40/80, ring
// 80/120, 60 um, friction 0.15. F1: shaft as long as the ring, flat rigid shoulder. F2: long shaft,
// collar of 100 mm diameter and 20 mm length, its land from r = 42 to 50.
#include "catch.hpp"
#include "history_cases.hpp"

#include <cmath>
#include <cstdio>

using namespace fitwright;
using namespace fitwright::stack;
using namespace cases;

namespace {

// Bars as fine as they need to be for a comparison.
constexpr int elements = 24;

History<double> f1() {
    History<double> h = reference_stack({0.040});
    h.elements = elements;
    return h;
}
// Overhang on both sides; the shoulder gives way.
History<double> f2(const std::vector<double>& lengths = {0.040}, double share = 1.0) {
    History<double> h = reference_stack(lengths, 0.15, share);
    h.elements = elements;
    h.shoulder_compliance = bodies::land_softness(0.042, 0.050, 0.020, 206e9, 0.3);
    return h;
}

HistoryResult<double> pressed(History<double> h, double force, Reaction reaction) {
    h.steps = {slip_on(0, static_cast<int>(h.parts.size()) - 1), press(force, reaction), state(0),
               step(StepKind::release)};
    return stack::history(h);
}
HistoryResult<double> tightened(History<double> h, double nut) {
    h.steps = {slip_on(0, 0),           press(20e3, Reaction::outside), state(0),
               step(StepKind::release), step(StepKind::nut_on),         tighten(nut),
               step(StepKind::loosen)};
    return stack::history(h);
}
double gap(const HistoryResult<double>& r, std::size_t step, std::size_t face = 0) {
    return r.steps[step].faces[face].gap * 1e6;
}
double force(const HistoryResult<double>& r, std::size_t step, std::size_t face = 0) {
    return r.steps[step].faces[face].force * 1e-3;
}

// kN, um: held and with the press taken off.
struct Seating {
    double press, f1_held, f1_free, f2_held, f2_free;
};
constexpr Seating seated[] = {{0, 18.77, 18.77, 17.01, 17.01}, {2, 16.39, 16.58, 15.00, 15.16},
                              {5, 13.97, 14.41, 12.87, 13.25}, {20, 6.44, 7.91, 6.32, 7.56},
                              {40, 1.35, 3.66, 1.79, 3.72},    {50, 0.51, 2.84, 0.36, 2.57}};
struct Clamp {
    double nut, f1, f2;
};
constexpr Clamp clamps[] = {{50, 0, 0}, {60, 6.96, 1.18}, {80, 27.87, 21.95}, {160, 111.5, 105.0}};
struct OnShaft {
    double press, gap;
};
constexpr OnShaft on_shaft[] = {{5, 12.98}, {20, 6.64}, {40, 2.26}, {80, 0.00}};
struct Pair {
    double nut, shoulder, between, shoulder_gap, between_gap;
};
constexpr Pair pairs[] = {{40, 0, 10.66, 7.70, 1.88},
                          {60, 1.13, 30.79, 0.28, 0.29},
                          {80, 21.95, 51.23, 0, 0.05},
                          {120, 63.45, 92.02, 0, 0}};
constexpr double capacity = 54.605; // kN, mu p pi d L

HistoryResult<double> pair_of_rings() {
    // Two short rings together have the overhang of one: half of the excess each.
    History<double> h = f2({0.020, 0.020}, 0.5);
    h.steps = {slip_on(0, 1), press(10e3, Reaction::outside), state(0), step(StepKind::release),
               step(StepKind::nut_on)};
    for (const Pair& p : pairs)
        h.steps.push_back(tighten(p.nut * 1e3));
    return stack::history(h);
}

} // namespace

TEST_CASE("seating gaps agree with finite elements as far as bars can", "[history]") {
    for (const Seating& s : seated) {
        const auto r = pressed(f1(), s.press * 1e3, Reaction::outside);
        const double tolerance = s.press <= 0.75 * capacity ? 0.8 : 1.3;
        CAPTURE(s.press, s.press / capacity);
        CHECK(gap(r, 2) == Approx(s.f1_held).margin(tolerance));
        CHECK(gap(r, 3) == Approx(s.f1_free).margin(tolerance));
        // A press from outside leaves nothing clamped, however hard it pushed.
        CHECK(force(r, 3) == 0.0);
        CHECK(force(pressed(f2(), s.press * 1e3, Reaction::outside), 3) == 0.0);
    }
    // At 80 kN too, where a press on the shaft leaves 16.8 kN.
    CHECK(force(pressed(f2(), 80e3, Reaction::outside), 3) == 0.0);
}

TEST_CASE("a mixed pair of materials cools as finite elements say", "[history]") {
    History<double> h = f1();
    const materials::Entry bronze = even_metal(110e9, 11.5e-6, 0.34);
    const auto j = reference_joint(0.040, 60e-6, bronze.numbers, reference_steel().numbers);
    h.parts[0].preslip = bodies::shear_softness(j, 0.040);
    h.states[0].strips[0] = bodies::strip_of(j, 0.0);
    CHECK(gap(pressed(h, 0.0, Reaction::outside), 2) == Approx(20.22).margin(0.8));
}

TEST_CASE("clamp on first tightening agrees with finite elements within 1 % of the nut force",
          "[history]") {
    for (const Clamp& c : clamps) {
        CAPTURE(c.nut);
        CHECK(force(tightened(f1(), c.nut * 1e3), 5) == Approx(c.f1).margin(0.01 * c.nut));
    }
    // The history before is forgotten once the ring has slid.
    History<double> h = f1();
    h.steps = {slip_on(0, 0), state(0), step(StepKind::nut_on), tighten(160e3)};
    CHECK(force(stack::history(h), 3) == Approx(111.5).margin(1.6));
}

TEST_CASE("a press that pulls on the shaft itself leaves clamp", "[history]") {
    CHECK(force(pressed(f2(), 80e3, Reaction::shaft), 3) == Approx(16.8).margin(1.0));
    CHECK(gap(pressed(f2(), 80e3, Reaction::shaft), 3) == 0.0);
    for (const double press : {5e3, 20e3, 40e3})
        CHECK(force(pressed(f2(), press, Reaction::shaft), 3) == 0.0);
}

TEST_CASE("gaps of two rings close from the nut side inwards", "[history]") {
    const auto r = pair_of_rings();
    for (std::size_t k = 0; k < 4; ++k) {
        CAPTURE(pairs[k].nut);
        CHECK(gap(r, 5 + k, 1) <= gap(r, 5 + k, 0) + 0.3);
    }
    CHECK(force(r, 8) == Approx(63.45).margin(0.03 * 120.0));
    CHECK(force(r, 8, 1) == Approx(92.02).margin(0.03 * 120.0));
    // One after another leaves far smaller gaps than all together.
    History<double> h = f2({0.020, 0.020}, 0.5);
    h.steps = {slip_on(0, 0), press(10e3, Reaction::outside), state(0), step(StepKind::release),
               slip_on(1, 1), press(10e3, Reaction::outside), state(0), step(StepKind::release)};
    const auto one = stack::history(h);
    CHECK(gap(one, 7, 0) + gap(one, 7, 1) < 0.75 * (gap(r, 3, 0) + gap(r, 3, 1)));
    // Clamp is the same in the end.
    h.steps.push_back(step(StepKind::nut_on));
    h.steps.push_back(tighten(120e3));
    CHECK(force(stack::history(h), 9) == Approx(force(r, 8)).margin(0.3));
}

// The table of docs/theory-history.md: fitwright_tests "[.history_table]".
TEST_CASE("all differences from finite elements", "[.history_table]") {
    std::printf(
        "| press kN | F/CAP | F1 held | F1 off | F2 held | F2 off |\n|---|---|---|---|---|---|\n");
    for (const Seating& s : seated) {
        const auto a = pressed(f1(), s.press * 1e3, Reaction::outside);
        const auto b = pressed(f2(), s.press * 1e3, Reaction::outside);
        std::printf(
            "| %g | %.3f | %.2f / %.2f (%+.2f) | %.2f / %.2f (%+.2f) | %.2f / %.2f (%+.2f) | "
            "%.2f / %.2f (%+.2f) |\n",
            s.press, s.press / capacity, s.f1_held, gap(a, 2), gap(a, 2) - s.f1_held, s.f1_free,
            gap(a, 3), gap(a, 3) - s.f1_free, s.f2_held, gap(b, 2), gap(b, 2) - s.f2_held,
            s.f2_free, gap(b, 3), gap(b, 3) - s.f2_free);
    }
    std::printf("\n| press on the shaft, kN | F2 gap off | F2 clamp kept |\n|---|---|---|\n");
    for (const OnShaft& s : on_shaft) {
        const auto r = pressed(f2(), s.press * 1e3, Reaction::shaft);
        std::printf("| %g | %.2f / %.2f (%+.2f) | %s / %.1f |\n", s.press, s.gap, gap(r, 3),
                    gap(r, 3) - s.gap, s.press == 80 ? "16.8" : "0", force(r, 3));
    }
    std::printf("\nOutside press, F2, clamp kept:");
    for (const double press : {80e3, 90e3, 100e3, 120e3, 160e3, 200e3})
        std::printf(" %.0f -> %.1f,", press * 1e-3,
                    force(pressed(f2(), press, Reaction::outside), 3));
    std::printf("\n\n| nut kN | F1 at the shoulder | F2 at the shoulder |\n|---|---|---|\n");
    for (const Clamp& c : clamps) {
        const double a = force(tightened(f1(), c.nut * 1e3), 5);
        const double b = force(tightened(f2(), c.nut * 1e3), 5);
        std::printf("| %g | %.2f / %.2f (%+.1f %%) | %.2f / %.2f (%+.1f %%) |\n", c.nut, c.f1, a,
                    100.0 * (a - c.f1) / c.nut, c.f2, b, 100.0 * (b - c.f2) / c.nut);
    }
    std::printf("\n| nut taken off from 160 kN | finite elements | friction 0.12 | 0.15 | 0.18 |\n"
                "|---|---|---|---|---|\n");
    for (const int shape : {1, 2}) {
        std::printf("| F%d | %d |", shape, shape == 1 ? 27 : 55);
        for (const double mu : {0.12, 0.15, 0.18}) {
            History<double> h = shape == 1 ? f1() : f2();
            h.parts[0].friction *= mu / 0.15;
            std::printf(" %.0f |", force(tightened(h, 160e3), 6));
        }
        std::printf("\n");
    }
    const auto r = pair_of_rings();
    std::printf("\n| nut kN | at the shoulder | between | gap at the shoulder | gap between |\n"
                "|---|---|---|---|---|\n");
    std::printf("| 0 (10 held) | 0 / 0 | 0 / 0 | 8.39 / %.2f | 6.75 / %.2f |\n", gap(r, 2),
                gap(r, 2, 1));
    for (std::size_t k = 0; k < 4; ++k)
        std::printf("| %g | %.2f / %.2f | %.2f / %.2f | %.2f / %.2f | %.2f / %.2f |\n",
                    pairs[k].nut, pairs[k].shoulder, force(r, 5 + k), pairs[k].between,
                    force(r, 5 + k, 1), pairs[k].shoulder_gap, gap(r, 5 + k), pairs[k].between_gap,
                    gap(r, 5 + k, 1));
}
