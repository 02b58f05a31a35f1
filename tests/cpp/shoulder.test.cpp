// A told collar against parts in section (this library's own, themselves held to the shared checks), and the
// bars with its give against the locked-nut rows of the shared checks (H1: a separate finite-element code).
#include "../../cpp/src/stack/detail/history_scene.hpp"
#include "bodies_cases.hpp"
#include "element_stacks.hpp"

#include <cstdio>
#include <random>

using namespace fitwright;
using namespace fitwright::stack;
using namespace cases;

namespace {

// Stroke of the nut per force, frictionless, faces closed: on this collar, or on a rigid plane.
double stroke(const StackSection& s) {
    SectionHistory<double> h = history_of(s, {100.0}, 0.0);
    add_state(h, {0.0});
    h.plan.steps = {on(0, 0), to_state(0), a_step(StepKind::nut_on), tightened_to(200),
                    tightened_to(300)};
    const auto r = stack::section_history(Sections(s), h);
    return (r.history.steps[4].nut_travel - r.history.steps[3].nut_travel) / 100e3;
}

struct Shape { // mm
    double bore, outside, length, land_inside, land_outside, beyond, ring_outside, ring_length;
};

double by_section(const Shape& a) {
    const std::vector<RingSection> ring{ring_of({slice(a.ring_length, 80, a.ring_outside)})};
    const double shaft = a.ring_length + 45.0;
    StackSection plane = stack_of({slice(shaft, a.bore, 80)}, ring);
    std::vector<Slice> slices{slice(a.length, a.bore, a.outside), slice(shaft, a.bore, 80)};
    if (a.beyond > 0.0)
        slices.insert(slices.begin(), slice(64, a.bore, a.beyond));
    StackSection collar = on_collar(slices, ring, a.land_inside, a.land_outside);
    collar.shaft.behind = (a.length + (a.beyond > 0.0 ? 64.0 : 0.0)) * 1e-3;
    for (StackSection* s : {&plane, &collar}) {
        s->shaft.thread_start = a.ring_length * 1e-3;
        s->shaft.thread_length = 0.016;
    }
    return stroke(collar) - stroke(plane);
}

ShoulderGives<double> by_formula(const Shape& a, double modulus = 206e9) {
    const Shoulder<double> s{a.outside * 1e-3,
                             a.length * 1e-3,
                             a.land_inside * 1e-3,
                             a.land_outside * 1e-3,
                             0.0,
                             0.0,
                             a.beyond > 0.0 ? a.beyond * 1e-3 : fields::worked_out};
    number::Faults<double> faults;
    return shoulder_gives(s,
                          ShoulderBeside<double>{0.080, a.bore * 1e-3, a.ring_outside * 1e-3,
                                                 a.ring_length * 1e-3, modulus, modulus, 0.3},
                          faults);
}

// Not of the seeds the table was made with.
Shape random_shape(std::mt19937_64& random) {
    const auto u = [&](double low, double high) {
        return std::uniform_real_distribution<double>(low, high)(random) * 80.0;
    };
    while (true) {
        Shape a{};
        a.bore = u(0.2, 0.69);
        a.outside = u(1.12, 1.58);
        a.length = u(0.1, 0.7);
        a.land_inside = u(1.01, 1.09);
        a.ring_outside = u(1.14, 1.75);
        a.ring_length = u(0.2, 0.9);
        a.land_outside = std::min(a.outside, a.ring_outside);
        a.beyond = random() % 2 == 0 ? 0.0 : u(0.85, 1.08);
        if (a.land_outside - a.land_inside > 0.07 * 80.0 &&
            a.ring_length > 0.55 * (a.ring_outside - 80.0) && a.beyond < a.outside - 1.0)
            return a;
    }
}

} // namespace

TEST_CASE("a told shoulder gives way as parts in section do", "[once][section][shoulder]") {
    std::mt19937_64 random(20261130);
    const int count = watched ? 4 : 60;
    double sum = 0.0;
    double worst = 0.0;
    for (int k = 0; k < count; ++k) {
        const Shape a = random_shape(random);
        CAPTURE(a.bore, a.outside, a.length, a.land_inside, a.land_outside, a.beyond,
                a.ring_outside, a.ring_length);
        const auto told = by_formula(a);
        const double off = told.compliance / by_section(a) - 1.0;
        CHECK(told.reach == 1.0);
        CHECK(std::abs(off) < 0.30); // what the bounds allow for
        sum += off * off;
        worst = std::max(worst, std::abs(off));
    }
    std::printf("shoulder: %d shapes, rms %.3f, worst %.3f\n", count, std::sqrt(sum / count),
                worst);
    CHECK(std::sqrt(sum / count) < 0.10);
}

