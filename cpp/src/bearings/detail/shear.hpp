// Shear under a Hertz contact, in the middle of it, as shares of the largest pressure p0.
//
// The largest shear (at 45 degrees to the surface) lies on the axis of the contact. Stresses there for
// half axes a >= b, k = b/a, z the depth: K. L. Johnson, Contact Mechanics, section 4.2 (after Thomas &
// Hoersch, 1930), from memory, here with e^2 = 1 - k^2 taken out so that the round contact is no special
// case. With w = z/a, s^2 = 1/(1 + w^2), T^2 = (k^2 + w^2) s^2:
//
//   sz/p0 = -k s^2/T
//   sy/p0 = 2 k [s^2/(2 T (1 + T)) + v (w D - s^2/(1 + T)) + (s^2/(1 + T) - 1 + w (F - D))/k^2]
//
// F the incomplete elliptic integral of the first kind to the angle with the sine s, D its part with
// sin^2: s RF(1 - s^2, T^2, 1) and s^3/3 RD(1 - s^2, T^2, 1) (Carlson). The shear is (sy - sz)/2.
//
// The largest orthogonal shear, which goes to and fro as a ball rolls by along b: Lundberg & Palmgren
// (1947), from memory: k^2 = (t^2 - 1)(2 t - 1), its amplitude sqrt(2 t - 1)/(2 t (t + 1)) p0 at the depth
// b/((t + 1) sqrt(2 t - 1)).
#pragma once

#include "hertz.hpp"

namespace fitwright::rules {
extern const number::Rule line_contact, no_convergence, point_contact;
} // namespace fitwright::rules

