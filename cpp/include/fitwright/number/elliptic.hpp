// Complete elliptic integrals of the first and second kind, for the contact of curved bodies.
#pragma once

#include <fitwright/number/exponential.hpp>

namespace fitwright::number {

// K(m) and E(m) with the parameter m = k^2.
template <class T>
struct CompleteElliptic {
    T first, second;
};

namespace detail {

// B = integral of cos^2 / Delta, D = integral of sin^2 / Delta over [0, pi/2],
// Delta = sqrt(1 - m sin^2). K = B + D and E = B + (1 - m) D, and the derivatives
// dK/dm = B / (2 (1 - m)), dE/dm = -D / 2 (Legendre) divide by no m.
template <class T>
struct EllipticParts {
    T first, b, d, complement;
};

// Brings the two means together to the last bit for 1 - m down to 1e-9, where six do not.
inline constexpr int mean_steps = 7;
// Just below 1e-9: 1 - 1e-9 rounded and taken from 1 falls short of it.
inline constexpr double smallest_complement = 0.9999e-9;

// Arithmetic-geometric mean in the form of Bulirsch, Numerische Mathematik 7 (1965) 78-90 (cel2),
// quoted from memory: every term is positive, so nothing cancels as m goes to 1. The means are
// carried without the halving.
template <Plain T>
FITWRIGHT_INLINE EllipticParts<T> elliptic_parts(const T& m) {
    const T given = 1.0 - m;
    const T complement = select(given < T(smallest_complement), T(smallest_complement), given);
    T kc = sqrt(complement);
    T mean = 1.0;
    T b = 1.0, b_weight = 1.0, b_rest = 0.0;
    T d = 1.0, d_weight = 0.0, d_rest = 1.0;
    for (int i = 0; i < mean_steps; ++i) {
        b_rest = (b_weight * kc + b_rest) * 2.0;
        d_rest = (d_weight * kc + d_rest) * 2.0;
        b_weight = b;
        d_weight = d;
        const T product = kc * mean;
        mean = mean + kc;
        b = b_rest / mean + b;
        d = d_rest / mean + d;
        kc = sqrt(product) * 2.0;
    }
    constexpr double quarter_pi = 0.7853981633974483;
    constexpr double doubled = 2 << mean_steps; // of the missing halves
    return {quarter_pi * doubled / mean, b / mean * quarter_pi, d / mean * quarter_pi, complement};
}

} // namespace detail

// m in [0, 1 - 1e-9]; above, the value at the end. Error of K <= 4.5 ulp, of E <= 5.5.
template <Plain T>
FITWRIGHT_INLINE CompleteElliptic<T> complete_elliptic(const T& m) {
    const auto p = detail::elliptic_parts(m);
    return {p.first, p.b + p.complement * p.d};
}
template <int N, class L>
CompleteElliptic<Dual<N, L>> complete_elliptic(const Dual<N, L>& m) {
    const auto p = detail::elliptic_parts(m.value);
    return {m.chain(p.first, p.b / (2.0 * p.complement)),
            m.chain(p.b + p.complement * p.d, -0.5 * p.d)};
}

} // namespace fitwright::number
