// Random stacks through random orders of steps: something is found for every one of them, and it keeps
// the laws. Friction up to 1, rings that do not touch, rough faces, free and held shafts.
#include "bodies_cases.hpp"

#include <random>

using namespace fitwright;
using namespace cases;

namespace {

class Random {
public:
    explicit Random(std::uint64_t seed)
        : engine_(seed) {}
    double between(double low, double high) {
        return std::uniform_real_distribution<double>(low, high)(engine_);
    }
    bool one_in(double n) { return between(0.0, n) < 1.0; }

private:
    std::mt19937_64 engine_;
};

StackSection random_stack(Random& random) {
    const double d = random.between(20.0, 200.0);
    const double bore = random.one_in(5) ? 0.0 : d * random.between(0.1, 0.75);
    const int rings = 1 + static_cast<int>(random.between(0.0, 4.0));
    std::vector<RingSection> all;
    double length = 0.0;
    for (int k = 0; k < rings; ++k) {
        const double l = d * random.between(0.15, 0.9);
        const double outside = d * random.between(1.1, 1.8);
        RingSection ring = ring_of({slice(l, d, outside)},
                                   random.one_in(5) ? random.between(70e9, 210e9) : Steel::modulus);
        const double leg = 0.1e-3 * std::min(l, 0.5 * (outside - d)) * random.between(0.5, 1.5);
        if (random.one_in(3) && leg > d * 1e-6)
            ring.chamfers = {leg, leg, leg, leg};
        else if (random.one_in(4))
            ring.slices = {slice(0.4 * l, d, outside),
                           slice(0.6 * l, d, d + (outside - d) * random.between(0.4, 0.8))};
        all.push_back(ring);
        length += l;
    }
    const double beyond = d * random.between(0.3, 1.0);
    StackSection s = stack_of({slice(length + beyond, bore, d)}, all);
    if (!random.one_in(4)) {
        const double behind = d * random.between(0.1, 0.5);
        s.shaft.slices.insert(s.shaft.slices.begin(),
                              slice(behind, bore, d * random.between(1.15, 1.5)));
        s.shaft.behind = behind * 1e-3;
        s.shaft.far_end = random.one_in(3) ? FarEnd::free : FarEnd::plane;
    }
    s.shaft.thread_start = length * 1e-3;
    s.shaft.thread_length = 0.2e-3 * d;
    return s;
}

SectionHistory<double> random_history(Random& random, const StackSection& s) {
    const double d = s.rings[0].slices[0].bore / 0.08; // of an 80 mm seat
    const auto rings = static_cast<int>(s.rings.size());
    std::vector<double> interference;
    for (int k = 0; k < rings; ++k)
        interference.push_back(
            d * (random.one_in(7) ? -random.between(5.0, 40.0) : random.between(2.0, 80.0)));
    SectionHistory<double> h = history_of(
        s, interference, random.one_in(4) ? random.between(0.3, 1.0) : random.between(0.02, 0.3));
    const double force = 10.0 * d * d; // kN
    h.plan.thrust_inner = static_cast<int>(random.between(0.0, rings));
    h.plan.thrust_outer = static_cast<int>(random.between(0.0, rings));
    const double compliance = 1e-7 * random.between(0.3, 3.0) / d;
    for (int state = 0; state < 4; ++state) {
        std::vector<double> hotter;
        for (int k = 0; k < rings; ++k)
            hotter.push_back(state == 0 ? 0.0 : random.between(-15.0, 25.0));
        add_state(h, hotter, state == 0 ? 0.0 : random.between(0.0, 2000.0) / d, compliance);
        if (state > 0)
            h.plan.states.back().thrust = random.between(-1.0, 1.0) * force * 1e3;
    }
    if (random.one_in(3)) {
        for (auto& part : h.plan.parts) {
            part.face_softness = random.between(0.1e-6, 0.6e-6);
            part.settling = random.between(0.0, 1e-6);
        }
        h.plan.nut.face_softness = 0.3e-6;
        h.plan.touch_force = random.between(10.0, 200.0);
        for (auto& state : h.plan.states)
            state.settled = random.between(0.0, 1.0);
    }
    const auto press = [&] {
        return pressed_by(force * random.between(0.0, 2.0),
                          random.one_in(2) ? Reaction::shaft : Reaction::outside);
    };
    if (random.one_in(2))
        h.plan.steps = {on(0, rings - 1), press(), to_state(0), a_step(StepKind::release)};
    else
        for (int k = 0; k < rings; ++k)
            for (const auto& step : {on(k, k), press(), to_state(0), a_step(StepKind::release)})
                h.plan.steps.push_back(step);
    const double nut = force * random.between(0.3, 8.0);
    for (const auto& step :
         {a_step(StepKind::nut_on), tightened_to(nut), a_step(StepKind::lock), to_state(1),
          to_state(2), to_state(3), to_state(0), tightened_to(1.2 * nut), a_step(StepKind::loosen)})
        h.plan.steps.push_back(step);
    for (int k = 0; k < rings; ++k)
        h.plan.steps.push_back(a_step(StepKind::pull));
    return h;
}

} // namespace

TEST_CASE("every random stack finds its way, and keeps the laws", "[once][section]") {
    for (std::uint64_t seed = 0; seed < (watched ? 2 : 16); ++seed) {
        CAPTURE(seed);
        Random random(seed);
        const StackSection s = random_stack(random);
        const SectionHistory<double> h = random_history(random, s);
        REQUIRE(bodies::section_problems(s, {}).empty());
        const auto r = stack::section_history(Sections(s, {0.7, 1}), h);
        const double friction = h.plan.parts[0].friction;
        for (const auto& step : r.history.steps) {
            double largest = 1.0;
            for (const auto& face : step.faces) {
                CHECK(face.force >= 0.0);
                CHECK(face.gap >= 0.0);
                largest = std::max(largest, face.force);
            }
            CHECK(step.dissipated >= -1e-9 * largest);
            CHECK(step.imbalance <= 1e-6 * largest + 1e-3);
            double most = 1.0;
            for (const auto& seat : step.seats)
                most = std::max(most, seat.pressure);
            for (const auto& seat : step.seats)
                CHECK(std::abs(seat.friction) <= friction * seat.pressure + 1e-4 * most);
        }
    }
}
