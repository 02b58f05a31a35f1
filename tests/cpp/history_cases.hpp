// Stacks for the history: the finite-element reference (one ring, two rings) and a demo-like job.
#pragma once

#include "../../cpp/src/bodies/detail/strip.hpp"
#include "../../cpp/src/rings/detail/overhang.hpp"
#include "cases.hpp"
#include <fitwright/stack/history.hpp>

namespace cases {

using namespace fitwright;
using stack::HistoryStep;
using stack::StepKind;

// Steel of the finite-element reference.
inline const materials::Entry& reference_steel() {
    static const materials::Entry steel = even_metal(206e9, 11.5e-6, 0.3);
    return steel;
}

template <class T = double>
rings::Joint<T> reference_joint(double length, T interference, const materials::Material& shaft,
                                const materials::Material& ring_metal) {
    auto numbers = fields::standard_values(fields::Declared<rings::Ring>::declaration);
    std::vector<T> as_t(numbers.begin(), numbers.end());
    auto& ring = *reinterpret_cast<rings::Ring<T>*>(as_t.data());
    ring.bore = T(0.080);
    ring.outside = T(0.120);
    ring.length = T(length);
    number::Faults<T> faults;
    return rings::joint_of(
        rings::JointInputs<T>{0.040, 1.0, 1.0, 20.0, 0.080, 0.0, interference, 0.0, 20.0}, ring,
        shaft, ring_metal, {0, 0}, faults);
}

// Rings of one length on a hollow shaft, flat faces, no thread compliance: checks/fe.md F and G.
inline stack::History<double> reference_stack(std::vector<double> lengths, double friction = 0.15,
                                              double overhang = 0.0, double interference = 60e-6) {
    stack::History<double> h;
    h.nut = {0.0, 0.0, 0.0};
    h.touch_force = 1.0;
    stack::HistoryState<double> cold{{}, 0.0, 0.0, 0.0, 0.0};
    const materials::Material& steel = reference_steel().numbers;
    for (const double length : lengths) {
        const auto j = reference_joint(length, interference, steel, steel);
        const double factor = 1.0 + overhang * rings::overhang_excess(j, length);
        h.parts.push_back(
            {length, length, friction * factor, bodies::shear_softness(j, length), 0.0, 0.0, 0.0});
        cold.strips.push_back(bodies::strip_of(j, 0.0));
    }
    h.states = {cold};
    return h;
}

// Five rings, a washer and a nut on an 80 mm seat, rough faces, a bearing in two halves: invented.
// States: 0 cold, 1 start, 2 full load, 3 trip, 4 thrust reversed.
struct DemoRing {
    double interference, outside, length, contact;
};
inline constexpr DemoRing demo_rings[] = {{41e-6, 0.100, 0.032, 0.029},
                                          {42e-6, 0.104, 0.0195, 0.017},
                                          {42e-6, 0.104, 0.0195, 0.017},
                                          {-22e-6, 0.118, 0.014, 0.014},
                                          {10e-6, 0.102, 0.016, 0.016}};
struct DemoState {
    double speed, shaft, thrust, lags[5], washer, nut;
};
inline constexpr DemoState demo_states[] = {
    {0.0, 20.0, 0.0, {0.0, 0.0, 0.0, 0.0, 0.0}, 0.0, 0.0},
    {733.0, 35.0, 4e3, {11.0, 12.0, 12.0, 5.0, 6.0}, 3.0, 3.0},
    {1152.0, 70.0, 9e3, {5.0, 7.0, 6.0, 2.0, 2.0}, 1.0, 1.0},
    {0.0, 76.0, 0.0, {-6.0, -4.0, -5.0, -5.0, -5.0}, -2.0, -2.0},
    {1152.0, 70.0, -9e3, {5.0, 7.0, 6.0, 2.0, 2.0}, 1.0, 1.0}};

// `change` moves an input before the parts are made: interference of the first ring, friction.
template <class T = double>
stack::History<T> demo_stack(T more_interference = T(0.0), T friction = T(0.15)) {
    const materials::Entry even = even_metal(205e9, 12e-6, 0.29);
    stack::History<T> h;
    h.touch_force = T(60.0);
    h.nut = {T(0.25e-6), T(0.6e-6), T(600e3)};
    h.thrust_inner = 1;
    h.thrust_outer = 2;
    number::Faults<T> faults;
    for (const DemoState& state : demo_states) {
        stack::HistoryState<T> to{{},
                                  T(1.2e-10),
                                  T(-0.4e-6 * state.speed / 1152.0),
                                  T(state.thrust),
                                  T(state.speed > 0.0 || state.shaft > 20.0 ? 1.0 : 0.0)};
        for (int i = 0; i < 5; ++i) {
            auto numbers = fields::standard_values(fields::Declared<rings::Ring>::declaration);
            std::vector<T> as_t(numbers.begin(), numbers.end());
            auto& ring = *reinterpret_cast<rings::Ring<T>*>(as_t.data());
            ring.bore = T(0.080);
            ring.outside = T(demo_rings[i].outside);
            ring.length = T(demo_rings[i].length);
            T interference(demo_rings[i].interference);
            if (i == 0)
                interference += more_interference;
            const auto j = rings::joint_of(
                rings::JointInputs<T>{T(0.030), T(1.0), T(1.0), T(state.shaft), T(0.080), T(0.0),
                                      interference, T(state.speed), T(state.shaft + state.lags[i])},
                ring, even.numbers, even.numbers, {0, 0}, faults);
            to.strips.push_back(bodies::strip_of(j, T(state.speed)));
            if (h.states.empty())
                h.parts.push_back({T(demo_rings[i].length), T(demo_rings[i].contact), friction,
                                   bodies::shear_softness(j, T(demo_rings[i].contact)), T(0.2e-6),
                                   T(0.5e-6), T(500e3)});
        }
        const rings::Section<T> washer{T(0.03775), T(0.049), T(205e9), 0.29, 7850.0};
        const rings::Section<T> shaft{T(0.015), T(0.0375), T(205e9), 0.29, 7850.0};
        to.strips.push_back(
            bodies::loose_strip(washer, T((state.shaft + state.washer - 20.0) * 12e-6), shaft,
                                T((state.shaft - 20.0) * 12e-6), T(state.speed)));
        if (h.states.empty())
            h.parts.push_back({T(0.0015), T(0.0), T(0.0), T(0.0), T(0.3e-6), T(1e-6), T(0.0)});
        h.states.push_back(to);
    }
    return h;
}

inline HistoryStep<double> step(StepKind kind) { return {kind}; }
inline HistoryStep<double> slip_on(int first, int last) {
    HistoryStep<double> s{StepKind::slip_on};
    s.first = first;
    s.last = last;
    return s;
}
inline HistoryStep<double> press(double force, stack::Reaction reaction) {
    HistoryStep<double> s{StepKind::press};
    s.force = force;
    s.reaction = reaction;
    return s;
}
inline HistoryStep<double> tighten(double force) {
    HistoryStep<double> s{StepKind::tighten};
    s.force = force;
    return s;
}
inline HistoryStep<double> state(int number) {
    HistoryStep<double> s{StepKind::state};
    s.state = number;
    return s;
}
inline HistoryStep<double> repeat(int first, int last, int times) {
    HistoryStep<double> s{StepKind::repeat};
    s.first = first;
    s.last = last;
    s.times = times;
    return s;
}

// The usual sequence in fourteen steps.
inline std::vector<HistoryStep<double>> demo_steps() {
    return {slip_on(0, 5),
            press(15e3, stack::Reaction::shaft),
            state(0),
            step(StepKind::release),
            step(StepKind::nut_on),
            tighten(60e3),
            step(StepKind::lock),
            state(1),
            state(2),
            state(4),
            state(3),
            state(0),
            step(StepKind::loosen),
            step(StepKind::pull)};
}
template <class T>
std::vector<HistoryStep<T>> steps_as(const std::vector<HistoryStep<double>>& steps) {
    std::vector<HistoryStep<T>> all;
    for (const HistoryStep<double>& s : steps)
        all.push_back(
            {s.kind, s.state, s.first, s.last, s.times, T(s.force), s.reaction, s.down_to});
    return all;
}

} // namespace cases
