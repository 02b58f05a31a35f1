// The yielded zone of a thick ring in plane stress, by integration along the radius.
//
// Deformation theory (Hencky) with linear hardening: the equivalent stress is S = Y + H x, x the
// equivalent plastic strain. All stresses are over Young's modulus here: s = S/E.
//   von Mises: radial = 2s/sqrt(3) cos(f + 30 deg), hoop = 2s/sqrt(3) cos(f - 30 deg),
//              plastic hoop strain x cos(f - 60 deg), plastic radial strain x cos(f + 60 deg)
//   modified Tresca (hoop - radial = 2s/sqrt(3)): plastic hoop strain sqrt(3)/2 x, radial the opposite
//   equilibrium   d radial/d ln r = hoop - radial
//   compatibility d hoop strain/d ln r = radial strain - hoop strain
// Kachanov, Foundations of the Theory of Plasticity (plane stress in the angle f, after Nadai);
// derived here for hardening.
#pragma once

#include <fitwright/number/number.hpp>

namespace fitwright::rings {

using namespace number;

// Tag: duals are solved in values, so a level file makes these functions for double too; the number
// type of the caller in their names keeps the levels apart.
template <class T, class Tag = T>
struct PlasticMetal {
    T yield;     // Y/E
    T hardening; // H/E, H the slope of stress over plastic strain
    double poisson;
    bool von_mises; // else modified Tresca
};

// State at a yielded radius: the angle f (von Mises) or the radial stress over E, and x.
template <class T>
struct PlasticState {
    T stress, plastic;
};
template <class T>
struct PlasticRates { // per unit of ln r
    T stress, plastic;
    Truth<T> limit; // the metal can carry no more radial stress
};
template <class T>
struct PlasticPoint { // over E
    T radial, hoop, hoop_strain;
};

inline constexpr double half_root3 = 0.86602540378443864676;
inline constexpr double over_root3 = 0.57735026918962576451;

template <class T, class Tag>
FITWRIGHT_INLINE PlasticPoint<T> plastic_point(const PlasticMetal<T, Tag>& m,
                                               const PlasticState<T>& y) {
    const T s = m.yield + m.hardening * y.plastic;
    PlasticPoint<T> p;
    if (m.von_mises) {
        const T c = cos(y.stress);
        const T z = sin(y.stress);
        p.radial = s * (2.0 * over_root3) * (c * half_root3 - z * 0.5);
        p.hoop = s * (2.0 * over_root3) * (c * half_root3 + z * 0.5);
        p.hoop_strain = p.hoop - p.radial * m.poisson + y.plastic * (c * 0.5 + z * half_root3);
    } else {
        p.radial = y.stress;
        p.hoop = y.stress + s * (2.0 * over_root3);
        p.hoop_strain = p.hoop - p.radial * m.poisson + y.plastic * half_root3;
    }
    return p;
}

template <class T, class Tag>
PlasticRates<T> plastic_rates(const PlasticMetal<T, Tag>& m, const PlasticState<T>& y) {
    const T& h = m.hardening;
    const T s = m.yield + h * y.plastic;
    const double nu = m.poisson;
    if (!m.von_mises) {
        const T difference = s * (2.0 * over_root3);
        const T strains = -(difference * (1.0 + nu)) - y.plastic * (2.0 * half_root3);
        const T plastic =
            (strains - difference * (1.0 - nu)) / (h * (2.0 * over_root3) + half_root3);
        // Past this the hoop stress at the bore would turn to pressure.
        return {difference, plastic, y.stress + difference < T(0.0)};
    }
    const T c = cos(y.stress);
    const T z = sin(y.stress);
    const T cos_plus = c * half_root3 - z * 0.5; // f + 30 deg
    const T sin_plus = z * half_root3 + c * 0.5;
    const T cos_minus = c * half_root3 + z * 0.5; // f - 30 deg
    const T sin_minus = z * half_root3 - c * 0.5;
    const T of_plastic = h * (2.0 * over_root3) * (cos_minus - cos_plus * nu) +
                         (c * 0.5 + z * half_root3); // cos(f - 60 deg)
    const T of_angle = s * (2.0 * over_root3) * (sin_minus - sin_plus * nu) +
                       y.plastic * (z * 0.5 - c * half_root3); // sin(f - 60 deg)
    const T strains = -(s * ((1.0 + nu) * 2.0 * over_root3) + y.plastic * (2.0 * half_root3)) * z;
    // h cos_plus x' - s sin_plus f' = s sin f,  of_plastic x' - of_angle f' = strains
    const T determinant = s * sin_plus * of_plastic - h * cos_plus * of_angle;
    const auto limit = determinant < s * 1e-6;
    const T inverse = 1.0 / select(limit, T(1.0), determinant);
    const T angle = select(limit, T(0.0), (h * cos_plus * strains - of_plastic * s * z) * inverse);
    const T plastic = select(limit, T(0.0), (s * sin_plus * strains - of_angle * s * z) * inverse);
    return {angle, plastic, limit};
}

inline constexpr int plastic_steps = 64; // of Runge and Kutta, fourth order

template <class T>
struct PlasticEnd {
    PlasticState<T> state;
    Truth<T> limit; // met on the way: what is told is not to be used
};

// From a radius to another; `length` is ln(to/from).
template <class T, class Tag>
PlasticEnd<T> integrate_plastic(const PlasticMetal<T, Tag>& m, PlasticState<T> y, const T& length) {
    const T h = length * (1.0 / plastic_steps);
    Truth<T> limit = !(T(0.0) == T(0.0));
    const auto rates = [&](const PlasticState<T>& at) {
        const PlasticRates<T> r = plastic_rates(m, at);
        limit = limit | r.limit;
        return r;
    };
    const auto moved = [](const PlasticState<T>& at, const PlasticRates<T>& r, const T& by) {
        return PlasticState<T>{at.stress + r.stress * by, at.plastic + r.plastic * by};
    };
    for (int k = 0; k < plastic_steps; ++k) {
        const PlasticRates<T> k1 = rates(y);
        const PlasticRates<T> k2 = rates(moved(y, k1, h * 0.5));
        const PlasticRates<T> k3 = rates(moved(y, k2, h * 0.5));
        const PlasticRates<T> k4 = rates(moved(y, k3, h));
        // A lane at its limit stays where it is, finite.
        y.stress +=
            select(limit, T(0.0),
                   h * (1.0 / 6.0) * (k1.stress + (k2.stress + k3.stress) * 2.0 + k4.stress));
        y.plastic +=
            select(limit, T(0.0),
                   h * (1.0 / 6.0) * (k1.plastic + (k2.plastic + k3.plastic) * 2.0 + k4.plastic));
    }
    return {y, limit};
}

// From a bore at plastic strain `plastic` outwards to where it has died away: the state there, and
// ln of that radius over the bore. The way is told by y = ln(1 + x/s0), along which ln r is even.
template <class T>
struct PlasticReach {
    PlasticState<T> state;
    T length;
};
template <class T, class Tag>
PlasticReach<T> reach_of_plastic(const PlasticMetal<T, Tag>& m, const PlasticState<T>& bore) {
    const T scale = m.yield;
    const T h = -log(bore.plastic / scale + 1.0) * (1.0 / plastic_steps);
    struct Slopes {
        T stress, plastic, length;
    };
    PlasticReach<T> y{bore, T(0.0)};
    const auto slopes = [&](const PlasticState<T>& at) {
        const PlasticRates<T> r = plastic_rates(m, at);
        // x falls outwards all the way.
        const T rate = smaller(r.plastic, -scale * 1e-9);
        const T plastic = at.plastic + scale; // dx/dy
        return Slopes{r.stress / rate * plastic, plastic, plastic / rate};
    };
    const auto moved = [](const PlasticState<T>& at, const Slopes& s, const T& by) {
        return PlasticState<T>{at.stress + s.stress * by, at.plastic + s.plastic * by};
    };
    for (int k = 0; k < plastic_steps; ++k) {
        const Slopes k1 = slopes(y.state);
        const Slopes k2 = slopes(moved(y.state, k1, h * 0.5));
        const Slopes k3 = slopes(moved(y.state, k2, h * 0.5));
        const Slopes k4 = slopes(moved(y.state, k3, h));
        const auto mean = [&](const T& a, const T& b, const T& c, const T& d) {
            return h * (1.0 / 6.0) * (a + (b + c) * 2.0 + d);
        };
        y.state.stress += mean(k1.stress, k2.stress, k3.stress, k4.stress);
        y.state.plastic += mean(k1.plastic, k2.plastic, k3.plastic, k4.plastic);
        y.length += mean(k1.length, k2.length, k3.length, k4.length);
    }
    return y;
}

} // namespace fitwright::rings
