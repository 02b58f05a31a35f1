// What must hold for any stack in section, whatever finite elements say: balance, friction's limit, work,
// proportion, derivatives; and bars through the same contact solver.
#include "../../cpp/src/stack/detail/history_path.hpp"
#include "../../cpp/src/stack/detail/section_stack.hpp"
#include "bodies_cases.hpp"
#include "history_cases.hpp"

#include <random>

using namespace fitwright;
using namespace cases;

namespace {

// Two rings with chamfers on a collar with a fillet; the second has a flange.
StackSection two_rings() {
    StackSection s = on_collar(
        {slice(20, 30, 96), slice(110, 30, 80)},
        {ring_of({slice(30, 80, 104)}), ring_of({slice(8, 80, 125), slice(22, 80, 100)})}, 84, 96);
    s.shaft.fillet = 1.5e-3;
    s.rings[0].chamfers = {2e-3, 1e-3, 1e-3, 1e-3};
    s.rings[1].chamfers = {1e-3, 1e-3, 1e-3, 1e-3};
    s.shaft.thread_start = 0.062;
    s.shaft.thread_length = 0.020;
    return s;
}
SectionHistory<double> through_all(const StackSection& s, double friction = 0.15,
                                   double scale = 1.0) {
    SectionHistory<double> h = history_of(s, {45 * scale, 38 * scale}, friction);
    h.plan.thrust_inner = 1;
    h.plan.thrust_outer = 0;
    h.plan.touch_force = 60.0 * scale;
    add_state(h, {0, 0}, 0, 1.5e-7);
    add_state(h, {12 * scale, 9 * scale}, 700 * std::sqrt(scale), 1.5e-7);
    add_state(h, {-5 * scale, -6 * scale}, 0, 1.5e-7);
    h.plan.states[1].thrust = 6e3 * scale;
    h.plan.states[2].thrust = -4e3 * scale;
    h.plan.steps = {on(0, 1),
                    pressed_by(12 * scale, Reaction::shaft),
                    to_state(0),
                    a_step(StepKind::release),
                    a_step(StepKind::nut_on),
                    tightened_to(65 * scale),
                    a_step(StepKind::lock),
                    to_state(1),
                    to_state(2),
                    to_state(0),
                    a_step(StepKind::loosen),
                    a_step(StepKind::pull),
                    a_step(StepKind::pull)};
    return h;
}

} // namespace

TEST_CASE("every ring is in balance, friction keeps its limit and only takes work",
          "[once][section]") {
    const StackSection s = two_rings();
    const SectionHistory<double> h = through_all(s);
    const auto r = stack::section_history(Sections(s), h);
    for (std::size_t k = 0; k < r.history.steps.size(); ++k) {
        CAPTURE(k);
        const auto& step = r.history.steps[k];
        CHECK(step.imbalance <= 0.01);
        CHECK(step.dissipated >= -1e-9);
        for (const auto& seat : step.seats) {
            CHECK(seat.pressure >= 0.0);
            CHECK(std::abs(seat.friction) <= 0.15 * seat.pressure + 1e-6 * 60e6);
        }
        if (k >= 11)
            continue; // drawn off
        const double press = k == 1 || k == 2 ? 12e3 : 0.0;
        const double thrust = k == 7 ? 6e3 : k == 8 ? -4e3 : 0.0;
        // Towards the shoulder: friction, what pushes on the end, thrust; away: the face.
        for (std::size_t i = 0; i < 2; ++i) {
            double sum = step.seat_force[i] + step.faces[i + 1].force - step.faces[i].force;
            sum += i == 1 ? press : 0.0;
            sum += (thrust > 0.0 && i == 1) || (thrust < 0.0 && i == 0) ? thrust : 0.0;
            CHECK(sum == Approx(0.0).margin(1.0));
        }
    }
    // Where a thrust went: shoulder, nut and seats took it together.
    const auto& loaded = r.history.steps[8];
    CHECK(loaded.to_shoulder + loaded.to_nut + loaded.to_seats == Approx(-10e3).margin(5.0));
    // A ring drawn off needs less than all its friction at the pressure it had, and some of it.
    CHECK(r.history.steps[11].pull_force > 0.0);
}

