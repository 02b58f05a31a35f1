// The history of a stack against closed forms: springs in series, the gripped law, the ring that
// drags itself off its shoulder; and what must hold whatever happens.
#include "../../cpp/src/bodies/detail/bars.hpp"
#include "../../cpp/src/stack/detail/history_path.hpp"
#include "../../cpp/src/stack/detail/quick.hpp"
#include "catch.hpp"
#include "history_cases.hpp"

#include <cmath>
#include <functional>
#include <string>

using namespace fitwright;
using namespace fitwright::stack;
using namespace cases;

namespace {

constexpr double pi = fields::pi;

double shoulder(const StepResult<double>& s) { return s.faces.front().force; }
// Rigid walls: nothing moves before it slips.
void without_preslip(History<double>& h) {
    for (HistoryPart<double>& p : h.parts)
        p.preslip *= 1e-4;
}

} // namespace

TEST_CASE("without friction the history is springs in series", "[history]") {
    // Bars without Poisson's ratio; compliance of rings, shaft and nut; faces close as
    // u0 ln(1 + N/touch).
    const materials::Entry bars = even_metal(205e9, 12e-6, 0.0);
    History<double> h;
    h.touch_force = 50.0;
    h.nut = {0.2e-6, 0.4e-6, 0.0};
    h.thrust_inner = h.thrust_outer = 1;
    HistoryState<double> cold{{}, 1.5e-10, 0.0, 0.0, 0.0};
    const double lengths[] = {0.03, 0.02, 0.025};
    double compliance = cold.nut_compliance;
    for (const double length : lengths) {
        const auto j = reference_joint(length, -20e-6, bars.numbers, bars.numbers);
        h.parts.push_back({length, length, 0.0, 1e-12, 0.3e-6, 0.5e-6, 0.0});
        cold.strips.push_back(bodies::strip_of(j, 0.0));
        compliance +=
            length * (cold.strips.back().ring_softness + cold.strips.back().shaft_softness);
    }
    HistoryState<double> hot = cold;
    hot.strips[0].ring_free += 12e-6 * 15.0;
    hot.strips[2].ring_free += 12e-6 * 4.0;
    hot.nut_free = 0.7e-6;
    HistoryState<double> loaded = hot;
    loaded.thrust = 9e3;
    loaded.settled = 1.0;
    h.states = {cold, hot, loaded};
    h.steps = {slip_on(0, 2), step(StepKind::nut_on), tighten(40e3), state(1), state(2)};
    const auto r = stack::history(h);
    const auto faces = [&](double nut, double inside) {
        // Shoulder and the face behind the bearing see the thrust, the others do not.
        return 0.3e-6 * (2.0 * std::log(inside / 50.0 + 1.0) + std::log(nut / 50.0 + 1.0)) +
               0.2e-6 * std::log(nut / 50.0 + 1.0);
    };
    const double built = compliance * 40e3 + faces(40e3, 40e3);
    CHECK(r.steps[2].nut_force == Approx(40e3));
    CHECK(shoulder(r.steps[2]) == Approx(40e3).epsilon(1e-6));
    // The nut was turned by what it squeezed.
    CHECK(r.steps[2].nut_travel == Approx(built).epsilon(1e-3));
    const double free_growth = 12e-6 * (15.0 * 0.03 + 4.0 * 0.025) + 0.7e-6;
    const double n1 = r.steps[3].nut_force;
    CHECK(compliance * n1 + faces(n1, n1) - built == Approx(free_growth).epsilon(1e-3));
    const double n2 = r.steps[4].nut_force;
    CHECK(shoulder(r.steps[4]) == Approx(n2 + 9e3).epsilon(1e-6));
    const double pressed =
        9e3 * (0.03 + 0.01) * cold.strips[0].ring_softness; // it enters amid the second ring
    CHECK(compliance * n2 + faces(n2, n2 + 9e3) + pressed - built ==
          Approx(free_growth - 3.0 * 0.5e-6 - 0.4e-6).epsilon(1e-3));
}

TEST_CASE("one ring tightened in one go follows the gripped law", "[history]") {
    // N_in = N_out e^x - CAP (e^x - 1)/x, docs/theory.md section 5.
    for (const double mu : {0.0, 0.02, 0.15, 0.4, 1.0})
        for (const double force : {60e3, 160e3, 400e3}) {
            History<double> h = reference_stack({0.040}, mu);
            without_preslip(h);
            h.steps = {slip_on(0, 0),           press(0.0, Reaction::outside), state(0),
                       step(StepKind::release), step(StepKind::nut_on),        tighten(force)};
            const auto r = stack::history(h);
            const auto& steel = reference_steel().numbers;
            const double passed =
                force_passed(reference_joint(0.040, 60e-6, steel, steel), 0.040, mu, 0.0, force);
            CAPTURE(mu, force);
            CHECK(shoulder(r.steps[5]) == Approx(passed).margin(2e-4 * force));
        }
}

