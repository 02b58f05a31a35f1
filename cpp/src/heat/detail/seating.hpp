// The ring shrinks about the point that stays put; the gap is what its shoulder side goes back.
//
//   parting = interference/d + 2 p (nu_r kr/E_r + nu_s ks/E_s)   one material: (1 + nu) interference/d
//   capacity = mu p pi d L,  s = press/capacity (not above 1),  stick point = L/2 (1 - s)
//   formula = parting L/2 (1 - s + s ln s) - drag (1 - s)^2
//   drag = capacity L/8 (1/E_r A_r + 1/E_s A_s)                  the walls stretch and are pressed
//
// From first grip until cold the free ring would have grown smaller than the seat by the
// interference: so much of strain, whatever the expansion. The corrections are fitted to
// finite-element models (F1: shaft as long as the ring; F2: shaft that goes on; tests/cpp/
// seating.test.cpp):
//
//   held = parting L/2 [1 - s + (1 - wall_shear) s ln s - end_effect (1 - s)^2] - drag (1 - s)^2
//   released = held + springback s capacity L/(E_s A_s) (1 - s/2)
//
// A press that pulls on the shaft itself springs back by 0.4 of L/(E_s A_s) instead (F2, 5 to 40 kN),
// and beyond the capacity two thirds of what reached the shoulder stay clamped (F2, one point).
#pragma once

#include "rings/detail/fit.hpp"
#include <fitwright/heat/seating.hpp>
#include <fitwright/number/number.hpp>

namespace fitwright::rules {
extern const number::Rule contact_within_length, grip_to_seat, interference_told_twice;
} // namespace fitwright::rules

namespace fitwright::heat {

using namespace number;

inline constexpr double springback_on_shaft = 0.4;
inline constexpr double clamp_share = 0.66;

template <class T>
struct Shrinking {
    T parting, length, capacity, drag, shaft_bar; // shaft_bar: L/(E_s A_s)
};
template <class T>
struct Correction {
    T wall_shear, springback, end_effect;
};
template <class T>
struct Gap {
    T formula, held, released;
};

template <class T>
Gap<T> gap_of(const Shrinking<T>& c, const T& press, const Correction<T>& by) {
    const T s = smaller(press / c.capacity, T(1.0));
    // s ln s is 0 at 0.
    const T won = select(s > T(1e-12), s * log(select(s > T(1e-12), s, T(1.0))), T(0.0));
    const T rest = 1.0 - s;
    const T half = c.parting * c.length * 0.5;
    const T drag = c.drag * rest * rest;
    Gap<T> g;
    g.formula = positive(half * (rest + won) - drag);
    g.held =
        positive(half * (rest + won * (1.0 - by.wall_shear) - by.end_effect * rest * rest) - drag);
    g.released = g.held + by.springback * s * c.capacity * c.shaft_bar * (1.0 - s * 0.5);
    return g;
}

template <class T>
void Seating::run(const T* inputs, T* outputs, const fields::Context& context, Faults<T>& faults) {
    const auto& in = *reinterpret_cast<const SeatingInputs<T>*>(inputs);
    auto& out = *reinterpret_cast<SeatingOutputs<T>*>(outputs);
    const materials::Material& ms = *context.materials[0];
    const materials::Material& mr = *context.materials[1];
    const bool on_shaft = context.choices[0] == 1;
    const T measured = in.shaft.seat - in.ring.bore;
    const T interference = fields::given(in.interference, measured);
    faults.require((measured == T(0.0)) | (abs(interference - measured) <= T(1e-9)),
                   rules::interference_told_twice, interference);
    const rings::Joint<T> j = rings::joint_of(
        rings::JointInputs<T>{in.shaft.bore, in.shaft.modulus_factor, in.shaft.expansion_factor,
                              T(materials::reference_temperature), in.shaft.seat,
                              in.shaft.roughness, interference, T(0.0),
                              T(materials::reference_temperature)},
        in.ring, ms, mr, rings::JointPlaces{1, 2}, faults);
    const T length = fields::given(in.ring.contact_length, in.ring.length);
    faults.require(length <= in.ring.length, rules::contact_within_length, length);
    faults.place = 0;
    faults.require(j.interference > T(0.0), rules::grip_to_seat, j.interference);

    const T left = larger(j.interference, T(1e-12));
    const T p = left / j.flexibility;
    const T shaft_bar = j.shaft_compliance * j.shaft_span * (1.0 / fields::pi);
    const T ring_bar = j.ring_compliance * j.ring_span * (1.0 / fields::pi);
    const T per_friction = p * in.shaft.seat * length * fields::pi;
    const auto cooling = [&](const T& friction) {
        const T capacity = larger(friction, T(1e-9)) * per_friction;
        return Shrinking<T>{left / j.diameter + p * j.length_coupling, length, capacity,
                            capacity * length * (shaft_bar + ring_bar) * 0.125, length * shaft_bar};
    };
    const auto corrected = [&](const T& shear, const T& spring, const T& end) {
        return Correction<T>{shear, on_shaft ? T(springback_on_shaft) : spring, end};
    };
    const Shrinking<T> c = cooling(in.ring.friction);
    const Correction<T> usual = corrected(in.wall_shear, in.springback, in.end_effect);
    const Gap<T> g = gap_of(c, in.press_force, usual);
    out.capacity = c.capacity;
    out.press_share = in.press_force / c.capacity;
    out.stick_point = positive(length * 0.5 - in.press_force * length * 0.5 / c.capacity);
    out.parting = c.parting;
    out.gap_formula = g.formula;
    out.gap_held = g.held;
    const auto with = [&](const Shrinking<T>& k, const T& press, const Correction<T>& by) {
        // What was clamped by a press on the shaft does not open.
        const Gap<T> k_gap = gap_of(k, press, by);
        return on_shaft ? select(press > k.capacity, T(0.0), k_gap.released) : k_gap.released;
    };
    out.gap = with(c, in.press_force, usual);
    // Against a press more friction leaves more gap; without one its drag stretches what it holds, and
    // less friction leaves more.
    const Shrinking<T> slippery = cooling(in.ring.friction_low);
    const Shrinking<T> rough = cooling(in.ring.friction_high);
    const auto low = corrected(in.wall_shear_low, in.springback_low, in.end_effect_high);
    const auto high = corrected(in.wall_shear_high, in.springback_high, in.end_effect_low);
    const T& press = in.press_force;
    out.gap_low = smaller(with(slippery, press, low), with(rough, press, low));
    out.gap_high =
        larger(with(c, press, high), larger(with(slippery, press, high), with(rough, press, high)));
    out.gap_margin = in.allowed_gap - out.gap_high;
    out.gap_nut_side_first = positive(c.parting * length - c.drag * 4.0);
    out.gap_least = on_shaft ? T(0.0) : gap_of(c, c.capacity, usual).released;
    out.press_to_slide = in.ring.friction_high * per_friction;
    out.clamp_left = on_shaft ? positive(in.press_force - c.capacity) * clamp_share : T(0.0);
    out.reading_shut = in.ring.length * (1.0 - p * (2.0 * mr.poisson) * square(j.ring.inner) *
                                                   j.ring_span * j.ring_compliance);
    out.reading = out.reading_shut + out.gap;
    out.seen_by_gauge = out.gap - in.gauge_uncertainty;
    out.feeler_reading = select(out.gap >= in.thinnest_leaf, out.gap, T(0.0));
}

} // namespace fitwright::heat
