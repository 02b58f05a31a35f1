// The balance of a ball under a given thrust, on every number type.
// With F and M given, the place of the inner groove centre grows with u alone: a root in a bracket.
// F and M then follow by Newton steps; a lane that has converged is frozen. The last Newton step is
// done on duals and carries the derivatives.
#pragma once

#include "ball.hpp"

namespace fitwright::bearings {

inline constexpr int balance_iterations = 40;
inline constexpr double balance_tolerance = 1e-11;

// The radial force u that brings the grooves to their radial distance.
template <class T>
struct RadialEquation {
    BallParameters<T> ball;
    BallForces<T> forces;
    T lift;
    FITWRIGHT_INLINE Residual<T> operator()(const T& u) const {
        BallForces<T> x = forces;
        x.radial = u;
        const auto share = inner_share(x, ball);
        const T beyond = u + x.centrifugal;
        const T inner_friction = share.v * x.friction;
        const T outer_friction = (2.0 - share.v) * x.friction;
        const auto inner =
            ball_side(x.axial, u, inner_friction, ball.inner_length, ball.inner_softness);
        const auto outer =
            ball_side(x.axial, beyond, outer_friction, ball.outer_length, ball.outer_softness);
        const auto in = side_slopes(inner, x.axial, u, inner_friction);
        const auto out = side_slopes(outer, x.axial, beyond, outer_friction);
        return {inner.lift + outer.lift - lift,
                in.radial.r + out.radial.r + x.friction * share.u * (in.radial.p - out.radial.p)};
    }
};

// Newton's answer for F and M where it is a sensible one, else what the angles give.
template <class T>
struct Drive {
    T centrifugal, friction;
    Truth<T> still; // no longer moves
};
template <class T>
FITWRIGHT_INLINE Drive<T> drive_after(const BallForces<T>& x, const BallMotion<T>& m,
                                      const T& newton_f, const T& newton_p, const T& inertia) {
    const auto sensible = (newton_f >= T(0.0)) & (newton_f <= inertia * 2.0) &
                          (newton_p >= T(0.0)) & (newton_p <= inertia * 0.3);
    Drive<T> d;
    d.centrifugal = select(sensible, newton_f, m.force);
    d.friction = select(sensible, newton_p, m.friction);
    const T least = larger(d.centrifugal, x.centrifugal) * balance_tolerance;
    d.still =
        (abs(d.centrifugal - x.centrifugal) <= least) & (abs(d.friction - x.friction) <= least);
    return d;
}

// Where u has to be below 0 the contact lies beyond 90 degrees of the inner groove: flung out.
template <class T>
struct Balance {
    BallForces<T> forces;
    Truth<T> converged, flung;
};

template <class Tag, Plain T>
FITWRIGHT_INLINE Balance<T> balance_under(const T& thrust, const T& lift, const T& start,
                                          const BallParameters<T>& b) {
    const T length = b.inner_length + b.outer_length + positive(lift);
    const T softness = smaller(b.inner_softness, b.outer_softness);
    const T most = length / softness * 1.5;
    const T upper = thrust + most * sqrt(most);
    const T lower(0.0);
    // Half speed of the cage, as between rollers; no moment.
    BallForces<T> x{thrust, start, b.inertia * 0.125, T(0.0)};
    Truth<T> done = !(T(0.0) == T(0.0));
    Truth<T> flung = done;
    for (int i = 0; i < balance_iterations; ++i) {
        const RadialEquation<T> equation{b, x, lift};
        flung = flung | ((!done) & (equation(T(thrust * 1e-6)).value >= T(0.0)));
        const auto r = root_of_values<Tag>(equation, lower, upper, x.radial, T(thrust * 1e-6));
        BallForces<T> at = x;
        at.radial = r.x;
        const auto state = ball_state<T, Tag>(at, b);
        const auto response = ball_response<T, Tag>(state, at);
        const auto rises = response.lift_u > T(0.0);
        const T step =
            select(rises, (lift - response.lift), T(0.0)) / select(rises, response.lift_u, T(1.0));
        // Where Newton goes in circles some plain steps bring it out.
        const bool plain = i / 6 % 2 == 1;
        const auto d = drive_after(
            at, state.motion,
            plain ? state.motion.force : T(response.centrifugal + response.centrifugal_u * step),
            plain ? state.motion.friction : T(response.friction + response.friction_u * step),
            b.inertia);
        const T predicted = at.radial + step;
        const auto inside = (predicted > lower) & (predicted < upper);
        x.radial = select(done, x.radial, select(inside, predicted, at.radial));
        x.centrifugal = select(done, x.centrifugal, d.centrifugal);
        x.friction = select(done, x.friction, d.friction);
        done = done | flung | (d.still & r.converged);
        if (!any(!done))
            break;
    }
    return {x, done, flung};
}

// The same on duals, and the response of the ball there.
template <class T>
struct ThrustSolution {
    BallForces<T> forces;
    BallState<T> state;
    T along; // how far the inner groove centre moves per thrust of a ball
    Truth<T> converged, flung;
};
template <class T>
ThrustSolution<T> thrust_solution(const T& thrust, const T& lift, const Value<T>& start,
                                  const BallParameters<T>& b) {
    const auto found = balance_under<T>(value_of(thrust), value_of(lift), start, b.values());
    ThrustSolution<T> s;
    s.converged = found.converged;
    s.flung = found.flung;
    const BallForces<T> near{thrust,
                             T(searched("radial force at the inner groove", found.forces.radial)),
                             T(searched("centrifugal force of a ball", found.forces.centrifugal)),
                             T(searched("friction force of a ball", found.forces.friction))};
    const auto r = ball_response(ball_state(near, b), near);
    const auto rises = (r.lift_u > T(0.0)) & found.converged & !found.flung;
    const T step = select(rises, lift - r.lift, T(0.0)) / select(rises, r.lift_u, T(1.0));
    s.forces = {thrust, near.radial + step, r.centrifugal + r.centrifugal_u * step,
                r.friction + r.friction_u * step};
    s.state = ball_state(s.forces, b);
    const auto response = ball_response(s.state, s.forces);
    s.along = response.axial_t -
              response.axial_u * (response.lift_t / select(rises, response.lift_u, T(1.0)));
    return s;
}

} // namespace fitwright::bearings
