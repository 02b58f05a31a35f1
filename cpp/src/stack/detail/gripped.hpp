// First tightening of a stack whose rings slide: how much of the force on the nut side of a ring
// reaches its shoulder side.
//
//   dN/dz = mu p(N) pi d,  p(N) = p0 - beta N   (clamp fattens the ring and thins the shaft)
//   N_in = N_out e^x - CAP (e^x - 1)/x,  CAP = mu p0 pi d Le,  x = mu pi d Le beta
//
// Holds while the ring grips all along (p0 > beta N_out); a ring that has let go passes the force
// on whole, and friction takes no more than there is.
#pragma once

#include "rings/detail/overhang.hpp"
#include <fitwright/number/number.hpp>

namespace fitwright::stack {

using namespace number;

template <class T>
T force_passed(const rings::Joint<T>& joint, const T& contact_length, const T& friction,
               const T& overhang, const T& overhang_length, const T& force_in) {
    const T mu_area = friction * joint.diameter * contact_length * fields::pi *
                      (overhang * rings::overhang_excess(joint, overhang_length) + 1.0);
    const T p0 = positive(joint.interference) / joint.flexibility;
    const T beta = (joint.ring_force_loss + joint.shaft_force_loss) / joint.flexibility;
    const T x = mu_area * beta;
    const T capacity = mu_area * p0;
    const T through = force_in * exp(x) - capacity * expm1_over(x);
    // In this order the derivative at no friction is the one towards more friction.
    return positive(smaller(force_in, through));
}
// A ring of one section.
template <class T>
T force_passed(const rings::Joint<T>& joint, const T& contact_length, const T& friction,
               const T& overhang, const T& force_in) {
    return force_passed(joint, contact_length, friction, overhang, contact_length, force_in);
}

} // namespace fitwright::stack