TEST_CASE("the field of a step balances the forces that made it", "[once][section]") {
    const StackSection s = two_rings();
    const Sections sections(s);
    const auto r = stack::section_history(sections, through_all(s));
    const auto& step = r.steps[7];
    for (int part = 0; part < 3; ++part) {
        const auto field = sections.field(part, step.acts);
        const auto mesh = sections.mesh(part);
        // The growth that condensing tells is that of the whole field.
        const auto& z = sections.outside_z(part);
        const auto& radius = sections.outside_radius(part);
        for (std::size_t i = 0; i < z.size(); ++i)
            for (std::size_t n = 0; n < mesh.r.size(); ++n)
                if (std::abs(mesh.z[n] - z[i]) < 1e-12 && std::abs(mesh.r[n] - radius[i]) < 1e-12)
                    CHECK(field.outwards[n] ==
                          Approx(step.growth[static_cast<std::size_t>(part)][i]).margin(1e-12));
    }
    // Radial stress at the middle of a seat is the contact pressure there.
    const auto field = sections.field(1, step.acts);
    const auto mesh = sections.mesh(1);
    const auto& points = sections.contacts();
    const std::size_t middle = (points.seat_begin[0] + points.seat_begin[1]) / 2;
    for (std::size_t n = 0; n < mesh.r.size(); ++n)
        if (std::abs(mesh.z[n] - points.seat_z[middle]) < 1e-12 && mesh.r[n] < 0.04 + 1e-9)
            CHECK(-field.radial[n] ==
                  Approx(r.history.steps[7].seats[middle].pressure).epsilon(0.05));
}

TEST_CASE("interference, forces and heat in one proportion: forces and gaps follow",
          "[once][section]") {
    const StackSection s = two_rings();
    const Sections sections(s);
    const auto one = stack::section_history(sections, through_all(s));
    const auto two = stack::section_history(sections, through_all(s, 0.15, 2.0));
    for (std::size_t k = 1; k < 10; ++k)
        for (std::size_t f = 0; f < 3; ++f) {
            CHECK(two.history.steps[k].faces[f].force ==
                  Approx(2.0 * one.history.steps[k].faces[f].force).margin(0.5));
            CHECK(two.history.steps[k].faces[f].gap ==
                  Approx(2.0 * one.history.steps[k].faces[f].gap).margin(1e-10));
        }
}

TEST_CASE("without friction all of the nut's force arrives", "[once][section]") {
    const StackSection s = two_rings();
    const auto r = stack::section_history(Sections(s), through_all(s, 0.0));
    CHECK(r.history.steps[5].faces[0].force == Approx(65e3).epsilon(1e-6));
    CHECK(r.history.steps[10].faces[0].force == Approx(0.0).margin(1.0));
    CHECK(r.history.steps[11].pull_force == Approx(0.0).margin(1.0));
    for (const auto& step : r.history.steps)
        CHECK(step.dissipated == Approx(0.0).margin(1e-9));
}

TEST_CASE("more sub-steps and a finer mesh move little", "[once][section]") {
    const StackSection s = two_rings();
    SectionHistory<double> h = through_all(s);
    const auto plain = stack::section_history(Sections(s), h);
    h.plan.refinement = 4;
    const auto slow = stack::section_history(Sections(s), h);
    h.plan.refinement = 1;
    const auto fine = stack::section_history(Sections(s, {1.0, 2}), h);
    for (std::size_t k = 3; k < 11; ++k)
        for (std::size_t f = 0; f < 3; ++f) {
            CAPTURE(k, f);
            const auto& face = plain.history.steps[k].faces[f];
            CHECK(slow.history.steps[k].faces[f].force == Approx(face.force).margin(0.015 * 65e3));
            CHECK(slow.history.steps[k].faces[f].gap == Approx(face.gap).margin(0.2e-6));
            CHECK(fine.history.steps[k].faces[f].force == Approx(face.force).margin(0.015 * 65e3));
            // How two rings that cool together share their gaps hangs on where each sticks.
            CHECK(fine.history.steps[k].faces[f].gap == Approx(face.gap).margin(0.25e-6));
        }
}

