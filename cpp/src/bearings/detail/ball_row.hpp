// Ball rows as ISO 76 and ISO 281 rate them; the formulas behind the standards' tables, in
// newtons and millimetres as written there. From memory; the tables remembered from both standards
// reproduce to their last digit (tests/reference/ratings.toml).
#pragma once

#include "hertz.hpp"
#include "interpolated.hpp"
#include <fitwright/bearings/rating.hpp>

namespace fitwright::rules {
extern const number::Rule balls_fit_circle, opposed_angle, opposed_rows, radial_bearing_angle,
    thrust_bearing_angle, thrust_bearing_rows, whole_rows;
} // namespace fitwright::rules

namespace fitwright::bearings {

struct RowChoices {
    BearingKind kind;
    Arrangement arrangement;
    Grooves grooves;
};
FITWRIGHT_INLINE RowChoices row_choices(const int* choices) {
    return {static_cast<BearingKind>(choices[0]), static_cast<Arrangement>(choices[1]),
            static_cast<Grooves>(choices[2])};
}

// A row in millimetres with what the formulas ask for again and again.
template <class T>
struct RatedRow {
    T balls, diameter, pitch, rows;
    T inner, outer;          // groove radii over the ball diameter
    T sine, cosine, tangent; // of the contact angle
    T angle;
    T gamma; // D cos(angle)/dm
};

inline constexpr double right_angle = 1.5707963267948966;
inline constexpr double degree_of_angle = fields::pi / 180.0;

// The rules a row of rolling elements keeps, balls or rollers.
template <class T>
FITWRIGHT_INLINE void require_kind(const T& angle, const T& rows, BearingKind kind,
                                   Arrangement arrangement, double least_opposed_angle,
                                   Faults<T>& faults) {
    constexpr double limit = 45.0 * degree_of_angle + 1e-9; // radial up to and including 45 deg
    const bool radial = kind == BearingKind::radial;
    faults.require(radial ? angle <= T(limit) : angle > T(limit),
                   radial ? rules::radial_bearing_angle : rules::thrust_bearing_angle, angle);
    auto whole = rows == T(1.0);
    for (double n = 2.0; n < 9.0; n += 1.0)
        whole = whole | (rows == T(n));
    faults.require(whole, rules::whole_rows, rows);
    if (!radial)
        faults.require(rows == T(1.0), rules::thrust_bearing_rows, rows);
    if (arrangement == Arrangement::opposed) {
        faults.require(rows == T(2.0), rules::opposed_rows, rows);
        faults.require(angle >= T(least_opposed_angle), rules::opposed_angle, angle);
    }
}

template <class T>
RatedRow<T> rated_row(const BallRow<T>& r, const RowChoices& c, Faults<T>& faults) {
    const T angle = smaller(r.contact_angle, T(right_angle));
    require_kind(angle, r.rows, c.kind, c.arrangement, 10.0 * degree_of_angle - 1e-9, faults);
    const auto fit = r.ball_diameter < r.pitch_diameter * sin(fields::pi / r.balls);
    faults.require(fit, rules::balls_fit_circle, r.balls);
    RatedRow<T> out;
    out.balls = r.balls;
    out.rows = r.rows;
    out.pitch = r.pitch_diameter * 1e3;
    out.diameter = select(fit, r.ball_diameter * 1e3, out.pitch * 0.1);
    out.angle = angle;
    out.sine = sin(angle);
    out.cosine = larger(cos(angle), T(1e-15));
    out.tangent = out.sine / out.cosine;
    out.gamma = out.diameter * out.cosine / out.pitch;
    out.inner = r.inner_curvature;
    out.outer = r.outer_curvature;
    return out;
}

// The factors of both standards hold for grooves up to a limit and were worked out for one groove; a
// tighter one need not bear more, a wider one bears less. The excess over the limit counts.
template <class T>
FITWRIGHT_INLINE T credited(const T& groove, double worked_out_for, double limit, Grooves grooves) {
    return grooves == Grooves::measured ? groove : positive(groove - limit) + worked_out_for;
}

// Load of one ball that makes the given contact pressure at the weaker raceway. Steel of 207 GPa and
// 0.3, the constants of both standards.
template <class T>
struct PressedRow {
    T inner, outer; // pressure = factor cbrt(load), SI
    FITWRIGHT_INLINE T load_at(double pressure) const {
        return cube(pressure / larger(inner, outer));
    }
};
template <class T>
PressedRow<T> pressed_row(const RatedRow<T>& r, const T& inner_groove, const T& outer_groove,
                          Faults<T>& faults) {
    constexpr double flexibility = 2.0 * (1.0 - 0.3 * 0.3) / 207e9;
    const T ball = r.diameter * 1e-3;
    const T across_inner = (2.0 - 1.0 / inner_groove) / ball;
    const T across_outer = (2.0 - 1.0 / outer_groove) / ball;
    const T along_inner = 2.0 / (ball * (1.0 - r.gamma));
    const T along_outer = 2.0 / (ball * (1.0 + r.gamma));
    return {contact_of(across_inner, along_inner, T(flexibility), faults).pressure,
            contact_of(across_outer, along_outer, T(flexibility), faults).pressure};
}

// D^1.8 up to 25.4 mm, 3.647 D^1.4 above (3.647 is 25.4^0.4).
template <class T>
FITWRIGHT_INLINE T diameter_power(const T& d) {
    return power(d, 1.4) * power(smaller(d, T(25.4)), 0.4);
}

// Capacities of the raceways of one row, Lundberg & Palmgren as in ISO/TR 1281-1: the ratio of the
// inner to the outer raceway's, and
//   fc = 0.41 A1 lambda (1 + (1.04 ratio)^(10/3))^-0.3 gamma^0.3 (1 - gamma)^1.39/(1 + gamma)^(1/3)
//        (2 fi/(2 fi - 1))^0.41,  A1 = 98.0665
// radial; thrust without 0.41 and 1.04, but with eta = 1 - sin(angle)/3. lambda 0.95, double row
// without contact angle and thrust 0.9. C = bm fc (i cos)^0.7 Z^(2/3) D^1.8 and, thrust,
// C = bm fc cos^0.7 tan Z^(2/3) D^1.8: there cos^0.7 tan gamma^0.3 = sin (D/dm)^0.3, which goes on
// to 90 deg, where the table is told by D/dm.
template <class T>
struct BallCapacity {
    T ratio;   // inner over outer, to be raised to the power 10/3
    T factor;  // fc
    T dynamic; // C/bm, in newtons
};
template <class T>
BallCapacity<T> ball_capacity(const RatedRow<T>& r, const RowChoices& c) {
    const bool radial = c.kind == BearingKind::radial;
    const double standard = radial ? 0.52 : 0.535;
    const T fi = credited(r.inner, standard, radial ? 0.52 : 0.54, c.grooves);
    const T fo = credited(r.outer, standard, radial ? 0.53 : 0.54, c.grooves);
    const T osculation = power(fi / fo * (fo * 2.0 - 1.0) / (fi * 2.0 - 1.0), 0.41);
    BallCapacity<T> out;
    out.ratio = power((1.0 - r.gamma) / (1.0 + r.gamma), 1.72) * osculation;
    const T shape =
        power(1.0 - r.gamma, 1.39) / cbrt(1.0 + r.gamma) * power(fi * 2.0 / (fi * 2.0 - 1.0), 0.41);
    const T both = power(power(out.ratio * (radial ? 1.04 : 1.0), 10.0 / 3.0) + 1.0, -0.3);
    constexpr double a1 = 98.0665;
    const T slender = power(r.diameter / r.pitch, 0.3);
    const T size = cbrt(r.balls * r.balls) * diameter_power(r.diameter);
    if (radial) {
        const auto double_row = (r.angle == T(0.0)) & (r.rows > T(1.0));
        const T core = select(double_row, T(0.90), T(0.95)) * (0.41 * a1) * both * shape;
        out.factor = core * power(r.gamma, 0.3);
        out.dynamic = core * slender * r.cosine * power(r.rows, 0.7) * size;
    } else {
        const T core = (1.0 - r.sine / 3.0) * (0.9 * a1) * both * shape;
        const auto square_on = r.angle > T(right_angle - 1e-6);
        out.factor = core * select(square_on, slender, power(r.gamma, 0.3));
        out.dynamic = core * slender * r.sine * size;
    }
    return out;
}

} // namespace fitwright::bearings
