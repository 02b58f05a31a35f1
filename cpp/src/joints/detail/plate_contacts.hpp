// A plate on its bolts touches, or not: the ring under it, the housing under the bolts, the housing at
// its rim (heel). Each can only push. With N the three forces, f the plate's flexibility about the bolt
// circle, c what gives beside at each contact, cB the bolts all together,
//   gap = f N + c N + cB (1.N) - s - h,   gap >= 0, N >= 0, gap N = 0
// s: how far the bolts are drawn up, h: how far each contact stands proud. The matrix is symmetric and
// positive definite, so that there is one answer; of the eight sets of closed contacts it is the one
// that breaks no sign (Cottle, Pang & Stone, The Linear Complementarity Problem).
#pragma once

#include "plate_theory.hpp"

namespace fitwright::joints {

enum PlateContact : int { on_ring, under_bolts, at_heel };
inline constexpr int contact_count = 3;

template <class T>
struct ContactForces {
    T force[contact_count];
    T gap[contact_count];
    FITWRIGHT_INLINE T total() const { return force[0] + force[1] + force[2]; }
};

// Forces of the closed contacts of a set under unit or other right sides: m x = r.
template <class T>
struct ContactMatrix {
    T a[contact_count][contact_count];
};

template <class T>
void solve_closed(const ContactMatrix<T>& matrix, int set, const T* right, T* x) {
    T m[contact_count][contact_count];
    T r[contact_count];
    for (int i = 0; i < contact_count; ++i) {
        const bool closed = ((set >> i) & 1) != 0;
        for (int j = 0; j < contact_count; ++j) {
            const bool both = closed && ((set >> j) & 1) != 0;
            m[i][j] = both ? matrix.a[i][j] : T(i == j ? 1.0 : 0.0);
        }
        r[i] = closed ? right[i] : T(0.0);
    }
    for (int k = 0; k < contact_count; ++k)
        for (int i = k + 1; i < contact_count; ++i) {
            const T factor = m[i][k] / m[k][k];
            for (int j = k + 1; j < contact_count; ++j)
                m[i][j] -= factor * m[k][j];
            r[i] -= factor * r[k];
        }
    for (int k = contact_count - 1; k >= 0; --k) {
        T sum = r[k];
        for (int j = k + 1; j < contact_count; ++j)
            sum -= m[k][j] * x[j];
        x[k] = sum / m[k][k];
    }
}

// How far a set of closed contacts breaks the signs, as a length, and its answer.
template <class T>
T broken_by(const ContactMatrix<T>& matrix, const T* constant, int set, const T* force,
            ContactForces<T>& out) {
    T worst(0.0);
    for (int i = 0; i < contact_count; ++i) {
        T gap = constant[i];
        for (int j = 0; j < contact_count; ++j)
            gap += matrix.a[i][j] * force[j];
        const bool closed = ((set >> i) & 1) != 0;
        out.force[i] = closed ? force[i] : T(0.0);
        out.gap[i] = closed ? T(0.0) : gap;
        worst = larger(worst, closed ? T(-force[i] * matrix.a[i][i]) : T(-gap));
    }
    return worst;
}

template <class T>
void keep_better(const T& broken, const ContactForces<T>& found, T& least, ContactForces<T>& best) {
    const auto better = broken < least;
    least = select(better, broken, least);
    for (int i = 0; i < contact_count; ++i) {
        best.force[i] = select(better, found.force[i], best.force[i]);
        best.gap[i] = select(better, found.gap[i], best.gap[i]);
    }
}

// Bolts as they were left: gap = a N + constant.
template <class T>
ContactForces<T> locked_contacts(const ContactMatrix<T>& matrix, const T* constant) {
    ContactForces<T> best{};
    T least(1e300);
    T right[contact_count];
    for (int i = 0; i < contact_count; ++i)
        right[i] = -constant[i];
    for (int set = 0; set < 8; ++set) {
        T force[contact_count];
        solve_closed(matrix, set, right, force);
        ContactForces<T> found;
        const T broken = broken_by(matrix, constant, set, force, found);
        keep_better(broken, found, least, best);
    }
    for (int i = 0; i < contact_count; ++i)
        best.force[i] = positive(best.force[i]); // rounding beside a contact that only touches
    return best;
}

// Bolts that pull with a force while they are tightened: the plate rises or sinks by `level` as a
// whole until the contacts carry it. `matrix` without the bolts.
template <class T>
ContactForces<T> tightened_contacts(const ContactMatrix<T>& matrix, const T* constant,
                                    const T& force, T& level) {
    ContactForces<T> best{};
    T least(1e300);
    level = T(0.0);
    T right[contact_count];
    for (int i = 0; i < contact_count; ++i)
        right[i] = -constant[i];
    const T ones[contact_count] = {T(1.0), T(1.0), T(1.0)};
    for (int set = 1; set < 8; ++set) {
        T by_constant[contact_count];
        T by_level[contact_count];
        solve_closed(matrix, set, right, by_constant);
        solve_closed(matrix, set, ones, by_level);
        const T rise = (by_constant[0] + by_constant[1] + by_constant[2] - force) /
                       (by_level[0] + by_level[1] + by_level[2]);
        T x[contact_count];
        T shifted[contact_count];
        for (int i = 0; i < contact_count; ++i) {
            x[i] = by_constant[i] - rise * by_level[i];
            shifted[i] = constant[i] + rise;
        }
        ContactForces<T> found;
        const T broken = broken_by(matrix, shifted, set, x, found);
        level = select(broken < least, rise, level);
        keep_better(broken, found, least, best);
    }
    for (int i = 0; i < contact_count; ++i)
        best.force[i] = positive(best.force[i]);
    return best;
}

} // namespace fitwright::joints
