// A fit that yields: pressure and movement of ring and shaft meet at the joint.
//
//   ring's bore growth + seat's loss = interference left,   ring's pressure = shaft's pressure
//
// Each side has its parameter (yielding.hpp). The two equations are solved in values, one inside the
// other; duals get one Newton step on both together (implicit function theorem).
// Afterwards all is elastic: speed and taking off are Lame's answers added (unloading).
#pragma once

#include "fit.hpp"
#include "yielding.hpp"
#include <fitwright/rings/elastic_plastic.hpp>

namespace fitwright::rules {
extern const number::Rule contact_within_length, interference_told_twice, ring_tangent_modulus_low,
    ring_yields_through, shaft_tangent_modulus_low, shaft_yields_through, surface_speed;
} // namespace fitwright::rules

namespace fitwright::rings {

template <class T, class Tag = T>
struct YieldingPair {
    YieldingRing<T, Tag> ring;
    YieldingShaft<T, Tag> shaft;
    T ratio;        // Young's modulus of the ring over the shaft's
    T interference; // over the seat's diameter

    // What the two have moved beyond the interference, over the seat's diameter.
    FITWRIGHT_INLINE T apart(const RingAnswer<T>& r, const ShaftAnswer<T>& s) const {
        return r.bore_strain * (ring.bore / shaft.seat) + s.shrink - interference;
    }
};

// What is not met: sizes (over the diameter) and pressures (over the ring's modulus).
template <class T>
struct Mismatch {
    T size, pressure;
    Truth<T> limit;
};
template <class T, class Tag>
Mismatch<T> mismatch(const YieldingPair<T, Tag>& pair, const T& ring, const T& shaft) {
    const RingAnswer<T> r = ring_at(pair.ring, ring);
    const ShaftAnswer<T> s = shaft_at(pair.shaft, shaft);
    const Truth<T> limit = r.limit | s.limit;
    return {pair.apart(r, s), s.pressure - r.pressure * pair.ratio, limit};
}

template <class T>
struct Parameters {
    T ring, shaft;
};

inline constexpr double beyond = 1.0; // a mismatch where there is no answer: far above any strain
template <class T>
FITWRIGHT_INLINE Truth<T> met(const T& difference) {
    return abs(difference) <= T(1e-12);
}
inline constexpr double log_most_shaft_strain = 5.3; // 200 yield strains at the bore of a shaft

// The shaft's parameter for a pressure over its modulus.
template <class T, class Tag>
T shaft_parameter(const YieldingShaft<T, Tag>& shaft, const T& pressure) {
    const T elastic = pressure / shaft.first_pressure();
    const auto yields = (elastic > T(1.0)) & (shaft.bore > T(0.0));
    if (!any(yields))
        return elastic;
    // In the logarithm: the strain at the bore goes over decades.
    const T yielding = root_between(
        [&](const T& x) {
            const ShaftAnswer<T> s = shaft_at(shaft, exp(x));
            return select(s.limit, T(beyond), s.pressure - pressure);
        },
        T(0.0), T(log_most_shaft_strain), 1e-17, beyond);
    return select(yields, exp(yielding), elastic);
}

template <class T, class Tag>
Parameters<T> parameters_of_values(const YieldingPair<T, Tag>& pair) {
    const T ring = root_between(
        [&](const T& x) {
            const RingAnswer<T> r = ring_at(pair.ring, x);
            const T pressure = r.pressure * pair.ratio;
            const ShaftAnswer<T> s = shaft_at(pair.shaft, shaft_parameter(pair.shaft, pressure));
            const auto good = met(s.pressure - pressure) & !r.limit & !s.limit;
            return select(good, pair.apart(r, s), T(beyond));
        },
        T(0.0), T(2.0), 1e-17, beyond);
    return {ring, shaft_parameter(pair.shaft, ring_at(pair.ring, ring).pressure * pair.ratio)};
}

template <class T>
PlasticMetal<Value<T>, T> values_of(const PlasticMetal<T>& m) {
    return {value_of(m.yield), value_of(m.hardening), m.poisson, m.von_mises};
}
template <class T>
YieldingPair<Value<T>, T> values_of(const YieldingPair<T>& p) {
    return {{value_of(p.ring.bore), value_of(p.ring.outside), values_of(p.ring.metal)},
            {value_of(p.shaft.bore), value_of(p.shaft.seat), values_of(p.shaft.metal)},
            value_of(p.ratio),
            value_of(p.interference)};
}

template <class T>
Parameters<T> parameters_of(const YieldingPair<T>& pair) {
    const auto values = values_of(pair);
    const auto found = parameters_of_values(values);
    if constexpr (has_derivatives<T>) {
        // Slopes by the inputs, with the parameters held; and by the parameters, the inputs held.
        const Mismatch<T> by_inputs = mismatch(pair, T(found.ring), T(found.shaft));
        typename T::Directions first(0.0);
        typename T::Directions second(0.0);
        first.set_lane(0, 1.0);
        second.set_lane(1, 1.0);
        const auto constant = [](const PlasticMetal<double, T>& m) {
            return PlasticMetal<T>{T(m.yield), T(m.hardening), m.poisson, m.von_mises};
        };
        const YieldingPair<T> held{
            {T(values.ring.bore), T(values.ring.outside), constant(values.ring.metal)},
            {T(values.shaft.bore), T(values.shaft.seat), constant(values.shaft.metal)},
            T(values.ratio),
            T(values.interference)};
        const Mismatch<T> by_parameters =
            mismatch(held, T(found.ring, first), T(found.shaft, second));
        const double a = by_parameters.size.d.lane(0);
        const double b = by_parameters.size.d.lane(1);
        const double c = by_parameters.pressure.d.lane(0);
        const double e = by_parameters.pressure.d.lane(1);
        const double determinant = a * e - b * c;
        const double inverse = determinant == 0.0 ? 0.0 : 1.0 / determinant;
        const auto& f = by_inputs.size.d;
        const auto& g = by_inputs.pressure.d;
        return {T(found.ring, (g * b - f * e) * inverse),
                T(found.shaft, (f * c - g * a) * inverse)};
    } else {
        return found;
    }
}

template <class T>
PlasticMetal<T> plastic_metal(const T& modulus, const T& yield, const T& tangent,
                              const materials::Material& m, bool von_mises, Faults<T>& faults,
                              int rule) {
    faults.require(tangent <= modulus * 0.5, rule, tangent);
    return {yield / modulus, tangent / (modulus - tangent), m.poisson, von_mises};
}

template <class T>
void ElasticPlasticFit::run(const T* inputs, T* outputs, const fields::Context& context,
                            Faults<T>& faults) {
    const auto& in = *reinterpret_cast<const ElasticPlasticInputs<T>*>(inputs);
    auto& out = *reinterpret_cast<ElasticPlasticOutputs<T>*>(outputs);
    const materials::Material& ms = *context.materials[0];
    const materials::Material& mr = *context.materials[1];
    const bool von_mises_law = context.choices[0] == 0;
    const T measured = in.shaft.seat - in.ring.bore;
    const T interference = fields::given(in.interference, measured);
    faults.require((measured == T(0.0)) | (abs(interference - measured) <= T(1e-9)),
                   rules::interference_told_twice, interference);
    const Joint<T> j =
        joint_of(JointInputs<T>{in.shaft.bore, in.shaft.modulus_factor, in.shaft.expansion_factor,
                                in.shaft_temperature, in.shaft.seat, in.shaft.roughness,
                                interference, T(0.0), in.ring_temperature},
                 in.ring, ms, mr, JointPlaces{1, 2}, faults);
    faults.place = 2;
    const T contact = fields::given(in.ring.contact_length, in.ring.length);
    faults.require(contact <= in.ring.length, rules::contact_within_length, contact);
    faults.place = 0;
    faults.require(in.speed * in.ring.outside <= T(surface_speed_limit), rules::surface_speed,
                   in.speed);
    const T ring_yield = fields::given(in.ring_yield, materials::at(mr.yield, in.ring_temperature));
    const T shaft_yield =
        fields::given(in.shaft_yield, materials::at(ms.yield, in.shaft_temperature));
    const YieldingPair<T> pair{
        {j.ring.inner, j.ring.outer,
         plastic_metal(j.ring.modulus, ring_yield, in.ring_tangent_modulus, mr, von_mises_law,
                       faults, rules::ring_tangent_modulus_low)},
        {j.shaft.inner, j.shaft.outer,
         plastic_metal(j.shaft.modulus, shaft_yield, in.shaft_tangent_modulus, ms, von_mises_law,
                       faults, rules::shaft_tangent_modulus_low)},
        j.ring.modulus * j.shaft_compliance,
        positive(j.interference) / j.diameter};
    faults.kink(j.interference == T(0.0));
    const Parameters<T> at = parameters_of(pair);
    const RingAnswer<T> ring = ring_at(pair.ring, at.ring);
    const ShaftAnswer<T> shaft = shaft_at(pair.shaft, at.shaft);
    // Met, or the wall of one is yielding through: the ring's when it has no answer a little further.
    const auto solved = met(pair.apart(ring, shaft)) &
                        met(shaft.pressure - ring.pressure * pair.ratio) & !ring.limit &
                        !shaft.limit;
    const auto ring_ends = (at.ring > T(2.0 - 1e-9)) | ring_at(pair.ring, at.ring + 1e-9).limit;
    const auto shaft_holds = solved | ring_ends;
    faults.require(shaft_holds, rules::shaft_yields_through, interference);
    faults.require(solved, rules::ring_yields_through, interference);

    const T d = j.diameter;
    const T p = ring.pressure * j.ring.modulus;
    const T a2 = square(j.ring.inner);
    const T b2 = square(j.ring.outer);
    const T hoop_per_pressure = (b2 + a2) * j.ring_span;
    out.interference_left = j.interference;
    out.pressure = p;
    out.elastic_pressure = positive(j.interference) / j.flexibility;
    out.first_yield_pressure = smaller(pair.ring.edge(pair.ring.bore).pressure * j.ring.modulus,
                                       pair.shaft.first_pressure() * j.shaft.modulus);
    out.first_yield_interference = out.first_yield_pressure * j.flexibility;
    out.holding_force = in.ring.friction_low * p * d * contact * fields::pi;
    out.torque_capacity = out.holding_force * d * 0.5;
    out.plastic_diameter = ring.plastic_radius * 2.0;
    out.plastic_share = (square(ring.plastic_radius) - a2) * j.ring_span;
    out.ring_hoop = ring.hoop * j.ring.modulus;
    out.ring_plastic_strain = ring.plastic;
    out.shaft_plastic_strain = shaft.plastic;
    const T outside = j.ring.outer * 2.0;
    out.outside_growth = outside * (ring.outside_strain + j.ring_warm);

    // Speed, elastic on top.
    const T w2 = square(in.speed);
    const T per_square = own_face_growth(j.ring, j.ring_compliance, j.ring.inner, j.ring.outer) -
                         own_face_growth(j.shaft, j.shaft_compliance, j.shaft.outer, j.shaft.inner);
    const T left = p - w2 * per_square / j.flexibility;
    faults.kink(left == T(0.0));
    out.speed_pressure = positive(left);
    const Stresses<T> turning = rotation_stresses(j.ring, in.speed, at_inner_face(j.ring), false);
    const T strength = ring_yield + ring.plastic * pair.ring.metal.hardening * j.ring.modulus;
    const Stresses<T> at_speed{
        -out.speed_pressure,
        out.ring_hoop + (out.speed_pressure - p) * hoop_per_pressure + turning.hoop, T(0.0)};
    out.speed_yield_use = von_mises(at_speed) / strength;
    const auto loses = per_square > T(0.0);
    const T lost_at = root0(p * j.flexibility / select(loses, per_square, T(1.0)));
    out.loss_speed =
        smaller(select(loses, lost_at, select(p > T(0.0), T(never), T(0.0))), T(never));

    // Taken off.
    out.residual_hoop = out.ring_hoop - p * hoop_per_pressure;
    out.reverse_yield_use = abs(out.residual_hoop) / strength;
    const T bore_back = p * j.ring_compliance * (hoop_per_pressure + j.ring.poisson);
    const T outside_back = p * j.ring_compliance * 2.0 * a2 * j.ring_span;
    const T seat_back = p * j.shaft_compliance *
                        (square(j.shaft.outer) * j.shaft_span * 2.0 - (1.0 + j.shaft.poisson));
    const auto ring_yielded = at.ring > T(1.0);
    const auto shaft_yielded = at.shaft > T(1.0);
    const T none(0.0);
    out.permanent_bore_growth =
        select(ring_yielded, in.ring.bore * (ring.bore_strain - bore_back), none);
    out.permanent_outside_growth =
        select(ring_yielded, outside * (ring.outside_strain - outside_back), none);
    out.permanent_seat_loss = select(shaft_yielded, d * (shaft.shrink - seat_back), none);
    out.residual_hoop = select(ring_yielded, out.residual_hoop, none);
    out.reverse_yield_use = select(ring_yielded, out.reverse_yield_use, none);
    out.next_interference = j.interference - out.permanent_bore_growth - out.permanent_seat_loss;
}

} // namespace fitwright::rings
