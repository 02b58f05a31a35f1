// Heat in one direction: a chain of nodes from the inside out. Cells have volume; a surface is a node
// without volume, where heat in equals heat out at every moment. Per metre of length (cylinder), per
// square metre (plate), or for the whole body (sphere): that is told by the numbers alone.
//
//   cell:     V d(rho integral c dT)/dt = sum of heat flows in
//   link:     g k(mean T) (T2 - T1),  g = area of the face over the distance of the centres
//   film:     area [h (Ta - T) + e sigma (Ta^4 - T^4)]          (kelvin in the second term)
//   joint:    area h_j (T2 - T1), h_j growing with the interference left there (joint.hpp)
//
// Second order in the size of the cells. Patankar, Numerical Heat Transfer and Fluid Flow, ch. 4
// (finite volumes), from memory.
#pragma once

#include "curve.hpp"
#include "joint.hpp"

namespace fitwright::heat {

inline constexpr int node_limit = 272;
inline constexpr int film_limit = 6;
inline constexpr int body_limit = 2;
inline constexpr double stefan_boltzmann = 5.670374419e-8; // W/(m2 K4), CODATA 2018
inline constexpr double kelvin = 273.15;

// A coefficient of type T where numbers of type X are computed with.
template <class X, class T>
FITWRIGHT_INLINE X as(const T& x) {
    if constexpr (has_derivatives<T> && !has_derivatives<X>)
        return value_of(x);
    else
        return x;
}

template <class T>
struct Film {
    T coefficient; // W/(m2 K)
    T emissivity;
    T ambient; // degC
};
// Of the metal: no derivatives are taken to these.
struct Metal {
    Curve conductivity, capacity, expansion;
    double density;
};

template <class T>
struct Chain {
    int nodes = 0;
    int body[node_limit] = {}; // which metal
    int film[node_limit] = {}; // which film, or -1
    T volume[node_limit] = {}; // 0 for a surface
    T link[node_limit] = {};   // g from node i to i + 1; 0 at the last
    T film_area[node_limit] = {};
    T source[node_limit] = {}; // W
    Metal metal[body_limit];
    Film<T> films[film_limit];
    int joint_after = -1; // node before the joint, or -1
    Joining<T> joint;     // filled in where there is one
    T body_volume[body_limit] = {};

    FITWRIGHT_INLINE bool is_cell(int i) const { return value_of(volume[i]) > 0.0; }

    template <class X>
    FITWRIGHT_INLINE X heat_content(int i, const X& t) const {
        const Metal& m = metal[body[i]];
        return integral_to(m.capacity, t) * as<X>(volume[i]) * m.density;
    }
    // Mean free growth per length of a body: area mean of alpha_m(T) (T - 20).
    template <class X>
    X mean_growth(int which, const X* t) const;
    // Interference left on diameter; negative: clearance.
    template <class X>
    FITWRIGHT_INLINE X interference(const X* t) const {
        return as<X>(joint.seat) * (mean_growth<X>(0, t) * as<X>(joint.shaft_factor) + 1.0) -
               as<X>(joint.bore) * (mean_growth<X>(1, t) * as<X>(joint.ring_factor) + 1.0);
    }
    // Heat into each node.
    template <class X>
    void heat(const X* t, X* into) const;
    // Heat that leaves by the films.
    template <class X>
    X given_off(const X* t) const;
};

template <class T>
template <class X>
X Chain<T>::mean_growth(int which, const X* t) const {
    X sum(0.0);
    for (int i = 0; i < nodes; ++i)
        if (body[i] == which && is_cell(i))
            sum += on_curve(metal[which].expansion, t[i]).value *
                   (t[i] - materials::reference_temperature) * as<X>(volume[i]);
    return sum / as<X>(body_volume[which]);
}

template <class X, class T>
FITWRIGHT_INLINE X film_heat(const Film<T>& f, const X& t) {
    const X out = as<X>(f.ambient);
    const X warm = t + kelvin;
    const X cold = out + kelvin;
    // T^4 - Ta^4 as a product: nothing cancels, and no flow is left at equal temperatures.
    return (out - t) * (as<X>(f.coefficient) + (square(warm) + square(cold)) * (warm + cold) *
                                                   as<X>(f.emissivity) * stefan_boltzmann);
}
// d film_heat / dt, positive
template <class T>
FITWRIGHT_INLINE double film_slope(const Film<T>& f, double t) {
    return value_of(f.coefficient) +
           4.0 * value_of(f.emissivity) * stefan_boltzmann * cube(t + kelvin);
}

template <class T>
template <class X>
void Chain<T>::heat(const X* t, X* into) const {
    for (int i = 0; i < nodes; ++i)
        into[i] = as<X>(source[i]);
    for (int i = 0; i + 1 < nodes; ++i) {
        X flow;
        if (i == joint_after)
            flow = conductance_of<X>(joint, interference<X>(t)) * as<X>(joint.area) *
                   (t[i + 1] - t[i]);
        else
            flow = on_curve(metal[body[i]].conductivity, X((t[i] + t[i + 1]) * 0.5)).value *
                   as<X>(link[i]) * (t[i + 1] - t[i]);
        into[i] += flow;
        into[i + 1] -= flow;
    }
    for (int i = 0; i < nodes; ++i)
        if (film[i] >= 0)
            into[i] += film_heat<X>(films[film[i]], t[i]) * as<X>(film_area[i]);
}

template <class T>
template <class X>
X Chain<T>::given_off(const X* t) const {
    X sum(0.0);
    for (int i = 0; i < nodes; ++i)
        if (film[i] >= 0)
            sum -= film_heat<X>(films[film[i]], t[i]) * as<X>(film_area[i]);
    return sum;
}

} // namespace fitwright::heat
