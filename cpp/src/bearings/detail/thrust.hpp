// A ball bearing under thrust at speed: what the balance of its balls means for it.
#pragma once

#include "arch.hpp"
#include "materials/range.hpp"
#include <fitwright/bearings/thrust.hpp>

namespace fitwright::rules {
extern const number::Rule balls_flung_out, clearance_below_groove, contact_shallow,
    no_running_balance, thrust_on_arch;
} // namespace fitwright::rules

namespace fitwright::bearings {

template <class T>
FITWRIGHT_INLINE T angle_of(const T& sine, const T& cosine) {
    return atan(sine / (1.0 + cosine)) * 2.0;
}

template <class T>
FITWRIGHT_INLINE BallParameters<T> ball_parameters(const Bearing<T>& b, const BearingContacts<T>& c,
                                                   const materials::Material& balls, const T& speed,
                                                   const T& control) {
    BallParameters<T> p;
    p.inner_length = (b.inner_curvature - 0.5) * b.ball_diameter;
    p.outer_length = c.groove_distance - p.inner_length;
    p.inner_softness = c.inner.approach;
    p.outer_softness = c.outer.approach;
    p.gamma = b.ball_diameter / b.pitch_diameter;
    p.inertia = cube(b.ball_diameter) * b.pitch_diameter * square(speed) *
                density_in(balls.density * fields::pi / 6.0, speed);
    p.control = control;
    return p;
}

// From the ellipse to the edge of the groove, along the surface both press into, of radius
// 2 f D/(2 f + 1) (Jones; from memory). The edge: height/(f D) = 1 - cos of its angle.
template <class T>
FITWRIGHT_INLINE T left_to_edge(const T& curvature, const T& ball, const T& height, const T& angle,
                                const T& semi_major) {
    const T cosine = 1.0 - height / curvature;
    const T edge = atan(root0(1.0 - cosine * cosine) / cosine);
    return curvature * 2.0 * ball / (curvature * 2.0 + 1.0) * (edge - angle) - semi_major;
}

// The clearance of the state comes from mounted_state, which has refused what cannot touch.
template <class T>
RunningOutputs<T> running_state(const Bearing<T>& b, const BearingContacts<T>& c,
                                const materials::Material& balls, const T& clearance,
                                const T& signed_thrust, const T& speed, const T& control,
                                Faults<T>& faults) {
    RunningOutputs<T> out;
    const T thrust = abs(signed_thrust);
    const auto backward = signed_thrust < T(0.0);
    const T back = fields::given(b.back_shoulder, smaller(b.inner_shoulder, b.outer_shoulder));
    const T inner_height = select(backward, back, b.inner_shoulder);
    const T outer_height = select(backward, back, b.outer_shoulder);
    faults.require((thrust == T(0.0)) | ((inner_height > T(0.0)) & (outer_height > T(0.0))),
                   rules::thrust_on_arch, signed_thrust);

    const T& a = c.groove_distance;
    const auto touches = clearance < a * 2.0;
    const T half = select(touches, clearance * 0.5, T(0.0));
    const T radial = a - half;
    const T open = half * (a * 2.0 - half);
    const T free = root0(open);
    const auto p = ball_parameters(b, c, balls, speed, control);
    // A thrust of 1e-12 of what would press the balls flat, or 1e-7 of the centrifugal force, stands
    // for none.
    const T least = larger(c.stiffness * a * sqrt(a) * 1e-12, p.inertia * 1e-8);
    const T given = thrust / b.balls;
    const auto idle = given < least;
    const T load = select(idle, least, given);

    // To start with: the angle at standstill.
    const ThrustEquation<T> still{a, radial, free, positive(-open), load / c.stiffness};
    const auto guess = displacement_bracket(still.values());
    const auto x = value_of(free) + guess.start;
    const auto start = value_of(load) * value_of(radial) / larger(x, value_of(a) * 1e-9);
    const auto s = thrust_solution(load, T(-half), start, p);
    faults.require(!s.flung, rules::balls_flung_out, speed);
    faults.require(s.converged, rules::no_running_balance, speed);
    const auto& inner = s.state.inner;
    const auto& outer = s.state.outer;
    faults.require(inner.reach + outer.reach - a < b.ball_diameter * 0.05, rules::contact_shallow,
                   signed_thrust);
    faults.kink((signed_thrust == T(0.0)) | idle);

    const T inner_angle = angle_of(inner.sine, inner.cosine);
    const T outer_angle = angle_of(outer.sine, outer.cosine);
    const T sign = select(backward, T(-1.0), T(1.0));
    out.inner_angle = inner_angle * sign;
    out.outer_angle = outer_angle * sign;
    // Without thrust only preload is left on the inner ring, and it pushes straight out.
    const auto slack = idle & (s.forces.radial <= load * 1e6);
    out.inner_load = select(slack, T(0.0), inner.load);
    out.outer_load = select(slack, s.forces.centrifugal, outer.load);
    const T inner_size = cbrt(out.inner_load);
    const T outer_size = cbrt(out.outer_load);
    out.inner_peak = c.inner.pressure * inner_size;
    out.outer_peak = c.outer.pressure * outer_size;
    const T inner_major = c.inner.semi_major * inner_size;
    const T outer_major = c.outer.semi_major * outer_size;
    out.inner_edge =
        left_to_edge(b.inner_curvature, b.ball_diameter, inner_height, inner_angle, inner_major);
    out.outer_edge =
        left_to_edge(b.outer_curvature, b.ball_diameter, outer_height, outer_angle, outer_major);
    out.running_displacement = (s.state.axial - free) * sign;
    out.axial_stiffness = select(slack, T(0.0), b.balls / s.along);
    const BallMotion<T>& m = s.state.motion;
    out.centrifugal_force = s.forces.centrifugal;
    out.gyroscopic_moment = s.forces.friction * b.ball_diameter;
    out.cage_ratio = m.cage;
    out.ball_ratio = m.spin;
    out.ball_pitch = angle_of(m.sine, m.cosine) * sign;
    out.race_control = outer.load * cbrt(outer.load) * c.outer.semi_major * c.outer.second *
                       (inner.cosine * outer.cosine + inner.sine * outer.sine) /
                       (inner.load * cbrt(inner.load) * c.inner.semi_major * c.inner.second);
    out.gyroscopic_friction = larger(s.state.share.v * s.forces.friction / inner.load,
                                     (2.0 - s.state.share.v) * s.forces.friction / outer.load);
    out.skid_thrust = b.balls * s.forces.centrifugal * 10.0;

    const auto split = (b.shim > T(0.0)) & (b.shim < p.inner_length * 2.0);
    const T shim = select(split, b.shim, p.inner_length);
    const T reach = inner.reach;
    const T square_left =
        p.inner_length * p.inner_length - reach * reach + shim * (reach * inner.sine * 2.0 - shim);
    const T from_other = sqrt(p.inner_length * p.inner_length - square_left);
    out.arch_gap = select(split, square_left / (p.inner_length + from_other), p.inner_length);
    return out;
}

// The thrusts that keep the balls on one half; four times as dear as the state itself.
template <class T>
void write_arch_band(ThrustOutputs<T>& out, const Bearing<T>& b, const BearingContacts<T>& c,
                     const materials::Material& balls, const T& clearance, const T& speed,
                     Faults<T>& faults) {
    const auto p = ball_parameters(b, c, balls, speed, T(1.0));
    out.arch_thrust = T(0.0);
    out.arch_limit = T(0.0);
    const auto split = (b.shim > T(0.0)) & (b.shim < p.inner_length * 2.0);
    if (!any(split))
        return;
    const auto band = arch_band(T(select(split, b.shim, p.inner_length)), T(clearance * -0.5),
                                b.ball_diameter, p);
    faults.require(band.converged | !split, rules::no_running_balance, speed);
    out.arch_thrust = select(split, b.balls * band.least, T(0.0));
    out.arch_limit = select(split, b.balls * band.most, T(0.0));
}

template <class T>
void Thrust::run(const T* inputs, T* outputs, const fields::Context& context, Faults<T>& faults) {
    const auto& in = *reinterpret_cast<const ThrustInputs<T>*>(inputs);
    const materials::Material& rings = *context.materials[0];
    const materials::Material& balls = *context.materials[1];
    faults.place = 2;
    materials::require_in_range(balls, in.ball_temperature, faults);
    faults.place = 1;
    const auto contacts = contact_constants(in.bearing, balls, rings, in.modulus_factor, faults);
    const T ball_growth =
        in.bearing.ball_diameter *
        materials::free_growth(balls, in.bearing.expansion_factor, in.ball_temperature);
    const T clearance = state_clearance(in.bearing, in.inner_growth, in.outer_growth, ball_growth);
    faults.require(clearance < contacts.groove_distance * 2.0, rules::clearance_below_groove,
                   clearance);
    arch_radial_play(in.bearing, clearance, faults);
    faults.place = 0;
    auto& out = *reinterpret_cast<ThrustOutputs<T>*>(outputs);
    reinterpret_cast<RunningOutputs<T>&>(out) = running_state(
        in.bearing, contacts, balls, clearance, in.thrust, in.speed, in.outer_control, faults);
    write_arch_band(out, in.bearing, contacts, balls, clearance, in.speed, faults);
}

} // namespace fitwright::bearings
