// The loop of forces through shaft and rings of a nut that turns no more. S is the tension of the shaft
// along the stack, so that a ring carries S + F where the thrust F passes through it. The two ways
// round have the same length in every state, whatever slid in between:
//
//   sum [L (1/E_r A_r + 1/E_s A_s) S + L g p(S)] + C S_nut + sum faces(S + F) - gaps = wanted
//
//   wanted = free length gained - thrust on the rings - settling - nut opening + locked in
//   p(S)   = (left - loss S)/flexibility, not below 0: fit and clamp are solved together
//   g      = 2 (nu_r kr/E_r + nu_s ks/E_s): a ring that grips gets shorter, the shaft under it longer
//   faces  = u0 ln(1 + N/N1), N1 = a thousandth of the tightening force; an open face carries nothing.
//            Two rough faces close as u0 ln(force), u0 = 0.4 times the composite rms height (B. N. J.
//            Persson, Phys. Rev. Lett. 99 (2007) 125502, from memory): as stiff as force/u0.
//
// The left side grows with S anywhere. Without friction S is the same all along. With friction it may
// grow towards the nut or towards the shoulder, by no more than the seats hold (gripped.hpp).
#pragma once

#include "gripped.hpp"
#include <fitwright/number/root.hpp>

namespace fitwright::rules {
extern const number::Rule no_convergence;
} // namespace fitwright::rules

namespace fitwright::stack {

inline constexpr int part_limit = 48; // rings on one shaft

// N1: where a rough face begins to carry.
template <class T>
FITWRIGHT_INLINE T touch_of(const T& first_force) {
    return first_force * 1e-3;
}

// One ring as the loop of forces sees it.
template <class T>
struct Link {
    T compliance; // of ring and shaft under it
    T left;       // interference where the shaft is not pulled, under the thrust at its face
    T beyond;     // and beyond where a thrust enters
    T loss;       // interference per S
    T shortening; // length lost per interference: L g/flexibility
    T face;       // u0 of its face towards the shoulder
    T thrust;     // F at that face
    bool has_face;
};

// How S runs along the stack: the same everywhere, or at its greatest from the end it is told at.
enum class Profile { even, from_shoulder, from_nut };

template <class T>
struct LoopEquation {
    const Link<T>* links;
    const SeatFriction<T>* friction; // the most each seat can do; not for an even profile
    int count;
    Profile profile;
    T first_force;    // of the tightening
    T nut_compliance; // nut, thread and washer: what only S at the nut goes through
    T nut_faces;      // u0 of washer and nut faces
    T wanted;
    const Link<double>* value_links; // of duals
    const SeatFriction<double>* value_friction;
    bool shoulder_gives = false; // told, and so not rigid
    T shoulder{0.0};             // its compliance

    // At S = s at the end it is told at; `other`: what S is at the other end then.
    FITWRIGHT_INLINE Residual<T> at(T s, T& other) const {
        T slope_of_s(1.0);
        Residual<T> sum{T(0.0) - wanted, T(0.0)};
        const bool backwards = profile == Profile::from_nut;
        if (backwards)
            add_nut(sum, s, slope_of_s);
        for (int i = 0; i < count; ++i) {
            const Link<T>& k = links[backwards ? count - 1 - i : i];
            const bool at_shoulder = shoulder_gives && &k == links;
            if (!backwards && at_shoulder)
                add_shoulder(sum, s + k.thrust, slope_of_s);
            if (!backwards && k.has_face)
                add_face(sum, k.face, s + k.thrust, slope_of_s);
            T mean = s;
            T slope_of_mean = slope_of_s;
            if (profile != Profile::even) {
                const SeatFriction<T>& f = friction[backwards ? count - 1 - i : i];
                const T room = f.room(s);
                const T lost = select(room > T(0.0), slope_of_s * f.x, T(0.0));
                mean += room * f.mean;
                slope_of_mean -= lost * f.mean;
                s += room * f.rise;
                slope_of_s -= lost * f.rise;
            }
            // Half of it on each side of where the thrust enters.
            const T left = k.left - k.loss * mean;
            const T beyond = k.beyond - k.loss * mean;
            const T half = k.shortening * 0.5;
            sum.value += k.compliance * mean + (positive(left) + positive(beyond)) * half;
            sum.slope += slope_of_mean * (k.compliance - (select(left > T(0.0), half, T(0.0)) +
                                                          select(beyond > T(0.0), half, T(0.0))) *
                                                             k.loss);
            if (backwards && k.has_face)
                add_face(sum, k.face, s + k.thrust, slope_of_s);
            if (backwards && at_shoulder)
                add_shoulder(sum, s + k.thrust, slope_of_s);
        }
        if (!backwards)
            add_nut(sum, s, slope_of_s);
        other = s;
        return sum;
    }
    FITWRIGHT_INLINE Residual<T> operator()(const T& s) const {
        T other;
        return at(s, other);
    }
    FITWRIGHT_INLINE void add_nut(Residual<T>& sum, const T& s, const T& slope_of_s) const {
        sum.value += nut_compliance * s;
        sum.slope += nut_compliance * slope_of_s;
        add_face(sum, nut_faces, s, slope_of_s);
    }
    FITWRIGHT_INLINE void add_face(Residual<T>& sum, const T& u0, const T& force,
                                   const T& slope_of_s) const {
        const T touch = touch_of(first_force);
        const T pressed = positive(force);
        sum.value += u0 * log(pressed / touch + 1.0);
        sum.slope += select(force > T(0.0), u0 / (pressed + touch), T(0.0)) * slope_of_s;
    }
    FITWRIGHT_INLINE void add_shoulder(Residual<T>& sum, const T& force,
                                       const T& slope_of_s) const {
        sum.value += shoulder * positive(force);
        sum.slope += select(force > T(0.0), shoulder, T(0.0)) * slope_of_s;
    }
    FITWRIGHT_INLINE LoopEquation<Value<T>> values() const {
        return {value_links,
                value_friction,
                count,
                profile,
                value_of(first_force),
                value_of(nut_compliance),
                value_of(nut_faces),
                value_of(wanted),
                value_links,
                value_friction,
                shoulder_gives,
                value_of(shoulder)};
    }
};

// S at both ends: at the one it is told at, and at the other.
template <class T>
struct Ends {
    T told, other;
};

// The S at which the loop has its length; the left side grows with it.
template <class T>
Ends<T> solve_loop(const LoopEquation<T>& e, const T& start, Faults<T>& faults) {
    const T far = e.first_force * 1e4;
    const auto r = root(e, T(0.0) - far, far, start, e.first_force);
    faults.require(r.converged, rules::no_convergence, e.wanted);
    const T told = named("tension of the shaft", r.x);
    Ends<T> ends{told, told};
    e.at(told, ends.other);
    ends.other = named("tension at the other end", ends.other);
    return ends;
}

} // namespace fitwright::stack
