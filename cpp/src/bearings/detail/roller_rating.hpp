// Ratings of cylindrical and tapered roller bearings: ISO 76, ISO 281 and, for fc, ISO/TR 1281-1.
// From memory; the tables of fc remembered reproduce (tests/reference/ratings.toml).
#pragma once

#include "dynamic_rating.hpp"
#include <fitwright/bearings/roller_rating.hpp>

namespace fitwright::rules {
extern const number::Rule rollers_fit_circle, straight_roller_axial_load,
    thrust_bearing_radial_load;
} // namespace fitwright::rules

namespace fitwright::bearings {

inline constexpr double least_roller_angle = 1.0 * degree_of_angle;

// Cu estimated from C0 (ISO 281, annex B): over 22 balls, 8.2 rollers, less in large bearings.
// Diameters in millimetres.
template <class T>
FITWRIGHT_INLINE T estimated_fatigue_limit(const T& static_rating, const T& pitch, bool rollers) {
    const T large = 100.0 / larger(pitch, T(100.0));
    return rollers ? static_rating / 8.2 * power(large, 0.3) : static_rating / 22.0 * sqrt(large);
}

// C = bm fc (i L cos)^(7/9) Z^(3/4) D^(29/27); thrust with cos^(7/9) tan, where
// cos^(7/9) tan gamma^(2/9) = sin (D/dm)^(2/9) goes on to 90 deg. fc has 207.9 * 0.83 and 1.04
// radial, 551.13373 * 0.73 (1 - 0.15 sin) thrust.
template <class T>
struct RollerCapacity {
    T factor, dynamic;
};
template <class T>
RollerCapacity<T> roller_capacity(const RatedRow<T>& r, const T& length, BearingKind kind) {
    const bool radial = kind == BearingKind::radial;
    const T ratio = power((1.0 - r.gamma) / (1.0 + r.gamma), 143.0 / 108.0);
    const T both = power(power(ratio * (radial ? 1.04 : 1.0), 4.5) + 1.0, -2.0 / 9.0);
    const T shape = power(1.0 - r.gamma, 29.0 / 27.0) / sqrt(sqrt(1.0 + r.gamma));
    const T core =
        (radial ? T(207.9 * 0.83) : (1.0 - r.sine * 0.15) * (551.13373 * 0.73)) * both * shape;
    const T slender = power(r.diameter / r.pitch, 2.0 / 9.0);
    const auto square_on = r.angle > T(right_angle - 1e-6);
    RollerCapacity<T> out;
    out.factor = core * select(square_on, slender, power(r.gamma, 2.0 / 9.0));
    out.dynamic = core * slender * power(length * r.rows, 7.0 / 9.0) * power(r.balls, 0.75) *
                  power(r.diameter, 29.0 / 27.0) * (radial ? r.cosine : r.sine);
    return out;
}

template <class T>
LoadedLife<T> equivalent_roller_load(const RatedRow<T>& r, BearingKind kind,
                                     Arrangement arrangement, const T& radial_load,
                                     const T& axial_load, Faults<T>& faults) {
    const T e = r.tangent * 1.5;
    if (kind == BearingKind::thrust) {
        faults.require(axial_load >= e * radial_load, rules::thrust_bearing_radial_load,
                       radial_load);
        return {e, r.tangent, T(1.0), r.tangent * radial_load + axial_load};
    }
    const auto leans = r.angle >= T(least_roller_angle);
    faults.require(leans | (axial_load == T(0.0)), rules::straight_roller_axial_load, axial_load);
    const T cotangent = 1.0 / select(leans, r.tangent, T(1.0));
    DynamicFactors<T> f;
    f.limit_ratio = e;
    const bool opposed = arrangement == Arrangement::opposed;
    f.radial = opposed ? 0.67 : 0.4;
    f.axial = cotangent * (opposed ? 0.67 : 0.4);
    f.radial_within = 1.0;
    f.axial_within = opposed ? cotangent * 0.45 : T(0.0);
    return equivalent(f, radial_load, axial_load, faults);
}

template <class T>
void RollerRating::run(const T* inputs, T* outputs, const fields::Context& context,
                       Faults<T>& faults) {
    const auto& in = *reinterpret_cast<const RollerRatingInputs<T>*>(inputs);
    auto& out = *reinterpret_cast<RollerRatingOutputs<T>*>(outputs);
    const auto kind = static_cast<BearingKind>(context.choices[0]);
    const auto arrangement = static_cast<Arrangement>(context.choices[1]);
    const bool radial = kind == BearingKind::radial;
    faults.place = 1;
    RatedRow<T> r;
    r.angle = smaller(in.row.contact_angle, T(right_angle));
    require_kind(r.angle, in.row.rows, kind, arrangement, least_roller_angle, faults);
    // Thrust rollers lie like spokes: the length decides there, not the diameter. The chord of the
    // pitch circle is the least that must be true of both.
    const auto fit =
        in.row.roller_diameter < in.row.pitch_diameter * sin(fields::pi / in.row.rollers);
    faults.require(fit, rules::rollers_fit_circle, in.row.rollers);
    faults.place = 0;
    r.balls = in.row.rollers;
    r.rows = in.row.rows;
    r.pitch = in.row.pitch_diameter * 1e3;
    r.diameter = select(fit, in.row.roller_diameter * 1e3, r.pitch * 0.1);
    r.sine = sin(r.angle);
    r.cosine = larger(cos(r.angle), T(1e-15));
    r.tangent = r.sine / r.cosine;
    r.gamma = r.diameter * r.cosine / r.pitch;
    const T length = in.row.effective_length * 1e3;

    // ISO 76: C0r = 44 (1 - gamma) i Z L D cos, C0a = 220 (1 - gamma) Z L D sin.
    out.static_rating = (1.0 - r.gamma) * r.balls * length * r.diameter *
                        (radial ? r.rows * r.cosine * 44.0 : r.sine * 220.0);
    out.fatigue_limit = estimated_fatigue_limit(out.static_rating, r.pitch, true);
    const auto leans = r.tangent >= T(least_roller_angle);
    const T cotangent = select(leans, 1.0 / select(leans, r.tangent, T(1.0)), T(0.0));
    const double n = arrangement == Arrangement::opposed ? 2.0 : 1.0;
    const T x0 = select(leans, T(0.5 * n), T(1.0));
    const T combined = radial ? x0 * in.radial_load + cotangent * (0.22 * n) * in.axial_load
                              : r.tangent * 2.3 * in.radial_load + in.axial_load;
    out.equivalent_static_load = radial ? larger(combined, in.radial_load) : combined;
    out.static_safety = safety_of(out.static_rating, out.equivalent_static_load);

    const auto capacity = roller_capacity(r, length, kind);
    out.geometry_factor = capacity.factor;
    out.dynamic_rating = capacity.dynamic * in.make_factor;
    const auto loaded =
        equivalent_roller_load(r, kind, arrangement, in.radial_load, in.axial_load, faults);
    tell_life(loaded, out.dynamic_rating, 10.0 / 3.0, in.speed, out);
}

} // namespace fitwright::bearings
