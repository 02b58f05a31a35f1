// Rings and faces out of square in a state of a job, at the angles they are told at.
#pragma once

#include "job/detail/inputs.hpp"
#include "job/detail/slices.hpp"
#include "stack/detail/quick.hpp"
#include "stack/detail/squareness.hpp"
#include <fitwright/job/square_parts.hpp>

namespace fitwright::job {

template <class T>
FITWRIGHT_INLINE void set_square_ring(stack::SquareRing<T>& r, const T& bore, const T& outside,
                                      const T& length) {
    r.bore = bore;
    r.outside = outside;
    r.length = length;
    r.read_at = outside;
    r.wedge = r.wedge_angle = r.runout = r.runout_angle = r.turned = T(0.0);
    r.mass = T(0.0); // unbalance is asked elsewhere
    r.modulus_factor = r.expansion_factor = T(1.0);
}

// `least`: least force under the nut, which only opening is held against. Moduli are those of the
// state. Outputs: SquareState, then SquareRingState ring by ring.
template <class T>
void write_square(T* outputs, const stack::Member<T>* members, const stack::Washer<T>* washer,
                  const Inputs<T>& job, const T& least) {
    const Layout& at = job.at;
    const Rotor<T>& rotor = job.rotor();
    const Nut<T>& nut = job.nut();
    stack::SquareRing<T> rings[stack::square_ring_limit];
    stack::SquareForm<T> form;
    form.rings = at.rings + (washer != nullptr ? 1 : 0);
    form.softness = form.whole = T(0.0);
    form.second_journal = T(1.0);
    form.between_bearings = T(0.0) > T(1.0); // the axis is that of the shaft at the shoulder
    const T& shaft_modulus = members[0].joint.shaft.modulus;
    for (int i = 0; i < at.rings; ++i) {
        const Ring<T>& ring = job.ring(i);
        set_square_ring(rings[i], ring.bore, greatest_outside(job, i), whole_length(job, i));
        rings[i].wedge = ring.wedge;
        rings[i].wedge_angle = ring.wedge_angle;
        rings[i].runout = ring.runout;
        rings[i].runout_angle = ring.runout_angle;
        stack::add_ring(form, i, rings[i], rotor.bore, shaft_modulus,
                        members[at.first_member[i]].joint.ring.modulus,
                        at.ring_materials[i]->density);
    }
    if (washer != nullptr) {
        set_square_ring(rings[at.rings], job.lock().bore, job.lock().outside, washer->thickness);
        stack::add_ring(form, at.rings, rings[at.rings], rotor.bore, shaft_modulus,
                        washer->section.modulus, washer->section.density);
    }
    form.plane_a = form.centre = T(0.0);
    form.plane_b = form.whole;

    stack::SquarePlane<T> x, y;
    stack::set_kinks(x, y, rings, form.rings, rotor.shoulder_runout / greatest_outside(job, 0),
                     rotor.shoulder_angle, nut.face_runout / nut.face_outside, nut.face_angle);
    stack::bend(form, x);
    stack::bend(form, y);
    auto& out = *reinterpret_cast<SquareState<T>*>(outputs);
    out.kink = norm2(x.all, y.all);
    out.bend_moment = norm2(x.moment, y.moment);
    out.end_tilt = norm2(x.end_slope, y.end_slope);
    out.end_runout = norm2(x.end_offset, y.end_offset) * 2.0;
    out.bending_stress = T(0.0);
    T per_force(0.0); // clamp that keeps the faces shut, over the moment
    for (int i = 0; i < form.rings; ++i) {
        per_force = larger(per_force, T(1.0) / stack::opening_moment(rings[i], T(1.0)));
        out.bending_stress = larger(out.bending_stress, out.bend_moment * form.shaft[i] *
                                                            shaft_modulus * rings[i].bore * 0.5);
    }
    out.opening_force = out.bend_moment * per_force;
    out.opening_margin = least - out.opening_force;
    T* each = outputs + Inputs<T>::template size<SquareState>();
    for (int i = 0; i < at.rings; ++i) {
        auto& r = *reinterpret_cast<SquareRingState<T>*>(
            each + i * Inputs<T>::template size<SquareRingState>());
        r.runout = norm2(x.offset[i], y.offset[i]) * 2.0;
        r.tilt = norm2(x.face_slope[i], y.face_slope[i]);
        r.face_runout = r.tilt * rings[i].outside;
    }
}

} // namespace fitwright::job