TEST_CASE("rough faces and settling cost clamp as their law says", "[once][section]") {
    const StackSection s = two_rings();
    const Sections sections(s);
    SectionHistory<double> h = through_all(s, 0.0);
    h.plan.steps = {on(0, 1),         to_state(0),      a_step(StepKind::nut_on),
                    tightened_to(40), tightened_to(65), a_step(StepKind::lock),
                    to_state(3)};
    h.plan.states.push_back(h.plan.states[0]);
    h.states.push_back(h.states[0]);
    // Elastic travel of the nut from 40 to 65 kN; the gaps that cooling left are closed by then.
    const auto flat = stack::section_history(sections, h);
    const auto turned = [](const SectionResult<double>& r) {
        return r.history.steps[4].nut_travel - r.history.steps[3].nut_travel;
    };
    for (auto& part : h.plan.parts)
        part.face_softness = 0.4e-6;
    h.plan.nut.face_softness = 0.5e-6;
    const double peaks = 2.0 * 0.4e-6 + 0.5e-6;
    const auto closed = [&](double force) {
        return std::log(force / h.plan.touch_force + 1.0) * peaks;
    };
    const auto rough = stack::section_history(sections, h);
    CHECK(turned(rough) - turned(flat) == Approx(closed(65e3) - closed(40e3)).epsilon(1e-3));
    // 1 um of settling at each face, against the stiffness at that force.
    for (auto& part : h.plan.parts)
        part.settling = 1e-6;
    h.plan.nut.settling = 1e-6;
    h.plan.states[3].settled = 1.0;
    const auto settled = stack::section_history(sections, h);
    const double before = settled.history.steps[5].nut_force;
    const double after = settled.history.steps[6].nut_force;
    CHECK(before == Approx(65e3).epsilon(1e-9));
    CHECK(turned(flat) / 25e3 * (before - after) + closed(before) - closed(after) ==
          Approx(3e-6).epsilon(0.01));
}

// -- derivatives ----------------------------------------------------------------------------------

namespace {

using Dual = number::Dual<FITWRIGHT_DIRECTIONS, number::Isa<0>>;

template <class T>
SectionHistory<T> with(const std::array<T, 4>& x) {
    const SectionHistory<double> plain = through_all(two_rings());
    SectionHistory<T> h;
    h.plan.touch_force = T(plain.plan.touch_force);
    h.plan.nut = {T(0.4e-6), T(0.0), T(0.0)};
    h.plan.thrust_inner = 1;
    h.plan.thrust_outer = 0;
    for (std::size_t k = 0; k < 2; ++k) {
        h.plan.parts.push_back({T(0.0), T(0.0), x[1], T(0.0), T(0.2e-6), T(0.0), T(0.0)});
        h.interference.emplace_back(2, k == 0 ? x[0] : T(38e-6));
    }
    for (std::size_t k = 0; k < 2; ++k) {
        h.plan.states.push_back({{}, T(1.5e-10), T(0.0), T(plain.plan.states[k].thrust), T(0.0)});
        stack::SectionState<T> s;
        for (std::size_t i = 0; i < 3; ++i) {
            s.warm.push_back(T(plain.states[k].warm[i]));
            s.gradient.push_back(T(0.0));
            s.spin.push_back(T(plain.states[k].spin[i]));
        }
        if (k == 1)
            s.warm[1] += x[3] * Steel::expansion;
        h.states.push_back(s);
    }
    for (std::size_t i = 0; i < 8; ++i) {
        const HistoryStep<double>& s = plain.plan.steps[i];
        h.plan.steps.push_back({s.kind, s.state, s.first, s.last, s.times, T(s.force), s.reaction});
    }
    h.plan.steps[5].force = x[2];
    return h;
}

} // namespace