TEST_CASE("a ring that cools under a press sticks where theory says", "[history]") {
    // gap = eps L/2 (1 - s + s ln s), stick point L/2 - F/(2 mu p pi d): docs/theory-history.md.
    // At a low friction the elastic drag, which that formula leaves out, is below 1 nm.
    constexpr double mu = 0.15e-3;
    const double p = 36.2105e6;
    const double capacity = mu * p * pi * 0.080 * 0.040;
    const double strain = 1.3 * 11.5e-6 * 65.217;
    for (const double s : {0.0, 0.1, 0.3, 0.6, 0.9}) {
        History<double> h = reference_stack({0.040}, mu);
        without_preslip(h);
        h.elements = 40;
        h.refinement = 16;
        h.steps = {slip_on(0, 0), press(s * capacity, Reaction::outside), state(0),
                   step(StepKind::release)};
        const auto r = stack::history(h);
        CAPTURE(s);
        const double expected = strain * 0.020 * (1.0 - s + (s > 0.0 ? s * std::log(s) : 0.0));
        // Seats are 0.5 mm apart: the point that sticks is known to half of that.
        CHECK(r.steps[2].faces[0].gap == Approx(expected).margin(strain * 0.3e-3));
        // The first place from the shoulder where friction no longer drags towards the shoulder.
        double sticks = 0.040;
        for (const SeatPoint<double>& seat : r.steps[2].seats)
            if (!(seat.friction > 0.0)) {
                sticks = seat.place;
                break;
            }
        CHECK(sticks == Approx(0.020 * (1.0 - s)).margin(0.0011));
    }
}

TEST_CASE("what friction takes from the nut it gives back in part", "[history]") {
    // Rigid walls, x small: unloading turns friction round, N = CAP at most stays.
    History<double> h = reference_stack({0.040}, 0.15);
    without_preslip(h);
    h.steps = {slip_on(0, 0),           press(20e3, Reaction::outside), state(0),
               step(StepKind::release), step(StepKind::nut_on),         tighten(160e3),
               step(StepKind::loosen)};
    const auto r = stack::history(h);
    const double capacity = 54605.0; // checks F: mu p pi d L
    CHECK(shoulder(r.steps[6]) > 0.0);
    CHECK(shoulder(r.steps[6]) <= capacity * 1.03);
    CHECK(r.steps[6].seat_force[0] == Approx(shoulder(r.steps[6])).epsilon(1e-6));
}

TEST_CASE("a ring is drawn off against its whole grip", "[history]") {
    History<double> h = reference_stack({0.040}, 0.15);
    h.steps = {slip_on(0, 0), state(0), step(StepKind::pull)};
    const auto r = stack::history(h);
    // Pulled at its end with the shaft held beyond the shoulder: ring and shaft both in tension,
    // which tightens the ring and thins the shaft; N_s and N_r fall along the seat.
    const auto& strip = h.states[0].strips[0];
    const double mu_area = 0.15 * pi * 0.080 * 0.040;
    // dT/dz = mu pi d (p0 + (loss_r T_r - loss_s T_s)/f), T_r + T_s = pull
    const double rate = mu_area * (strip.ring_loss + strip.shaft_loss) / strip.flexibility;
    const double p0 = strip.interference / strip.flexibility;
    // T_r(L) = T, T_r(0) = 0: T (1 - kappa) = ..., solved from the linear equation.
    const double loss_s = mu_area * strip.shaft_loss / strip.flexibility;
    const double growth = (std::exp(rate) - 1.0) / rate;
    const double expected = mu_area * p0 * growth / (1.0 + loss_s * growth);
    CHECK(r.steps[2].pull_force == Approx(expected).epsilon(2e-3));
}

TEST_CASE("what stands before the part that is pulled off comes off first", "[history]") {
    History<double> h = reference_stack({0.040, 0.020}, 0.15);
    h.steps = {slip_on(0, 1), state(0), step(StepKind::pull), step(StepKind::pull)};
    const auto one_by_one = stack::history(h);
    h.steps = {slip_on(0, 1), state(0), step(StepKind::pull)};
    h.steps.back().down_to = 0;
    const auto both = stack::history(h);
    const double first = one_by_one.steps[2].pull_force;
    const double second = one_by_one.steps[3].pull_force;
    CHECK(second > 1.5 * first); // twice the seat
    CHECK(both.steps[2].pull_force == Approx(std::max(first, second)).epsilon(1e-9));
}