namespace fitwright::bearings {

// Tag: see root_of_values.
template <class T>
struct PartElliptic {
    T first, d;
};
// Carlson, Numer. Algorithms 10 (1995) 13-26, from memory; x, y > 0 up to 1, the third argument 1.
template <class T, class Tag>
PartElliptic<T> part_elliptic(const T& x0, const T& y0) {
    T x = x0;
    T y = y0;
    T z(1.0);
    T sum(0.0);
    double share = 1.0;
    for (int i = 0; i < 6; ++i) {
        const T rx = sqrt(x);
        const T ry = sqrt(y);
        const T rz = sqrt(z);
        const T shift = rx * ry + rx * rz + ry * rz;
        sum += share / (rz * (z + shift));
        share *= 0.25;
        x = (x + shift) * 0.25;
        y = (y + shift) * 0.25;
        z = (z + shift) * 0.25;
    }
    PartElliptic<T> p;
    {
        const T mean = (x + y + z) * (1.0 / 3.0);
        const T dx = 1.0 - x / mean;
        const T dy = 1.0 - y / mean;
        const T dz = -(dx + dy);
        const T e2 = dx * dy - dz * dz;
        const T e3 = dx * dy * dz;
        p.first =
            (1.0 - e2 * 0.1 + e3 * (1.0 / 14.0) + e2 * e2 * (1.0 / 24.0) - e2 * e3 * (3.0 / 44.0)) /
            sqrt(mean);
    }
    const T mean = (x + y + z * 3.0) * 0.2;
    const T dx = 1.0 - x / mean;
    const T dy = 1.0 - y / mean;
    const T dz = -(dx + dy) * (1.0 / 3.0);
    const T xy = dx * dy;
    const T zz = dz * dz;
    const T e2 = xy - zz * 6.0;
    const T e3 = (xy * 3.0 - zz * 8.0) * dz;
    const T e4 = (xy - zz) * zz * 3.0;
    const T e5 = xy * zz * dz;
    p.d = sum * 3.0 + share *
                          (1.0 - e2 * (3.0 / 14.0) + e3 * (1.0 / 6.0) + e2 * e2 * (9.0 / 88.0) -
                           e4 * (3.0 / 22.0) - e2 * e3 * (9.0 / 52.0) + e5 * (3.0 / 26.0)) /
                          (mean * sqrt(mean));
    return p;
}

// At the depth z = depth b on the axis, over p0, and how it changes with the depth (with
// F' = -s^2/T, D' = -s^4/T, T' = w s^2 (1 - T^2)/T by w).
template <class T>
struct ShearAt {
    T shear, slope;
};
template <class T, class Tag = T>
ShearAt<T> shear_at(const T& depth, const T& k, double poisson) {
    const T w = depth * k;
    const T w2 = w * w;
    const T s2 = 1.0 / (1.0 + w2);
    const T s = sqrt(s2);
    const T t2 = (k * k + w2) * s2;
    const T t = sqrt(t2);
    const auto part = part_elliptic<T, Tag>(T(w2 * s2), t2);
    const T first = s * part.first;
    const T d = s * s2 * part.d * (1.0 / 3.0);
    const T over = s2 / (1.0 + t);
    const T per_k2 = 1.0 / (k * k);
    const T along =
        over / (t * 2.0) + poisson * (w * d - over) + (over - 1.0 + w * (first - d)) * per_k2;
    const T down = s2 / t;

    const T t_w = w * s2 * (1.0 - t2) / t;
    const T over_w = -(w * 2.0 * s2 + t_w / (1.0 + t)) * over;
    const T along_w = over_w / (t * 2.0) - over * t_w / (t2 * 2.0) +
                      poisson * (d - w * s2 * down - over_w) +
                      (over_w + first - d - w * down * (1.0 - s2)) * per_k2;
    const T down_w = -(w * 2.0 * s2 + t_w / t) * down;
    return {k * (along + down * 0.5), k * k * (along_w + down_w * 0.5)};
}

// The top: slope 0. How the slope changes is told by differences, of fourth order.
template <class T, class Tag = T>
struct ShearTop {
    T k;
    double poisson;
    FITWRIGHT_INLINE T fall(const T& depth) const {
        return -shear_at<T, Tag>(depth, k, poisson).slope;
    }
    FITWRIGHT_INLINE Residual<T> operator()(const T& depth) const {
        constexpr double e = 4e-3;
        const T near = fall(T(depth + e)) - fall(T(depth - e));
        const T far = fall(T(depth + 2.0 * e)) - fall(T(depth - 2.0 * e));
        return {fall(depth), (near * 8.0 - far) * (1.0 / (12.0 * e))};
    }
    FITWRIGHT_INLINE ShearTop<Value<T>, Tag> values() const { return {value_of(k), poisson}; }
};

// (t^2 - 1)(2 t - 1) = k^2
template <class T>
struct OrthogonalEquation {
    T k2;
    FITWRIGHT_INLINE Residual<T> operator()(const T& t) const {
        const T low = t * t - 1.0;
        const T high = t * 2.0 - 1.0;
        return {low * high - k2, t * 2.0 * high + low * 2.0};
    }
    FITWRIGHT_INLINE OrthogonalEquation<Value<T>> values() const { return {value_of(k2)}; }
};

// Depths over b, stresses over p0.
template <class T>
struct ShearBelow {
    T greatest, depth, orthogonal, orthogonal_depth;
};
template <class T>
ShearBelow<T> shear_below(const T& k, double poisson, Faults<T>& faults) {
    ShearBelow<T> s;
    const auto top =
        root(ShearTop<T>{k, poisson}, T(0.3), T(1.2), T(T(0.786) - value_of(k) * 0.3), T(0.0));
    faults.require(top.converged, rules::no_convergence, k);
    s.depth = top.x;
    s.greatest = shear_at(top.x, k, poisson).shear;
    const auto turn = root(OrthogonalEquation<T>{k * k}, T(1.0), T(1.3),
                           T(T(1.0) + value_of(k) * value_of(k) * 0.2), T(0.0));
    const T high = sqrt(turn.x * 2.0 - 1.0);
    s.orthogonal = high / (turn.x * (turn.x + 1.0) * 2.0);
    s.orthogonal_depth = 1.0 / ((turn.x + 1.0) * high);
    return s;
}

template <class T>
void Hertz::run(const T* inputs, T* outputs, const fields::Context& context, Faults<T>& faults) {
    const auto& in = *reinterpret_cast<const HertzInputs<T>*>(inputs);
    auto& out = *reinterpret_cast<HertzOutputs<T>*>(outputs);
    // The gap between the bodies is a quadratic form; turning one body by the angle turns its part of
    // the form by twice the angle.
    const T difference1 = in.first.curvature_x - in.first.curvature_y;
    const T difference2 = in.second.curvature_x - in.second.curvature_y;
    const T sum =
        in.first.curvature_x + in.first.curvature_y + in.second.curvature_x + in.second.curvature_y;
    const T difference =
        norm2(difference1 + difference2 * cos(in.angle * 2.0), difference2 * sin(in.angle * 2.0));
    const T lesser = (sum - difference) * 0.5;
    const T greater = (sum + difference) * 0.5;
    const auto point = is_point(lesser, greater);
    faults.place = 1;
    faults.require(point, rules::point_contact, in.first.curvature_x);
    faults.place = 0;
    // A round contact pulls long either way, and under no load there is no contact to grow.
    faults.kink((difference == T(0.0)) | (in.load == T(0.0)));

    const T flexibility = flexibility_of(*context.materials[0], in.first.modulus_factor) +
                          flexibility_of(*context.materials[1], in.second.modulus_factor);
    const Contact<T> c = contact_of(lesser, greater, flexibility, faults);
    const T size = cbrt(in.load);
    out.semi_major = c.semi_major * size;
    out.semi_minor = c.semi_minor * size;
    out.contact_stress = c.pressure * size;
    out.approach = c.approach * size * size;
    out.stiffness = c.stiffness;
    out.ellipticity = c.ellipticity;
    out.curvature_difference = difference / select(point, sum, T(1.0));
    const auto shear = shear_below(T(1.0 / c.ellipticity), context.materials[0]->poisson, faults);
    out.greatest_shear = shear.greatest * out.contact_stress;
    out.shear_depth = shear.depth * out.semi_minor;
    out.orthogonal_shear = shear.orthogonal * out.contact_stress;
    out.orthogonal_depth = shear.orthogonal_depth * out.semi_minor;
}

// Two cylinders, or a cylinder on a flat: b^2 = 4 q g/(pi s) with the load q per length, p0 = 2 q/(pi b).
// Shear (Johnson, section 4.2; from memory): 0.30028 p0 at 0.78615 b; orthogonal p0/4 at b/2.
template <class T>
void LineContact::run(const T* inputs, T* outputs, const fields::Context& context,
                      Faults<T>& faults) {
    const auto& in = *reinterpret_cast<const LineInputs<T>*>(inputs);
    auto& out = *reinterpret_cast<LineOutputs<T>*>(outputs);
    const T sum = in.first_curvature + in.second_curvature;
    const auto apart = sum > T(0.0);
    faults.require(apart, rules::line_contact, in.first_curvature);
    faults.kink(in.load == T(0.0));
    const T flexibility = flexibility_of(*context.materials[0], in.first.modulus_factor) +
                          flexibility_of(*context.materials[1], in.second.modulus_factor);
    const T s = select(apart, sum, T(1.0));
    const T per_length = in.load / in.length;
    out.half_width = root0(per_length * flexibility / s * (4.0 / fields::pi));
    out.contact_stress = root0(per_length * s / flexibility * (1.0 / fields::pi));
    out.greatest_shear = out.contact_stress * 0.30028310;
    out.shear_depth = out.half_width * 0.78615138;
    out.orthogonal_shear = out.contact_stress * 0.25;
    out.orthogonal_depth = out.half_width * 0.5;
}

} // namespace fitwright::bearings
