// Stacks in section for the tests: the steel and the shapes of the finite-element checks, all invented.
// Lengths here in mm, forces in kN, pressures in MPa, gaps in um.
#pragma once

#include "catch.hpp"
#include <cmath>
#include <fitwright/stack/section_history.hpp>
#include <string>

namespace cases {

using namespace fitwright;
using bodies::FarEnd;
using bodies::Fineness;
using bodies::RingSection;
using bodies::Sections;
using bodies::Slice;
using bodies::StackSection;
using stack::HistoryStep;
using stack::Reaction;
using stack::SectionHistory;
using stack::SectionResult;
using stack::StepKind;

struct Steel {
    static constexpr double modulus = 206e9, poisson = 0.3, expansion = 11.5e-6, density = 7850.0;
};

inline Slice slice(double length, double bore, double outside) {
    return {length * 1e-3, bore * 1e-3, outside * 1e-3};
}
inline RingSection ring_of(std::vector<Slice> slices, double modulus = Steel::modulus,
                           double poisson = Steel::poisson) {
    RingSection r;
    r.slices = std::move(slices);
    r.modulus = modulus;
    r.poisson = poisson;
    return r;
}
// `behind` and what follows are left as they are: a rigid plane at the shaft's end.
inline StackSection stack_of(std::vector<Slice> shaft, std::vector<RingSection> rings,
                             double modulus = Steel::modulus, double poisson = Steel::poisson) {
    StackSection s;
    s.shaft.slices = std::move(shaft);
    s.shaft.modulus = modulus;
    s.shaft.poisson = poisson;
    s.rings = std::move(rings);
    return s;
}
// A collar of 20 mm behind z = 0, the first slice of the shaft.
inline StackSection on_collar(std::vector<Slice> shaft, std::vector<RingSection> rings,
                              double land_inside, double land_outside,
                              double modulus = Steel::modulus, double poisson = Steel::poisson) {
    StackSection s = stack_of(std::move(shaft), std::move(rings), modulus, poisson);
    s.shaft.behind = s.shaft.slices[0].length;
    s.shaft.land_inside = land_inside * 1e-3;
    s.shaft.land_outside = land_outside * 1e-3;
    return s;
}
// One ring alone on a shaft that goes on by `over` to both sides.
inline StackSection alone(double bore, double seat, std::vector<Slice> ring, double over,
                          double modulus = Steel::modulus, double poisson = Steel::poisson) {
    double length = 2.0 * over;
    for (const Slice& s : ring)
        length += s.length * 1e3;
    StackSection s =
        stack_of({slice(length, bore, seat)}, {ring_of(std::move(ring))}, modulus, poisson);
    s.start = over * 1e-3;
    s.shaft.far_end = FarEnd::free;
    return s;
}

// Interference in um of each ring, even over it; flat faces, no settling.
inline SectionHistory<double> history_of(const StackSection& s, std::vector<double> interference,
                                         double friction) {
    SectionHistory<double> h;
    h.plan.touch_force = 1.0;
    h.plan.nut = {0.0, 0.0, 0.0};
    for (std::size_t k = 0; k < s.rings.size(); ++k) {
        h.plan.parts.push_back({0.0, 0.0, friction, 0.0, 0.0, 0.0, 0.0});
        h.interference.emplace_back(s.rings[k].slices.size(), interference[k] * 1e-6);
    }
    return h;
}
// A state of steel: how much hotter each ring is than a shaft at 20 degC, speed in rad/s, and the
// compliance of the nut in mm/N.
inline void add_state(SectionHistory<double>& h, std::vector<double> hotter, double speed = 0.0,
                      double nut_compliance = 0.0) {
    h.plan.states.push_back({{}, nut_compliance * 1e-3, 0.0, 0.0, 0.0});
    stack::SectionState<double> s;
    s.warm = {0.0};
    for (const double k : hotter)
        s.warm.push_back(k * Steel::expansion);
    s.gradient.assign(s.warm.size(), 0.0);
    s.spin.assign(s.warm.size(), Steel::density * speed * speed);
    h.states.push_back(std::move(s));
}

inline HistoryStep<double> a_step(StepKind kind) {
    HistoryStep<double> s{};
    s.kind = kind;
    return s;
}
inline HistoryStep<double> on(int first, int last) {
    HistoryStep<double> s = a_step(StepKind::slip_on);
    s.first = first;
    s.last = last;
    return s;
}
inline HistoryStep<double> pressed_by(double kn, Reaction reaction = Reaction::outside) {
    HistoryStep<double> s = a_step(StepKind::press);
    s.force = kn * 1e3;
    s.reaction = reaction;
    return s;
}
inline HistoryStep<double> tightened_to(double kn) {
    HistoryStep<double> s = a_step(StepKind::tighten);
    s.force = kn * 1e3;
    return s;
}
inline HistoryStep<double> to_state(int state) {
    HistoryStep<double> s = a_step(StepKind::state);
    s.state = state;
    return s;
}

// The shapes of the shared checks. F1: a shaft as long as its ring on a flat rigid shoulder; F2: a long shaft with
// a real collar; H: two rings there, and a nut on the thread behind them.
inline StackSection f1() { return stack_of({slice(40, 40, 80)}, {ring_of({slice(40, 80, 120)})}); }
inline StackSection f2(std::vector<RingSection> rings = {ring_of({slice(40, 80, 120)})}) {
    return on_collar({slice(20, 40, 100), slice(100, 40, 80)}, std::move(rings), 84, 100);
}
inline StackSection two_and_a_nut() {
    StackSection s =
        on_collar({slice(20, 30, 96), slice(125, 30, 80)},
                  {ring_of({slice(30, 80, 100)}), ring_of({slice(35, 80, 105)})}, 84, 96);
    s.shaft.thread_start = 0.065;
    s.shaft.thread_length = 0.016;
    return s;
}
// Both rings pressed on one by one and the nut locked, then the states.
inline std::vector<HistoryStep<double>> two_locked(const std::vector<int>& states) {
    std::vector<HistoryStep<double>> steps = {on(0, 0),
                                              pressed_by(15),
                                              to_state(0),
                                              a_step(StepKind::release),
                                              on(1, 1),
                                              pressed_by(12),
                                              to_state(0),
                                              a_step(StepKind::release),
                                              a_step(StepKind::nut_on),
                                              tightened_to(70),
                                              a_step(StepKind::lock)};
    for (const int state : states)
        steps.push_back(to_state(state));
    return steps;
}
// Gaps in um that a ring of F1 and F2 leaves under a press, held and off (case F of the shared checks).
struct SeatingGap {
    double press, f1_held, f1_off, f2_held, f2_off;
};
inline constexpr SeatingGap seating_gaps[] = {
    {0, 18.77, 18.77, 17.01, 17.01}, {2, 16.39, 16.58, 15.00, 15.16},
    {5, 13.97, 14.41, 12.87, 13.25}, {20, 6.44, 7.91, 6.32, 7.56},
    {40, 1.35, 3.66, 1.79, 3.72},    {50, 0.51, 2.84, 0.36, 2.57}};

// Frictionless fit at one state.
inline SectionResult<double> fitted(const StackSection& s, std::vector<double> interference,
                                    double speed = 0.0, std::vector<double> hotter = {},
                                    const Fineness& fineness = {}) {
    SectionHistory<double> h = history_of(s, std::move(interference), 0.0);
    hotter.resize(s.rings.size(), 0.0);
    add_state(h, hotter, speed);
    h.plan.steps = {on(0, static_cast<int>(s.rings.size()) - 1), to_state(0)};
    const Sections sections(s, fineness);
    return stack::section_history(sections, h);
}

inline double mean_pressure(const SectionResult<double>& r, std::size_t step,
                            std::size_t ring = 0) {
    return r.steps[step].mean_pressure[ring] * 1e-6;
}
inline double face_force(const SectionResult<double>& r, std::size_t step, std::size_t face = 0) {
    return r.history.steps[step].faces[face].force * 1e-3;
}
inline double face_gap(const SectionResult<double>& r, std::size_t step, std::size_t face = 0) {
    return r.history.steps[step].faces[face].gap * 1e6;
}

} // namespace cases
