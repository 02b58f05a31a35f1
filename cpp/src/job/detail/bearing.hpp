// The bearing's contribution to a job: mounted, at speed, in service.
#pragma once

#include "bearings/detail/equilibrium.hpp"
#include "bearings/detail/mounting.hpp"
#include "in_baseline.hpp"
#include "materials/range.hpp"
#include "views.hpp"

namespace fitwright::rules {
extern const number::Rule raceway_in_ring;
} // namespace fitwright::rules

namespace fitwright::job {

// The outer raceway's growth with the ring in its pocket, by fit and heat. Its shoulders are those of
// the bearing's groove.
template <class T>
T housed_growth(T* outputs, const Inputs<T>& job, int s, const T& outer_raceway,
                Faults<T>& faults) {
    const Layout& at = job.at;
    const Pocket<T>& pocket = job.pocket();
    const T& shaft = job.state(s).shaft_temperature;
    bearings::HousingFitInputs<T> in;
    in.outside = pocket.ring_outside;
    in.raceway = outer_raceway;
    in.shoulder = outer_raceway - job.bearing().outer_shoulder * job.bearing().ball_diameter * 2.0;
    in.temperature = shaft + job.lag(s, at.lag_of_outer_ring);
    in.modulus_factor = in.expansion_factor = T(1.0);
    in.housing.bore = pocket.seat_diameter;
    in.housing.outside = pocket.housing_outside;
    in.housing.temperature = shaft + job.lag(s, at.lag_of_pocket);
    in.housing.modulus_factor = pocket.housing_modulus_factor;
    in.housing.expansion_factor = pocket.housing_expansion_factor;
    const int here = s * Place::per_state;
    const auto found = bearings::housed(in, *at.outer_ring, *at.pocket, here + Place::outer_ring,
                                        here + Place::pocket, faults);
    *reinterpret_cast<PocketFitOutputs<T>*>(outputs + at.pocket_fit_out_at) = {
        found.interference, found.pressure, found.growth_spread};
    return found.outer_growth;
}

// What holds the outer ring: as told, or under the pressure of its fit.
template <class T>
T pocket_holding(const T* outputs, const Inputs<T>& job) {
    const Layout& at = job.at;
    if (!at.has_pocket)
        return T(0.0);
    bearings::HeldRing<T> held = reinterpret_cast<const bearings::HeldRing<T>&>(job.pocket());
    if (at.has_pocket_fit)
        held.pressure = reinterpret_cast<const PocketFitOutputs<T>*>(outputs + at.pocket_fit_out_at)
                            ->pocket_pressure;
    return bearings::holding_torque(held);
}

// What the inner ring's fit, the heat and the speed leave of the clearance, and the thrust on it.
template <class T>
void write_bearing(T* outputs, const Scene<T>& scene, const Inputs<T>& job, int s, const T& force,
                   const Assembly<T>& assembly, Faults<T>& faults) {
    const Layout& at = job.at;
    const State<T>& state = job.state(s);
    const bearings::Bearing<T>& bearing = job.bearing();
    auto& out = *reinterpret_cast<BearingOutputs<T>*>(outputs + at.bearing_out_at);
    const T raceway = bearings::inner_raceway(bearing);
    T growth(0.0);
    T spread(0.0);
    const int inner_rings = at.inner_last - at.inner_first + 1;
    for (int i = at.inner_first; i <= at.inner_last; ++i) {
        faults.place = s * Place::per_state + Place::bearing;
        const rings::Joint<T>& j = scene.members[job.at.first_member[i]].joint;
        faults.require((raceway > j.diameter) & (raceway < job.ring(i).outside),
                       rules::raceway_in_ring, raceway);
        const T ring_force =
            force + stack::thrust_on(i, state.thrust, at.inner_first, at.inner_last);
        const auto g = rings::raceway_growth(j, ring_force, force, raceway, state.speed);
        growth += g.mean * (1.0 / inner_rings);
        spread += g.spread * (1.0 / inner_rings);
    }
    const T outer = state.shaft_temperature + job.lag(s, at.lag_of_outer_ring);
    const T balls = state.shaft_temperature + job.lag(s, at.lag_of_balls);
    materials::require_in_range(*at.outer_ring, outer, faults);
    materials::require_in_range(*at.balls, balls, faults);
    const T outer_raceway = raceway + bearing.ball_diameter * 2.0 + bearing.clearance;
    const T outer_growth =
        at.has_pocket_fit
            ? housed_growth(outputs, job, s, outer_raceway, faults)
            : T(outer_raceway * materials::free_growth(*at.outer_ring, T(1.0), outer));
    faults.place = s * Place::per_state + Place::bearing;
    const T ball_growth =
        bearing.ball_diameter * materials::free_growth(*at.balls, bearing.expansion_factor, balls);
    reinterpret_cast<bearings::MountedOutputs<T>&>(out) = bearings::mounted_state(
        bearing, assembly.contacts, growth, outer_growth, ball_growth, abs(state.thrust), faults);
    out.raceway_growth = growth;
    out.raceway_growth_spread = spread;
    out.outer_growth = outer_growth;
    out.balls_growth = ball_growth * 2.0;
}

inline bearings::ServiceChoices service_choices(const Layout& at) {
    return {{static_cast<bearings::BearingKind>(at.bearing_kind), bearings::Arrangement::tandem,
             static_cast<bearings::Grooves>(at.grooves)},
            static_cast<bearings::Lubrication>(at.lubrication),
            static_cast<bearings::Cleanliness>(at.cleanliness),
            bearings::TurningRing::inner};
}

// The ratings, which no state changes.
template <class T>
void rate_bearing(Assembly<T>& assembly, const Inputs<T>& job, Faults<T>& faults) {
    const bearings::Bearing<T>& b = job.bearing();
    faults.place = Place::service;
    const T& distance = assembly.contacts.groove_distance;
    const T half = b.clearance * 0.5;
    const T free =
        atan(root0(half * (distance * 2.0 - half)) / larger(distance - half, distance * 1e-9));
    const bearings::BallRow<T> row{b.balls,
                                   b.ball_diameter,
                                   b.pitch_diameter,
                                   b.inner_curvature,
                                   b.outer_curvature,
                                   fields::given(job.service().contact_angle, free),
                                   T(1.0)};
    assembly.rated = bearings::service_bearing(row, job.ratings(), service_choices(job.at), faults);
}

// The first leaves of a declared struct into the flat array.
template <class T, class Part>
FITWRIGHT_INLINE void copy_leaves(T* to, const Part& part, int count) {
    const T* from = reinterpret_cast<const T*>(&part);
    for (int i = 0; i < count; ++i)
        to[i] = from[i];
}

// The bearing of a state as its balls see it. Without loads told there is thrust alone.
template <class T>
bearings::LoadedBearing<T> loaded_bearing(const Inputs<T>& job, int s,
                                          const bearings::BearingContacts<T>& contacts,
                                          const T& clearance) {
    bearings::LoadedBearing<T> loaded{job.bearing(),      contacts, clearance,
                                      job.state(s).speed, T(1.0),   {}};
    loaded.loads[0] = job.state(s).thrust;
    const T* told = job.at.has_combined ? &job.loads(s).radial_load : nullptr;
    for (int i = 1; i < bearings::ring_freedoms; ++i)
        loaded.loads[i] = told != nullptr ? told[i - 1] : T(0.0);
    return loaded;
}

// The loads that life and safety go by: all balls alike, or those that cost the same life.
template <class T>
struct CarriedLoads {
    T radial, inner, outer;
};
template <class T>
CarriedLoads<T> write_combined(T* outputs, const Inputs<T>& job, int s, const T& clearance,
                               const Assembly<T>& assembly, Faults<T>& faults) {
    const Layout& at = job.at;
    const auto loaded = loaded_bearing(job, s, assembly.contacts, clearance);
    auto& out = *reinterpret_cast<bearings::EquilibriumOutputs<T>*>(outputs + at.combined_out_at);
    in_baseline(at.combined, reinterpret_cast<const T*>(&loaded), outputs + at.combined_out_at,
                Inputs<T>::template size<bearings::EquilibriumOutputs>(),
                fields::Context{nullptr, nullptr, &at}, s * Place::per_state + Place::bearing,
                faults);
    // As in thrust alone: without thrust no half is asked for.
    out.arch_gap = select(abs(loaded.loads[0]) > T(0.0), out.arch_gap,
                          (job.bearing().inner_curvature - 0.5) * job.bearing().ball_diameter);
    return {norm2(loaded.loads[1], loaded.loads[2]), out.inner_equivalent_load,
            out.outer_equivalent_load};
}

// Life, film and creep.
template <class T>
void write_service(T* outputs, const bearings::RunningOutputs<T>& running,
                   const CarriedLoads<T>& loads, const Inputs<T>& job, int s, Assembly<T>& assembly,
                   Faults<T>& faults) {
    const Layout& at = job.at;
    const State<T>& state = job.state(s);
    const StateService<T>& here = job.state_service(s);
    const Service<T>& told = job.service();
    // Grip of its own rings at the low end of friction, and the faces under the least clamp.
    T held(0.0);
    for (int i = at.inner_first; i <= at.inner_last; ++i)
        held += reinterpret_cast<const RingOutputs<T>*>(outputs + at.rings_out_at +
                                                        i * Inputs<T>::template size<RingOutputs>())
                    ->torque_capacity;
    const auto& nut = *reinterpret_cast<const stack::NutOutputs<T>*>(outputs + at.nut_out_at);
    const auto& shoulder =
        *reinterpret_cast<const stack::ShoulderOutputs<T>*>(outputs + at.shoulder_at);
    const T least = smaller(nut.force_low, shoulder.clamp_low);
    const T faces = fields::given(told.held_faces, T(static_cast<double>(at.inner_faces_held)));
    held +=
        told.face_friction * least * faces * job.seat(at.ring_seat[at.inner_first]).diameter * 0.5;

    const T oil = fields::given(here.oil_temperature,
                                T(state.shaft_temperature + job.lag(s, at.lag_of_balls)));
    const bearings::ServiceState<T> service{state.speed,
                                            oil,
                                            loads.radial,
                                            abs(state.thrust),
                                            &loads.inner,
                                            &loads.outer,
                                            1,
                                            abs(running.inner_angle),
                                            abs(running.outer_angle),
                                            held,
                                            pocket_holding(outputs, job)};
    bearings::ServiceOutputs<T> out;
    bearings::write_figures(out, assembly.rated, job.ratings(), job.oil(), service,
                            service_choices(at), Place::service,
                            s * Place::per_state + Place::bearing, faults);
    copy_leaves(outputs + at.service_out_at, out, Inputs<T>::template size<ServiceOutputs>());
    if (at.has_pocket)
        outputs[at.pocket_out_at] = out.outer_margin;
    assembly.duty.add(here.share, state.speed, out.modified_life);
}

// The balls at speed, what a probe at the casing hears of them, and the service. On enclosures
// nothing is told of these (job/detail/enclosed.hpp).
template <class T>
void write_running(T* outputs, const Inputs<T>& job, int s, Assembly<T>& assembly,
                   Faults<T>& faults) {
    const Layout& at = job.at;
    const State<T>& state = job.state(s);
    auto& out = *reinterpret_cast<BearingOutputs<T>*>(outputs + at.bearing_out_at);
    faults.place = s * Place::per_state + Place::bearing;
    bearings::RunningOutputs<T> running =
        bearings::running_state(job.bearing(), assembly.contacts, *at.balls, out.clearance,
                                state.thrust, state.speed, T(1.0), faults);
    // Without thrust nothing keeps the balls on one half, and nothing need: as a ring that is whole.
    running.arch_gap = select(abs(state.thrust) > T(0.0), running.arch_gap,
                              (job.bearing().inner_curvature - 0.5) * job.bearing().ball_diameter);
    copy_leaves(outputs + at.running_out_at, running,
                Inputs<T>::template size<bearings::RunningOutputs>());
    const T turns = state.speed * (0.5 / fields::pi);
    out.inner_pass_ratio = job.bearing().balls * (1.0 - running.cage_ratio);
    out.outer_pass_ratio = job.bearing().balls * running.cage_ratio;
    out.cage = running.cage_ratio * turns;
    out.ball_spin = running.ball_ratio * turns;
    out.inner_pass = out.inner_pass_ratio * turns;
    out.outer_pass = out.outer_pass_ratio * turns;
    CarriedLoads<T> loads{T(0.0), running.inner_load, running.outer_load};
    if (at.has_combined)
        loads = write_combined(outputs, job, s, out.clearance, assembly, faults);
    if (at.has_service)
        write_service(outputs, running, loads, job, s, assembly, faults);
}

template <class T>
void write_duty(T* outputs, const Layout& at, const Assembly<T>& assembly) {
    *reinterpret_cast<DutyOutputs<T>*>(outputs + at.duty_at) = {assembly.duty.life(),
                                                                assembly.duty.time()};
}

} // namespace fitwright::job
