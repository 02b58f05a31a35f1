// A split inner ring: the thrusts at which a ball runs on one half alone.
// The groove centres of the halves are the shim g apart. A ball whose centre is farther than
// (fi - 1/2) D from the centre of the other half's groove touches that half too. Where it just does,
// its contact on the loaded half has
//
//   sin a = (l^2 - (fi - 1/2)^2 D^2 + g^2)/(2 g l)
//
// so that the load tells t and u, and the radial distance of the groove centres it needs beside what
// there is says on which side of the limit the state is. Standing still, a tight bearing runs on both
// halves until the thrust has turned its contact beyond the resting angle, and does so again when
// the thrust presses the ball deep into its groove. With the speed a light thrust lets the balls
// climb the outer groove: there they are free again. The band told is the last one with thrust.
#pragma once

#include "thrust_solve.hpp"

namespace fitwright::bearings {

// Outer race control; see ball.hpp.
template <class T>
struct ArchPoint {
    BallForces<T> forces;
    BallState<T> state;
    BallResponse<T> response;
    T axial_q, radial_q; // slopes of t and u with the load
};
template <class Tag, class T>
FITWRIGHT_INLINE ArchPoint<T> arch_point(const T& load, const T& shim, const T& centrifugal,
                                         const T& friction, const BallParameters<T>& b) {
    const T size = cbrt(load);
    const T pressed = b.inner_softness * (size * size);
    const T reach = b.inner_length + pressed;
    const T below = 0.5 / (shim * reach);
    const T sine = (pressed * (b.inner_length * 2.0 + pressed) + shim * shim) * below;
    const T cosine = sqrt(larger(1.0 - sine * sine, T(1e-6)));
    const T stretch = b.inner_softness / size * (2.0 / 3.0);
    const T turn = stretch * (1.0 / shim - sine / reach) / cosine;
    ArchPoint<T> a;
    a.forces = {load * sine, load * cosine, centrifugal, friction};
    a.axial_q = sine + a.forces.radial * turn;
    a.radial_q = cosine - a.forces.axial * turn;
    a.state = ball_state<T, Tag>(a.forces, b);
    a.response = ball_response<T, Tag>(a.state, a.forces);
    return a;
}

// One Newton step for the load, F and M together.
template <class T>
struct ArchStep {
    T load, centrifugal, friction;
};
template <class T>
FITWRIGHT_INLINE ArchStep<T> arch_step(const ArchPoint<T>& a, const T& load, const T& lift) {
    const BallResponse<T>& d = a.response;
    const T slope = d.lift_t * a.axial_q + d.lift_u * a.radial_q;
    const auto regular = abs(slope) > T(0.0);
    const T step = (lift - d.lift) / select(regular, slope, T(1.0));
    const T dt = a.axial_q * step;
    const T du = a.radial_q * step;
    return {load + step, d.centrifugal + d.centrifugal_t * dt + d.centrifugal_u * du,
            d.friction + d.friction_t * dt + d.friction_u * du};
}

// F and M as they settle at a load, from where they were at another; Newton's method, so that three
// steps do.
template <class Tag, class T>
FITWRIGHT_INLINE ArchPoint<T> settled(const T& load, const T& shim, T& centrifugal, T& friction,
                                      const BallParameters<T>& b) {
    for (int i = 0; i < 3; ++i) {
        const auto a = arch_point<Tag>(load, shim, centrifugal, friction, b);
        const BallResponse<T>& d = a.response;
        const auto sensible = (d.centrifugal >= T(0.0)) & (d.friction >= T(0.0)) &
                              (d.centrifugal <= b.inertia) & (d.friction <= b.inertia * 0.3);
        centrifugal = select(sensible, d.centrifugal, a.state.motion.force);
        friction = select(sensible, d.friction, a.state.motion.friction);
    }
    return arch_point<Tag>(load, shim, centrifugal, friction, b);
}

// A limit between two loads.
template <class T>
struct ArchLimit {
    Value<T> low, high, centrifugal, friction;
    Truth<Value<T>> there, rising;
};
template <class T>
T thrust_at(const ArchLimit<T>& limit, const T& shim, const T& lift, const BallParameters<T>& b,
            Truth<T>& converged) {
    using V = Value<T>;
    const auto v = b.values();
    V low = limit.low;
    V high = limit.high;
    V load = sqrt(low * high);
    V f = limit.centrifugal;
    V p = limit.friction;
    auto done = !limit.there;
    for (int i = 0; i < root_iterations; ++i) {
        if (!any(!done))
            break;
        V now_f = f;
        V now_p = p;
        const auto a = settled<T>(load, value_of(shim), now_f, now_p, v);
        const auto free = a.response.lift > value_of(lift);
        const auto beyond = (free & limit.rising) | ((!free) & (!limit.rising));
        high = select(beyond, smaller(high, load), high);
        low = select(beyond, low, larger(low, load));
        const auto n = arch_step(a, load, value_of(lift));
        const auto inside = (n.load >= low) & (n.load <= high);
        const V next = select(inside, n.load, (low + high) * 0.5);
        const auto near = abs(next - load) <= load * balance_tolerance;
        load = select(done, load, next);
        f = select(done, f, select(inside, n.centrifugal, now_f));
        p = select(done, p, select(inside, n.friction, now_p));
        done = done | near;
    }
    converged = done;
    const auto n = arch_step(arch_point<T>(T(load), shim, T(f), T(p), b), T(load), lift);
    return arch_point<T>(n.load, shim, n.centrifugal, n.friction, b).forces.axial;
}

// The band of thrusts of a ball; most is 0 where there is none.
template <class T>
struct ArchBand {
    T least, most;
    Truth<T> converged;
};
inline constexpr int arch_steps = 16;

template <class T>
ArchBand<T> arch_band(const T& shim, const T& lift, const T& ball, const BallParameters<T>& given) {
    using V = Value<T>;
    BallParameters<T> b = given;
    b.control = T(1.0);
    const auto v = b.values();
    const V g = value_of(shim);
    // To the depth where sin a = 0.9, or a fiftieth of the ball.
    const V deepest =
        smaller(g * 0.9 + sqrt(larger(v.inner_length * v.inner_length - g * g * 0.19, V(0.0))) -
                    v.inner_length,
                value_of(ball) * 0.02);
    const V ratio = larger(deepest, v.inner_length * 1e-6) / v.inner_softness;
    const V end = ratio * sqrt(ratio);
    auto was_free = !(V(0.0) == V(0.0));
    auto free = was_free;
    // What never comes about stands at a harmless load.
    ArchLimit<T> least{end, end, V(0.0), V(0.0), free, !free};
    ArchLimit<T> most{end, end, V(0.0), V(0.0), free, free};
    V load = end * 2.4e-6;
    V f = v.inertia * 0.125;
    V p(0.0);
    V before_load(0.0);
    for (int k = 0; k < arch_steps; ++k) {
        const auto a = settled<T>(load, g, f, p, v);
        free = a.response.lift > value_of(lift);
        if (k > 0) {
            const auto rises = free & !was_free;
            const auto falls = was_free & !free;
            least = {select(rises, before_load, least.low), select(rises, load, least.high),
                     select(rises, f, least.centrifugal),   select(rises, p, least.friction),
                     Truth<V>(least.there | rises),         least.rising};
            most = {select(falls, before_load, most.low),    select(falls, load, most.high),
                    select(falls, f, most.centrifugal),      select(falls, p, most.friction),
                    Truth<V>((most.there & !rises) | falls), most.rising};
        }
        was_free = free;
        before_load = load;
        load = load * 2.37;
    }
    ArchBand<T> band;
    Truth<T> least_converged, most_converged;
    const T low = thrust_at(least, shim, lift, b, least_converged);
    const T high = thrust_at(most, shim, lift, b, most_converged);
    const auto ever = least.there | most.there | free;
    // Where the load of the search ends, the ball still runs on one half.
    const T far = arch_point<T>(T(before_load), shim, T(f), T(p), b).forces.axial;
    band.least = select(least.there, low, T(0.0));
    band.most = select(ever, select(most.there, high, far), T(0.0));
    band.converged = least_converged & most_converged;
    return band;
}

} // namespace fitwright::bearings
