// The joints of a nest: which of them push, and how hard.
//
//   overlap_i = interference_i + inward_i p_(i-1) + outward_i p_(i+1) - flexibility_i p_i
//   p_i >= 0, overlap_i <= 0, p_i overlap_i = 0        (a bonded joint: overlap_i = 0)
//
// A pressure parts its own faces and pushes the faces of its neighbours together: the matrix has
// positive diagonal and no positive entry beside it, and its inverse has no negative one (an
// M-matrix). So no joint that closes ever opens again when another is closed: start with every joint
// open, close those that overlap, solve, and repeat; it ends within as many sweeps as there are
// joints. (Cottle, Pang & Stone, The Linear Complementarity Problem; Chandrasekaran's method.)
#pragma once

#include <fitwright/number/number.hpp>

namespace fitwright::rings {

using namespace number;

inline constexpr int joint_limit = 7;

template <class T>
struct Joints {
    int count;
    T interference[joint_limit]; // at no pressure in any joint
    T flexibility[joint_limit];  // interference taken up per own pressure
    T inward[joint_limit];       // interference gained per pressure in the joint inside; first: 0
    T outward[joint_limit];      // and per pressure in the joint outside; last: 0
};

// Pressures with the joints of `closed` at overlap 0 and no pressure in the others.
template <class T, class Closed>
void pressures_of(const Joints<T>& j, const Closed* closed, T* pressure) {
    T constant[joint_limit]; // pressure = constant + slope * pressure of the next joint
    T slope[joint_limit];
    for (int i = 0; i < j.count; ++i) {
        T pivot = j.flexibility[i];
        T known = j.interference[i];
        if (i > 0) {
            pivot = pivot - j.inward[i] * slope[i - 1];
            known = known + j.inward[i] * constant[i - 1];
        }
        const T inverse = 1.0 / pivot;
        constant[i] = select(closed[i], known * inverse, T(0.0));
        slope[i] = select(closed[i], j.outward[i] * inverse, T(0.0));
    }
    for (int i = j.count - 1; i >= 0; --i) {
        pressure[i] = constant[i];
        if (i + 1 < j.count)
            pressure[i] += slope[i] * pressure[i + 1];
    }
}

// What joint i would overlap by without pressure of its own.
template <class T>
T overlap_of(const Joints<T>& j, const T* pressure, int i) {
    T overlap = j.interference[i];
    if (i > 0)
        overlap += j.inward[i] * pressure[i - 1];
    if (i + 1 < j.count)
        overlap += j.outward[i] * pressure[i + 1];
    return overlap;
}

// `closed` comes in with the bonded joints and goes out with all that push: by values, which have
// no derivative. A lane whose joints are all found keeps them while others go on.
template <class T>
void find_closed(const Joints<T>& j, Truth<T>* closed) {
    T pressure[joint_limit];
    for (int sweep = 0; sweep < j.count; ++sweep) {
        pressures_of(j, closed, pressure);
        bool changed = false;
        for (int i = 0; i < j.count; ++i) {
            const auto open = !closed[i];
            const auto closes = open & (overlap_of(j, pressure, i) > T(0.0));
            closed[i] = closed[i] | closes;
            changed = changed || any(closes);
        }
        if (!changed)
            return;
    }
}

} // namespace fitwright::rings
