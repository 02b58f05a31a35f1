// The whole job at quick level. It composes: rooms are called in a fixed order, and only four
// things pass between them: seat pressure, surface growth, axial force, temperature.
#pragma once

#include "attached.hpp"
#include "bearing.hpp"
#include "heat/detail/oven.hpp"
#include "job/detail/assembly.hpp"
#include "job/detail/nut_parts.hpp"
#include "job/detail/square.hpp"
#include "materials/range.hpp"
#include "rings/detail/seal.hpp"
#include "slices.hpp"

namespace fitwright::rules {
extern const number::Rule outside_above_bore, seal_needs_hollow_shaft, seal_surface_at_face;
} // namespace fitwright::rules

namespace fitwright::job {

using namespace number;

struct Quick {
    template <class T>
    static void run(const T* inputs, T* outputs, const fields::Context&, Faults<T>&);
};

// Temperatures and fits of a state, and the loop of forces they make.
template <class T>
void set_scene(Scene<T>& scene, const Inputs<T>& job, int s, const Assembly<T>& assembly,
               Faults<T>& faults) {
    const Layout& at = job.at;
    const State<T>& state = job.state(s);
    const Rotor<T>& rotor = job.rotor();
    const int here = s * Place::per_state;
    T previous_roughness = rotor.shoulder_roughness;
    for (int k = 0; k < at.members; ++k) {
        const int i = at.member_ring[k];
        const bool is_slice = at.member_slice[k] >= 0;
        const Ring<T>& ring = job.ring(i);
        const Seat<T>& seat = job.seat(at.ring_seat[i]);
        stack::Member<T>& m = scene.members[k];
        rings::Ring<T> cut;
        const rings::Ring<T>& fit_ring = is_slice ? cut = ring_of_slice(job, k) : job.fit_ring(i);
        m.joint = rings::joint_of(
            rings::JointInputs<T>{rotor.bore, rotor.modulus_factor, rotor.expansion_factor,
                                  state.shaft_temperature, seat.diameter, seat.roughness,
                                  seat.diameter - ring.bore, state.speed,
                                  state.shaft_temperature + job.lag(s, i)},
            fit_ring, *at.shaft, *at.ring_materials[i],
            rings::JointPlaces{here + Place::rotor,
                               here + (is_slice ? Place::slice + k : Place::ring + i)},
            faults);
        m.length = fit_ring.length;
        m.contact_length = fields::given(fit_ring.contact_length, fit_ring.length);
        m.overhang_length = is_slice ? whole_contact(job, i) : m.contact_length;
        m.friction = ring.friction;
        m.friction_low = ring.friction_low;
        m.friction_high = ring.friction_high;
        m.overhang = ring.overhang;
        m.overhang_low = ring.overhang_low;
        m.overhang_high = ring.overhang_high;
        m.press = k + 1 == at.first_member[i + 1] ? assembly.press[i] : T(0.0);
        m.has_face = k == at.first_member[i];
        if (!m.has_face) { // the same piece of metal goes on
            m.face_softness = m.settling = T(0.0);
            continue;
        }
        m.face_softness = stack::face_softness(ring.face_roughness, previous_roughness);
        m.settling = ring.settling;
        previous_roughness = ring.face_roughness;
    }

    stack::Washer<T>& washer = scene.washer;
    scene.washer_softness = T(0.0);
    if (at.has_lock) {
        const stack::Lock<T>& lock = job.lock();
        faults.place = here + Place::lock;
        faults.require(lock.outside > lock.bore, rules::outside_above_bore, lock.outside);
        const T t = state.shaft_temperature + job.lag(s, at.lag_of_lock);
        washer.section = {lock.bore * 0.5, lock.outside * 0.5,
                          materials::modulus_at(*at.lock, lock.modulus_factor, t, faults),
                          at.lock->poisson, at.lock->density};
        washer.thickness = lock.thickness;
        washer.warm = materials::free_growth(*at.lock, lock.expansion_factor, t);
        scene.washer_softness = stack::face_softness(lock.face_roughness, previous_roughness);
        previous_roughness = lock.face_roughness;
    }

    if (at.has_shoulder) {
        faults.place = here + Place::shoulder;
        const rings::Joint<T>& first = scene.members[0].joint;
        scene.shoulder = stack::shoulder_gives(
            job.shoulder(),
            stack::ShoulderBeside<T>{job.seat(at.ring_seat[0]).diameter, rotor.bore,
                                     first.ring.outer * 2.0, whole_length(job, 0),
                                     first.shaft.modulus, first.ring.modulus, at.shaft->poisson},
            faults);
    }

    const Nut<T>& nut = job.nut();
    faults.place = here + Place::nut;
    const T nut_temperature = state.shaft_temperature + job.lag(s, at.lag_of_nut);
    const T nut_modulus =
        materials::modulus_at(*at.nut, nut.modulus_factor, nut_temperature, faults);
    scene.nut_warm = materials::free_growth(*at.nut, nut.expansion_factor, nut_temperature);
    scene.shaft_warm =
        materials::free_growth(*at.shaft, rotor.expansion_factor, state.shaft_temperature);
    const T shaft_modulus =
        materials::at(at.shaft->modulus, state.shaft_temperature) * rotor.modulus_factor;
    scene.body = stack::nut_body(job.thread(), assembly.thread, rotor.bore, nut_modulus,
                                 shaft_modulus, *at.nut, *at.shaft);
    scene.nut_softness = stack::face_softness(nut.face_roughness, previous_roughness);
    stack::make_loop(scene.loop, scene.members, at.members,
                     stack::LoopParts<T>{at.has_lock ? &washer : nullptr, scene.washer_softness,
                                         scene.nut_softness, scene.body, nut.height, scene.nut_warm,
                                         state.speed, assembly.tightened.preload, state.thrust,
                                         at.has_bearing ? at.first_member[at.inner_first] : -1,
                                         at.has_bearing ? at.first_member[at.inner_last] : -1,
                                         at.has_shoulder ? &scene.shoulder.compliance : nullptr});
}

template <class T>
void write_rings(T* outputs, const Scene<T>& scene, const Inputs<T>& job, int s, const T& force,
                 const T& most, Assembly<T>& assembly, Faults<T>& faults) {
    const Layout& at = job.at;
    const State<T>& state = job.state(s);
    for (int i = 0; i < at.rings; ++i) {
        faults.place = s * Place::per_state + Place::ring + i;
        auto& out = *reinterpret_cast<RingOutputs<T>*>(outputs + at.rings_out_at +
                                                       i * Inputs<T>::template size<RingOutputs>());
        const T temperature = state.shaft_temperature + job.lag(s, i);
        const T thrust = stack::thrust_on(i, state.thrust, at.inner_first, at.inner_last);
        const stack::Member<T>& m = scene.members[at.first_member[i]];
        auto& fit = reinterpret_cast<rings::FitOutputs<T>&>(out);
        rings::Raised<T> high;
        if (at.has_slices(i)) {
            fit = sliced_fit(outputs, scene.members, job, s, i, force + thrust, force, most, high,
                             faults);
        } else {
            fit = rings::fit_outputs(m.joint, job.fit_ring(i), force + thrust, force, state.speed,
                                     *at.shaft, *at.ring_materials[i], state.shaft_temperature,
                                     temperature, faults);
            high = raised_most(m, fit, most, *at.ring_materials[i], temperature);
        }
        if (s == 0)
            assembly.built_pressure[i] = out.pressure;
        const T& built = assembly.built_pressure[i];
        const auto gripped = built > T(0.0);
        out.grip_left = select(gripped, out.pressure / select(gripped, built, T(1.0)), T(0.0));
        out.heat_margin = out.loss_temperature - temperature;
        const T excess = end_effect_of(scene.members, at.first_member[i], at.first_member[i + 1]);
        out.end_effect = m.overhang * excess + 1.0;
        out.end_effect_high = m.overhang_high * excess + 1.0;
        out.ring_hoop_high = high.hoop;
        out.ring_yield_use_high = high.yield_use;
        const T reach = m.overhang_length / (m.joint.diameter * rings::shortest_overhang);
        out.end_effect_reach = select(m.overhang_high > T(0.0), reach, larger(reach, T(1.0)));
    }
}

// After the rings. `outputs`: of the state.
template <class T>
void write_torques(T* outputs, const Inputs<T>& job, int s) {
    const Layout& at = job.at;
    for (int k = 0; k < at.torques; ++k) {
        const auto& ring = *reinterpret_cast<const RingOutputs<T>*>(
            outputs + at.rings_out_at +
            at.torque_ring[k] * Inputs<T>::template size<RingOutputs>());
        auto& out = *reinterpret_cast<RingTorqueOutputs<T>*>(
            outputs + at.torques_out_at + k * Inputs<T>::template size<RingTorqueOutputs>());
        out.torque_margin = ring.torque_capacity - job.torque(s, k);
    }
}

// Seals take the growth of their ring, or of the shaft under it, as the fit found it.
template <class T>
void write_seals(T* outputs, const Inputs<T>& job, int s, Assembly<T>& assembly,
                 Faults<T>& faults) {
    const Layout& at = job.at;
    for (int i = 0; i < at.seals; ++i) {
        const Seal<T>& seal = job.seal(i);
        const int r = at.seal_ring[i];
        const auto& ring = *reinterpret_cast<const RingOutputs<T>*>(
            outputs + at.rings_out_at + r * Inputs<T>::template size<RingOutputs>());
        const bool at_bore = at.seal_at_bore[i];
        const T face = at_bore ? job.rotor().bore : greatest_outside(job, r);
        const materials::Material& metal = *at.seal_materials[i];
        const T temperature = job.state(s).shaft_temperature + job.lag(s, at.lag_of_seals + i);
        rings::require_in_data(temperature, metal, s * Place::per_state + Place::seal + i, faults);
        if (at_bore)
            faults.require(face > T(0.0), rules::seal_needs_hollow_shaft, face);
        const T surface = fields::given(seal.surface, face);
        faults.require(abs(surface - face) <= face * 0.1, rules::seal_surface_at_face, surface);
        auto& out = *reinterpret_cast<SealOutputs<T>*>(outputs + at.seals_out_at +
                                                       i * Inputs<T>::template size<SealOutputs>());
        const auto some = face > T(0.0);
        out.rotor_growth = (at_bore ? ring.shaft_bore_growth : ring.outside_growth) *
                           select(some, surface / select(some, face, T(1.0)), T(1.0));
        out.stator_growth =
            seal.stator * materials::free_growth(metal, seal.expansion_factor, temperature);
        const double inward = at_bore ? -1.0 : 1.0;
        out.clearance = (seal.stator - surface + out.stator_growth - out.rotor_growth) * inward;
        if (s == 0)
            assembly.built_clearance[i] = out.clearance;
        out.closing = assembly.built_clearance[i] - out.clearance;
        out.least_radial = out.clearance * 0.5 - seal.offset;
        out.touch_margin = out.least_radial - seal.touch_clearance;
    }
}

inline threads::NutKind nut_kind(const Layout& at) {
    return {threads::right, at.thread_form, at.thread_face_law};
}

// What the rings are pressed and the nut is tightened with, over the ends of friction and torque, and over
// the steps that tell a force or a torque of their own.
template <class T>
void tightened_by(Assembly<T>& assembly, const Inputs<T>& job) {
    const Layout& at = job.at;
    threads::Tightening<T>& tightened = assembly.tightened;
    for (int i = 0; i < at.rings; ++i)
        assembly.press[i] = T(0.0);
    const T& torque = job.nut().torque;
    T last = torque;
    T most = torque;
    int on = -1; // last ring that went on
    for (int k = 0; k < at.steps; ++k) {
        const Step<T>& step =
            job.template part<Step>(at.steps_at + k * Inputs<T>::template size<Step>());
        const auto kind = static_cast<stack::StepKind>(at.step_kind[k]);
        if (kind == stack::StepKind::slip_on && at.step_last[k] < at.rings)
            on = at.step_last[k];
        if (kind == stack::StepKind::press && on >= 0)
            assembly.press[on] =
                larger(assembly.press[on], fields::given(step.force, job.ring(on).press));
        if (kind == stack::StepKind::tighten) {
            last = fields::given(step.torque, torque);
            most = larger(most, last);
        }
    }
    const T low =
        smaller(last, torque) * (fields::given(job.nut().torque_low, torque) / square(torque));
    const T high = most * (fields::given(job.nut().torque_high, torque) / square(torque));
    tightened.preload_low *= low;
    tightened.preload_high *= high;
    tightened.yield_use_high *= high;
    assembly.greatest_torque = high * torque;
    stack::TightenedBy<T>& by = assembly.by;
    by = {tightened.preload, tightened.preload_low, tightened.preload_high, T(0.0), T(0.0), T(0.0)};
    const auto settles = [&by](const auto& part) {
        by.settling += part.settling;
        by.settling_low += fields::given(part.settling_low, part.settling);
        by.settling_high += fields::given(part.settling_high, part.settling);
    };
    settles(job.nut());
    for (int i = 0; i < at.rings; ++i)
        settles(job.ring(i));
    if (at.has_lock)
        settles(job.lock());
}

// What holds for every state.
template <class T>
Assembly<T> assemble(const Inputs<T>& job, Faults<T>& faults) {
    const Layout& at = job.at;
    const Rotor<T>& rotor = job.rotor();
    Assembly<T> assembly;
    faults.place = Place::nut;
    const threads::NutKind kind = nut_kind(at);
    assembly.thread = threads::thread_geometry(job.thread(), rotor.bore, faults, kind);
    assembly.tightened =
        threads::tightening(job.thread(), rotor.bore, job.nut().torque, true, *at.shaft,
                            job.state(0).shaft_temperature, faults, kind);
    tightened_by(assembly, job);
    if (at.has_bearing) {
        faults.place = Place::bearing;
        assembly.contacts = bearings::contact_constants(
            job.bearing(), *at.balls, *at.ring_materials[at.inner_first],
            job.ring(at.inner_first).modulus_factor, faults);
        if (at.has_service)
            rate_bearing(assembly, job, faults);
    }
    return assembly;
}

template <class T>
void Quick::run(const T* inputs, T* outputs, const fields::Context& context, Faults<T>& faults) {
    const Layout& at = *static_cast<const Layout*>(context.layout);
    const Inputs<T> job{inputs, at};
    const Rotor<T>& rotor = job.rotor();
    const State<T>& built = job.state(0);
    Assembly<T> assembly = assemble(job, faults);

    Scene<T> scene;
    for (int s = 0; s < at.states; ++s) {
        const State<T>& state = job.state(s);
        T* out = outputs + s * at.outputs_per_state;
        set_scene(scene, job, s, assembly, faults);
        const T opening =
            stack::nut_opening(scene.body, state.speed, scene.nut_warm, scene.shaft_warm);
        faults.place = s * Place::per_state + Place::nut;
        T force = assembly.by.nominal;
        T force_low = assembly.by.low;
        T force_high = assembly.by.high;
        auto& shoulder = *reinterpret_cast<stack::ShoulderOutputs<T>*>(out + at.shoulder_at);
        if (s == 0) {
            assembly.first = stack::first_tightening(scene.loop, scene.members, assembly.by);
            assembly.built_opening = opening;
            shoulder = assembly.first.shoulder;
        } else {
            const auto later = stack::later_state(
                scene.loop, assembly.first, assembly.by,
                scene.loop.gained - opening + assembly.built_opening, state.thrust,
                at.has_bearing ? at.first_member[at.inner_last] : 0, faults);
            shoulder = later.shoulder;
            force = later.nut;
            force_low = later.nut_low;
            force_high = later.nut_high;
        }
        const auto capacity = stack::grip_capacity(scene.loop, scene.members, force);

        auto& nut = *reinterpret_cast<stack::NutOutputs<T>*>(out + at.nut_out_at);
        nut.force = force;
        nut.force_low = force_low;
        nut.force_lost = 1.0 - force / assembly.tightened.preload;
        // The twist of tightening is taken to stay: the greater stress.
        T tension, torsion;
        nut.von_mises =
            threads::thread_von_mises(assembly.thread, rotor.bore, force_high,
                                      assembly.tightened.thread_torque, tension, torsion);
        nut.yield_use = nut.von_mises / materials::at(at.shaft->yield, state.shaft_temperature);
        nut.face_pressure = assembly.tightened.face_pressure * (force / assembly.tightened.preload);

        write_strength(*reinterpret_cast<NutStrength<T>*>(out + at.strength_at), job, s,
                       assembly.thread, force_high, faults);
        if (at.has_square)
            write_square(out + at.square_at, scene.members, at.has_lock ? &scene.washer : nullptr,
                         job, force_low);

        auto& stacked = *reinterpret_cast<stack::StackOutputs<T>*>(out + at.stack_at);
        stacked.grip_capacity = capacity.nominal;
        stacked.grip_capacity_high = capacity.high;
        stacked.grip_over_nut = capacity.nominal / force;
        stacked.compliance = stack::joint_compliance(scene.loop, force);
        if (s == 0)
            assembly.built_compliance = stacked.compliance;
        if (s == 0 && at.has_shoulder)
            *reinterpret_cast<stack::ShoulderGive<T>*>(outputs + at.give_at) = {
                scene.shoulder.compliance, scene.shoulder.compliance * assembly.by.nominal,
                scene.shoulder.reach};

        write_rings(out, scene, job, s, force,
                    larger(force_high + positive(state.thrust), shoulder.clamp_high), assembly,
                    faults);
        write_torques(out, job, s);
        write_seals(out, job, s, assembly, faults);
        if (at.has_bearing) {
            write_bearing(out, scene, job, s, force, assembly, faults);
            write_running(out, job, s, assembly, faults);
        }
        if (at.has_plate)
            write_attached(outputs, out + at.attached[0].outputs_at, 0, job, s, assembly, faults);
        if (at.rotation > 0)
            write_drive(out, job, s, assembly.thread, force_low, faults);
    }

    auto& tightened = *reinterpret_cast<Tightened<T>*>(outputs + at.tightened_at);
    tightened.preload = assembly.tightened.preload;
    tightened.preload_low = assembly.tightened.preload_low;
    tightened.preload_high = assembly.tightened.preload_high;
    tightened.loosening_torque = assembly.tightened.loosening_torque;
    tightened.stress_area = assembly.tightened.stress_area;
    tightened.tightening_yield_use = assembly.tightened.yield_use_high;
    faults.place = Place::nut;
    if (at.has_torque_window)
        write_torque_held(outputs, job);
    if (at.meetings_per_turn > 0)
        write_lock(outputs, job, assembly.thread, assembly.built_compliance, faults);
    if (at.has_service)
        write_duty(outputs, at, assembly);
    const T shaft_growth =
        materials::free_growth(*at.shaft, rotor.expansion_factor, built.shaft_temperature);
    for (int i = 0; i < at.rings; ++i) {
        faults.place = Place::ring + i;
        const Ring<T>& ring = job.ring(i);
        const Seat<T>& seat = job.seat(at.ring_seat[i]);
        *reinterpret_cast<heat::OvenOutputs<T>*>(
            outputs + at.ovens_at + i * Inputs<T>::template size<heat::OvenOutputs>()) =
            heat::oven_outputs(heat::OvenPlan<T>{seat.diameter, seat.diameter - ring.bore,
                                                 shaft_growth, ring.expansion_factor,
                                                 ring.slip_clearance, ring.oven,
                                                 ring.heating_limit},
                               *at.ring_materials[i], faults);
    }
    write_assembly(outputs, job, assembly.thread, faults);
    for (int k = at.has_plate ? 1 : 0; k < at.attached_count; ++k)
        write_attached(outputs, outputs + at.attached[k].outputs_at, k, job, 0, assembly, faults);
}

} // namespace fitwright::job