TEST_CASE("the shoulders of the shared checks", "[section][shoulder]") {
    const Shape h1{30, 96, 20, 84, 96, 0, 100, 30};
    const Shape f2{40, 100, 20, 84, 100, 0, 120, 40};
    for (const Shape& a : {h1, f2}) {
        const double section = by_section(a);
        std::printf("shoulder: section %.4f, formula %.4f um/kN\n", section * 1e9,
                    by_formula(a).compliance * 1e9);
        CHECK(by_formula(a).compliance == Approx(section).epsilon(0.15));
    }
}

TEST_CASE("a shoulder outside the family says so, and one metal scales out", "[shoulder]") {
    const Shape a{30, 96, 20, 84, 96, 0, 100, 30};
    CHECK(by_formula(a, 103e9).compliance == Approx(2.0 * by_formula(a).compliance));
    Shape thick = a; // a ring shorter than its wall rolls
    thick.ring_outside = 160;
    CHECK(by_formula(thick).reach < 1.0);
    Shape thin = a; // a flange on a shaft that goes on bends
    thin.beyond = 80;
    const double thick_collar = by_formula(thin).compliance;
    thin.length = 4;
    CHECK(by_formula(thin).reach < 1.0);
    CHECK(by_formula(thin).compliance > 1.5 * thick_collar);
}

TEST_CASE("bars with the told shoulder through the locked nut of H1", "[shoulder]") {
    const std::vector<ElementState> states{{"tightened", {}, 0.0, 18.93e3, 70e3},
                                           {"hot", {12.0, 8.0}, 0.0, 63.81e3, 79.75e3},
                                           {"full", {6.0, 5.0}, 1100.0, 53.58e3, 77.17e3},
                                           {"trip", {-5.0, -6.0}, 0.0, 20.05e3, 55.27e3},
                                           {"cold again", {0.0, 0.0}, 0.0, 34.42e3, 61.59e3}};
    double worst[2] = {0.0, 0.0};
    for (const bool told : {false, true})
        for (const double overhang : {0.5, 1.0}) {
            ElementStack stack{
                0.030, {{0.100, 0.030, 45e-6}, {0.105, 0.035, 45e-6}}, overhang, 1.5e-10, 70e3};
            static Loop<double> loop;
            std::vector<Member<double>> members;
            History<double> h;
            NutBody<double> body{};
            body.nut = {0.040, 0.048, 206e9, 0.3, 7850.0};
            const HistoryEnd<double> end{nullptr, 0.0, 0.0, body, 0.0, 0.0, 0.0, 70e3, 0.0};
            for (const ElementState& s : states) {
                scene(stack, s, loop, members, reference_steel().numbers);
                if (h.parts.empty())
                    history_parts(h, members.data(), 2, end, -1, -1);
                h.states.push_back(
                    history_state(members.data(), 2, end, 0.0, 0.0, s.speed, 0.0, 0.0));
                h.states.back().nut_compliance = loop.equation.nut_compliance;
            }
            if (told)
                h.shoulder_compliance = by_formula({30, 96, 20, 84, 96, 0, 100, 30}).compliance;
            h.touch_force = 1.0;
            h.steps = {slip_on(0, 0),
                       press(15e3, Reaction::outside),
                       state(0),
                       step(StepKind::release),
                       slip_on(1, 1),
                       press(12e3, Reaction::outside),
                       state(0),
                       step(StepKind::release),
                       step(StepKind::nut_on),
                       tighten(70e3),
                       step(StepKind::lock),
                       state(1),
                       state(2),
                       state(3),
                       state(4)};
            const auto r = stack::history(h);
            for (std::size_t k = 0; k < 5; ++k) {
                const auto& got = r.steps[k == 0 ? 9 : 10 + k];
                const double off = got.faces[0].force - states[k].shoulder;
                std::printf(
                    "H1 %s overhang %.1f %-10s shoulder FE %.2f bars %.2f (%+.1f %% of the nut)"
                    "  nut FE %.2f bars %.2f\n",
                    told ? "told " : "rigid", overhang, states[k].name, states[k].shoulder * 1e-3,
                    got.faces[0].force * 1e-3, 100.0 * off / states[k].nut, states[k].nut * 1e-3,
                    got.nut_force * 1e-3);
                worst[told ? 1 : 0] = std::max(worst[told ? 1 : 0], std::abs(off) / states[k].nut);
            }
        }
    std::printf("worst: rigid %.3f told %.3f\n", worst[0], worst[1]);
    CHECK(worst[0] > 0.30); // what a rigid shoulder costs
    CHECK(worst[1] < 0.06);
}