TEST_CASE("elements and steps halved change little", "[history]") {
    const auto compare = [](const HistoryResult<double>& a, const HistoryResult<double>& b,
                            double largest) {
        for (std::size_t k = 0; k < a.steps.size(); ++k)
            for (std::size_t f = 0; f < a.steps[k].faces.size(); ++f) {
                CAPTURE(k, f, a.steps[k].faces[f].force, b.steps[k].faces[f].force);
                CHECK(std::abs(a.steps[k].faces[f].force - b.steps[k].faces[f].force) <=
                      0.01 * largest);
                CHECK(std::abs(a.steps[k].faces[f].gap - b.steps[k].faces[f].gap) <= 0.3e-6);
            }
    };
    const auto both = [&](History<double> h, double largest) {
        const auto coarse = stack::history(h);
        h.elements *= 2;
        h.refinement = 2;
        compare(coarse, stack::history(h), largest);
    };
    History<double> demo = demo_stack();
    demo.steps = demo_steps();
    both(demo, 60e3);
    for (const double force : {0.0, 2e3, 5e3, 20e3, 40e3, 50e3})
        for (const Reaction reaction : {Reaction::outside, Reaction::shaft}) {
            History<double> h = reference_stack({0.040});
            h.steps = {slip_on(0, 0),           press(force, reaction), state(0),
                       step(StepKind::release), step(StepKind::nut_on), tighten(80e3),
                       step(StepKind::loosen)};
            CAPTURE(force);
            both(h, 80e3);
            h = reference_stack({0.020, 0.020});
            h.steps = {slip_on(0, 1),           press(force, reaction), state(0),
                       step(StepKind::release), step(StepKind::nut_on), tighten(80e3),
                       step(StepKind::loosen)};
            both(h, 80e3);
        }
}

TEST_CASE("repeat is the same as writing the steps again", "[history]") {
    History<double> h = demo_stack();
    const std::vector<HistoryStep<double>> build = {slip_on(0, 5), state(0), step(StepKind::nut_on),
                                                    tighten(60e3), step(StepKind::lock)};
    h.steps = build;
    for (int k = 0; k < 4; ++k)
        for (const int s : {1, 2, 3, 0})
            h.steps.push_back(state(s));
    const auto written = stack::history(h);
    h.steps = build;
    for (const int s : {1, 2, 3, 0})
        h.steps.push_back(state(s));
    h.steps.push_back(repeat(5, 8, 3));
    const auto repeated = stack::history(h);
    CHECK(repeated.steps.back().nut_force == written.steps.back().nut_force);
    REQUIRE(repeated.cycle_nut_force.size() == 3);
    CHECK(repeated.cycle_nut_force.back() == written.steps.back().nut_force);
    // It shakes down: each turn changes less than the one before.
    const double first = std::abs(repeated.cycle_nut_force[0] - repeated.steps[8].nut_force);
    const double last = std::abs(repeated.cycle_nut_force[2] - repeated.cycle_nut_force[1]);
    CHECK(last <= first + 1.0);
}

TEST_CASE("derivatives of a history are those of its path", "[history]") {
    using D = number::Dual<FITWRIGHT_DIRECTIONS, number::Isa<0>>;
    D interference(0.0);
    interference.d.set_lane(0, 1.0);
    D friction(0.15);
    friction.d.set_lane(1, 1.0);
    History<D> h = demo_stack<D>(interference, friction);
    h.steps = steps_as<D>(demo_steps());
    HistoryRun<D> run;
    HistoryResult<D> exact;
    run.run(h, exact);
    CAPTURE(exact.rule, exact.step, exact.part, exact.place);
    REQUIRE(exact.rule == 0);
    const auto at = [](double more, double mu) {
        History<double> other = demo_stack(more, mu);
        other.steps = demo_steps();
        return stack::history(other);
    };
    const auto middle = at(0.0, 0.15);
    const double steps[] = {1e-10, 1e-6};
    for (int k = 0; k < 2; ++k) {
        const double e = steps[k];
        const auto above = k == 0 ? at(e, 0.15) : at(0.0, 0.15 + e);
        const auto below = k == 0 ? at(-e, 0.15) : at(0.0, 0.15 - e);
        for (std::size_t s = 0; s < exact.steps.size(); ++s) {
            const auto check = [&](const D& x, double m, double a, double b) {
                CHECK(x.value == Approx(m).margin(1e-3));
                const double right = (a - m) / e;
                const double left = (m - b) / e;
                // Where a contact changes between the two, the sides differ.
                const double scale = k == 0 ? 1e9 : 1e5;
                if (std::abs(right - left) < 1e-3 * scale)
                    CHECK(x.d.lane(k) == Approx(0.5 * (right + left)).margin(2e-3 * scale));
            };
            CAPTURE(k, s);
            check(exact.steps[s].nut_force, middle.steps[s].nut_force, above.steps[s].nut_force,
                  below.steps[s].nut_force);
            check(exact.steps[s].faces[0].force, shoulder(middle.steps[s]),
                  shoulder(above.steps[s]), shoulder(below.steps[s]));
        }
    }
}

