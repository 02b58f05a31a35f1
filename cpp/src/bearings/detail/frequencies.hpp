// Cage, ball and raceway frequencies from the contact angles at both raceways. Harris & Kotzalas,
// Rolling Bearing Analysis, internal speeds; written by vectors, so that no angle is taken back
// from its tangent.
//
// The ball turns about an axis at the pitch angle b to the shaft's. Without gross slip, seen from
// the cage and with g = D/dm,
//   |wi - wm| (1 - g cos ai) = wb g cos(ai - b),  |wo - wm| (1 + g cos ao) = wb g cos(ao - b)
// Without spin at the outer raceway tan b = sin ao/(cos ao + g), at the inner
// tan b = sin ai/(cos ai - g). With both angles the same the axis drops out of the cage's speed,
// wm/w = (1 -+ g cos a)/2: the simple formula.
#pragma once

#include <fitwright/bearings/running.hpp>
#include <fitwright/number/number.hpp>

namespace fitwright::rules {
extern const number::Rule balls_fit_circle;
} // namespace fitwright::rules

namespace fitwright::bearings {

using namespace number;

// Per turn of the shaft, whichever ring it turns.
template <class T>
struct BallKinematics {
    T inner_relative; // of the inner ring against the cage; with the next it makes 1
    T outer_relative;
    T ball_spin; // of the ball about itself, seen from the cage
    T inner_spin_to_roll, outer_spin_to_roll;
};
// About an axis along (x, y), x along the shaft's: from any law of the pitch angle.
template <class T>
BallKinematics<T> ball_kinematics(const T& g, const T& inner_angle, const T& outer_angle,
                                  const T& x, const T& y) {
    const T ci = cos(inner_angle);
    const T si = sin(inner_angle);
    const T co = cos(outer_angle);
    const T so = sin(outer_angle);
    const T length = sqrt(x * x + y * y);
    const T cosine_inner = (ci * x + si * y) / length; // of ai - b
    const T sine_inner = (si * x - ci * y) / length;
    const T cosine_outer = (co * x + so * y) / length;
    const T sine_outer = (so * x - co * y) / length;
    const T inner_radius = 1.0 - g * ci;
    const T outer_radius = 1.0 + g * co;
    const T by_inner = cosine_outer * inner_radius;
    const T by_outer = cosine_inner * outer_radius;
    BallKinematics<T> k;
    k.inner_relative = by_outer / (by_inner + by_outer);
    k.outer_relative = by_inner / (by_inner + by_outer);
    k.ball_spin = inner_radius * outer_radius / (g * (by_inner + by_outer));
    k.inner_spin_to_roll = inner_radius * sine_inner / cosine_inner + g * si;
    k.outer_spin_to_roll = outer_radius * sine_outer / cosine_outer - g * so;
    return k;
}

template <class T>
FITWRIGHT_INLINE BallKinematics<T> ball_kinematics(const T& g, const T& inner_angle,
                                                   const T& outer_angle, RaceControl control) {
    return control == RaceControl::outer
               ? ball_kinematics(g, inner_angle, outer_angle, T(cos(outer_angle) + g),
                                 T(sin(outer_angle)))
               : ball_kinematics(g, inner_angle, outer_angle, T(cos(inner_angle) - g),
                                 T(sin(inner_angle)));
}

template <class T>
void Frequencies::run(const T* inputs, T* outputs, const fields::Context& context,
                      Faults<T>& faults) {
    const auto& in = *reinterpret_cast<const FrequenciesInputs<T>*>(inputs);
    auto& out = *reinterpret_cast<FrequenciesOutputs<T>*>(outputs);
    const bool inner_turns = static_cast<TurningRing>(context.choices[0]) == TurningRing::inner;
    const auto fit = in.ball_diameter < in.pitch_diameter * sin(fields::pi / in.balls);
    faults.require(fit, rules::balls_fit_circle, in.balls);
    const T g = select(fit, in.ball_diameter / in.pitch_diameter, T(0.1));
    const auto k = ball_kinematics(g, in.inner_angle, fields::given(in.outer_angle, in.inner_angle),
                                   static_cast<RaceControl>(context.choices[1]));
    out.cage_order = inner_turns ? k.outer_relative : k.inner_relative;
    out.ball_spin_order = k.ball_spin;
    out.inner_pass_order = in.balls * k.inner_relative;
    out.outer_pass_order = in.balls * k.outer_relative;
    const T turns = in.speed * (0.5 / fields::pi);
    out.cage = out.cage_order * turns;
    out.ball_spin = out.ball_spin_order * turns;
    out.inner_pass = out.inner_pass_order * turns;
    out.outer_pass = out.outer_pass_order * turns;
    out.inner_spin_to_roll = k.inner_spin_to_roll;
    out.outer_spin_to_roll = k.outer_spin_to_roll;
}

} // namespace fitwright::bearings
