// A ball bearing mounted and under steady thrust.
// Harris & Kotzalas, Essential Concepts of Bearing Technology: clearance, free contact angle, end
// play, curvature sums, centric thrust; here with the exact contact constants instead of charts.
//
//   Pd = Pd0 - inner growth + outer growth - 2 (growth of a ball)
//   A = (fi + fo - 1) D,  Ar = A - Pd/2: distance of the groove centres when balls just touch, and
//   its radial part. At the axial offset x their distance is s = sqrt(Ar^2 + x^2), the balls are
//   pressed by y = s - A, and
//   thrust = Z K y^1.5 x/s,  K = (Ki^(-2/3) + Ko^(-2/3))^(-3/2)
// Under radial preload Ar > A, and the balls are pressed at x = 0 already.
#pragma once

#include "hertz.hpp"
#include "materials/range.hpp"
#include <fitwright/bearings/mounted.hpp>

namespace fitwright::rules {
extern const number::Rule balls_fit_circle, clearance_below_groove, inner_groove_open,
    no_convergence, outer_groove_open, shim_below_arch;
} // namespace fitwright::rules

namespace fitwright::bearings {

// What does not change from one state to the next.
template <class T>
struct BearingContacts {
    Contact<T> inner, outer;
    T groove_distance; // A
    T stiffness;       // of both contacts in a row
};

// Relative curvatures of ball and groove. Across the groove: 2/D - 1/(f D). Along it, with
// gamma = D cos(contact angle)/dm: 2/D + 2 gamma/(D (1 - gamma)) inner,
// 2/D - 2 gamma/(D (1 + gamma)) outer.
template <class T>
struct GrooveCurvatures {
    T across, along;
};
template <class T>
FITWRIGHT_INLINE GrooveCurvatures<T> inner_curvatures(const T& ball, const T& gamma, const T& f) {
    return {(2.0 - 1.0 / f) / ball, 2.0 / (ball * (1.0 - gamma))};
}
template <class T>
FITWRIGHT_INLINE GrooveCurvatures<T> outer_curvatures(const T& ball, const T& gamma, const T& f) {
    return {(2.0 - 1.0 / f) / ball, 2.0 / (ball * (1.0 + gamma))};
}

// Groove bottom diameter of the inner ring: dm is midway between the two raceways, and they are
// 2 D + Pd apart.
template <class T>
FITWRIGHT_INLINE T inner_raceway(const Bearing<T>& b) {
    return fields::given(b.inner_raceway, b.pitch_diameter - b.ball_diameter - b.clearance * 0.5);
}

// Play of a split inner ring under a dial: the ball rests on both halves of the arch, at the angle
// sin = shim/((2 fi - 1) D), and stands (2 fi - 1) D (1 - cos)/2 higher than on the bottom of a
// whole groove.
template <class T>
T arch_radial_play(const Bearing<T>& b, const T& clearance, Faults<T>& faults) {
    const T arch = (b.inner_curvature * 2.0 - 1.0) * b.ball_diameter;
    const auto within = b.shim < arch;
    faults.require(within, rules::shim_below_arch, b.shim);
    const T shim2 = select(within, b.shim * b.shim, T(0.0));
    const T width = select(within, arch, T(1.0));
    return clearance - shim2 / (width + sqrt(width * width - shim2));
}

// Contact constants with the elastic data at 20 degC (a steel 100 K hotter is some 3 % softer) and
// the curvature along the grooves at the free contact angle of the unmounted bearing. Checks the
// bearing's own geometry: call it first.
template <class T>
BearingContacts<T> contact_constants(const Bearing<T>& b, const materials::Material& balls,
                                     const materials::Material& rings,
                                     const T& rings_modulus_factor, Faults<T>& faults) {
    const auto inner_open = (b.inner_curvature >= T(0.501)) & (b.inner_curvature <= T(0.6));
    const auto outer_open = (b.outer_curvature >= T(0.501)) & (b.outer_curvature <= T(0.6));
    faults.require(inner_open, rules::inner_groove_open, b.inner_curvature);
    faults.require(outer_open, rules::outer_groove_open, b.outer_curvature);
    const T fi = select(inner_open, b.inner_curvature, T(0.52));
    const T fo = select(outer_open, b.outer_curvature, T(0.52));
    // The chord from ball centre to ball centre.
    const auto fit = b.ball_diameter < b.pitch_diameter * sin(fields::pi / b.balls);
    faults.require(fit, rules::balls_fit_circle, b.balls);

    BearingContacts<T> c;
    c.groove_distance = named("distance of the groove centres", (fi + fo - 1.0) * b.ball_diameter);
    const auto touches = b.clearance < c.groove_distance * 2.0;
    faults.require(touches, rules::clearance_below_groove, b.clearance);
    const T cosine = 1.0 - positive(select(touches, b.clearance, T(0.0))) * 0.5 / c.groove_distance;
    const T gamma = named("ball over pitch diameter times cosine",
                          select(fit, b.ball_diameter / b.pitch_diameter, T(0.5)) * cosine);
    const T flexibility =
        named("contact flexibility", flexibility_of(balls, b.modulus_factor) +
                                         flexibility_of(rings, rings_modulus_factor));
    const auto inner = inner_curvatures(b.ball_diameter, gamma, fi);
    const auto outer = outer_curvatures(b.ball_diameter, gamma, fo);
    c.inner = contact_of(inner.across, inner.along, flexibility, faults);
    c.outer = contact_of(outer.across, outer.along, flexibility, faults);
    const T approach =
        named("approach of both contacts under unit load", c.inner.approach + c.outer.approach);
    c.stiffness = named("stiffness of both contacts", 1.0 / (approach * sqrt(approach)));
    return c;
}

// Axial displacement z from first contact under a thrust: x = free + z, free^2 = A^2 - Ar^2 or,
// under preload, 0 and `preload` = Ar^2 - A^2. By them y = (z (z + 2 free) + preload)/(s + A) does
// not cancel, and the lightest thrust is as exact as the heaviest.
template <class T>
struct ThrustEquation {
    T distance, radial, free, preload;
    T load; // thrust/(Z K)
    FITWRIGHT_INLINE T separation(const T& x) const { return sqrt(radial * radial + x * x); }
    FITWRIGHT_INLINE T pressed(const T& z) const {
        return (z * (z + free * 2.0) + preload) / (separation(free + z) + distance);
    }
    // z from z (z + 2 free).
    FITWRIGHT_INLINE T displacement(const T& w) const {
        return w / larger(root0(free * free + w) + free, T(1e-100));
    }
    FITWRIGHT_INLINE Residual<T> operator()(const T& z) const {
        const T x = free + z;
        const T s = separation(x);
        const T y = pressed(z);
        const T root_y = root0(y);
        const T sine = x / s;
        const T cosine = radial / s;
        return {y * root_y * sine - load, root_y * (sine * sine * 1.5 + y * cosine * cosine / s)};
    }
    FITWRIGHT_INLINE ThrustEquation<Value<T>> values() const {
        return {value_of(distance), value_of(radial), value_of(free), value_of(preload),
                value_of(load)};
    }
};

template <class T>
struct DisplacementBracket {
    T upper, start; // the lower end is 0
};
// In w = z (z + 2 free) = x^2 - free^2. The start is the least of estimates that each leave
// something out: the free offset, the preload, the curvature of the path. Past it the sine is at
// least what it is there, which bounds y.
template <class T>
FITWRIGHT_INLINE DisplacementBracket<T> displacement_bracket(const ThrustEquation<T>& e) {
    const T twice = e.distance * 2.0;
    const auto opens = e.free > T(0.0);
    const T flat = root0(e.load * e.distance * twice * sqrt(twice));
    const T by_free = twice * cbrt(square(e.load * e.distance / select(opens, e.free, T(1.0))));
    const T y0 = e.preload / (e.radial + e.distance);
    const T floor = e.distance * sqrt(e.distance) * 1e-12;
    const T by_preload = square(e.load * e.distance / larger(y0 * root0(y0), floor));
    const T start = smaller(flat, select(opens, by_free, by_preload));
    const T x = root0(e.free * e.free + start);
    const auto pushed = x > T(0.0);
    const T y = cbrt(square(e.load * e.separation(x) / select(pushed, x, T(1.0))));
    const T most = larger(start, y * (twice + y) - e.preload);
    return {e.displacement(most), e.displacement(start)};
}

template <class T>
FITWRIGHT_INLINE T state_clearance(const Bearing<T>& b, const T& inner_growth,
                                   const T& outer_growth, const T& ball_growth) {
    return b.clearance - inner_growth + outer_growth - ball_growth * 2.0;
}

// One state. Growths are of diameters.
template <class T>
MountedOutputs<T> mounted_state(const Bearing<T>& b, const BearingContacts<T>& c,
                                const T& inner_growth, const T& outer_growth, const T& ball_growth,
                                const T& thrust, Faults<T>& faults) {
    MountedOutputs<T> out;
    const T a = c.groove_distance;
    out.clearance = hub(named("clearance in the state",
                              state_clearance(b, inner_growth, outer_growth, ball_growth)));
    out.radial_play = arch_radial_play(b, out.clearance, faults);
    const T given_half = out.clearance * 0.5;
    const auto touches = given_half < a;
    faults.require(touches, rules::clearance_below_groove, out.clearance);
    const T half = select(touches, given_half, T(0.0));

    const T radial = named("radial distance of the groove centres", a - half);
    const T open = half * (a * 2.0 - half);
    const T free = named("axial offset at first contact", root0(open));
    const T play = free * 2.0 - b.shim;
    out.contact_angle = atan(free / radial);
    out.end_play = positive(play);

    const ThrustEquation<T> equation{a, radial, free, positive(-open),
                                     thrust / (b.balls * c.stiffness)};
    const auto bracket = displacement_bracket(equation.values());
    const auto r =
        root(equation, T(0.0), T(bracket.upper), T(bracket.start), T(value_of(a) * 1e-20));
    faults.require(r.converged, rules::no_convergence, thrust);
    // Without thrust an unpreloaded bearing stands at first contact, where a load that grows as the
    // power 3/2 has no inverse slope.
    const auto idle = (thrust <= T(0.0)) & (open >= T(0.0));
    faults.kink(idle | (open == T(0.0)) | (play == T(0.0)));
    out.axial_displacement = select(idle, T(0.0), r.x);
    out.loaded_angle = atan((free + out.axial_displacement) / radial);
    const T y =
        named("approach of a ball and its grooves", equation.pressed(out.axial_displacement));
    out.ball_load = named("load of a ball", c.stiffness * y * root0(y));
    const T size = named("cube root of the load", cbrt(out.ball_load));
    out.inner_stress = c.inner.pressure * size;
    out.outer_stress = c.outer.pressure * size;
    out.inner_semi_major = c.inner.semi_major * size;
    out.inner_semi_minor = c.inner.semi_minor * size;
    out.outer_semi_major = c.outer.semi_major * size;
    out.outer_semi_minor = c.outer.semi_minor * size;
    return out;
}

template <class T>
void Mounted::run(const T* inputs, T* outputs, const fields::Context& context, Faults<T>& faults) {
    const auto& in = *reinterpret_cast<const MountedInputs<T>*>(inputs);
    const materials::Material& rings = *context.materials[0];
    const materials::Material& balls = *context.materials[1];
    faults.place = 2;
    materials::require_in_range(balls, in.ball_temperature, faults);
    faults.place = 1;
    const auto contacts = contact_constants(in.bearing, balls, rings, in.modulus_factor, faults);
    const T ball_growth =
        in.bearing.ball_diameter *
        materials::free_growth(balls, in.bearing.expansion_factor, in.ball_temperature);
    *reinterpret_cast<MountedOutputs<T>*>(outputs) = mounted_state(
        in.bearing, contacts, in.inner_growth, in.outer_growth, ball_growth, in.thrust, faults);
}

} // namespace fitwright::bearings
