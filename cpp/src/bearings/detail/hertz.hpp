// Hertz contact in a point, as pieces the bearing shares.
// H. Hertz, J. reine angew. Math. 92 (1881) 156-171; K. L. Johnson, Contact Mechanics, sections 4.1
// and 4.2. For a load Q on an ellipse of half axes a >= b, with m = 1 - b^2/a^2, relative
// curvatures lesser <= greater, their sum s, and g = (1 - nu1^2)/E1 + (1 - nu2^2)/E2:
//
//   lesser/greater = (1 - m) D(m)/B(m)      B = integral cos^2/Delta, D = integral sin^2/Delta
//   a^3 = 3 Q g E(m) a^2/(pi s b^2),  p0 = 3 Q/(2 pi a b),  approach = 3 Q g K(m)/(2 pi a)
#pragma once

#include <fitwright/bearings/hertz.hpp>
#include <fitwright/number/elliptic.hpp>
#include <fitwright/number/root.hpp>
#include <fitwright/number/trigonometric.hpp>

namespace fitwright::rules {
extern const number::Rule no_convergence;
} // namespace fitwright::rules

namespace fitwright::bearings {

using namespace number;

// lesser/greater at an ellipticity of 200; beyond, the contact is a line for every purpose here.
inline constexpr double least_curvature_ratio = 1.0 / 7000.0;

// One contact. Everything but the ellipticity grows with the load Q: half axes and pressure as its
// cube root, approach as the square of that. These are the factors.
template <class T>
struct Contact {
    T semi_major, semi_minor, pressure, approach;
    T stiffness; // K in Q = K approach^1.5
    T ellipticity;
    T second; // complete elliptic integral E of the second kind
};

template <Plain T>
FITWRIGHT_INLINE T with_slope(const T&, const T& value, const T&) {
    return value;
}
template <int N, class L>
FITWRIGHT_INLINE Dual<N, L> with_slope(const Dual<N, L>& x, double value, double slope) {
    return x.chain(value, slope);
}

// k = b/a from the ratio of the relative curvatures, in square roots: then the left side is nearly
// straight in k over the whole range, and nothing cancels at the round contact (k = 1).
template <class T>
struct AxisRatioEquation {
    T root_of_ratio;
    FITWRIGHT_INLINE Residual<T> operator()(const T& k) const {
        using V = Value<T>;
        const V x = value_of(k);
        const V m = 1.0 - x * x;
        const auto p = number::detail::elliptic_parts(m);
        // C = integral sin^2 cos^2/Delta^3 = (D - B)/m; near m = 0 by its series.
        const auto round = m < V(0.02);
        const V series =
            polynomial(select(round, m, V(0.0)), 1.0, 3.0 / 4.0, 75.0 / 128.0, 245.0 / 512.0,
                       6615.0 / 16384.0, 22869.0 / 65536.0, 1288287.0 / 4194304.0) *
            (fields::pi / 16.0);
        const V c = select(round, series, (p.d - p.b) / select(round, V(1.0), m));
        const V root_d_over_b = sqrt(p.d / p.b);
        const V slope = root_d_over_b * 0.5 * (c / p.d + c * p.complement / p.b + 1.0);
        return {with_slope(k, V(x * root_d_over_b), slope) - root_of_ratio, T(slope)};
    }
    FITWRIGHT_INLINE AxisRatioEquation<Value<T>> values() const {
        return {value_of(root_of_ratio)};
    }
};

// Where to start: ln k over ln ratio is nearly constant. Within 0.2 % of the root (fitted to it),
// so that three evaluations do.
template <Plain T>
FITWRIGHT_INLINE T axis_ratio_near(const T& ratio) {
    const T z = log(ratio);
    return smaller(exp(z * polynomial(z, 0.67403297, 0.0088151826, -0.00035080223, -4.2787762e-05)),
                   T(1.0));
}

// (1 - nu^2)/E at 20 degC.
template <class T>
FITWRIGHT_INLINE T flexibility_of(const materials::Material& m, const T& modulus_factor) {
    const double modulus = materials::at(m.modulus, double{materials::reference_temperature});
    return named(
        "contact flexibility of the metal",
        T((1.0 - m.poisson * m.poisson) / (modulus_factor * modulus_in(modulus, modulus_factor))));
}

// Relative curvatures in the two principal planes of the contact, lesser <= greater, both positive
// (the caller checks it: is_point).
template <class T>
FITWRIGHT_INLINE Truth<T> is_point(const T& lesser, const T& greater) {
    return (lesser > greater * least_curvature_ratio) & (greater > T(0.0));
}
template <class T>
Contact<T> contact_of(const T& lesser, const T& greater, const T& flexibility, Faults<T>& faults) {
    const auto usable = is_point(lesser, greater);
    const T ratio = named("ratio of curvatures",
                          select(usable, lesser / select(usable, greater, T(1.0)), T(1.0)));
    const T sum = named("sum of curvatures", select(usable, lesser + greater, T(1.0)));
    const auto r = root(AxisRatioEquation<T>{sqrt(ratio)}, T(0.0), T(1.0),
                        T(axis_ratio_near(value_of(ratio))), T(0.0));
    faults.require(r.converged, rules::no_convergence, ratio);
    const T k = named("ratio of half axes", r.x);
    const auto integrals = complete_elliptic(1.0 - k * k);
    Contact<T> c;
    c.ellipticity = 1.0 / k;
    c.second = integrals.second;
    c.semi_major = named("greater half axis under unit load",
                         cbrt(flexibility * integrals.second / (sum * k * k) * (3.0 / fields::pi)));
    c.semi_minor = named("lesser half axis under unit load", c.semi_major * k);
    c.pressure =
        named("pressure under unit load", (1.5 / fields::pi) / (c.semi_major * c.semi_minor));
    c.approach = named("approach under unit load",
                       flexibility * integrals.first / c.semi_major * (1.5 / fields::pi));
    c.stiffness = 1.0 / (c.approach * sqrt(c.approach));
    return c;
}

} // namespace fitwright::bearings
