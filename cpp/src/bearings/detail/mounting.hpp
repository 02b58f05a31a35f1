// The outer ring in its housing, and pairs of rows at rest.
//
// Housing: Lame's rings (Timoshenko & Goodier). Ring of half bore a and half outside b under the pressure
// p outside: growth of the diameter at r = -2 p b^2/(b^2 - a^2) [(1 - nu) r + (1 + nu) a^2/r]/E.
//
// Pair: at the axial displacement z from first contact a row carries F(z) = Z K y^1.5 x/s (mounted.hpp).
// Clamped by an offset, both rows share it: z1 + z2 = offset - growth, and the thrust moves them by
// +s and -s: thrust = F(z1 + s) - F(z2 - s). It unloads the second row when s = z2: of two like rows of
// constant angle 2^1.5 = 2.83 times the preload (common practice). A spring keeps its force on the
// second row, and takes no part in the thrust. In tandem the rows share the thrust equally.
#pragma once

#include "materials/range.hpp"
#include "mounted.hpp"
#include "rings/detail/thick_ring.hpp"
#include <fitwright/bearings/mounting.hpp>

namespace fitwright::rules {
extern const number::Rule clearance_below_groove, interference_sensible, no_convergence,
    outside_above_bore, shoulder_in_raceway;
} // namespace fitwright::rules

