// The soft parts of the joint beside rings and shaft: engaged thread, nut and faces.
// Half of the engaged length at the root section of the shaft and half of the nut's body, in the
// manner of VDI 2230-1 (common practice for ring nuts), and the flanks that spread the nut: the
// flank force N tan 30deg opens nut and closes shaft as a pressure on the engaged cylinder.
#pragma once

#include "rings/detail/fit.hpp"
#include "threads/detail/tightening.hpp"
#include <fitwright/stack/parts.hpp>

namespace fitwright::stack {

using namespace number;

template <class T>
struct NutBody {
    rings::Section<T> nut, shaft; // at the pitch diameter
    T compliance;                 // per nut force
};

template <class T>
NutBody<T> nut_body(const threads::Nut<T>& nut, const threads::ThreadGeometry<T>& g,
                    const T& shaft_bore, const T& nut_modulus, const T& shaft_modulus,
                    const materials::Material& mn, const materials::Material& ms) {
    NutBody<T> b;
    const T r = g.pitch_diameter * 0.5;
    b.nut = {r, nut.outside * 0.5, nut_modulus, mn.poisson, mn.density};
    b.shaft = {shaft_bore * 0.5, r, shaft_modulus, ms.poisson, ms.density};
    const T root_area = (square(g.root_diameter) - square(shaft_bore)) * (fields::pi / 4.0);
    const T nut_area = rings::section_area(b.nut);
    const T r2 = r * r;
    const T o2 = square(b.nut.outer);
    const T i2 = square(b.shaft.inner);
    const T spread = ((o2 + r2) / (o2 - r2) + mn.poisson) / nut_modulus +
                     ((r2 + i2) / (r2 - i2) - ms.poisson) / shaft_modulus;
    const T flanks =
        spread * (threads::tan_flank * threads::tan_flank) / (nut.height * 2.0 * fields::pi);
    b.compliance = nut.height * 0.5 / (shaft_modulus * root_area) +
                   nut.height * 0.5 / (nut_modulus * nut_area) + flanks;
    return b;
}

// The nut grows off its flanks at speed and heat: radial growth difference times tan 30deg.
template <class T>
T nut_opening(const NutBody<T>& b, const T& speed, const T& nut_warm, const T& shaft_warm) {
    const T r = b.nut.inner;
    const T nut_growth = rings::face_growth_by_speed(b.nut, speed, r) + r * 2.0 * nut_warm;
    const T shaft_growth = rings::face_growth_by_speed(b.shaft, speed, r) + r * 2.0 * shaft_warm;
    return (nut_growth - shaft_growth) * (0.5 * threads::tan_flank);
}

// u0 of two rough faces, 0.4 of the composite rms height; rms is about a fifth of Rz (common
// practice for ground faces).
template <class T>
FITWRIGHT_INLINE T face_softness(const T& roughness, const T& other) {
    return norm2(roughness, other) * (0.4 / 5.0);
}

} // namespace fitwright::stack
