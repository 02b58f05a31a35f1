// How a shoulder gives way per force, beside the bars of shaft and ring. All lengths over the seat d:
//
//   c = (T1 + k1 T2 + k2 T3) e^P/(E_s d) + Q/((b^2 - 1) E_r d)
//   T1   land as a strip under even pressure on a body as deep as the collar (bodies::land_softness)
//   T2   shear of the collar between seat and mean of the land, (1 + nu) ln(2 r)/(pi h)
//   T3   force that spreads from the seat over the section of the shaft, 1/A_s
//   P, Q quadratic in the sizes: P of the collar, Q of the ring's end on a land narrower than it, b its outside
//
// k1, k2, P and Q were fitted to 2399 stacks in section (gripped ring, faces closed, frictionless: the stroke of the
// nut on a collar less that on a rigid plane); 1201 others, which the fit has not seen, are met with 6 % (rms) where
// the shaft ends at the collar and 7 % where it goes on, the worst with 26 %. tools/shoulder_table.py makes it again;
// docs/theory-bodies.md tells the family. Outside it P and Q stay at its edge.
#pragma once

#include "bodies/detail/strip.hpp"
#include <fitwright/stack/shoulder.hpp>

namespace fitwright::rules {
extern const number::Rule collar_above_seat, land_on_collar, land_meets_ring, land_beside_seat,
    fillet_on_collar, beyond_above_bore;
} // namespace fitwright::rules

namespace fitwright::stack {

using namespace number;

struct ShoulderTable {
    double shear, spread;
    double collar[28]; // of P: 1, its six variables, their products
    double end[15];    // of Q: the same of four
};
extern const ShoulderTable shoulder_cut, shoulder_goes_on;

// What stands round it.
template <class T>
struct ShoulderBeside {
    T seat, bore;
    T ring_outside, ring_length;
    T shaft_modulus, ring_modulus;
    double shaft_poisson;
};

// The land that the first ring meets.
template <class T>
struct Land {
    T inside, outside;
};
template <class T>
Land<T> land_of(const Shoulder<T>& s, const T& seat) {
    return {fields::given(s.land_inside, seat + (s.fillet + s.relief) * 2.0),
            fields::given(s.land_outside, s.outside)};
}

// Sizes over the seat; within the family of the fit, and how far that reaches.
template <class T>
struct Kept {
    T reach{1.0};
    T operator()(const T& x, double low, double high) {
        const T kept = larger(T(low), smaller(x, T(high)));
        // In shares of the family's width, so that a size far outside is far from 1.
        reach = smaller(reach, 1.0 - abs(x - kept) / (high - low));
        return kept;
    }
};

template <class T, int Count, class M>
T quadratic(const double (&cut)[(Count + 1) * (Count + 2) / 2],
            const double (&on)[(Count + 1) * (Count + 2) / 2], const M& goes_on,
            const T (&x)[Count]) {
    const auto of = [&](int k) { return select(goes_on, T(on[k]), T(cut[k])); };
    T sum = of(0);
    int next = 1 + Count;
    for (int i = 0; i < Count; ++i) {
        T slope = of(1 + i);
        for (int j = i; j < Count; ++j)
            slope += of(next++) * x[j];
        sum += slope * x[i];
    }
    return sum;
}

template <class T>
struct ShoulderGives {
    T compliance, reach;
};

template <class T>
ShoulderGives<T> shoulder_gives(const Shoulder<T>& s, const ShoulderBeside<T>& beside,
                                Faults<T>& faults) {
    const Land<T> told = land_of(s, beside.seat);
    const auto goes_on = fields::is_given(s.beyond);
    faults.require(s.outside > beside.seat, rules::collar_above_seat, s.outside);
    faults.require(told.outside <= s.outside, rules::land_on_collar, told.outside);
    faults.require(told.inside >= beside.seat, rules::land_beside_seat, told.inside);
    faults.require(smaller(told.outside, beside.ring_outside) > told.inside * (1.0 + 1e-4),
                   rules::land_meets_ring, told.inside);
    faults.require((s.fillet <= s.length) & (s.fillet * 2.0 <= s.outside - beside.seat),
                   rules::fillet_on_collar, s.fillet);
    faults.require((!goes_on) | (fields::given(s.beyond, s.outside) > beside.bore),
                   rules::beyond_above_bore, s.beyond);

    const T d = beside.seat;
    Kept<T> keep;
    const T bore = keep(beside.bore / d, 0.0, 0.7);
    const T outside = keep(s.outside / d, 1.1, 1.6);
    const T length = keep(s.length / d, 0.09, 1.0);
    const T inside = keep(told.inside / d, 1.0, 1.1);
    const T land = keep(smaller(told.outside, beside.ring_outside) / d, 1.06, 1.6);
    const T width = keep(land - inside, 0.06, 0.6);
    const T ring = keep(beside.ring_outside / d, 1.12, 1.8);
    const T ring_length = keep(beside.ring_length / d, 0.15, 1.0);
    keep(beside.ring_length / (beside.ring_outside - d), 0.5, 20.0);
    keep(beside.ring_modulus / beside.shaft_modulus, 0.4, 2.5);
    const T beyond = keep(fields::given(s.beyond, s.outside) / d, 0.6, 1.6);

    const T mean = (land + inside) * 0.5;
    const T of_collar[] = {log(length),   square(bore), outside - 1.3,
                           inside - 1.03, land - 1.25,  select(goes_on, beyond - 1.0, T(0.0))};
    const T of_end[] = {log(ring_length), log(ring - 1.0), mean - 1.15, width};
    const T collar =
        quadratic<T, 6>(shoulder_cut.collar, shoulder_goes_on.collar, goes_on, of_collar);
    const T end = quadratic<T, 4>(shoulder_cut.end, shoulder_goes_on.end, goes_on, of_end);
    const auto either = [&](double cut, double on) { return select(goes_on, T(on), T(cut)); };

    // Theory by the sizes as they are.
    const T r_in = told.inside / d * 0.5;
    const T r_out = smaller(told.outside, beside.ring_outside) / d * 0.5;
    const T depth = s.length / d;
    const double nu = beside.shaft_poisson;
    const T strip = bodies::land_softness(r_in, r_out, depth, T(1.0), nu);
    const T shear = log(r_in + r_out) * (1.0 + nu) / (depth * fields::pi);
    const T spread = (4.0 / fields::pi) / (1.0 - square(beside.bore / d));
    const T shaft = (strip + shear * either(shoulder_cut.shear, shoulder_goes_on.shear) +
                     spread * either(shoulder_cut.spread, shoulder_goes_on.spread)) *
                    exp(collar) / beside.shaft_modulus;
    const T of_ring = end / ((square(ring) - 1.0) * beside.ring_modulus);
    // A ring stiffens a land by less than half.
    return {larger(shaft + of_ring, shaft * 0.5) / d, keep.reach};
}

} // namespace fitwright::stack
