// Kinks between clamped faces bend shaft and rings against each other. A wedge of w at diameter D,
// thickest at phi, turns what follows it by w/D away from phi. All faces closed,
//
//   sum of kinks = M sum L_i (1/EI_shaft + 1/EI_ring),  M the same all along,
//
// and the rings keep touching all round while M < N (Do^2 + d^2)/(8 Do) at each face (kern of the
// ring section). The stack is round, so that x and y are apart and alike: one plane is worked out
// twice. Slopes are dx/dz; z from shoulder to nut.
//
// Unbalance: mass times eccentricity of each ring, and the couple of a ring that is tilted by s,
// s m (L^2/12 - (Ro^2 + Ri^2)/4) = s (sum m z^2 - sum m x^2). Permissible (ISO 21940-11): m G/omega,
// shared between the planes by the centre of mass, each from 0.3 to 0.7 of the whole.
#pragma once

#include "materials/range.hpp"
#include <fitwright/materials/table.hpp>
#include <fitwright/number/number.hpp>
#include <fitwright/stack/squareness.hpp>

namespace fitwright::rules {
extern const number::Rule outside_above_bore, planes_apart, second_journal_beyond,
    shaft_bore_below_seat;
} // namespace fitwright::rules

namespace fitwright::stack {

using namespace number;

// What does not depend on how the rings are turned.
template <class T>
struct SquareForm {
    int rings;
    T length[square_ring_limit];
    T shaft[square_ring_limit]; // 1/(E I)
    T ring[square_ring_limit];
    T middle[square_ring_limit]; // z
    T mass[square_ring_limit];
    T couple[square_ring_limit]; // m (L^2/12 - (Ro^2 + Ri^2)/4)
    T softness;                  // sum L (1/EI + 1/EI)
    T whole;                     // length of the stack
    T plane_a, plane_b, centre;
    T second_journal;
    Truth<T> between_bearings;
};

// One plane: kinks at the shoulder, in each ring and at the nut, eccentricities, and what follows.
template <class T>
struct SquarePlane {
    T kink[square_ring_limit + 2];
    T eccentricity[square_ring_limit];
    T all, moment;
    T end_slope, end_offset;
    T seat_slope[square_ring_limit]; // of the shaft at mid ring
    T face_slope[square_ring_limit]; // of the ring by its faces
    T offset[square_ring_limit];     // of the ring's centre of mass
    T unbalance, unbalance_a, unbalance_b, couple;
};

template <class T>
void bend(const SquareForm<T>& form, SquarePlane<T>& p) {
    p.all = T(0.0);
    for (int i = 0; i < form.rings + 2; ++i)
        p.all += p.kink[i];
    p.moment = p.all / form.softness;
    T slope(0.0);
    T offset(0.0);
    T face = p.kink[0];
    for (int i = 0; i < form.rings; ++i) {
        const T& length = form.length[i];
        const T turn = p.moment * form.shaft[i] * length;
        p.seat_slope[i] = slope + turn * 0.5;
        p.offset[i] = offset + (slope * 0.5 + turn * 0.125) * length;
        const T ring_turn = p.kink[i + 1] - p.moment * form.ring[i] * length;
        p.face_slope[i] = face + ring_turn * 0.5;
        offset += (slope + turn * 0.5) * length;
        slope += turn;
        face += ring_turn;
    }
    // Between bearings the axis runs through both journals.
    const T far = form.second_journal;
    const T chord =
        select(form.between_bearings, (offset + slope * (far - form.whole)) / far, T(0.0));
    p.end_slope = slope - chord;
    p.end_offset = offset - chord * form.whole;
    p.unbalance = T(0.0);
    p.couple = T(0.0);
    T about_a(0.0);
    for (int i = 0; i < form.rings; ++i) {
        p.seat_slope[i] -= chord;
        p.face_slope[i] -= chord;
        p.offset[i] += p.eccentricity[i] - chord * form.middle[i];
        const T u = form.mass[i] * p.offset[i];
        const T own = form.couple[i] * p.face_slope[i];
        p.unbalance += u;
        about_a += u * (form.middle[i] - form.plane_a) + own;
        p.couple += u * (form.middle[i] - form.centre) + own;
    }
    const T apart = form.plane_b - form.plane_a;
    p.unbalance_b = about_a / apart;
    p.unbalance_a = p.unbalance - p.unbalance_b;
    p.couple = p.couple / apart;
}

// One ring at the end of those before it.
template <class T>
void add_ring(SquareForm<T>& form, int i, const SquareRing<T>& r, const T& shaft_bore,
              const T& shaft_modulus, const T& ring_modulus, double density) {
    const T in2 = square(r.bore);
    const T out2 = square(r.outside);
    form.length[i] = r.length;
    form.shaft[i] =
        T(64.0 / fields::pi) / (shaft_modulus * (square(in2) - square(square(shaft_bore))));
    form.ring[i] = T(64.0 / fields::pi) / (ring_modulus * (square(out2) - square(in2)));
    form.softness += r.length * (form.shaft[i] + form.ring[i]);
    form.middle[i] = form.whole + r.length * 0.5;
    form.whole += r.length;
    form.mass[i] = fields::given(r.mass, (out2 - in2) * r.length *
                                             density_in(density * fields::pi / 4.0, out2));
    form.couple[i] = form.mass[i] * (square(r.length) * (1.0 / 12.0) - (out2 + in2) * (1.0 / 16.0));
}

// Place 1 is the shaft, 2 and on the rings.
template <class T>
void square_form(SquareForm<T>& form, const SquareStackInputs<T>& in, const SquareRing<T>* rings,
                 int count, const materials::Material* const* materials, Faults<T>& faults) {
    form.rings = count;
    form.softness = T(0.0);
    form.whole = T(0.0);
    faults.place = 1;
    const T shaft =
        materials::modulus_at(*materials[0], in.shaft.modulus_factor, in.temperature, faults);
    for (int i = 0; i < count; ++i) {
        const SquareRing<T>& r = rings[i];
        const materials::Material& metal = *materials[i + 1];
        faults.place = 2 + i;
        faults.require(r.outside > r.bore, rules::outside_above_bore, r.outside);
        faults.require(in.shaft.bore < r.bore, rules::shaft_bore_below_seat, in.shaft.bore);
        const T modulus = materials::modulus_at(metal, r.modulus_factor, in.temperature, faults);
        add_ring(form, i, r, in.shaft.bore, shaft, modulus, metal.density);
    }
    faults.place = 0;
    form.plane_a = in.plane_a;
    form.plane_b = fields::given(in.plane_b, form.whole);
    faults.require(form.plane_b > form.plane_a, rules::planes_apart, form.plane_b);
    form.centre = fields::given(in.centre, (form.plane_a + form.plane_b) * 0.5);
    form.second_journal = fields::given(in.second_journal, form.whole);
    form.between_bearings = in.second_journal < T(1e300);
    faults.require(form.second_journal >= form.whole, rules::second_journal_beyond,
                   form.second_journal);
}

// Kinks and eccentricities in both planes. A part that stands out at phi turns the rest away.
template <class T>
void set_kinks(SquarePlane<T>& x, SquarePlane<T>& y, const SquareRing<T>* rings, int count,
               const T& shoulder, const T& shoulder_angle, const T& nut, const T& nut_angle) {
    const auto set = [&](int i, const T& amount, const T& at) {
        x.kink[i] = -amount * cos(at);
        y.kink[i] = -amount * sin(at);
    };
    set(0, shoulder, shoulder_angle);
    set(count + 1, nut, nut_angle);
    for (int i = 0; i < count; ++i) {
        const SquareRing<T>& r = rings[i];
        set(i + 1, r.wedge / fields::given(r.read_at, r.outside), r.wedge_angle + r.turned);
        x.eccentricity[i] = r.runout * 0.5 * cos(r.runout_angle + r.turned);
        y.eccentricity[i] = r.runout * 0.5 * sin(r.runout_angle + r.turned);
    }
}

template <class T>
void set_planes(SquarePlane<T>& x, SquarePlane<T>& y, const SquareStackInputs<T>& in,
                const SquareRing<T>* rings, int count) {
    const T end = fields::given(in.shaft.end_diameter, rings[0].outside);
    set_kinks(x, y, rings, count, in.shaft.shoulder_runout / end, in.shaft.shoulder_angle,
              in.shaft.nut_runout / end, in.shaft.nut_angle);
}

// Permissible unbalance and its shares.
template <class T>
struct Permissible {
    T whole, a, b;
};
template <class T>
Permissible<T> permissible(const SquareForm<T>& form, const SquareStackInputs<T>& in) {
    const T whole = in.rotor_mass * in.grade / in.speed;
    const T share = (form.plane_b - form.centre) / (form.plane_b - form.plane_a);
    const T kept = smaller(larger(share, T(0.3)), T(0.7));
    return {whole, whole * kept, whole * (1.0 - kept)};
}

// Moment that opens the face of a ring on one side.
template <class T>
FITWRIGHT_INLINE T opening_moment(const SquareRing<T>& r, const T& clamp) {
    return clamp * (square(r.outside) + square(r.bore)) / (r.outside * 8.0);
}

template <class T>
void Squareness::run(const T* inputs, T* outputs, const fields::Context& context,
                     Faults<T>& faults) {
    const int count =
        context.layout == nullptr ? 1 : static_cast<const SquareLayout*>(context.layout)->rings;
    const auto& in = *reinterpret_cast<const SquareStackInputs<T>*>(inputs);
    const auto* rings = reinterpret_cast<const SquareRing<T>*>(
        inputs + sizeof(SquareStackInputs<double>) / sizeof(double));
    auto& out = *reinterpret_cast<SquareStackOutputs<T>*>(outputs);
    auto* each = reinterpret_cast<SquareRingOutputs<T>*>(
        outputs + sizeof(SquareStackOutputs<double>) / sizeof(double));
    SquareForm<T> form;
    square_form(form, in, rings, count, context.materials, faults);
    SquarePlane<T> x, y;
    set_planes(x, y, in, rings, count);
    bend(form, x);
    bend(form, y);

    out.kink = norm2(x.all, y.all);
    out.moment = norm2(x.moment, y.moment);
    out.end_tilt = norm2(x.end_slope, y.end_slope);
    out.end_runout = norm2(x.end_offset, y.end_offset) * 2.0;
    out.opening_use = T(0.0);
    out.bending_stress = T(0.0);
    out.tilt = T(0.0);
    out.runout = T(0.0);
    const T shaft =
        materials::at(context.materials[0]->modulus, in.temperature) * in.shaft.modulus_factor;
    for (int i = 0; i < count; ++i) {
        SquareRingOutputs<T>& r = each[i];
        r.ring_tilt = norm2(x.face_slope[i], y.face_slope[i]);
        r.ring_face_runout = r.ring_tilt * rings[i].outside;
        r.seat_tilt = norm2(x.seat_slope[i], y.seat_slope[i]);
        const T offset = norm2(x.offset[i], y.offset[i]);
        r.ring_runout = offset * 2.0;
        r.ring_unbalance = form.mass[i] * offset;
        r.ring_opening_use = out.moment / opening_moment(rings[i], in.clamp);
        out.opening_use = larger(out.opening_use, r.ring_opening_use);
        // M (d/2)/I = M (1/EI) E d/2
        out.bending_stress =
            larger(out.bending_stress, out.moment * form.shaft[i] * shaft * rings[i].bore * 0.5);
        out.tilt = larger(out.tilt, r.ring_tilt);
        out.runout = larger(out.runout, r.ring_runout);
    }
    const Permissible<T> allowed = permissible(form, in);
    out.static_unbalance = norm2(x.unbalance, y.unbalance);
    out.couple_unbalance = norm2(x.couple, y.couple);
    out.unbalance_a = norm2(x.unbalance_a, y.unbalance_a);
    out.unbalance_b = norm2(x.unbalance_b, y.unbalance_b);
    out.permissible = allowed.whole;
    out.permissible_a = allowed.a;
    out.permissible_b = allowed.b;
    out.balance_use = larger(out.unbalance_a / allowed.a, out.unbalance_b / allowed.b);
}

} // namespace fitwright::stack
