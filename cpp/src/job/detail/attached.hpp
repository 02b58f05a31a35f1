// The plate of a job in a state, and its tools: what the job knows is handed to the model, what it was told
// of plate and tool goes on as it is, and the model runs in the baseline.
#pragma once

#include "heat/detail/take_off.hpp"
#include "in_baseline.hpp"
#include "slices.hpp"
#include "views.hpp"

namespace fitwright::job {

// No more than a touch: what stands for no force where a tool needs one to be judged by.
inline constexpr double least_load = 1.0; // N, N m

template <class T>
T pull_off(const Inputs<T>& job, int ring, Faults<T>& faults) {
    const Layout& at = job.at;
    const Rotor<T>& rotor = job.rotor();
    const Seat<T>& seat = job.seat(at.ring_seat[ring]);
    const T& cold = job.state(0).shaft_temperature;
    const rings::Ring<T> even = even_ring(job, ring);
    const rings::Joint<T> joint = rings::joint_of(
        rings::JointInputs<T>{rotor.bore, rotor.modulus_factor, rotor.expansion_factor, cold,
                              seat.diameter, seat.roughness, seat.diameter - job.ring(ring).bore,
                              T(0.0), cold},
        even, *at.shaft, *at.ring_materials[ring],
        rings::JointPlaces{Place::rotor, Place::ring + ring}, faults);
    const Workshop<T>& shop = job.template part<Workshop>(at.workshop_at);
    return heat::held_by(joint, fields::given(even.contact_length, even.length)) *
           even.friction_high * shop.breakaway_high;
}

// Of the last slice where a ring has some: it is the one towards the nut.
template <class T>
T end_outside(const Inputs<T>& job, int ring) {
    return job.at.has_slices(ring) ? job.slice(job.at.first_member[ring + 1] - 1).outside
                                   : job.ring(ring).outside;
}

template <class T>
T oven_setting(const Inputs<T>& job, int ring, const T* outputs) {
    const auto& oven = *reinterpret_cast<const heat::OvenOutputs<T>*>(
        outputs + job.at.ovens_at + ring * Inputs<T>::template size<heat::OvenOutputs>());
    return smaller(fields::given(job.ring(ring).oven, oven.oven_needed),
                   T(job.at.ring_materials[ring]->highest));
}

template <class T>
T known_to_job(Known what, const Inputs<T>& job, int s, int ring, const T* outputs,
               const Assembly<T>& assembly, Faults<T>& faults) {
    const Layout& at = job.at;
    const State<T>& state = job.state(s);
    const T towards = at.plate_at_nut ? state.thrust : -state.thrust;
    const T floor(least_load);
    switch (what) {
    case Known::outer_ring_temperature:
        return state.shaft_temperature + job.lag(s, at.lag_of_outer_ring);
    case Known::pocket_temperature:
        return state.shaft_temperature + job.lag(s, at.lag_of_pocket);
    case Known::thrust_to_plate:
        return positive(towards);
    case Known::thrust_to_shoulder:
        return positive(-towards);
    case Known::tilting_moment:
        return at.has_combined ? norm2(job.loads(s).moment, job.loads(s).moment_across) : T(0.0);
    case Known::pocket_ring_outside:
        return job.pocket().ring_outside;
    case Known::press:
        return larger(assembly.press[ring], floor);
    case Known::cold_pull:
        return larger(pull_off(job, ring, faults), floor);
    case Known::ring_bore:
        return job.ring(ring).bore;
    case Known::end_outside:
        return end_outside(job, ring);
    case Known::oven_setting:
        return oven_setting(job, ring, outputs);
    case Known::torque:
        return job.nut().torque;
    case Known::breaking_torque:
        return assembly.greatest_torque * job.template part<Workshop>(at.workshop_at).breakaway;
    case Known::nut_outside:
        return job.nut().outside;
    default:
        return job.nut().diameter;
    }
}

// The inputs of a model, in its own order.
template <class T>
void attached_inputs_of(T* into, const Attached& attached, const Inputs<T>& job, int s,
                        const T* outputs, const Assembly<T>& assembly, Faults<T>& faults) {
    const T* own = job.in + attached.own_at;
    int known = 0;
    for (int i = 0; i < attached.input_count; ++i) {
        if (known < attached.known_count && attached.known[known].input == i)
            into[i] = known_to_job(attached.known[known++].known, job, s, attached.ring, outputs,
                                   assembly, faults);
        else
            into[i] = *own++;
    }
}

template <class T>
void run_attached(const Layout& at, const Attached& attached, const T* inputs, T* outputs,
                  int place, Faults<T>& faults) {
    in_baseline(at.attached_calls, inputs, outputs, attached.output_count,
                fields::Context{nullptr, nullptr, &attached}, place, faults);
}
// All lanes at once; one that is out already runs with the values of one that is not.
template <int W, class Isa>
void run_attached(const Layout& at, const Attached& attached, const Lanes<W, Isa>* inputs,
                  Lanes<W, Isa>* outputs, int place, Faults<Lanes<W, Isa>>& faults) {
    double codes[W];
    for (int lane = 0; lane < W; ++lane)
        codes[lane] = faults.code.lane(lane);
    at.attached_lanes(attached, reinterpret_cast<const double*>(inputs),
                      reinterpret_cast<double*>(outputs), W, codes);
    for (int lane = 0; lane < W; ++lane)
        if (faults.code.lane(lane) == 0.0 && codes[lane] != 0.0)
            faults.code.set_lane(lane, codes[lane] + 4096.0 * place);
}

// `outputs` begins where the model's do: in a state for the plate.
template <class T>
void write_attached(T* all, T* outputs, int number, const Inputs<T>& job, int s,
                    const Assembly<T>& assembly, Faults<T>& faults) {
    const Attached& attached = job.at.attached[number];
    T inputs[attached_inputs];
    faults.place = s * Place::per_state + Place::attached + number * Place::per_attached;
    const int place = faults.place;
    attached_inputs_of(inputs, attached, job, s, all, assembly, faults);
    run_attached(job.at, attached, inputs, outputs, place, faults);
}

} // namespace fitwright::job
