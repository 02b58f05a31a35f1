// Stacks of the finite-element reference as the quick level sees them.
#pragma once

#include "../../cpp/src/stack/detail/bounds.hpp"
#include "../../cpp/src/stack/detail/shoulder.hpp"
#include "history_cases.hpp"

namespace cases {

using namespace fitwright::stack;

// The stacks of the finite-element reference: flat faces, one steel, the nut's spring in series with half of
// the 16 mm of shaft behind the last ring.
struct ElementRing {
    double outside, length, interference;
};
struct ElementStack {
    double bore;
    std::vector<ElementRing> rings;
    double overhang;
    double nut_spring;
    double steps_force;
    double friction = 0.15;
    const Shoulder<double>* collar = nullptr; // rigid when left out
};
struct ElementState {
    const char* name;
    std::vector<double> hotter;
    double speed;
    double shoulder, nut; // as finite elements have them
};

inline constexpr double seat = 0.080;

inline void scene(const ElementStack& stack, const ElementState& state, Loop<double>& loop,
                  std::vector<Member<double>>& members, const materials::Material& shaft) {
    const materials::Material& steel = cases::reference_steel().numbers;
    members.clear();
    number::Faults<double> faults;
    for (std::size_t i = 0; i < stack.rings.size(); ++i) {
        auto numbers = fields::standard_values(fields::Declared<rings::Ring>::declaration);
        auto& ring = *reinterpret_cast<rings::Ring<double>*>(numbers.data());
        const ElementRing& r = stack.rings[i];
        ring.bore = seat - r.interference;
        ring.outside = r.outside;
        ring.length = r.length;
        Member<double> m{};
        m.joint = rings::joint_of(
            rings::JointInputs<double>{stack.bore, 1.0, 1.0, 20.0, seat, 0.0, r.interference,
                                       state.speed,
                                       20.0 + (state.hotter.empty() ? 0.0 : state.hotter[i])},
            ring, shaft, steel, {0, 0}, faults);
        m.length = m.contact_length = m.overhang_length = r.length;
        m.friction = m.friction_low = m.friction_high = stack.friction;
        m.overhang = m.overhang_high = stack.overhang;
        m.overhang_low = 0.0;
        m.has_face = true;
        members.push_back(m);
    }
    NutBody<double> body{};
    body.nut = {seat / 2.0, seat * 0.6, 206e9, 0.3, 7850.0};
    body.shaft = {stack.bore / 2.0, seat / 2.0, 206e9, 0.3, 7850.0};
    body.compliance = stack.nut_spring + 0.008 / (206e9 * rings::section_area(body.shaft));
    double give = 0.0;
    if (stack.collar != nullptr)
        give = shoulder_gives(*stack.collar,
                              ShoulderBeside<double>{
                                  seat, stack.bore, stack.rings[0].outside, stack.rings[0].length,
                                  materials::at(shaft.modulus, 20.0), 206e9, shaft.poisson},
                              faults)
                   .compliance;
    make_loop(loop, members.data(), static_cast<int>(members.size()),
              LoopParts<double>{nullptr, 0.0, 0.0, body, 0.0, 0.0, state.speed, stack.steps_force,
                                0.0, -1, -1, stack.collar != nullptr ? &give : nullptr});
}

// A collar told with its land, shaft cut behind it.
inline Shoulder<double> collar_of(double outside, double length, double land_inside) {
    constexpr double left_out = fields::worked_out;
    return {outside, length, land_inside, left_out, 0.0, 0.0, left_out};
}

} // namespace cases
