// A stepped ring as slices: each is a fit of its own (detail/fit.hpp) on the shaft under it, and the
// clamp goes through all of them. What couples the slices, the bending of the wall at a step, is left
// out: docs/theory-rings.md has its size against finite elements.
#pragma once

#include "fit.hpp"
#include <fitwright/rings/stepped.hpp>

namespace fitwright::rings {

template <class T>
void Stepped::run(const T* inputs, T* outputs, const fields::Context& context, Faults<T>& faults) {
    const auto& in = *reinterpret_cast<const SteppedInputs<T>*>(inputs);
    const auto* slices = reinterpret_cast<const Slice<T>*>(inputs);
    auto* slices_out = reinterpret_cast<SteppedSlice<T>*>(outputs);
    auto& out = *reinterpret_cast<SteppedOutputs<T>*>(outputs);
    const materials::Material& ms = *context.materials[0];
    const materials::Material& mr = *context.materials[1];
    const int count = context.choices[0] + 1;

    T end(0.0);
    T area(0.0);
    T load(0.0);
    out.holding_force = out.torque_capacity = T(0.0);
    out.ring_lengthening = out.shaft_lengthening = T(0.0);
    out.loss_speed = T(0.0);
    for (int k = 0; k < count; ++k) {
        const Slice<T>& s = slices[k];
        faults.place = k + 1;
        faults.require(s.outside < T(1e300), rules::slice_outside_given, s.outside);
        faults.require(s.length < T(1e300), rules::slice_length_given, s.length);
        const T start = fields::given(s.start, end);
        faults.require(start >= end - 1e-9, rules::slices_overlap, start);
        end = start + s.length;

        const T seat = fields::given(s.seat, in.shaft.seat);
        const T measured = seat - fields::given(s.bore, in.ring.bore);
        const T interference = fields::given(in.interference, measured);
        faults.require((measured == T(0.0)) | (abs(interference - measured) <= T(1e-9)),
                       rules::slice_interference_told_twice, measured);
        Ring<T> ring;
        ring.bore = seat - interference;
        ring.outside = s.outside;
        ring.length = s.length;
        ring.contact_length = s.contact_length;
        ring.roughness = in.ring.roughness;
        ring.smoothing = in.ring.smoothing;
        ring.friction = in.ring.friction;
        ring.friction_low = in.ring.friction_low;
        ring.friction_high = in.ring.friction_high;
        ring.modulus_factor = in.ring.modulus_factor;
        ring.expansion_factor = in.ring.expansion_factor;
        const Joint<T> joint = joint_of(
            JointInputs<T>{fields::given(s.shaft_bore, in.shaft.bore), in.shaft.modulus_factor,
                           in.shaft.expansion_factor, in.shaft_temperature, seat,
                           in.shaft.roughness, interference, in.speed, in.ring_temperature},
            ring, ms, mr, JointPlaces{k + 1, k + 1}, faults);
        const FitOutputs<T> fit =
            fit_outputs(joint, ring, in.axial_force, in.axial_force, in.speed, ms, mr,
                        in.shaft_temperature, in.ring_temperature, faults);
        slices_out[k] = {fit.interference_left, fit.pressure,         fit.gap,
                         fit.holding_force,     fit.torque_capacity,  fit.ring_hoop,
                         fit.ring_von_mises,    fit.ring_yield_use,   fit.shaft_yield_use,
                         fit.outside_growth,    fit.shaft_bore_growth};
        const T here = seat * fields::given(s.contact_length, s.length);
        area += here;
        load += fit.pressure * here;
        out.holding_force += fit.holding_force;
        out.torque_capacity += fit.torque_capacity;
        out.ring_lengthening += fit.ring_strain * s.length;
        out.shaft_lengthening += fit.shaft_strain * s.length;
        out.loss_speed = larger(out.loss_speed, fit.loss_speed);
    }
    faults.place = 0;
    faults.require(area > T(0.0), rules::slices_in_contact, area);
    out.pressure = load / select(area > T(0.0), area, T(1.0));
    for (int k = count; k < slice_limit; ++k) {
        auto* none = reinterpret_cast<T*>(&slices_out[k]);
        for (unsigned i = 0; i < sizeof(SteppedSlice<double>) / sizeof(double); ++i)
            none[i] = T(0.0);
    }
}

} // namespace fitwright::rings
