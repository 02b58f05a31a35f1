// The locked nut in a later state, without friction: springs in series, heat, speed, thrust, and
// the fits that shorten the rings and lengthen the shaft. The unknown is y = ln(N/N0).
//
//   C N + sum L_i g_i p_i(N) + faces(N) = free length gained - settling - nut opening + locked in
//
// p_i(N) = (left_i - loss_i N)/flexibility_i, not below 0: fit and clamp are solved together.
// faces: two rough faces close as u0 ln(force), u0 = 0.4 times the composite rms height (B. N. J.
// Persson, Phys. Rev. Lett. 99 (2007) 125502, from memory), so that their stiffness is force/u0.
#pragma once

#include "gripped.hpp"
#include <fitwright/number/root.hpp>

namespace fitwright::rules {
extern const number::Rule no_convergence;
} // namespace fitwright::rules

namespace fitwright::stack {

inline constexpr int part_limit = 48; // rings on one shaft

// One ring as the loop of forces sees it.
template <class T>
struct Link {
    T left;        // interference at no clamp, thrust included
    T loss;        // interference per nut force
    T flexibility; // interference per pressure
    T shortening;  // length lost per interference: L (2 nu_r kr/E_r + 2 nu_s ks/E_s)/flexibility
};

template <class T>
struct LoopEquation {
    const Link<T>* links;
    int count;
    T first_force; // N0
    T compliance;  // all linear springs
    T nut_faces;   // sum of u0 of the faces that see the nut force alone
    // Thrust enters at the bearing. Faces between it and the shoulder see nut force and thrust; the
    // face between the halves of a split ring sees only thrust away from the shoulder.
    T shoulder_faces, split_faces;
    T thrust, split_thrust;
    bool has_split;
    T wanted; // right-hand side
    const Link<double>* value_links;

    FITWRIGHT_INLINE Residual<T> operator()(const T& y) const {
        const T n = first_force * exp(y);
        T value = compliance * n + nut_faces * y - wanted;
        T slope = compliance;
        for (int i = 0; i < count; ++i) {
            const Link<T>& k = links[i];
            const T left = k.left - k.loss * n;
            value += positive(left) * k.shortening;
            slope -= k.loss * select(left > T(0.0), k.shortening, T(0.0));
        }
        slope = slope * n + nut_faces;
        add_faces(shoulder_faces, thrust, n, value, slope);
        if (has_split)
            add_faces(split_faces, split_thrust, n, value, slope);
        return {value, slope};
    }
    // Faces under n + load; an opened one (thrust beyond the clamp) stays at a thousandth.
    FITWRIGHT_INLINE void add_faces(const T& faces, const T& load, const T& n, T& value,
                                    T& slope) const {
        const T floor = first_force * 1e-3;
        const T carried = n + load;
        const T held = larger(floor, carried);
        value += faces * log(held / first_force);
        slope += select(carried > floor, faces * n / held, T(0.0));
    }
    FITWRIGHT_INLINE LoopEquation<Value<T>> values() const {
        return {value_links,
                count,
                value_of(first_force),
                value_of(compliance),
                value_of(nut_faces),
                value_of(shoulder_faces),
                value_of(split_faces),
                value_of(thrust),
                value_of(split_thrust),
                has_split,
                value_of(wanted),
                value_links};
    }
};

// What the loop holds at y: elastic, fits and faces.
template <class T>
FITWRIGHT_INLINE T loop_at(const LoopEquation<T>& e, const T& y) {
    return e(y).value + e.wanted;
}

// Newton on a convex, rising function: from above the root it runs down monotonically.
template <class T>
T locked_force(const LoopEquation<T>& e, Faults<T>& faults) {
    const auto r = root(e, T(-60.0), T(8.0), T(0.0), T(1.0));
    faults.require(r.converged, rules::no_convergence, e.wanted);
    return e.first_force * exp(r.x);
}

} // namespace fitwright::stack
