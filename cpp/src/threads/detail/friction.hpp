// Friction from measured torques. With tau = T/F, R = Dm/2, k = mu_b/mu, fs = mu_n/mu:
//   tau = d2/2 (t + fs mu)/(1 - fs t mu) + k R mu       (t = tan l)
// is a square equation in mu. Two torques of one force, tightening and loosening, tell mu by their
// ratio; the force is then known too.
#pragma once

#include "geometry.hpp"
#include <fitwright/number/root.hpp>
#include <fitwright/threads/friction.hpp>

namespace fitwright::rules {
extern const number::Rule loosening_torque_told, no_convergence, torque_below_pitch;
} // namespace fitwright::rules

namespace fitwright::threads {

// What a nut's torque is made of, per force, against the friction.
template <class T>
struct TorqueLaw {
    T thread; // d2/2
    T face;   // k R
    T lead;   // t
    T flank;  // fs

    FITWRIGHT_INLINE T tightening(const T& mu) const {
        return thread * (lead + flank * mu) / (1.0 - flank * lead * mu) + face * mu;
    }
    FITWRIGHT_INLINE T tightening_slope(const T& mu) const {
        return thread * flank * (lead * lead + 1.0) / square(1.0 - flank * lead * mu) + face;
    }
    FITWRIGHT_INLINE T loosening(const T& mu) const {
        return thread * (flank * mu - lead) / (flank * lead * mu + 1.0) + face * mu;
    }
    FITWRIGHT_INLINE T loosening_slope(const T& mu) const {
        return thread * flank * (lead * lead + 1.0) / square(flank * lead * mu + 1.0) + face;
    }
    FITWRIGHT_INLINE TorqueLaw<Value<T>> values() const {
        return {value_of(thread), value_of(face), value_of(lead), value_of(flank)};
    }
};

template <class T>
FITWRIGHT_INLINE TorqueLaw<T> torque_law(const ThreadGeometry<T>& g, const T& face_over_thread) {
    return {g.pitch_diameter * 0.5, g.friction_diameter * 0.5 * face_over_thread, g.lead,
            flank_factor(g)};
}

// The friction at which the law gives `tau`, by the smaller root of the square equation.
template <class T>
T friction_of(const TorqueLaw<T>& law, const T& tau) {
    const T a = law.face * law.flank * law.lead;
    const T b = law.thread * law.flank + law.face + tau * law.flank * law.lead;
    const T c = tau - law.thread * law.lead;
    return c * 2.0 / (b + root0(b * b - a * c * 4.0));
}

template <class T>
void Friction::run(const T* inputs, T* outputs, const fields::Context& context, Faults<T>& faults) {
    const auto& in = *reinterpret_cast<const FrictionInputs<T>*>(inputs);
    auto& out = *reinterpret_cast<FrictionOutputs<T>*>(outputs);
    require_frictions(in.nut, faults);
    const ThreadGeometry<T> g =
        thread_geometry(in.nut, in.shaft_bore, faults, nut_kind(context.choices));
    const T tau = in.torque / in.preload;
    faults.require(tau >= per_radian(g), rules::torque_below_pitch, in.torque);
    const TorqueLaw<T> law = torque_law(g, in.face_over_thread);
    out.thread_friction = friction_of(law, tau);
    out.face_friction = out.thread_friction * in.face_over_thread;
    // d mu = d tau/slope, d tau = tau (dT/T - dF/F)
    out.uncertainty = tau * norm2(in.torque_uncertainty, in.preload_uncertainty) /
                      law.tightening_slope(out.thread_friction);
    const T face = face_part(g, in.nut.face_friction);
    // Where the face takes far more than all there is, "it cannot have" is told by a number that stands
    // half-way to the pole of the law.
    const T left = larger(tau - face, law.thread / g.lead * -0.5);
    out.thread_friction_alone = friction_of(torque_law(g, T(0.0)), left);
    out.face_friction_alone =
        (tau - thread_part(g, in.nut.thread_friction, true, faults)) * 2.0 / g.friction_diameter;
    out.nut_factor = tau / in.nut.diameter;
}

// Loosening less `ratio` times tightening.
template <class T>
struct PairEquation {
    TorqueLaw<T> law;
    T ratio, breakaway;

    FITWRIGHT_INLINE Residual<T> operator()(const T& mu) const {
        return {law.loosening(mu * breakaway) - ratio * law.tightening(mu),
                law.loosening_slope(mu * breakaway) * breakaway - ratio * law.tightening_slope(mu)};
    }
    FITWRIGHT_INLINE PairEquation<Value<T>> values() const {
        return {law.values(), value_of(ratio), value_of(breakaway)};
    }
};

template <class T>
void Breakaway::run(const T* inputs, T* outputs, const fields::Context& context,
                    Faults<T>& faults) {
    const auto& in = *reinterpret_cast<const BreakawayInputs<T>*>(inputs);
    auto& out = *reinterpret_cast<BreakawayOutputs<T>*>(outputs);
    const ThreadGeometry<T> g =
        thread_geometry(in.nut, in.shaft_bore, faults, nut_kind(context.choices));
    const PairEquation<T> pair{torque_law(g, in.face_over_thread), in.loosening_torque / in.torque,
                               in.breakaway_factor};
    const T upper = smaller(T(2.0), T(0.9) / (pair.law.flank * g.lead));
    faults.require((pair(T(0.0)).value <= T(0.0)) & (pair(upper).value > T(0.0)),
                   rules::loosening_torque_told, in.loosening_torque);
    const auto r = root(pair, T(0.0), upper, T(0.1), T(0.01));
    faults.require(r.converged, rules::no_convergence, in.loosening_torque);
    out.thread_friction = r.x;
    out.face_friction = r.x * in.face_over_thread;
    out.preload = in.torque / pair.law.tightening(r.x);
    // d ln F = d ln T - (tau'/tau) d mu, and d mu = tau/slope d(ratio)
    const T a = pair.law.tightening_slope(r.x) / pair(r.x).slope * pair.ratio;
    out.preload_uncertainty = in.torque_uncertainty * norm2(a + 1.0, a);
}

} // namespace fitwright::threads
