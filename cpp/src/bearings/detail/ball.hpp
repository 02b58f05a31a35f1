// One ball between its two grooves, at speed.
// A. B. Jones, A general theory for elastically constrained ball and radial roller bearings, J. Basic
// Eng. 82 (1960); Harris & Kotzalas, Advanced Concepts of Bearing Technology, chapter 3. Both from
// memory, and written in the components of the contact forces instead of positions of the ball.
//
// The outer groove centre stands still; the inner one lies at (axial, radial) from it. The inner
// groove pushes the ball with (t, u), the outer one answers (-t, -(u + F)), F the centrifugal force.
// Each contact carries a load Q along its normal (sin a, cos a) and across it the friction p that its
// share of the gyroscopic moment M needs:
//
//   t = Q sin a - p cos a,  u = Q cos a + p sin a        pi = v M/D,  po = (2 - v) M/D
//   li = (fi - 1/2) D + Qi^(2/3) ei, and lo likewise     e: approach per load^(2/3)
//   axial = li sin ai + lo sin ao,  radial = li cos ai + lo cos ao
//
// Without friction (axial, radial) is the gradient of a convex function of (t, u), the elastic energy
// told by forces: there is one solution, and each equation grows with its unknown. Motion, with
// g = D/dm, and v = 0 where the outer race controls the spin axis (Jones), 1 where the inner does:
//
//   (sin b, cos b) along  (1 - v) (sin ao, cos ao + g) + v (sin ai, cos ai - g)
//   ho = cos(ao - b)/(1 + g cos ao),  hi = cos(ai - b)/(1 - g cos ai)
//   cage/shaft q = ho/(ho + hi),  ball spin/shaft = 1/(g (ho + hi))
//   F = m dm w^2 q^2/2,  M/D = m dm w^2 q sin b/(10 (ho + hi))      (m D^2/10 the inertia of a ball)
//
// Between the two, v = (1 - w) 2 Ri/(Ri + Ro) with the forces R on the contacts: a ball flung off the
// inner groove cannot be held by it. w = 1 is Jones's outer race control; w = 0 shares the moment as
// Harris does for inner control while the contacts are loaded alike.
#pragma once

#include "mounted.hpp"

namespace fitwright::bearings {

template <class T>
struct BallParameters {
    T inner_length, outer_length;     // (f - 1/2) D
    T inner_softness, outer_softness; // approach = softness Q^(2/3)
    T gamma;                          // D/dm
    T inertia;                        // mass of a ball times dm times speed^2
    T control;                        // w

