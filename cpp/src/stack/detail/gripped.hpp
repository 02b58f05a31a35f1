// What a seat can do to the axial force along it. S is the tension of the shaft; friction passes
// force between ring and shaft, so that S changes by no more than
//
//   dS/dz = mu p(S) pi d,  p(S) = p0 - beta S    clamp fattens the ring and thins the shaft
//
// from a place where it is S0, over the contact length Le, to at most
//
//   S0 + (CAP - x S0) (1 - e^-x)/x               CAP = mu p0 pi d Le,  x = mu pi d Le beta
//   S0 + (CAP - x S0) (x - 1 + e^-x)/x^2         mean along the seat
//
// as long as the ring grips all along (CAP > x S0); a ring that has let go leaves S as it is. On first
// tightening every ring slides towards the shoulder and the law is met: of the force on its nut side
// so much reaches its shoulder side that the first line leads back to it.
#pragma once

#include "rings/detail/overhang.hpp"
#include <fitwright/number/number.hpp>

namespace fitwright::stack {

using namespace number;

template <class T>
struct SeatFriction {
    T capacity; // force it holds where the shaft is not pulled
    T x;        // part of the shaft's tension that is taken off that
    T rise;     // (1 - e^-x)/x
    T mean;     // (x - 1 + e^-x)/x^2

    // The most it can add to S0, at its far end and on average.
    FITWRIGHT_INLINE T room(const T& s) const { return positive(capacity - x * s); }
};

// `left`: interference where the shaft is not pulled. `friction` with the end effect in it.
template <class T>
SeatFriction<T> seat_friction(const rings::Joint<T>& joint, const T& left, const T& contact_length,
                              const T& friction) {
    const T area = named("area of the seat times friction",
                         friction * joint.diameter * contact_length * fields::pi);
    SeatFriction<T> f;
    f.capacity =
        named("friction capacity of the seat", area * (positive(left) / joint.flexibility));
    f.x = named("grip lost per force in the seat",
                area * ((joint.ring_force_loss + joint.shaft_force_loss) / joint.flexibility));
    f.rise = named("share of the capacity that adds up", expm1_over(-f.x));
    const auto small = f.x < T(1e-3);
    f.mean = select(small, 0.5 - f.x * (1.0 / 6.0 - f.x * (1.0 / 24.0 - f.x * (1.0 / 120.0))),
                    (1.0 - f.rise) / select(small, T(1.0), f.x));
    return f;
}

// What is left of a force on the one side of a seat that slides, on the other side; friction takes no
// more than there is.
template <class T>
FITWRIGHT_INLINE T force_passed(const SeatFriction<T>& f, const T& force_in) {
    const T through =
        named("force passed on", (force_in - f.capacity * f.rise) / (1.0 - f.x * f.rise));
    // In this order the derivative at no friction is the one towards more friction.
    return positive(smaller(force_in, through));
}
// A ring without thrust.
template <class T>
T force_passed(const rings::Joint<T>& joint, const T& contact_length, const T& friction,
               const T& overhang, const T& overhang_length, const T& force_in) {
    const T with_overhang =
        friction * (overhang * rings::overhang_excess(joint, overhang_length) + 1.0);
    return force_passed(seat_friction(joint, joint.interference, contact_length, with_overhang),
                        force_in);
}
template <class T>
T force_passed(const rings::Joint<T>& joint, const T& contact_length, const T& friction,
               const T& overhang, const T& force_in) {
    return force_passed(joint, contact_length, friction, overhang, contact_length, force_in);
}

} // namespace fitwright::stack
