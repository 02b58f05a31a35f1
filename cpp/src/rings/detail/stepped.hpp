// A stepped ring as slices: each is a fit (detail/fit.hpp) on the shaft under it, the clamp goes through
// all of them, and the wall (detail/wall.hpp) makes their movements one. A slice that is loose by
// itself, or that the wall lifts off, carries nothing.
#pragma once

#include "fit.hpp"
#include "wall.hpp"
#include <fitwright/rings/stepped.hpp>

namespace fitwright::rules {
extern const number::Rule contact_within_length, slice_interference_told_twice, slice_length_given,
    slice_outside_given, slices_in_contact, slices_overlap;
} // namespace fitwright::rules

namespace fitwright::rings {

// A fit as a slice of the wall.
template <class T>
WallSlice<T> wall_slice(const Joint<T>& j, const T& length, const T& contact_length, const T& force,
                        const T& speed) {
    const T speed2 = square(speed);
    const double nu = j.ring.poisson;
    const T& a = j.ring.inner;
    const T& b = j.ring.outer;
    const T thickness = b - a;
    const T around = (a + b) * 0.5 / a; // circumference of the middle over that of the joint
    WallSlice<T> s;
    s.length = length;
    s.bending = j.ring.modulus * cube(thickness) * around * (1.0 / (12.0 * (1.0 - nu * nu)));
    s.shear = j.ring.modulus * thickness * around * (5.0 / (12.0 * (1.0 + nu)));
    // Forces are per radius and movements per diameter: half of the stiffness.
    s.bending = named("bending stiffness of the wall", s.bending * 0.5);
    s.shear = named("shear stiffness of the wall", s.shear * 0.5);
    s.middle =
        named("growth of the wall per pressure", growth_by_pressure(j.ring, T(1.0), (a + b) * 0.5));
    s.free = own_face_growth(j.ring, speed2 * j.ring_compliance, j.ring.inner, j.ring.outer) +
             j.ring_force_loss * force;
    s.local = named("flexibility beside the wall", j.flexibility - s.middle);
    s.reach = named("reach of the seat", interference_under(j, force, force) + s.free);
    s.contact = contact_length / length;
    return s;
}

template <class T>
void Stepped::run(const T* inputs, T* outputs, const fields::Context& context, Faults<T>& faults) {
    const auto& in = *reinterpret_cast<const SteppedInputs<T>*>(inputs);
    const auto* slices = reinterpret_cast<const Slice<T>*>(inputs);
    auto* slices_out = reinterpret_cast<SteppedSlice<T>*>(outputs);
    auto& out = *reinterpret_cast<SteppedOutputs<T>*>(outputs);
    const materials::Material& ms = *context.materials[0];
    const materials::Material& mr = *context.materials[1];
    const int count = context.choices[0] + 1;
    const T& force = in.axial_force;

    Ring<T> ring;
    ring.roughness = in.ring.roughness;
    ring.smoothing = in.ring.smoothing;
    ring.friction = in.ring.friction;
    ring.friction_low = in.ring.friction_low;
    ring.friction_high = in.ring.friction_high;
    ring.modulus_factor = in.ring.modulus_factor;
    ring.expansion_factor = in.ring.expansion_factor;
    Joint<T> joints[slice_limit];
    WallSlice<T> wall[slice_limit];
    T touching[slice_limit];
    T end(0.0);
    for (int k = 0; k < count; ++k) {
        const Slice<T>& s = slices[k];
        faults.place = k + 1;
        faults.require(s.outside < T(1e300), rules::slice_outside_given, s.outside);
        faults.require(s.length < T(1e300), rules::slice_length_given, s.length);
        const T start = fields::given(s.start, end);
        faults.require(start >= end - 1e-9, rules::slices_overlap, start);
        end = start + s.length;
        touching[k] = fields::given(s.contact_length, s.length);
        faults.require(touching[k] <= s.length, rules::contact_within_length, touching[k]);

        const T seat = fields::given(s.seat, in.shaft.seat);
        ring.bore = fields::given(s.bore, in.ring.bore);
        const T measured = seat - ring.bore;
        const T interference = fields::given(in.interference, measured);
        faults.require((measured == T(0.0)) | (abs(interference - measured) <= T(1e-9)),
                       rules::slice_interference_told_twice, measured);
        ring.outside = s.outside;
        joints[k] = joint_of(JointInputs<T>{fields::given(s.shaft_bore, in.shaft.bore),
                                            in.shaft.modulus_factor, in.shaft.expansion_factor,
                                            in.shaft_temperature, seat, in.shaft.roughness,
                                            interference, in.speed, in.ring_temperature},
                             ring, ms, mr, JointPlaces{k + 1, k + 1}, faults);
        wall[k] = wall_slice(joints[k], s.length, touching[k], force, in.speed);
        wall[k].contact =
            select(interference_under(joints[k], force, force) > T(0.0), wall[k].contact, T(0.0));
    }
    faults.place = 0;

    // What the wall lifts off lets go; a slice once open stays open.
    WallAnswer<T> answer;
    for (int sweep = 0; sweep <= count; ++sweep) {
        solve_wall(wall, count, answer);
        bool changed = false;
        for (int k = 0; k < count; ++k) {
            const auto lifted = answer.pressure[k] < T(0.0);
            changed = changed || any(lifted);
            wall[k].contact = select(lifted, T(0.0), wall[k].contact);
        }
        if (!changed)
            break;
    }

    T area(0.0);
    T load(0.0);
    out.holding_force = out.torque_capacity = T(0.0);
    out.ring_lengthening = out.shaft_lengthening = T(0.0);
    out.loss_speed = T(0.0);
    for (int k = 0; k < count; ++k) {
        ring.outside = slices[k].outside;
        ring.bore = fields::given(slices[k].bore, in.ring.bore);
        ring.length = slices[k].length;
        ring.contact_length = touching[k];
        Joint<T> j = joints[k];
        const T left = interference_under(j, force, force);
        const FitOutputs<T> alone = fit_outputs(j, ring, force, force, in.speed, ms, mr,
                                                in.shaft_temperature, in.ring_temperature, faults);
        // The same fit under the pressure found, and the ring's wall moved by what its neighbours do.
        const T p = named("pressure of the slice", answer.pressure[k]);
        j.interference += p * j.flexibility - left;
        const FitOutputs<T> fit = fit_outputs(j, ring, force, force, in.speed, ms, mr,
                                              in.shaft_temperature, in.ring_temperature, faults);
        const T dragged = named("movement by the neighbours",
                                answer.middle[k] - wall[k].free - p * wall[k].middle);
        const T hoop = fit.ring_hoop + dragged / j.diameter * j.ring.modulus;
        const T axial = -force * j.ring_span * (1.0 / fields::pi);
        const T mises = von_mises(Stresses<T>{-p, hoop, axial});
        const auto open = !(wall[k].contact > T(0.0));
        const T gap = select(open, positive(answer.middle[k] - wall[k].reach), T(0.0));
        slices_out[k] = {left,
                         p,
                         gap,
                         fit.holding_force,
                         fit.torque_capacity,
                         hoop,
                         mises,
                         mises / materials::at(mr.yield, in.ring_temperature),
                         fit.shaft_yield_use,
                         fit.outside_growth + dragged,
                         fit.shaft_bore_growth};
        const T here = j.diameter * touching[k];
        area += here;
        load += p * here;
        out.holding_force += fit.holding_force;
        out.torque_capacity += fit.torque_capacity;
        out.ring_lengthening += fit.ring_strain * slices[k].length;
        out.shaft_lengthening += fit.shaft_strain * slices[k].length;
        out.loss_speed = larger(out.loss_speed, alone.loss_speed);
    }
    faults.require(area > T(0.0), rules::slices_in_contact, area);
    out.pressure = load / select(area > T(0.0), area, T(1.0));
    for (int k = count; k < slice_limit; ++k) {
        auto* none = reinterpret_cast<T*>(&slices_out[k]);
        for (unsigned i = 0; i < sizeof(SteppedSlice<double>) / sizeof(double); ++i)
            none[i] = T(0.0);
    }
}

} // namespace fitwright::rings
