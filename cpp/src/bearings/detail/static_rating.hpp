// Basic static load rating of ball bearings (ISO 76) and their fatigue load limit (ISO 281,
// annex B), by the contact pressures behind the standards' tables: 4200 and 1500 MPa.
#pragma once

#include "ball_row.hpp"

namespace fitwright::bearings {

// The standards' grooves: 0.52 and 0.53 radial, 0.54 and 0.54 thrust (from memory).
template <class T>
PressedRow<T> rated_pressures(const RatedRow<T>& r, const RowChoices& c, Faults<T>& faults) {
    const bool radial = c.kind == BearingKind::radial;
    const double inner = radial ? 0.52 : 0.54;
    const double outer = radial ? 0.53 : 0.54;
    return pressed_row(r, credited(r.inner, inner, inner, c.grooves),
                       credited(r.outer, outer, outer, c.grooves), faults);
}
// Radial: the most loaded ball carries 5/(Z i cos) of the load in the static rating (a usual
// clearance), 4.37/(Z i cos) in the fatigue limit (no clearance); 1/4.37 = 0.2288.
template <class T>
FITWRIGHT_INLINE T sharing(const RatedRow<T>& r, BearingKind kind, double radial_share) {
    return kind == BearingKind::radial ? r.balls * r.rows * r.cosine * radial_share
                                       : r.balls * r.sine;
}
template <class T>
FITWRIGHT_INLINE T static_rating_of(const RatedRow<T>& r, BearingKind kind,
                                    const PressedRow<T>& pressures) {
    return pressures.load_at(4200e6) * sharing(r, kind, 0.2);
}
template <class T>
FITWRIGHT_INLINE T fatigue_limit_of(const RatedRow<T>& r, BearingKind kind,
                                    const PressedRow<T>& pressures) {
    return pressures.load_at(1500e6) * sharing(r, kind, 0.2288) *
           sqrt(100.0 / larger(r.pitch, T(100.0)));
}

template <class T>
struct LoadFactors {
    T radial, axial;
};
// ISO 76, table of X0 and Y0 (from memory); opposed rows have twice the factors of a single one.
template <class T>
LoadFactors<T> static_factors(const RatedRow<T>& r, const RowChoices& c) {
    if (c.kind == BearingKind::thrust)
        return {r.tangent * 2.3, T(1.0)};
    const T degrees = r.angle / degree_of_angle;
    const double n = c.arrangement == Arrangement::opposed ? 2.0 : 1.0;
    const T x = interpolated<T>(degrees, 0.0, 0.6, 5.0, 0.5);
    const T y = interpolated<T>(degrees, 0.0, 0.5, 5.0, 0.52, 10.0, 0.5, 15.0, 0.46, 20.0, 0.42,
                                25.0, 0.38, 30.0, 0.33, 35.0, 0.29, 40.0, 0.26, 45.0, 0.22);
    return {x * n, y * n};
}
inline constexpr double no_load_safety = 1e6;
template <class T>
FITWRIGHT_INLINE T safety_of(const T& rating, const T& load) {
    return rating / larger(load, rating / no_load_safety);
}

template <class T>
void StaticRating::run(const T* inputs, T* outputs, const fields::Context& context,
                       Faults<T>& faults) {
    const auto& in = *reinterpret_cast<const StaticRatingInputs<T>*>(inputs);
    auto& out = *reinterpret_cast<StaticRatingOutputs<T>*>(outputs);
    const RowChoices choices = row_choices(context.choices);
    faults.place = 1;
    const RatedRow<T> row = rated_row(in.row, choices, faults);
    const auto pressures = rated_pressures(row, choices, faults);
    faults.place = 0;
    const bool radial = choices.kind == BearingKind::radial;
    out.static_rating = static_rating_of(row, choices.kind, pressures);
    out.geometry_factor = pressures.load_at(4200e6) / square(row.diameter) * (radial ? 0.2 : 1.0);
    out.fatigue_limit = fatigue_limit_of(row, choices.kind, pressures);
    const auto x = static_factors(row, choices);
    out.radial_factor = x.radial;
    out.axial_factor = x.axial;
    const T combined = x.radial * in.radial_load + x.axial * in.axial_load;
    out.equivalent_static_load = radial ? larger(combined, in.radial_load) : combined;
    out.static_safety = safety_of(out.static_rating, out.equivalent_static_load);
    faults.kink(pressures.inner == pressures.outer);
}

} // namespace fitwright::bearings
