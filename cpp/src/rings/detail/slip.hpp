// Torque, thrust and bending at a shrunk seat.
//
//   gross slip: root(F^2 + (2 T/d)^2) against mu p pi d L; a locked axial force is friction used up, so
//   it counts for the first micro-slip and not for gross slip.
//
// Slip at the edge (common practice: beams with Coulomb friction, derived in docs/theory-rings.md).
// Shaft and ring twist as one but for a length l from the edge, over which friction hands the ring its
// share k = GJr/(GJs + GJr): l = k T/(mu p pi d^2/2); the shaft alone twists at the edge by T/(GJs),
// at l not at all against the ring: slip (d/2) T/(GJs) l/2. Bending likewise with EI, and friction
// spread as the cosine round the seat: l = k M/(mu p pi d^2/4), slip (d/2) M/(EIs) l/2.
#pragma once

#include "thick_ring.hpp"
#include <fitwright/rings/slip.hpp>

namespace fitwright::rules {
extern const number::Rule contact_within_length, friction_above_zero, ring_outside_above_seat,
    shaft_bore_below_seat;
} // namespace fitwright::rules

namespace fitwright::rings {

template <class T>
void Slip::run(const T* inputs, T* outputs, const fields::Context& context, Faults<T>& faults) {
    const auto& in = *reinterpret_cast<const SlipInputs<T>*>(inputs);
    auto& out = *reinterpret_cast<SlipOutputs<T>*>(outputs);
    const materials::Material& ms = *context.materials[0];
    const materials::Material& mr = *context.materials[1];
    const T d = in.shaft.seat;
    const T contact = fields::given(in.ring.contact_length, in.ring.length);
    faults.place = 1;
    faults.require(in.shaft.bore < d, rules::shaft_bore_below_seat, in.shaft.bore);
    faults.place = 2;
    faults.require(in.ring.outside > d, rules::ring_outside_above_seat, in.ring.outside);
    faults.require(contact <= in.ring.length, rules::contact_within_length, contact);
    faults.require(in.ring.friction_low > T(0.0), rules::friction_above_zero, in.ring.friction_low);
    faults.place = 0;

    const T grip = in.ring.friction_low * in.pressure; // per area
    out.capacity = grip * d * contact * fields::pi;
    const T round = in.torque * 2.0 / d;
    out.tangential = norm2(in.thrust, round);
    out.slip_use = out.tangential / out.capacity;
    out.locked_tangential = norm2(abs(in.thrust) + abs(in.locked_force), round);
    out.micro_slip_use = out.locked_tangential / out.capacity;

    // Second moments J = 2 I; the pi/64 of I = pi/64 (D^4 - d^4) is told where it matters.
    const auto fourth = [](const T& x) { return square(square(x)); };
    const T reference(materials::reference_temperature);
    const T shaft = materials::at(ms.modulus, reference) * in.shaft.modulus_factor *
                    (fourth(d) - fourth(in.shaft.bore)) * (fields::pi / 64.0);
    const T ring = materials::at(mr.modulus, reference) * in.ring.modulus_factor *
                   (fourth(in.ring.outside) - fourth(d)) * (fields::pi / 64.0);
    const T shaft_twist = shaft * (1.0 / (1.0 + ms.poisson)); // G J = 2 E I/(2 (1 + nu))
    const T ring_twist = ring * (1.0 / (1.0 + mr.poisson));
    const T torque = abs(in.torque);
    const T moment = abs(in.bending_moment);
    const T per_length = grip * d * d * fields::pi;
    out.torsion_slip_length = torque * ring_twist / ((shaft_twist + ring_twist) * per_length * 0.5);
    out.torsion_slip = d * 0.25 * torque / shaft_twist * out.torsion_slip_length;
    out.bending_slip_length = moment * ring / ((shaft + ring) * per_length * 0.25);
    out.bending_slip = d * 0.25 * moment / shaft * out.bending_slip_length;
    out.edge_slip = norm2(out.torsion_slip, out.bending_slip);
}

} // namespace fitwright::rings
