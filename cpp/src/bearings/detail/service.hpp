// Ratings, life, creep and frequencies of one bearing put together for a job: what does not change
// from state to state once (`service_bearing`), the rest state by state (`service_state`), from the
// ball loads of any equilibrium as plain arrays.
#pragma once

#include "creep.hpp"
#include "dynamic_rating.hpp"
#include "frequencies.hpp"
#include "modified_life.hpp"
#include "reference_life.hpp"
#include <fitwright/bearings/service.hpp>

namespace fitwright::bearings {

struct ServiceChoices {
    RowChoices row;
    Lubrication lubrication;
    Cleanliness cleanliness;
    TurningRing turning;

    FITWRIGHT_INLINE DraggedBearing dragged() const {
        return row.kind == BearingKind::thrust ? DraggedBearing::thrust_ball
                                               : DraggedBearing::angular_contact;
    }
    FITWRIGHT_INLINE OilSupply supply() const {
        return lubrication == Lubrication::grease     ? OilSupply::grease
               : lubrication == Lubrication::oil_bath ? OilSupply::oil_bath
                                                      : OilSupply::oil_jet;
    }
};

template <class T>
struct ServiceBearing {
    RatedRow<T> row;
    T dynamic_rating, static_rating, fatigue_limit;
    RaceRatings<T> races;
};
template <class T>
ServiceBearing<T> service_bearing(const BallRow<T>& given_row, const Service<T>& service,
                                  const ServiceChoices& c, Faults<T>& faults) {
    ServiceBearing<T> b;
    b.row = rated_row(given_row, c.row, faults);
    const auto pressures = rated_pressures(b.row, c.row, faults);
    const auto capacity = ball_capacity(b.row, c.row);
    b.dynamic_rating =
        fields::given(service.dynamic_rating, T(capacity.dynamic * service.make_factor));
    b.static_rating =
        fields::given(service.static_rating, static_rating_of(b.row, c.row.kind, pressures));
    b.fatigue_limit =
        fields::given(service.fatigue_limit, fatigue_limit_of(b.row, c.row.kind, pressures));
    b.races = race_ratings(b.row, c.row.kind, capacity.ratio, b.dynamic_rating);
    return b;
}

// A bearing that stands asks for no film and no load.
inline constexpr double film_at_rest = 4.0;
inline constexpr double nothing_asked = 1e9; // N
// Least load of a ball bearing that turns, over C: a maker's public page on requisite minimum loads.
inline constexpr double least_share_of_rating = 0.01;

// One state. Loads are those of the balls, `count` entries; all balls alike need one. Angles and
// loads are sizes, without the sign of the thrust.
template <class T>
struct ServiceState {
    T speed, oil_temperature, radial_load, axial_load;
    const T* inner_load;
    const T* outer_load;
    int count;
    T inner_angle, outer_angle;
    T inner_holding, outer_holding; // torques: holding_torque(HeldRing)
};
// All but the frequencies. `oil_place` and `place` are the places that faults of oil and state speak
// of.
template <class T>
void write_figures(ServiceOutputs<T>& out, const ServiceBearing<T>& b, const Service<T>& service,
                   const Lubricant<T>& lubricant, const ServiceState<T>& s, const ServiceChoices& c,
                   int oil_place, int place, Faults<T>& faults) {
    faults.place = oil_place;
    const T viscosity = oil_viscosity(lubricant, s.oil_temperature, faults);
    faults.place = place;
    const T pitch = b.row.pitch * 1e-3;

    const auto x0 = static_factors(b.row, c.row);
    const T combined = x0.radial * s.radial_load + x0.axial * s.axial_load;
    out.equivalent_static_load =
        c.row.kind == BearingKind::radial ? larger(combined, s.radial_load) : combined;
    out.static_safety = safety_of(b.static_rating, out.equivalent_static_load);

    const auto lives =
        race_lives(s.inner_load, s.outer_load, s.count, b.races, b.row.rows, c.turning);
    out.reference_life = lives.both;
    out.reference_load = reference_load(b.dynamic_rating, lives.both);
    out.load_ratio = out.reference_load / b.dynamic_rating;

    // Past e or not; a thrust bearing that its thrust does not hold together is told so elsewhere.
    const auto factors_of_load = c.row.kind == BearingKind::radial
                                     ? radial_factors(b.row, s.axial_load, c.row.arrangement)
                                     : thrust_factors(b.row);
    out.equivalent_load = equivalent(factors_of_load, s.radial_load, s.axial_load, faults).load;
    out.least_load_margin =
        select(s.speed > T(0.0), out.equivalent_load - b.dynamic_rating * least_share_of_rating,
               T(nothing_asked));

    const auto bearing =
        c.row.kind == BearingKind::radial ? RatedBearing::radial_ball : RatedBearing::thrust_ball;
    const auto oil = oil_figures(bearing, contamination_of(c.lubrication, c.cleanliness), viscosity,
                                 service.contamination_factor, s.speed, pitch, b.fatigue_limit,
                                 out.reference_load, faults);
    out.viscosity_ratio = select(s.speed > T(0.0), oil.viscosity_ratio, T(film_at_rest));
    out.contamination_factor = oil.contamination_factor;
    out.modification_factor = oil.modification_factor;
    out.modified_life =
        lives.both * oil.modification_factor *
        reliability_factor(service.reliability, weibull_of(ReliabilityLaw::iso_281));
    out.running_time = running_time(out.modified_life, s.speed);

    const auto factors = friction_factors(c.dragged(), c.supply());
    const T by_load = power(T(out.equivalent_static_load / b.static_rating), factors.y) * factors.z;
    const T healthy = viscous_torque(fields::given(service.viscous_factor, T(factors.viscous)),
                                     viscosity, s.speed, pitch) +
                      fields::given(service.load_factor, by_load) * pitch *
                          dragging_load(c.dragged(), s.inner_angle, s.radial_load, s.axial_load);
    out.friction_torque = fields::given(service.failing_torque, healthy);
    out.inner_margin = s.inner_holding - out.friction_torque;
    out.outer_margin = s.outer_holding - out.friction_torque;
}
template <class T>
ServiceOutputs<T> service_state(const ServiceBearing<T>& b, const Service<T>& service,
                                const Lubricant<T>& lubricant, const ServiceState<T>& s,
                                const ServiceChoices& c, int oil_place, int place,
                                Faults<T>& faults) {
    ServiceOutputs<T> out;
    write_figures(out, b, service, lubricant, s, c, oil_place, place, faults);

    const auto k = ball_kinematics(T(b.row.diameter / b.row.pitch), s.inner_angle, s.outer_angle,
                                   RaceControl::outer);
    const T turns = s.speed * (0.5 / fields::pi);
    const bool inner_turns = c.turning == TurningRing::inner;
    out.cage = (inner_turns ? k.outer_relative : k.inner_relative) * turns;
    out.ball_spin = k.ball_spin * turns;
    out.inner_pass = b.row.balls * k.inner_relative * turns;
    out.outer_pass = b.row.balls * k.outer_relative * turns;
    return out;
}

template <class T>
void ServiceModel::run(const T* inputs, T* outputs, const fields::Context& context,
                       Faults<T>& faults) {
    const auto& in = *reinterpret_cast<const ServiceInputs<T>*>(inputs);
    const ServiceChoices c{row_choices(context.choices),
                           static_cast<Lubrication>(context.choices[3]),
                           static_cast<Cleanliness>(context.choices[4]), TurningRing::inner};
    faults.place = 1;
    const auto b = service_bearing(in.row, in.service, c, faults);
    const T outer_load = fields::given(in.outer_load, in.inner_load);
    const T inner_angle = fields::given(in.inner_angle, b.row.angle);
    const ServiceState<T> state{in.speed,
                                in.oil_temperature,
                                in.radial_load,
                                in.axial_load,
                                &in.inner_load,
                                &outer_load,
                                1,
                                inner_angle,
                                fields::given(in.outer_angle, inner_angle),
                                in.inner_holding,
                                in.outer_holding};
    *reinterpret_cast<ServiceOutputs<T>*>(outputs) =
        service_state(b, in.service, in.oil, state, c, 3, 2, faults);
}

} // namespace fitwright::bearings
