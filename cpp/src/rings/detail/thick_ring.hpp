// Lame's ring with rotation and axial stress, as pieces the fit, the job and the bearing share.
// Timoshenko & Goodier, Theory of Elasticity: thick cylinder, rotating disc and long cylinder.
#pragma once

#include "materials/range.hpp"
#include <fitwright/materials/table.hpp>
#include <fitwright/rings/thick_ring.hpp>

namespace fitwright::rules {
extern const number::Rule outside_above_bore, radius_in_ring, surface_speed;
} // namespace fitwright::rules

namespace fitwright::rings {

using namespace number;

// Twice the surface speed [m/s] above which a speed is taken for a mistake: far above any ring on a
// shaft, below what a speed in rpm read as rad/s gives. common practice
inline constexpr double surface_speed_limit = 600.0;

// A ring at the temperature of the moment. Solid: inner = 0, exactly.
template <class T>
struct Section {
    T inner, outer; // radii
    T modulus;
    double poisson, density;
};

template <class T>
struct Stresses {
    T radial, hoop, axial;
};

// A place in a section: its radius r, and a^2/r^2, which counts as 0 at the centre of a solid
// shaft: there is no hole.
template <class T>
struct At {
    T radius, hole;
};
template <class T>
FITWRIGHT_INLINE At<T> at_radius(const Section<T>& s, const T& r) {
    const auto off_centre = r > T(0.0);
    return {r, select(off_centre, s.inner * s.inner / select(off_centre, r * r, T(1.0)), T(0.0))};
}
template <class T>
FITWRIGHT_INLINE At<T> at_inner_face(const Section<T>& s) {
    return {s.inner, select(s.inner > T(0.0), T(1.0), T(0.0))};
}

// b^2 - a^2 as (b - a)(b + a): a thin wall keeps its digits.
template <class T>
FITWRIGHT_INLINE T span_of(const Section<T>& s) {
    return (s.outer - s.inner) * (s.outer + s.inner);
}
// One over it. Divisions are what a fit costs most: this one serves many terms.
template <class T>
FITWRIGHT_INLINE T per_span(const Section<T>& s) {
    return 1.0 / span_of(s);
}

// Pressure pa in the bore and pb outside; `span` as above. What each pressure does is told without
// differences that a thin wall would lose.
template <class T>
FITWRIGHT_INLINE Stresses<T> pressure_stresses(const Section<T>& s, const T& span, const T& pa,
                                               const T& pb, const At<T>& at) {
    const T a2 = s.inner * s.inner;
    const T b2 = s.outer * s.outer;
    const T left = (s.outer - at.radius) * (s.outer + at.radius); // b^2 - r^2
    const T of_bore = named("pressure in the bore per section", pa * span);
    const T of_outside = named("even stress by the pressure outside", pb * b2 * span);
    return {-(of_bore * at.hole * left + of_outside * (1.0 - at.hole)),
            of_bore * (a2 + b2 * at.hole) - of_outside * (1.0 + at.hole), T(0.0)};
}

// Rotation at `speed`; `long_ring` (0 or 1) chooses plane sections without net axial force.
template <class T>
FITWRIGHT_INLINE Stresses<T> rotation_stresses(const Section<T>& s, const T& speed, const At<T>& at,
                                               bool long_ring) {
    const T& r = at.radius;
    const double nu = long_ring ? s.poisson / (1.0 - s.poisson) : s.poisson;
    const T load = named("stress by rotation per square of radius",
                         speed * speed * density_in(s.density, speed) * ((3.0 + nu) / 8.0));
    const T a2 = s.inner * s.inner;
    const T b2 = s.outer * s.outer;
    const T radial = load * (a2 + b2 - b2 * at.hole - r * r);
    const T hoop = load * (a2 + b2 + b2 * at.hole - r * r * ((1.0 + 3.0 * nu) / (3.0 + nu)));
    const T axial = long_ring
                        ? speed * speed *
                              density_in(s.density * s.poisson / (4.0 * (1.0 - s.poisson)), speed) *
                              (a2 + b2 - r * r * 2.0)
                        : T(0.0);
    return {radial, hoop, axial};
}

template <class T>
FITWRIGHT_INLINE T von_mises(const Stresses<T>& s) {
    return named("von Mises stress", root0((square(s.radial - s.hoop) + square(s.hoop - s.axial) +
                                            square(s.axial - s.radial)) *
                                           0.5));
}
template <class T>
FITWRIGHT_INLINE T tresca(const Stresses<T>& s) {
    return larger(abs(s.radial - s.hoop), larger(abs(s.hoop - s.axial), abs(s.axial - s.radial)));
}

// Movement of the face at radius r (inner or outer), on diameter.
// By rotation: rho w^2 r (3+nu)(1-nu)/(4E) [a^2 + b^2 + (1+nu)/(1-nu) a^2 b^2/r^2
// - (1+nu)/(3+nu) r^2]; the same for thin and long rings at both faces.
template <class T>
FITWRIGHT_INLINE T face_growth_by_speed(const Section<T>& s, const T& speed, const T& r) {
    const double nu = s.poisson;
    const T a2 = s.inner * s.inner;
    const T b2 = s.outer * s.outer;
    const auto off_centre = r > T(0.0);
    const T ratio = select(off_centre, a2 / select(off_centre, r * r, T(1.0)), T(0.0));
    return named(
        "growth of the face by speed",
        speed * speed * r * density_in(s.density * (3.0 + nu) * (1.0 - nu) / 4.0, speed) /
            s.modulus *
            (a2 + b2 + b2 * ratio * ((1.0 + nu) / (1.0 - nu)) - r * r * ((1.0 + nu) / (3.0 + nu))));
}

// The same at a face, where it is rho w^2 own [(1 - nu) own^2 + (3 + nu) other^2]/(2E), from
// w^2/E.
template <class T>
FITWRIGHT_INLINE T own_face_growth(const Section<T>& s, const T& speed2_over_modulus, const T& own,
                                   const T& other) {
    return speed2_over_modulus * own * density_in(0.5 * s.density, own) *
           (own * own * (1.0 - s.poisson) + other * other * (3.0 + s.poisson));
}

// Movement at any radius by pressure in the bore, on diameter:
// p a^2/(b^2 - a^2) [(1-nu) r + (1+nu) b^2/r]/E.
template <class T>
FITWRIGHT_INLINE T growth_by_pressure(const Section<T>& s, const T& pressure, const T& r) {
    const T a2 = s.inner * s.inner;
    const T b2 = s.outer * s.outer;
    return pressure * 2.0 * a2 / span_of(s) * (r * (1.0 - s.poisson) + b2 / r * (1.0 + s.poisson)) /
           s.modulus;
}

// Mean axial strain by rotation: -nu rho w^2 (a^2 + b^2)/(2E), exact.
template <class T>
FITWRIGHT_INLINE T strain_by_speed(const Section<T>& s, const T& speed) {
    return named("axial strain by speed", speed * speed * (s.inner * s.inner + s.outer * s.outer) *
                                              density_in(-0.5 * s.poisson * s.density, speed) /
                                              s.modulus);
}

template <class T>
FITWRIGHT_INLINE T section_area(const Section<T>& s) {
    return named("area of the section", span_of(s) * fields::pi);
}

template <class T>
void ThickRing::run(const T* inputs, T* outputs, const fields::Context& context,
                    Faults<T>& faults) {
    const auto& in = *reinterpret_cast<const ThickRingInputs<T>*>(inputs);
    auto& out = *reinterpret_cast<ThickRingOutputs<T>*>(outputs);
    const materials::Material& m = *context.materials[0];
    const bool long_ring = context.choices[0] == 1;
    const T r = fields::given(in.radius, in.bore * 0.5);
    faults.require(in.outside > in.bore, rules::outside_above_bore, in.outside);
    faults.require((r >= in.bore * (0.5 - 1e-12)) & (r <= in.outside * (0.5 + 1e-12)),
                   rules::radius_in_ring, r);
    materials::require_in_range(m, in.temperature, faults);
    faults.require(in.speed * in.outside <= T(surface_speed_limit), rules::surface_speed, in.speed);

    const Section<T> s{in.bore * 0.5, in.outside * 0.5,
                       materials::at(m.modulus, in.temperature) * in.modulus_factor, m.poisson,
                       m.density};
    const At<T> place = at_radius(s, r);
    const T span = named("inverse section", per_span(s));
    const Stresses<T> p = pressure_stresses(s, span, in.inner_pressure, in.outer_pressure, place);
    const Stresses<T> w = rotation_stresses(s, in.speed, place, long_ring);
    const Stresses<T> all{named("radial stress", p.radial + w.radial),
                          named("hoop stress", p.hoop + w.hoop),
                          named("long stress", w.axial + in.axial_stress)};
    const T warm = materials::free_growth(m, in.expansion_factor, in.temperature);
    out.radial_stress = all.radial;
    out.hoop_stress = all.hoop;
    out.long_stress = all.axial;
    out.von_mises = von_mises(all);
    out.tresca = tresca(all);
    // Hoop strain times diameter: it holds inside the section too, where thin and long differ.
    out.growth = r * 2.0 * ((all.hoop - (all.radial + all.axial) * s.poisson) / s.modulus + warm);
    const T even =
        (in.inner_pressure * s.inner * s.inner - in.outer_pressure * s.outer * s.outer) * span;
    out.shortening = -(warm + strain_by_speed(s, in.speed) +
                       (in.axial_stress - even * (2.0 * s.poisson)) / s.modulus);
}

} // namespace fitwright::rings