    FITWRIGHT_INLINE BallParameters<Value<T>> values() const {
        return {value_of(inner_length),   value_of(outer_length), value_of(inner_softness),
                value_of(outer_softness), value_of(gamma),        value_of(inertia),
                value_of(control)};
    }
};

// A contact with the force (t, r) on it, of which p acts across the normal.
template <class T>
struct BallSide {
    T load, sine, cosine;
    T reach, stretch; // l, and its slope with the load
    T lift;           // l cos a - (f - 1/2) D
};
template <class T>
FITWRIGHT_INLINE BallSide<T> ball_side(const T& t, const T& r, const T& p, const T& length,
                                       const T& softness) {
    const T squared = t * t + r * r;
    // Friction that eats up the normal load is no solution; on the way to one it may turn up.
    const T normal = larger(squared - p * p, squared * 1e-4);
    BallSide<T> s;
    s.load = sqrt(normal);
    s.sine = (s.load * t + p * r) / squared;
    s.cosine = (s.load * r - p * t) / squared;
    const T size = cbrt(s.load);
    const T pressed = softness * (size * size);
    s.reach = length + pressed;
    s.lift = pressed * s.cosine - length * (s.sine * s.sine / (1.0 + s.cosine));
    s.stretch = softness / size * (2.0 / 3.0);
    return s;
}

// What grows with what: by the axial force t, the radial force r and the friction p.
template <class T>
struct ByForces {
    T t, r, p;
};
template <class T>
struct SideSlopes {
    ByForces<T> angle, axial, radial;
};
template <class T>
FITWRIGHT_INLINE SideSlopes<T> side_slopes(const BallSide<T>& s, const T& t, const T& r,
                                           const T& p) {
    const T inverse = 1.0 / s.load;
    const ByForces<T> load{t * inverse, r * inverse, -p * inverse};
    SideSlopes<T> d;
    d.angle = {s.cosine * inverse, -s.sine * inverse, inverse};
    const T out = s.stretch * s.sine;
    const T up = s.stretch * s.cosine;
    const T turn_out = s.reach * s.cosine;
    const T turn_up = -s.reach * s.sine;
    d.axial = {out * load.t + turn_out * d.angle.t, out * load.r + turn_out * d.angle.r,
               out * load.p + turn_out * d.angle.p};
    d.radial = {up * load.t + turn_up * d.angle.t, up * load.r + turn_up * d.angle.r,
                up * load.p + turn_up * d.angle.p};
    return d;
}

// Motion of the ball, and how it changes with the two angles and with v.
template <class T>
struct BallMotion {
    T cage, spin;      // speed of the cage and of the ball about itself, over that of the shaft
    T sine, cosine;    // of the spin axis against the axis of the bearing
    T force, friction; // F and M/D
    T force_i, force_o, force_v; // slopes
    T friction_i, friction_o, friction_v;
};
// With one of them, from the slopes of ho, hi and the axial part of the spin axis.
template <class T>
FITWRIGHT_INLINE void motion_slope(const BallMotion<T>& m, const T& inertia, const T& tilt,
                                   const T& inverse, const T& ho_x, const T& hi_x, const T& along_x,
                                   T& force_x, T& friction_x) {
    const T sum_x = ho_x + hi_x;
    const T cage_x = (ho_x - m.cage * sum_x) * inverse;
    const T tilt_x = (along_x - tilt * sum_x) * inverse;
    force_x = inertia * m.cage * cage_x;
    friction_x = inertia * (cage_x * tilt + m.cage * tilt_x) * 0.1;
}
template <class T>
FITWRIGHT_INLINE BallMotion<T> ball_motion(const BallSide<T>& inner, const BallSide<T>& outer,
                                           const T& v, const BallParameters<T>& b) {
    const T w = 1.0 - v;
    const T outer_across = outer.cosine + b.gamma;
    const T inner_across = inner.cosine - b.gamma;
    const T along = w * outer.sine + v * inner.sine;
    const T across = w * outer_across + v * inner_across;
    const T below_o = 1.0 / (1.0 + b.gamma * outer.cosine);
    const T below_i = 1.0 / (1.0 - b.gamma * inner.cosine);
    const T ho = (outer.cosine * across + outer.sine * along) * below_o;
    const T hi = (inner.cosine * across + inner.sine * along) * below_i;
    const T sum = ho + hi;
    const T inverse = 1.0 / sum;
    BallMotion<T> m;
    m.cage = ho * inverse;
    const T length = sqrt(along * along + across * across);
    m.sine = along / length;
    m.cosine = across / length;
    m.spin = length * inverse / b.gamma;
    const T tilt = along * inverse;
    const T force = b.inertia * m.cage;
    m.force = force * m.cage * 0.5;
    m.friction = force * tilt * 0.1;

    const T skew = inner.cosine * outer.sine - inner.sine * outer.cosine;
    const T more_along = inner.sine - outer.sine;
    const T more_across = inner_across - outer_across;
    motion_slope(
        m, b.inertia, tilt, inverse, T(v * skew * below_o),
        T((inner.cosine * along - inner.sine * across - hi * b.gamma * inner.sine) * below_i),
        T(v * inner.cosine), m.force_i, m.friction_i);
    motion_slope(
        m, b.inertia, tilt, inverse,
        T((outer.cosine * along - outer.sine * across + ho * b.gamma * outer.sine) * below_o),
        T(-w * skew * below_i), T(w * outer.cosine), m.force_o, m.friction_o);
    motion_slope(m, b.inertia, tilt, inverse,
                 T((outer.cosine * more_across + outer.sine * more_along) * below_o),
                 T((inner.cosine * more_across + inner.sine * more_along) * below_i), more_along,
                 m.force_v, m.friction_v);
    return m;
}

// The unknowns.
template <class T>
struct BallForces {
    T axial, radial; // t, u: from the inner groove on the ball
    T centrifugal, friction;