namespace fitwright::bearings {

template <class T>
FITWRIGHT_INLINE T squeezed(const rings::Section<T>& s, const T& pressure, const T& r) {
    const T a2 = s.inner * s.inner;
    const T b2 = s.outer * s.outer;
    return pressure * -2.0 * b2 / (b2 - a2) * (r * (1.0 - s.poisson) + a2 / r * (1.0 + s.poisson)) /
           s.modulus;
}

// `ring_place` and `house_place` are the places that faults speak of; `told_give` is the growth of the
// housing's bore per pressure where it is known, else that of a plain ring.
template <class T>
HousingFitOutputs<T> housed(const HousingFitInputs<T>& in, const materials::Material& ring,
                            const materials::Material& house, int ring_place, int house_place,
                            Faults<T>& faults, const T& told_give = T(fields::worked_out)) {
    HousingFitOutputs<T> out;
    faults.place = ring_place;
    const T shoulder = fields::given(in.shoulder, in.raceway);
    faults.require(in.outside > in.raceway, rules::outside_above_bore, in.outside);
    materials::require_in_range(ring, in.temperature, faults);
    const auto inward = shoulder <= in.raceway;
    faults.require(inward, rules::shoulder_in_raceway, shoulder);
    faults.place = house_place;
    faults.require(in.housing.outside > in.housing.bore, rules::outside_above_bore,
                   in.housing.outside);
    materials::require_in_range(house, in.housing.temperature, faults);
    faults.place = ring_place;
    const T warm = materials::free_growth(ring, in.expansion_factor, in.temperature);
    out.interference = in.outside - in.housing.bore + in.outside * warm -
                       in.housing.bore * materials::free_growth(house, in.housing.expansion_factor,
                                                                in.housing.temperature);
    faults.require(out.interference < in.outside * 0.01, rules::interference_sensible,
                   out.interference);
    faults.kink(out.interference == T(0.0));

    const T modulus = materials::at(ring.modulus, in.temperature) * in.modulus_factor;
    const auto ring_to = [&](const T& inside) {
        return rings::Section<T>{inside * 0.5, in.outside * 0.5, modulus, ring.poisson,
                                 ring.density};
    };
    const rings::Section<T> thin = ring_to(in.raceway);
    const rings::Section<T> thick = ring_to(select(inward, shoulder, in.raceway));
    const rings::Section<T> around{in.housing.bore * 0.5, in.housing.outside * 0.5,
                                   materials::at(house.modulus, in.housing.temperature) *
                                       in.housing.modulus_factor,
                                   house.poisson, house.density};
    const T one(1.0);
    const T give = fields::given(told_give, rings::growth_by_pressure(around, one, around.inner));
    const T tight = positive(out.interference);
    // Each view of the ring has its own pressure.
    const T thin_pressure = tight / (give - squeezed(thin, one, thin.outer));
    const T thick_pressure = tight / (give - squeezed(thick, one, thick.outer));
    const T r = in.raceway * 0.5;
    const T by_thin = squeezed(thin, thin_pressure, r);
    const T by_thick = squeezed(thick, thick_pressure, r);
    out.pressure = (thin_pressure + thick_pressure) * 0.5;
    out.outer_growth = (by_thin + by_thick) * 0.5 + in.raceway * warm;
    out.growth_spread = by_thick - by_thin;
    return out;
}

template <class T>
void HousingFit::run(const T* inputs, T* outputs, const fields::Context& context,
                     Faults<T>& faults) {
    *reinterpret_cast<HousingFitOutputs<T>*>(outputs) =
        housed(*reinterpret_cast<const HousingFitInputs<T>*>(inputs), *context.materials[0],
               *context.materials[1], 0, 1, faults);
}

// Force of a row at a displacement, less what is wanted.
template <class T>
FITWRIGHT_INLINE Residual<T> row_force(const ThrustEquation<T>& row, const T& z) {
    const auto apart = z <= T(0.0);
    const Residual<T> f = row(select(apart, T(0.0), z));
    return {select(apart, T(0.0), f.value + row.load), select(apart, T(0.0), f.slope)};
}
// Displacement of a row under a force over Z K.
template <class T>
T row_displacement(ThrustEquation<T> row, const T& load, const T& distance, Faults<T>& faults) {
    row.load = load;
    const auto bracket = displacement_bracket(row.values());
    const auto r =
        root(row, T(0.0), T(bracket.upper), T(bracket.start), T(value_of(distance) * 1e-20));
    faults.require(r.converged, rules::no_convergence, load);
    return select(load > T(0.0), r.x, T(0.0));
}
// The preload both rows share when they are pushed together by `together`.
template <class T>
struct ShareEquation {
    ThrustEquation<T> row;
    T together, thrust; // thrust over Z K
    FITWRIGHT_INLINE Residual<T> operator()(const T& shift) const {
        const auto first = row_force(row, T(together * 0.5 + shift));
        const auto second = row_force(row, T(together * 0.5 - shift));
        return {first.value - second.value - thrust, first.slope + second.slope};
    }
    FITWRIGHT_INLINE ShareEquation<Value<T>> values() const {
        return {row.values(), value_of(together), value_of(thrust)};
    }
};

template <class T>
void Pair::run(const T* inputs, T* outputs, const fields::Context& context, Faults<T>& faults) {
    const auto& in = *reinterpret_cast<const PairInputs<T>*>(inputs);
    auto& out = *reinterpret_cast<PairOutputs<T>*>(outputs);
    const materials::Material& rings = *context.materials[0];
    const materials::Material& balls = *context.materials[1];
    const int arrangement = context.choices[0];
    const bool spring = context.choices[1] == 1;
    faults.place = 2;
    materials::require_in_range(balls, in.ball_temperature, faults);
    faults.place = 1;
    const Bearing<T>& b = in.bearing;
    const auto c = contact_constants(b, balls, rings, in.modulus_factor, faults);
    const T& a = c.groove_distance;
    const auto row_of = [&](const T& clearance) {
        const auto touches = clearance < a * 2.0;
        faults.require(touches, rules::clearance_below_groove, clearance);
        const T half = select(touches, clearance * 0.5, T(0.0));
        const T open = half * (a * 2.0 - half);
        return ThrustEquation<T>{a, a - half, root0(open), positive(-open), T(0.0)};
    };
    const T growth =
        b.ball_diameter * materials::free_growth(balls, b.expansion_factor, in.ball_temperature);
    const ThrustEquation<T> cold = row_of(b.clearance);
    const ThrustEquation<T> row =
        row_of(state_clearance(b, in.inner_growth, in.outer_growth, growth));
    faults.place = 0;
    const T unit = b.balls * c.stiffness;
    const T preload = in.preload_force / unit;
    const T thrust = in.thrust / unit;
    faults.kink((in.thrust == T(0.0)) | (in.preload_force == T(0.0)));

    out.offset = row_displacement(cold, preload, a, faults) * 2.0;
    if (arrangement == 2) {
        const T each = (thrust + preload) * 0.5;
        const T free = row_displacement(row, T(preload * 0.5), a, faults);
        out.preload_left = in.preload_force;
        out.first_load = (in.thrust + in.preload_force) * 0.5;
        out.second_load = out.first_load;
        out.displacement = row_displacement(row, each, a, faults) - free;
        out.unloading_thrust = T(0.0);
        out.unloading_margin = T(0.0);
        return;
    }
    if (spring) {
        out.preload_left = in.preload_force;
        out.first_load = in.thrust + in.preload_force;
        out.second_load = in.preload_force;
        out.displacement = row_displacement(row, T(thrust + preload), a, faults) -
                           row_displacement(row, preload, a, faults);
        // The spring follows: thrust never takes it off.
        out.unloading_thrust = T(1e8);
        out.unloading_margin = T(1e8) - in.thrust;
        return;
    }
    // Free contact turns with the clearance, and the groove centres with it: a row whose free axial play
    // has grown stands the more open.
    const T opened = (row.free - cold.free) * 2.0;
    const T longer = arrangement == 0 ? in.inner_longer : -in.inner_longer;
    const T together = out.offset - opened - longer;
    const T half = together * 0.5;
    const auto pressed = row_force(row, half);
    out.preload_left = pressed.value * unit;
    // The second row comes off when the first has taken all of it.
    const auto all = row_force(row, together);
    out.unloading_thrust = all.value * unit;
    out.unloading_margin = out.unloading_thrust - in.thrust;
    const auto lifted = thrust >= all.value;
    const T alone = row_displacement(row, thrust, a, faults);
    const T most = select(lifted, T(1e-9), half);
    const ShareEquation<T> share{row, select(lifted, T(2e-9), together),
                                 select(lifted, T(0.0), thrust)};
    const auto r =
        root(share, T(0.0), T(value_of(most)), T(value_of(most) * 0.3), T(value_of(a) * 1e-15));
    faults.require(r.converged | lifted, rules::no_convergence, in.thrust);
    // Loose rows first take up the play.
    out.displacement = select(lifted, alone - half, r.x);
    const auto first = row_force(row, T(half + r.x));
    const auto second = row_force(row, T(half - r.x));
    out.first_load = select(lifted, in.thrust, first.value * unit);
    out.second_load = select(lifted, T(0.0), second.value * unit);
}

} // namespace fitwright::bearings
