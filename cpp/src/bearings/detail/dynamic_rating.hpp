// Basic dynamic load rating and life of ball bearings (ISO 281). Factors X, Y and e from memory.
#pragma once

#include "ball_row.hpp"
#include "life_figures.hpp"
#include "static_rating.hpp"

namespace fitwright::rules {
extern const number::Rule thrust_bearing_radial_load;
} // namespace fitwright::rules

namespace fitwright::bearings {

template <class T>
struct DynamicFactors {
    T limit_ratio, radial, axial; // e, and X, Y beyond it
    T radial_within, axial_within;
};

// ISO 281, table of single-row bearings: e and Y against the load of a ball row Fa/(i Z D^2) in MPa
// at 0 to 5, 10 and 15 deg; from 20 deg on against the contact angle alone. (The table's f0 Fa/C0 is
// this over the cosine.)
template <class T>
DynamicFactors<T> radial_factors(const RatedRow<T>& r, const T& axial_load,
                                 Arrangement arrangement) {
    const bool opposed = arrangement == Arrangement::opposed;
    const T sharing_rows = opposed ? T(1.0) : r.rows;
    const T load = named("thrust per ball and square of its diameter",
                         axial_load / (sharing_rows * r.balls * square(r.diameter)));
    const auto by_load = [&](double a, double b, double c, double d, double e, double f, double g,
                             double h, double i) {
        return interpolated<T>(load, 0.172, a, 0.345, b, 0.689, c, 1.03, d, 1.38, e, 2.07, f, 3.45,
                               g, 5.17, h, 6.89, i);
    };
    const T e0 = named("limit ratio at up to 5 degrees",
                       by_load(0.19, 0.22, 0.26, 0.28, 0.30, 0.34, 0.38, 0.42, 0.44));
    const T e10 = named("limit ratio at 10 degrees",
                        by_load(0.29, 0.32, 0.36, 0.38, 0.40, 0.44, 0.49, 0.54, 0.54));
    const T e15 = named("limit ratio at 15 degrees",
                        by_load(0.38, 0.40, 0.43, 0.46, 0.47, 0.50, 0.55, 0.56, 0.56));
    const T y0 = named("axial factor at up to 5 degrees",
                       by_load(2.30, 1.99, 1.71, 1.55, 1.45, 1.31, 1.15, 1.04, 1.00));
    const T y10 = named("axial factor at 10 degrees",
                        by_load(1.88, 1.71, 1.52, 1.41, 1.34, 1.23, 1.10, 1.01, 1.00));
    const T y15 = named("axial factor at 15 degrees",
                        by_load(1.47, 1.40, 1.30, 1.23, 1.19, 1.12, 1.02, 1.00, 1.00));
    const T degrees = named("contact angle in degrees", r.angle / degree_of_angle);
    DynamicFactors<T> f;
    f.limit_ratio = interpolated<T>(degrees, 5.0, e0, 10.0, e10, 15.0, e15, 20.0, 0.57, 25.0, 0.68,
                                    30.0, 0.80, 35.0, 0.95, 40.0, 1.14, 45.0, 1.34);
    f.radial = interpolated<T>(degrees, 5.0, 0.56, 10.0, 0.46, 15.0, 0.44, 20.0, 0.43, 25.0, 0.41,
                               30.0, 0.39, 35.0, 0.37, 40.0, 0.35, 45.0, 0.33);
    f.axial = interpolated<T>(degrees, 5.0, y0, 10.0, y10, 15.0, y15, 20.0, 1.00, 25.0, 0.87, 30.0,
                              0.76, 35.0, 0.66, 40.0, 0.57, 45.0, 0.50);
    f.radial_within = 1.0;
    f.axial_within = 0.0;
    if (opposed) {
        // Of the row that carries the thrust, times 1.63 (2^0.7, as the table rounds it); within e
        // the table's Y1 is the single row's Y times a factor of the angle alone.
        f.axial_within =
            f.axial * interpolated<T>(degrees, 10.0, 1.16, 15.0, 1.122, 20.0, 1.09, 25.0, 1.057,
                                      30.0, 1.026, 35.0, 1.0, 40.0, 0.965, 45.0, 0.94);
        f.radial = f.radial * 1.63;
        f.axial = f.axial * 1.63;
    }
    return f;
}

template <class T>
struct LoadedLife {
    T limit_ratio, radial, axial, load;
};
// P. Below e the thrust of a radial bearing costs nothing (a pair: little); a thrust bearing must
// have more.
template <class T>
LoadedLife<T> equivalent(const DynamicFactors<T>& f, const T& radial_load, const T& axial_load,
                         Faults<T>& faults) {
    const auto beyond = axial_load > f.limit_ratio * radial_load;
    faults.kink(axial_load == f.limit_ratio * radial_load);
    const T x = select(beyond, f.radial, f.radial_within);
    const T y = select(beyond, f.axial, f.axial_within);
    return {f.limit_ratio, x, y, x * radial_load + y * axial_load};
}
template <class T, class Outputs>
FITWRIGHT_INLINE void tell_life(const LoadedLife<T>& l, const T& rating, double exponent,
                                const T& speed, Outputs& out) {
    out.limit_ratio = l.limit_ratio;
    out.radial_factor = l.radial;
    out.axial_factor = l.axial;
    out.equivalent_load = l.load;
    out.load_ratio = l.load / rating;
    out.life = power(load_ratio_for_life(l.load, rating), -exponent) * million;
    out.running_time = running_time(out.life, speed);
}

// X = 1.25 tan (1 - 2/3 sin), Y = 1, e = 1.25 tan: the table of thrust ball bearings, which has nothing
// within e.
template <class T>
DynamicFactors<T> thrust_factors(const RatedRow<T>& row) {
    const T e = row.tangent * 1.25;
    const T x = e * (1.0 - row.sine * (2.0 / 3.0));
    return {e, x, T(1.0), x, T(1.0)};
}

template <class T>
LoadedLife<T> equivalent_ball_load(const RatedRow<T>& row, const RowChoices& c,
                                   const T& radial_load, const T& axial_load, Faults<T>& faults) {
    if (c.kind == BearingKind::radial)
        return equivalent(radial_factors(row, axial_load, c.arrangement), radial_load, axial_load,
                          faults);
    const DynamicFactors<T> f = thrust_factors(row);
    faults.require(axial_load >= f.limit_ratio * radial_load, rules::thrust_bearing_radial_load,
                   radial_load);
    return {f.limit_ratio, f.radial, f.axial, f.radial * radial_load + f.axial * axial_load};
}

template <class T>
void DynamicRating::run(const T* inputs, T* outputs, const fields::Context& context,
                        Faults<T>& faults) {
    const auto& in = *reinterpret_cast<const DynamicRatingInputs<T>*>(inputs);
    auto& out = *reinterpret_cast<DynamicRatingOutputs<T>*>(outputs);
    const RowChoices choices = row_choices(context.choices);
    faults.place = 1;
    const RatedRow<T> row = rated_row(in.row, choices, faults);
    faults.place = 0;
    const BallCapacity<T> capacity = ball_capacity(row, choices);
    out.geometry_factor = capacity.factor;
    out.dynamic_rating = capacity.dynamic * in.make_factor;
    const auto loaded = equivalent_ball_load(row, choices, in.radial_load, in.axial_load, faults);
    tell_life(loaded, out.dynamic_rating, 3.0, in.speed, out);
}

} // namespace fitwright::bearings
