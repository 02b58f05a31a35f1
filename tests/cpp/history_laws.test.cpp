// What must hold in every history, on random stacks and random legal orders of steps: equilibrium
// of every part, Coulomb's law at every place of every seat, faces that only push, and friction
// that only takes energy.
#include "catch.hpp"
#include "history_cases.hpp"

#include <cmath>
#include <random>
#include <string>

using namespace fitwright;
using namespace fitwright::stack;
using namespace cases;

namespace {

using Random = std::mt19937_64;
double uniform(Random& random, double low, double high) {
    return std::uniform_real_distribution<double>(low, high)(random);
}
int pick(Random& random, int n) { return std::uniform_int_distribution<int>(0, n - 1)(random); }

// One to nine rings, some of them loose, some without friction, some at the ends of what is allowed.
History<double> random_stack(Random& random) {
    History<double> h;
    h.touch_force = uniform(random, 1.0, 100.0);
    const double compliance = uniform(random, 0.0, 4e-10);
    h.nut = {pick(random, 3) == 0 ? 0.0 : uniform(random, 0.0, 0.6e-6), uniform(random, 0.0, 2e-6),
             0.0};
    h.shoulder_compliance = pick(random, 2) == 0 ? 0.0 : uniform(random, 0.0, 1e-10);
    h.elements = 12;
    const int rings = 1 + pick(random, 9);
    const double modulus = uniform(random, 70e9, 210e9);
    const materials::Entry shaft = even_metal(modulus, 12e-6, 0.3);
    const materials::Entry steel = even_metal(206e9, 11.5e-6, 0.29);
    for (int s = 0; s < 4; ++s)
        h.states.push_back({{},
                            compliance,
                            s == 0 ? 0.0 : uniform(random, -8e-6, 8e-6),
                            s == 0 ? 0.0 : uniform(random, -20e3, 20e3),
                            uniform(random, 0.0, 1.0)});
    for (int i = 0; i < rings; ++i) {
        const double length = uniform(random, 0.008, 0.060);
        const double kind = uniform(random, 0.0, 1.0);
        const double interference = kind < 0.1 ? 0.0 : uniform(random, -20e-6, 80e-6);
        const double mu = kind > 0.95 ? 1.0 : kind > 0.85 ? 0.0 : uniform(random, 0.05, 0.3);
        const auto j = reference_joint(length, interference, shaft.numbers, steel.numbers);
        h.parts.push_back({length, length * uniform(random, 0.7, 1.0), mu,
                           bodies::shear_softness(j, length),
                           pick(random, 3) == 0 ? 0.0 : uniform(random, 0.0, 0.6e-6),
                           uniform(random, 0.0, 1.5e-6), 0.0});
        for (HistoryState<double>& state : h.states) {
            bodies::Strip<double> strip = bodies::strip_of(j, 0.0);
            if (&state != &h.states[0]) {
                strip.ring_free += uniform(random, -2e-4, 4e-4);
                strip.shaft_free += uniform(random, -2e-4, 4e-4);
                strip.interference += strip.diameter * (strip.shaft_free - strip.ring_free) -
                                      uniform(random, 0.0, 20e-6);
            }
            state.strips.push_back(strip);
        }
    }
    if (pick(random, 2) == 0) { // a washer
        const rings::Section<double> washer{0.042, 0.052, 206e9, 0.3, 7850.0};
        const rings::Section<double> under{0.020, 0.040, 206e9, 0.3, 7850.0};
        h.parts.push_back({0.002, 0.0, 0.0, 0.0, 0.3e-6, 0.5e-6, 0.0});
        for (HistoryState<double>& state : h.states)
            state.strips.push_back(bodies::loose_strip(washer, 0.0, under, 0.0, 0.0));
    }
    h.thrust_inner = pick(random, rings);
    h.thrust_outer = h.thrust_inner + pick(random, rings - h.thrust_inner);
    return h;
}

// Steps that are allowed one after another, in any order that is.
std::vector<HistoryStep<double>> random_steps(Random& random, int parts, int count) {
    std::vector<HistoryStep<double>> steps;
    int on = 0;
    bool nut = false;
    bool pressed = false;
    Reaction reaction = Reaction::outside;
    while (static_cast<int>(steps.size()) < count) {
        switch (pick(random, 9)) {
        case 0:
            if (!nut && !pressed && on < parts) {
                const int last = on + pick(random, parts - on);
                steps.push_back(slip_on(on, last));
                on = last + 1;
            }
            break;
        case 1:
            if (!nut && on > 0) {
                if (!pressed)
                    reaction = pick(random, 2) == 0 ? Reaction::outside : Reaction::shaft;
                steps.push_back(press(uniform(random, 0.0, 80e3), reaction));
                pressed = true;
            }
            break;
        case 2:
            if (pressed) {
                steps.push_back(step(StepKind::release));
                pressed = false;
            }
            break;
        case 3:
            if (!nut && on == parts) {
                steps.push_back(step(StepKind::nut_on));
                nut = true;
            }
            break;
        case 4:
            if (nut)
                steps.push_back(tighten(uniform(random, 0.0, 200e3)));
            break;
        case 5:
        case 6:
            if (nut || on == 0)
                steps.push_back(state(nut ? pick(random, 4) : 0));
            else
                steps.push_back(state(0));
            break;
        case 7:
            if (nut) {
                steps.push_back(state(0)); // no thrust
                steps.push_back(step(StepKind::loosen));
                nut = false;
            }
            break;
        case 8:
            if (!nut && !pressed && on > 0 && pick(random, 3) == 0) {
                steps.push_back(step(StepKind::pull));
                --on;
            }
            break;
        }
    }
    return steps;
}

// How a press or thrust acts on each part after the steps up to k.
struct Outside {
    double press = 0.0;
    double thrust = 0.0;
    int on = 0;
};
Outside outside(const History<double>& h, std::size_t k) {
    Outside now;
    for (std::size_t i = 0; i <= k; ++i) {
        const HistoryStep<double>& s = h.steps[i];
        if (s.kind == StepKind::slip_on)
            now.on = s.last + 1;
        else if (s.kind == StepKind::pull)
            --now.on;
        else if (s.kind == StepKind::press)
            now.press = s.force;
        else if (s.kind == StepKind::release)
            now.press = 0.0;
        else if (s.kind == StepKind::state)
            now.thrust = h.states[static_cast<std::size_t>(s.state)].thrust;
    }
    return now;
}

void check_laws(const History<double>& h, const HistoryResult<double>& r) {
    for (std::size_t k = 0; k < r.steps.size(); ++k) {
        const StepResult<double>& s = r.steps[k];
        const Outside now = outside(h, k);
        double largest = 1.0;
        for (const Face<double>& f : s.faces) {
            largest = std::max(largest, f.force);
            CHECK(f.force >= 0.0);
            CHECK(f.gap >= 0.0);
            CHECK((f.force == 0.0 || f.gap == 0.0));
        }
        for (const double t : s.seat_force)
            largest = std::max(largest, std::abs(t));
        const double small = 2e-5 * largest + 0.5; // the sum over a part's points
        CAPTURE(k, now.press, now.thrust);
        CHECK(s.imbalance <= small);
        CHECK(s.dissipated >= -1e-9);
        for (int i = 0; i < now.on; ++i) {
            const auto p = static_cast<std::size_t>(i);
            double rest = s.faces[p].force - s.seat_force[p];
            // A face beyond the last part on carries nothing.
            if (i + 1 < now.on || now.on == static_cast<int>(h.parts.size()))
                rest -= s.faces[p + 1].force;
            if (i + 1 == now.on)
                rest -= now.press;
            if (i == (now.thrust >= 0.0 ? h.thrust_inner : h.thrust_outer))
                rest -= now.thrust;
            CAPTURE(i);
            CHECK(std::abs(rest) <= small);
        }
        for (std::size_t i = 0; i + 1 < r.seat_begin.size(); ++i)
            for (int j = r.seat_begin[i]; j < r.seat_begin[i + 1]; ++j) {
                const SeatPoint<double>& seat = s.seats[static_cast<std::size_t>(j)];
                const double limit = h.parts[i].friction * seat.pressure;
                if (!(seat.pressure >= 0.0 &&
                      std::abs(seat.friction) <= limit * (1.0 + 1e-9) + 1.0)) {
                    CAPTURE(i, j, seat.pressure, seat.friction, limit);
                    CHECK(false);
                }
                if (seat.grip == Grip::slides_in || seat.grip == Grip::slides_out)
                    if (std::abs(std::abs(seat.friction) - limit) > 1e-6 * limit + 1.0) {
                        CAPTURE(i, j, seat.pressure, seat.friction, limit);
                        CHECK(false);
                    }
            }
    }
}

} // namespace

TEST_CASE("laws of mechanics in random histories", "[history]") {
    Random random(20261128);
    HistoryRun<double> run;
    HistoryResult<double> r;
    for (int n = 0; n < 300; ++n) {
        History<double> h = random_stack(random);
        h.steps = random_steps(random, static_cast<int>(h.parts.size()), 16);
        CAPTURE(n);
        const bool good = run.run(h, r);
        if (!good) {
            CAPTURE(r.step, static_cast<int>(h.steps[static_cast<std::size_t>(r.step)].kind),
                    history_text(r), h.parts.size());
            CHECK(good);
            continue;
        }
        check_laws(h, r);
    }
}