    FITWRIGHT_INLINE BallForces<Value<T>> values() const {
        return {value_of(axial), value_of(radial), value_of(centrifugal), value_of(friction)};
    }
};
// v, and its slopes with t, u and F.
template <class T>
struct InnerShare {
    T v, t, u, f;
};
template <class T>
FITWRIGHT_INLINE InnerShare<T> inner_share(const BallForces<T>& x, const BallParameters<T>& b) {
    const T beyond = x.radial + x.centrifugal;
    const T inner = sqrt(x.axial * x.axial + x.radial * x.radial);
    const T outer = sqrt(x.axial * x.axial + beyond * beyond);
    const T inverse = 1.0 / (inner + outer);
    const T most = (1.0 - b.control) * 2.0 * inverse;
    // d(Ri/(Ri + Ro)) = (Ro dRi - Ri dRo)/(Ri + Ro)^2
    const T by_inner = most * inverse * outer / inner;
    const T by_outer = most * inverse * inner / outer;
    return {most * inner, x.axial * (by_inner - by_outer), x.radial * by_inner - beyond * by_outer,
            -beyond * by_outer};
}

template <class T>
struct BallState {
    BallSide<T> inner, outer;
    BallMotion<T> motion;
    InnerShare<T> share;
    // Where the inner groove centre is, from the outer one: the radial part beyond A, so that a small
    // clearance or preload does not drown in A.
    T axial, lift;
};
// Not inline, or compiling takes minutes. Tag: the number type the solution is for; a level file that
// solves for duals in doubles has its own code, and the gate sees whose it is.
template <class T, class Tag = T>
BallState<T> ball_state(const BallForces<T>& x, const BallParameters<T>& b) {
    BallState<T> s;
    s.share = inner_share(x, b);
    s.inner =
        ball_side(x.axial, x.radial, T(s.share.v * x.friction), b.inner_length, b.inner_softness);
    s.outer = ball_side(x.axial, T(x.radial + x.centrifugal), T((2.0 - s.share.v) * x.friction),
                        b.outer_length, b.outer_softness);
    s.motion = ball_motion(s.inner, s.outer, s.share.v, b);
    s.axial = s.inner.reach * s.inner.sine + s.outer.reach * s.outer.sine;
    s.lift = s.inner.lift + s.outer.lift;
    return s;
}

// How the place of the inner groove centre answers to t and u once F and M have followed, and what
// is still wrong of F and M, passed on to that place.
template <class T>
struct BallResponse {
    T axial_t, axial_u, lift_t, lift_u; // slopes
    T axial, lift;                      // the place, F and M put right
    // F and M put right: constant + slope_t dt + slope_u du
    T centrifugal, centrifugal_t, centrifugal_u;
    T friction, friction_t, friction_u;
};
// What changes with one of t, u, F and M/D.
template <class T>
struct BallSlopes {
    T axial, radial, force, friction;
};
template <class T>
FITWRIGHT_INLINE T with_forces(const ByForces<T>& x, double t, double r, const T& friction) {
    return x.t * t + x.r * r + x.p * friction;
}
// Unit steps t, u and f, and what they and the shift of the share v do to the frictions.
template <class T>
FITWRIGHT_INLINE BallSlopes<T>
ball_slopes(const SideSlopes<T>& in, const SideSlopes<T>& out, const BallMotion<T>& m, double t,
            double u, double f, const T& share, const T& inner_friction, const T& outer_friction) {
    const T angle_i = with_forces(in.angle, t, u, inner_friction);
    const T angle_o = with_forces(out.angle, t, u + f, outer_friction);
    return {with_forces(in.axial, t, u, inner_friction) +
                with_forces(out.axial, t, u + f, outer_friction),
            with_forces(in.radial, t, u, inner_friction) +
                with_forces(out.radial, t, u + f, outer_friction),
            m.force_i * angle_i + m.force_o * angle_o + m.force_v * share,
            m.friction_i * angle_i + m.friction_o * angle_o + m.friction_v * share};
}
template <class T, class Tag = T>
BallResponse<T> ball_response(const BallState<T>& s, const BallForces<T>& x) {
    const T& p = x.friction;
    const auto in = side_slopes(s.inner, x.axial, x.radial, T(s.share.v * p));
    const auto out =
        side_slopes(s.outer, x.axial, T(x.radial + x.centrifugal), T((2.0 - s.share.v) * p));
    const BallMotion<T>& m = s.motion;
    const T shift_t = p * s.share.t;
    const T shift_u = p * s.share.u;
    const T shift_f = p * s.share.f;
    const auto t = ball_slopes(in, out, m, 1.0, 0.0, 0.0, s.share.t, shift_t, T(-shift_t));
    const auto u = ball_slopes(in, out, m, 0.0, 1.0, 0.0, s.share.u, shift_u, T(-shift_u));
    const auto f = ball_slopes(in, out, m, 0.0, 0.0, 1.0, s.share.f, shift_f, T(-shift_f));
    const auto g = ball_slopes(in, out, m, 0.0, 0.0, 0.0, T(0.0), s.share.v, T(2.0 - s.share.v));
    // (1 - slopes) (dF, dM) = what is wrong of them + slopes (dt, du)
    const T own_f = 1.0 - f.force;
    const T own_g = 1.0 - g.friction;
    const T determinant = own_f * own_g - g.force * f.friction;
    const auto regular = abs(determinant) > T(1e-6);
    const T inverse = 1.0 / select(regular, determinant, T(1.0));
    const T wrong_f = m.force - x.centrifugal;
    const T wrong_p = m.friction - p;
    const T add_f = (own_g * wrong_f + g.force * wrong_p) * inverse;
    const T add_p = (f.friction * wrong_f + own_f * wrong_p) * inverse;
    BallResponse<T> r;
    r.centrifugal = x.centrifugal + add_f;
    r.friction = p + add_p;
    r.centrifugal_t = (own_g * t.force + g.force * t.friction) * inverse;
    r.centrifugal_u = (own_g * u.force + g.force * u.friction) * inverse;
    r.friction_t = (f.friction * t.force + own_f * t.friction) * inverse;
    r.friction_u = (f.friction * u.force + own_f * u.friction) * inverse;
    r.axial = s.axial + f.axial * add_f + g.axial * add_p;
    r.lift = s.lift + f.radial * add_f + g.radial * add_p;
    r.axial_t = t.axial + f.axial * r.centrifugal_t + g.axial * r.friction_t;
    r.axial_u = u.axial + f.axial * r.centrifugal_u + g.axial * r.friction_u;
    r.lift_t = t.radial + f.radial * r.centrifugal_t + g.radial * r.friction_t;
    r.lift_u = u.radial + f.radial * r.centrifugal_u + g.radial * r.friction_u;
    return r;
}

} // namespace fitwright::bearings
