// The nut as a body: how soft it is with the engaged thread, and how it opens on its flanks.
// Half of the engaged length at the root section of the shaft and half of the nut's body, in the
// manner of VDI 2230-1 (common practice for ring nuts), and the flanks that spread the nut: the
// flank force N tan(alpha) opens nut and closes shaft as a pressure on the engaged cylinder.
#pragma once

#include "geometry.hpp"
#include "materials/range.hpp"
#include "rings/detail/thick_ring.hpp"
#include <fitwright/threads/nut_growth.hpp>

namespace fitwright::rules {
extern const number::Rule surface_speed;
} // namespace fitwright::rules

namespace fitwright::threads {

template <class T>
struct NutBody {
    rings::Section<T> nut, shaft; // at the pitch diameter
    T compliance;                 // per nut force
    double tan_flank;
};

template <class T>
NutBody<T> nut_body(const Nut<T>& nut, const ThreadGeometry<T>& g, const T& shaft_bore,
                    const T& nut_modulus, const T& shaft_modulus, const materials::Material& mn,
                    const materials::Material& ms) {
    NutBody<T> b;
    const T r = g.pitch_diameter * 0.5;
    b.tan_flank = g.tan_flank;
    b.nut = {r, nut.outside * 0.5, nut_modulus, mn.poisson, mn.density};
    b.shaft = {shaft_bore * 0.5, r, shaft_modulus, ms.poisson, ms.density};
    const T root_area = (square(g.root_diameter) - square(shaft_bore)) * (fields::pi / 4.0);
    const T nut_area = rings::section_area(b.nut);
    const T r2 = r * r;
    const T o2 = square(b.nut.outer);
    const T i2 = square(b.shaft.inner);
    const T spread = named("spreading of nut and shaft per pressure",
                           ((o2 + r2) / (o2 - r2) + mn.poisson) / nut_modulus +
                               ((r2 + i2) / (r2 - i2) - ms.poisson) / shaft_modulus);
    const T flanks = named("compliance by the flanks",
                           spread * (g.tan_flank * g.tan_flank) / (nut.height * 2.0 * fields::pi));
    b.compliance = named("compliance of nut and thread",
                         nut.height * 0.5 / (shaft_modulus * root_area) +
                             nut.height * 0.5 / (nut_modulus * nut_area) + flanks);
    return b;
}

// Growth of nut and shaft at the pitch diameter, on diameter.
template <class T>
FITWRIGHT_INLINE T nut_growth(const NutBody<T>& b, const T& speed, const T& nut_warm) {
    return rings::face_growth_by_speed(b.nut, speed, b.nut.inner) + b.nut.inner * 2.0 * nut_warm;
}
template <class T>
FITWRIGHT_INLINE T shaft_end_growth(const NutBody<T>& b, const T& speed, const T& shaft_warm) {
    return rings::face_growth_by_speed(b.shaft, speed, b.nut.inner) +
           b.nut.inner * 2.0 * shaft_warm;
}

// The nut grows off its flanks at speed and heat: radial growth difference times tan(alpha).
template <class T>
T nut_opening(const NutBody<T>& b, const T& speed, const T& nut_warm, const T& shaft_warm) {
    return named("opening of the nut",
                 (named("growth of the nut", nut_growth(b, speed, nut_warm)) -
                  named("growth of the shaft end", shaft_end_growth(b, speed, shaft_warm))) *
                     (0.5 * b.tan_flank));
}

// By heat and by speed apart; what speed takes goes with its square.
template <class T>
void NutGrowth::run(const T* inputs, T* outputs, const fields::Context& context,
                    Faults<T>& faults) {
    const auto& in = *reinterpret_cast<const NutGrowthInputs<T>*>(inputs);
    auto& out = *reinterpret_cast<NutGrowthOutputs<T>*>(outputs);
    const materials::Material& shaft = *context.materials[0];
    const materials::Material& nut = *context.materials[1];
    const ThreadGeometry<T> g =
        thread_geometry(in.nut, in.shaft_bore, faults, nut_kind(context.choices));
    materials::require_in_range(nut, in.nut_temperature, faults);
    materials::require_in_range(shaft, in.shaft_temperature, faults);
    faults.require(in.speed * in.nut.outside <= T(rings::surface_speed_limit), rules::surface_speed,
                   in.speed);
    const NutBody<T> b =
        nut_body(in.nut, g, in.shaft_bore,
                 materials::at(nut.modulus, in.nut_temperature) * in.nut.modulus_factor,
                 materials::at(shaft.modulus, in.shaft_temperature), nut, shaft);
    const T nut_warm = materials::free_growth(nut, in.nut.expansion_factor, in.nut_temperature);
    const T shaft_warm = materials::free_growth(shaft, T(1.0), in.shaft_temperature);
    out.nut_growth = nut_growth(b, in.speed, nut_warm);
    out.shaft_growth = shaft_end_growth(b, in.speed, shaft_warm);
    out.opening = (out.nut_growth - out.shaft_growth) * (0.5 * b.tan_flank);
    out.opening_by_heat = nut_opening(b, T(0.0), nut_warm, shaft_warm);
    out.opening_by_speed = out.opening - out.opening_by_heat;
    out.nut_compliance = b.compliance;
    out.preload_lost = out.opening / in.compliance;
    out.preload_left = in.preload - out.preload_lost;
    out.share_lost = out.preload_lost / in.preload;
    // At one rad/s; the square law gives the speed at which nothing is left.
    const T unit = nut_opening(b, T(1.0), T(0.0), T(0.0));
    const T to_lose = positive(in.preload * in.compliance - out.opening_by_heat);
    const auto opens = unit > T(0.0);
    out.loss_speed =
        select(opens, smaller(root0(to_lose / select(opens, unit, T(1.0))), T(1e6)), T(1e6));
    out.hoop_stress =
        rings::rotation_stresses(b.nut, in.speed, rings::at_inner_face(b.nut), false).hoop;
}

} // namespace fitwright::threads