TEST_CASE("steps that cannot be are named with their number", "[history]") {
    const auto message = [](History<double> h) {
        try {
            stack::history(h);
        } catch (const DomainError& e) {
            return std::string(e.what());
        }
        return std::string("no error");
    };
    const auto told = [&](std::vector<HistoryStep<double>> steps, const char* text) {
        History<double> h = demo_stack();
        h.steps = std::move(steps);
        CHECK_THAT(message(h), ContainsSubstring(text));
        CHECK_THAT(message(h),
                   ContainsSubstring("steps[" + std::to_string(h.steps.size() - 1) + "]"));
    };
    told({slip_on(0, 5), tighten(10e3)}, "the nut is not on");
    told({slip_on(0, 5), step(StepKind::lock)}, "the nut is not on");
    told({slip_on(0, 5), step(StepKind::nut_on), step(StepKind::lock)},
         "a nut is locked when it has been tightened");
    told({slip_on(0, 3), step(StepKind::nut_on)}, "the nut goes on when every ring is on");
    told({slip_on(1, 3)}, "rings go on one after another from the shoulder");
    told({step(StepKind::pull)}, "no ring is on the shaft");
    HistoryStep<double> last_ring = step(StepKind::pull);
    last_ring.down_to = 5;
    told({slip_on(0, 3), last_ring}, "what is pulled off is not on the shaft");
    told({press(1e3, Reaction::outside)}, "no ring is on the shaft");
    told({slip_on(0, 5), step(StepKind::release)}, "there is no press to release");
    told({slip_on(0, 2), press(1e3, Reaction::outside), slip_on(3, 3)}, "release the press first");
    told({slip_on(0, 2), press(-1e3, Reaction::outside)}, "not below zero");
    told({slip_on(0, 2), press(600e3, Reaction::outside)}, "before it yields");
    told({slip_on(0, 5), step(StepKind::nut_on), slip_on(0, 1)}, "the nut is on and in the way");
    told({slip_on(0, 5), state(0), step(StepKind::nut_on), tighten(700e3)},
         "700 kN is more than the thread can carry");
    told({slip_on(0, 5), state(1)}, "the nut is not on");
    told({slip_on(0, 5), state(9)}, "is not the number of a state");
    told({slip_on(0, 5), repeat(1, 4, 2)}, "is not the number of an earlier step");
    History<double> h = demo_stack();
    h.states[4].thrust = -650e3;
    h.steps = {slip_on(0, 5), state(0), step(StepKind::nut_on), tighten(60e3), state(4)};
    CHECK_THAT(message(h), ContainsSubstring("steps[4]"));
    CHECK_THAT(message(h), ContainsSubstring("650 kN is more than the thread can carry"));
    h.thrust_inner = h.thrust_outer = -1;
    CHECK_THAT(message(h), ContainsSubstring("needs a bearing"));
    // What finds no equilibrium says where: nothing returns NaN silently.
    h = demo_stack();
    h.states[2].strips[3].ring_free = std::nan("");
    h.steps = {slip_on(0, 5), state(0), step(StepKind::nut_on), tighten(60e3), state(1), state(2)};
    CHECK_THAT(message(h), ContainsSubstring("steps[5] (state, part 3)"));
    CHECK_THAT(message(h), ContainsSubstring("found no equilibrium"));
    h.states[2].strips.pop_back();
    CHECK_THAT(message(h), ContainsSubstring("every state tells of every part"));
    told({slip_on(0, 5), state(0), step(StepKind::nut_on), tighten(60e3), state(1),
          step(StepKind::loosen)},
         "of thrust still acts");
}