TEST_CASE("derivatives through the condensed bodies are those of differences", "[once][section]") {
    const Sections sections(two_rings());
    const std::array<double, 4> x = {45e-6, 0.15, 65e3, 0.0}; // interference, friction, nut, heat
    const std::array<double, 4> step = {1e-9, 1e-5, 1.0, 1e-3};
    stack::SectionRun<Dual> dual(sections);
    stack::SectionRun<double> plain(sections);
    for (std::size_t i = 0; i < 4; ++i) {
        std::array<Dual, 4> dx;
        for (std::size_t j = 0; j < 4; ++j)
            dx[j] = Dual(x[j]);
        dx[i].d.set_lane(0, 1.0);
        SectionResult<Dual> exact;
        REQUIRE(dual.run(with(dx), exact));
        SectionResult<double> high, low;
        auto at = x;
        at[i] += step[i];
        REQUIRE(plain.run(with(at), high));
        at[i] -= 2.0 * step[i];
        REQUIRE(plain.run(with(at), low));
        const auto same = [&](const Dual& slope, double above, double below, double size) {
            CHECK(slope.d.lane(0) * step[i] ==
                  Approx(0.5 * (above - below)).epsilon(0.02).margin(1e-7 * size));
        };
        for (const std::size_t k : {std::size_t{5}, std::size_t{7}}) {
            CAPTURE(i, k);
            for (std::size_t f = 0; f < 3; ++f)
                same(exact.history.steps[k].faces[f].force, high.history.steps[k].faces[f].force,
                     low.history.steps[k].faces[f].force, 65e3);
            for (std::size_t ring = 0; ring < 2; ++ring)
                same(exact.steps[k].mean_pressure[ring], high.steps[k].mean_pressure[ring],
                     low.steps[k].mean_pressure[ring], 20e6);
        }
    }
}

// -- bars through the same solver -----------------------------------------------------------------

namespace {

// Bars of one ring and the shaft under it as contacts that move each other, from their strains alone:
// friction at the ends of n even elements' Gauss places, one pressure an element.
struct BarContacts {
    bodies::ContactPoints points;
    bodies::Strip<double> strip;
    double length, preslip;
    std::size_t n;

    double gauss(std::size_t j) const {
        const double x = 0.21132486540518712;
        return (static_cast<double>(j / 2) + (j % 2 == 0 ? x : 1.0 - x)) * length /
               static_cast<double>(n);
    }
    // Movement of every contact by contact forces, ring held at its first point, shaft at the shoulder.
    std::vector<double> moved(const std::vector<double>& force) const {
        const std::size_t seats = 2 * n;
        std::vector<double> on_ring(n + 1, 0.0);
        std::vector<double> on_shaft(n + 1, 0.0);
        std::vector<double> pressure(n, 0.0);
        const double element = length / static_cast<double>(n);
        const double area = strip.diameter * fields::pi * element;
        for (std::size_t j = 0; j < seats; ++j) {
            const std::size_t e = j / 2;
            const double share = gauss(j) / element - static_cast<double>(e);
            on_ring[e] += (1.0 - share) * force[seats + j];
            on_ring[e + 1] += share * force[seats + j];
            on_shaft[e] -= (1.0 - share) * force[seats + j];
            on_shaft[e + 1] -= share * force[seats + j];
            pressure[e] += force[j] / area;
        }
        on_ring[0] += force[2 * seats];
        on_ring[n] -= force[2 * seats + 1];
        on_shaft[n] += force[2 * seats + 1];
        std::vector<double> u_ring(n + 1, 0.0), u_shaft(n + 1, 0.0), gap(n, 0.0);
        for (std::size_t e = 0; e < n; ++e) {
            double ring = 0.0, shaft = 0.0; // tension: what acts beyond the element
            for (std::size_t k = e + 1; k <= n; ++k) {
                ring += on_ring[k];
                shaft += on_shaft[k];
            }
            const double half = 0.5 * fields::pi * strip.diameter;
            u_ring[e + 1] = u_ring[e] + element * (strip.ring_softness * ring -
                                                   half * strip.ring_loss * pressure[e]);
            u_shaft[e + 1] = u_shaft[e] + element * (strip.shaft_softness * shaft +
                                                     half * strip.shaft_loss * pressure[e]);
            gap[e] = 0.5 * (strip.flexibility * pressure[e] - strip.ring_loss * ring +
                            strip.shaft_loss * shaft);
        }
        std::vector<double> out(points.size());
        for (std::size_t j = 0; j < seats; ++j) {
            const std::size_t e = j / 2;
            const double share = gauss(j) / element - static_cast<double>(e);
            out[j] = gap[e];
            out[seats + j] =
                (1.0 - share) * (u_ring[e] - u_shaft[e]) + share * (u_ring[e + 1] - u_shaft[e + 1]);
        }
        out[2 * seats] = u_ring[0];
        out[2 * seats + 1] = u_shaft[n] - u_ring[n];
        return out;
    }

