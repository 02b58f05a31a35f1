// The inner ring on its balls: what they answer to a displacement of the ring, on every number type.
// Ball k at the angle c from the first sees the inner groove centre at
//
//   axial = x + R (a sin c - b cos c),  lift = y cos c + z sin c - Pd/2
//
// a and b the tilts about the lines to 0 and 90 degrees, R = dm/2 + (fi - 1/2) D cos a0 the radius the
// groove centres are on (Harris). Each ball gives the ring (t, u cos c, u sin c) and the moment
// (t R + pi fi D) about its own place.
#pragma once

#include "thrust.hpp"
#include <fitwright/bearings/equilibrium.hpp>

namespace fitwright::bearings {

inline constexpr int ring_freedoms = 5;
inline constexpr int ball_limit = 500; // as declared

template <class T>
struct RunningBearing {
    BallParameters<T> ball;
    T lift, arm, friction_arm, shim;
    int balls;
    bool back; // the thrust presses on the far half of a split ring
};
template <class T>
FITWRIGHT_INLINE RunningBearing<T>
running_bearing(const Bearing<T>& b, const BearingContacts<T>& c, const materials::Material& balls,
                const T& clearance, const T& speed, const T& control) {
    RunningBearing<T> r;
    r.ball = ball_parameters(b, c, balls, speed, control);
    r.lift = clearance * -0.5;
    const T cosine = 1.0 - positive(clearance) * 0.5 / c.groove_distance;
    r.arm = b.pitch_diameter * 0.5 + r.ball.inner_length * cosine;
    r.friction_arm = b.inner_curvature * b.ball_diameter;
    r.shim = b.shim;
    return r;
}

// Where the inner groove centre of a ball is. Of a split ring all balls are taken to run on the half the
// thrust presses on; whether they would touch the other one too is for the gap to tell.
template <class T>
struct BallPlace {
    T axial, lift;
};
template <class T>
FITWRIGHT_INLINE BallPlace<T> ball_place(const RunningBearing<T>& r, const T* move, double cosine,
                                         double sine) {
    const T axial = move[0] + r.arm * (move[3] * sine - move[4] * cosine);
    return {r.back ? T(axial - r.shim) : axial, r.lift + move[1] * cosine + move[2] * sine};
}

// How far an unloaded ball, flung out to the bottom of the outer groove, is from the inner one;
// negative where it touches. F is that of the angle under which it would touch.
template <class T>
struct LooseBall {
    T centrifugal, gap, sine, cosine, approach;
};
template <class T>
FITWRIGHT_INLINE LooseBall<T> loose_under(const BallPlace<T>& p, const BallParameters<T>& b,
                                          const T& centrifugal) {
    LooseBall<T> l;
    l.centrifugal = centrifugal;
    const T size = cbrt(centrifugal);
    l.approach = b.outer_softness * (size * size);
    // length - distance without the difference of near equals
    const T sunk = p.lift - l.approach;
    const T up = b.inner_length + sunk;
    const T distance = sqrt(p.axial * p.axial + up * up);
    l.sine = p.axial / distance;
    l.cosine = up / distance;
    l.gap =
        -(p.axial * p.axial + sunk * (b.inner_length * 2.0 + sunk)) / (b.inner_length + distance);
    return l;
}
inline constexpr int loose_steps = 12; // each brings some two digits
template <class T>
FITWRIGHT_INLINE LooseBall<T> loose_ball(const BallPlace<T>& p, const BallParameters<T>& b) {
    LooseBall<T> l = loose_under(p, b, T(b.inertia * 0.125));
    BallSide<T> inner{};
    BallSide<T> outer{};
    outer.sine = T(0.0);
    outer.cosine = T(1.0);
    for (int i = 0; i < loose_steps; ++i) {
        inner.sine = l.sine;
        inner.cosine = l.cosine;
        l = loose_under(p, b, ball_motion(inner, outer, T(0.0), b).force);
    }
    return l;
}

// Sum over the balls and its slopes with the displacement.
template <class T>
struct RingAnswer {
    T force[ring_freedoms];
    T stiffness[ring_freedoms * ring_freedoms];
};
template <class T>
FITWRIGHT_INLINE void clear(RingAnswer<T>& a) {
    for (int i = 0; i < ring_freedoms; ++i)
        a.force[i] = T(0.0);
    for (int i = 0; i < ring_freedoms * ring_freedoms; ++i)
        a.stiffness[i] = T(0.0);
}
// One more ball, in balance at x.
template <class T>
FITWRIGHT_INLINE void add_ball(RingAnswer<T>& a, const RunningBearing<T>& r, const BallState<T>& s,
                               const BallForces<T>& x, double cosine, double sine) {
    const auto d = ball_response(s, x);
    const T determinant = d.axial_t * d.lift_u - d.axial_u * d.lift_t;
    const T inverse = 1.0 / determinant;
    // Slopes of t and u with the place.
    const T t_axial = d.lift_u * inverse;
    const T t_lift = -d.axial_u * inverse;
    const T u_axial = -d.lift_t * inverse;
    const T u_lift = d.axial_t * inverse;
    const InnerShare<T>& v = s.share;
    const T p_t = x.friction * (v.t + v.f * d.centrifugal_t) + v.v * d.friction_t;
    const T p_u = x.friction * (v.u + v.f * d.centrifugal_u) + v.v * d.friction_u;
    const T about_t = r.arm + r.friction_arm * p_t;
    const T about_u = r.friction_arm * p_u;
    const T about = r.arm * x.axial + r.friction_arm * (v.v * x.friction);
    const T force[ring_freedoms] = {x.axial, x.radial * cosine, x.radial * sine, about * sine,
                                    about * -cosine};
    // Slopes of (axial force, radial force, moment) with (axial, lift), then turned by the angle.
    const T along[3] = {t_axial, u_axial, about_t * t_axial + about_u * u_axial};
    const T up[3] = {t_lift, u_lift, about_t * t_lift + about_u * u_lift};
    const int kind[ring_freedoms] = {0, 1, 1, 2, 2};
    const double turn[ring_freedoms] = {1.0, cosine, sine, sine, -cosine};
    const T move_axial[ring_freedoms] = {T(1.0), T(0.0), T(0.0), r.arm * sine, r.arm * -cosine};
    const double move_lift[ring_freedoms] = {0.0, cosine, sine, 0.0, 0.0};
    for (int i = 0; i < ring_freedoms; ++i) {
        a.force[i] += force[i];
        for (int k = 0; k < ring_freedoms; ++k)
            a.stiffness[i * ring_freedoms + k] +=
                (along[kind[i]] * move_axial[k] + up[kind[i]] * move_lift[k]) * turn[i];
    }
}

// One Newton step of a ball towards its place.
template <class T>
FITWRIGHT_INLINE BallForces<T> ball_step(const BallState<T>& s, const BallForces<T>& x,
                                         const BallPlace<T>& p) {
    const auto d = ball_response(s, x);
    const T inverse = 1.0 / (d.axial_t * d.lift_u - d.axial_u * d.lift_t);
    const T axial = p.axial - d.axial;
    const T lift = p.lift - d.lift;
    const T dt = (d.lift_u * axial - d.axial_u * lift) * inverse;
    const T du = (d.axial_t * lift - d.lift_t * axial) * inverse;
    return {x.axial + dt, x.radial + du,
            d.centrifugal + d.centrifugal_t * dt + d.centrifugal_u * du,
            d.friction + d.friction_t * dt + d.friction_u * du};
}

} // namespace fitwright::bearings
