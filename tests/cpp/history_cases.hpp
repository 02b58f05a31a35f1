// Stacks for the history: the finite-element reference (one ring, two rings) and a demo-like job.
#pragma once

#include "../../cpp/src/bodies/detail/strip.hpp"
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
    return rings::joint_of(rings::JointInputs<T>{0.040, 1.0, 1.0, 20.0, 0.080, 0.0, interference,
                                                 0.0, 20.0},
                           ring, shaft, ring_metal, {0, 0}, faults);
}

// Rings of one length on a hollow shaft, flat faces, no thread compliance: checks/fe.md F and G.
inline stack::History<double> reference_stack(std::vector<double> lengths, double friction = 0.15,
                                              double overhang = 0.0, double interference = 60e-6) {
    stack::History<double> h;
    h.nut = {0.0, 0.0, 0.0, 0.0};
    h.touch_force = 1.0;
    stack::HistoryState<double> cold{{}, 0.0, 0.0, 0.0};
    const materials::Material& steel = reference_steel().numbers;
    for (const double length : lengths) {
        const auto j = reference_joint(length, interference, steel, steel);
        const double factor = 1.0 + overhang * rings::overhang_excess(j, length);
        h.parts.push_back({length, length, friction * factor, bodies::shear_softness(j, length), 0.0, 0.0,
                           0.0});
        cold.strips.push_back(bodies::strip_of(j, 0.0));
    }
    h.states = {cold};
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

} // namespace cases