    BarContacts(const bodies::Strip<double>& of, double long_, double softness,
                std::size_t elements)
        : strip(of)
        , length(long_)
        , preslip(softness)
        , n(elements) {
        const std::size_t seats = 2 * n;
        points.rings = 1;
        points.seat_begin = {0, seats};
        points.face_begin = {0, 1};
        const double area = strip.diameter * fields::pi * length / static_cast<double>(seats);
        for (std::size_t j = 0; j < seats; ++j) {
            points.seat_z.push_back(gauss(j));
            points.seat_radius.push_back(0.5 * strip.diameter);
            points.seat_area.push_back(area);
            points.seat_length.push_back(length / static_cast<double>(seats));
            points.seat_slice.push_back(0);
        }
        points.face_radius = {0.05};
        points.face_area = {1e-3};
        points.on_shaft = {1};
        const std::size_t size = points.size();
        points.compliance.resize(size * size);
        points.own.assign(size, 1e-14);
        for (std::size_t j = 0; j < seats; ++j)
            points.own[seats + j] = preslip / area;
        for (std::size_t i = 0; i < size; ++i) {
            std::vector<double> one(size, 0.0);
            one[i] = 1.0;
            const std::vector<double> column = moved(one);
            for (std::size_t k = 0; k < size; ++k)
                points.compliance[k * size + i] = column[k];
            points.compliance[i * size + i] += points.own[i];
        }
        points.by_load.assign(6 * size, 0.0);
        for (std::size_t j = 0; j < seats; ++j) { // the ring warmed by a unit strain
            points.by_load[3 * size + j] = 0.5 * strip.diameter;
            points.by_load[3 * size + seats + j] = gauss(j);
        }
        points.by_load[3 * size + 2 * seats + 1] = -length;
        points.by_push.assign(size, 0.0);
        points.by_thrust.assign(size, 0.0);
        points.by_pull.assign(size, 0.0);
        std::vector<double> push(size, 0.0);
        push[2 * seats + 1] = 1.0;
        const std::vector<double> both = moved(push);
        // A push on the ring alone: what the end force does, less its pull on the shaft.
        for (std::size_t k = 0; k < size; ++k)
            points.by_push[k] = both[k];
        const double shaft = strip.shaft_softness * length;
        for (std::size_t j = 0; j < seats; ++j) {
            points.by_push[j] -= 0.5 * strip.shaft_loss;
            points.by_push[seats + j] += strip.shaft_softness * gauss(j);
        }
        points.by_push[2 * seats + 1] -= shaft;
    }
};

} // namespace

TEST_CASE("bars go through the contact solver and come out as from their own", "[once][section]") {
    stack::History<double> bars = reference_stack({0.040});
    bars.elements = 24;
    bars.steps = {cases::slip_on(0, 0),
                  press(20e3, Reaction::outside),
                  state(0),
                  step(StepKind::release),
                  step(StepKind::nut_on),
                  tighten(60e3),
                  tighten(80e3),
                  tighten(160e3),
                  step(StepKind::loosen)};
    const auto own = stack::history(bars);
    const BarContacts contacts(bars.states[0].strips[0], 0.040, bars.parts[0].preslip, 24);
    SectionHistory<double> h;
    h.plan = bars;
    h.plan.states[0].strips.clear();
    h.plan.refinement = 2;
    h.states = {{{0.0, 0.0}, {0.0, 0.0}, {0.0, 0.0}}};
    h.interference = {{60e-6}};
    stack::Steps<double, stack::SectionStack<double>> steps;
    stack::HistoryResult<double> through;
    steps.stack().set(contacts.points, h, nullptr);
    REQUIRE(steps.run(h.plan, through));
    for (std::size_t k = 2; k < bars.steps.size(); ++k) {
        CAPTURE(k);
        CHECK(through.steps[k].faces[0].force ==
              Approx(own.steps[k].faces[0].force).margin(0.01 * 160e3));
        CHECK(through.steps[k].faces[0].gap == Approx(own.steps[k].faces[0].gap).margin(0.25e-6));
    }
}
