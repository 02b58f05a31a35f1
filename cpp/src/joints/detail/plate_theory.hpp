// Bending of a round plate, in closed form. w and loads point the same way, r from the axis,
// D = E t^3/(12 (1 - nu^2)). The slope obeys d/dr[(1/r) d(r f)/dr] = Q/D with Q the load inside r per
// length (Timoshenko & Woinowsky-Krieger, Theory of Plates and Shells, ch. 3), so that
//   f = A (r + beta/r) + what each load adds outside its own circle c, with L = ln(r/c):
//     force W on c     f = W/(8 pi D) [2 r L - r + c^2/r]
//                      w = W/(8 pi D) [(r^2 + c^2) L - (r^2 - c^2)]
//     pressure q from c on  f = q/(16 D) [(r^4 - c^4)/r - 4 r c^2 L]
//                      w = q/(64 D) [r^4 + 4 c^2 r^2 - 5 c^4 - 4 c^2 (c^2 + 2 r^2) L]
//   and by shear, with G t 5/6 (Reissner), - W L/(2 pi 5/6 G t) and - q [(r^2 - c^2)/2 - c^2 L]/(2 5/6 G t).
// beta = b^2 (1 + nu)/(1 - nu) where the edge of the hole turns freely, - b^2 where it cannot turn.
#pragma once

#include <fitwright/number/number.hpp>

namespace fitwright::joints {

using namespace number;

// A state at a radius: deflection, what of it is shear, slope, and the curvatures f' and f/r.
template <class T>
struct Bent {
    T w, sheared, slope, radial, hoop;
    Bent& operator+=(const Bent& o) {
        w += o.w;
        sheared += o.sheared;
        slope += o.slope;
        radial += o.radial;
        hoop += o.hoop;
        return *this;
    }
};
template <class T>
Bent<T> operator*(const Bent<T>& b, const T& s) {
    return {b.w * s, b.sheared * s, b.slope * s, b.radial * s, b.hoop * s};
}

template <class T>
struct PlateBody {
    T hole, outside;               // radii
    T thickness, stiffness, shear; // D, and 5/6 G t (or what leaves shear out)
    double poisson;
};

template <class T>
PlateBody<T> plate_body(const T& hole, const T& outside, const T& thickness, const T& modulus,
                        double poisson, bool with_shear) {
    const T d = named("bending stiffness of the plate",
                      modulus * cube(thickness) / (12.0 * (1.0 - poisson * poisson)));
    const T shear =
        named("shear stiffness of the plate", modulus * thickness * (5.0 / 12.0 / (1.0 + poisson)));
    return {hole, outside, thickness, d, with_shear ? shear : T(1e300), poisson};
}

// The free part, per unit of A: turned freely or not at all at the hole.
template <class T>
Bent<T> free_part(const PlateBody<T>& p, const T& r, bool turns) {
    const double factor = turns ? (1.0 + p.poisson) / (1.0 - p.poisson) : -1.0;
    const T beta = square(p.hole) * factor;
    const auto off = (r > T(0.0)) & (p.hole > T(0.0));
    const T safe = select(off, r, T(1.0));
    const T over = select(off, beta / square(safe), T(0.0));
    const T around = select(off, beta * log(safe / select(off, p.hole, T(1.0))), T(0.0));
    return {named("deflection of the free part", square(r) * 0.5 + around), T(0.0),
            r * (over + 1.0), 1.0 - over, over + 1.0};
}

// A unit force on the circle c.
template <class T>
Bent<T> ring_part(const PlateBody<T>& p, const T& r, const T& c) {
    const auto outside = r > c;
    const T x = select(outside, r, c);
    const T l = log(x / c);
    const T ratio = square(c / x);
    const T per = 0.125 / fields::pi / p.stiffness;
    const T hoop = named("hoop curvature by a ring load", per * (l * 2.0 - 1.0 + ratio));
    const T sheared = l * (-0.5 / fields::pi) / p.shear;
    return {named("deflection by a ring load",
                  per * ((square(x) + square(c)) * l - (square(x) - square(c))) + sheared),
            sheared, hoop * x,
            named("radial curvature by a ring load", per * (l * 2.0 + 1.0 - ratio)), hoop};
}

// A unit pressure from the circle c outwards.
template <class T>
Bent<T> pressure_part(const PlateBody<T>& p, const T& r, const T& c) {
    const auto outside = r > c;
    const T x = select(outside, r, c);
    const auto wide = (c > T(0.0)) & outside;
    const T l = select(wide, log(x / select(wide, c, x)), T(0.0));
    const T x2 = square(x);
    const T c2 = square(c);
    const auto off = x > T(0.0);
    const T safe = select(off, x, T(1.0));
    const T fourth = select(off, square(c2) / square(safe), T(0.0)); // c^4/r^2
    const T hoop =
        named("hoop curvature by pressure", (x2 - fourth - c2 * l * 4.0) / (p.stiffness * 16.0));
    const T radial = named("radial curvature by pressure",
                           (x2 * 3.0 + fourth - c2 * l * 4.0 - c2 * 4.0) / (p.stiffness * 16.0));
    const T sheared = ((x2 - c2) * 0.5 - c2 * l) * -0.5 / p.shear;
    return {named("deflection by pressure",
                  (square(x2) + c2 * x2 * 4.0 - square(c2) * 5.0 - c2 * (c2 + x2 * 2.0) * l * 4.0) /
                          (p.stiffness * 64.0) +
                      sheared),
            sheared, hoop * x, radial, hoop};
}

// Moments per length, positive where the side away from the load is stretched.
template <class T>
FITWRIGHT_INLINE T radial_moment(const PlateBody<T>& p, const Bent<T>& b) {
    return named("radial moment per length", -p.stiffness * (b.radial + b.hoop * p.poisson));
}
template <class T>
FITWRIGHT_INLINE T hoop_moment(const PlateBody<T>& p, const Bent<T>& b) {
    return named("hoop moment per length", -p.stiffness * (b.hoop + b.radial * p.poisson));
}
// von Mises of two bending stresses at the face, from the moments.
template <class T>
FITWRIGHT_INLINE T face_von_mises(const T& radial, const T& hoop, const T& thickness) {
    return root0(square(radial) - radial * hoop + square(hoop)) * 6.0 / square(thickness);
}

} // namespace fitwright::joints
