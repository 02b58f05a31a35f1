// From a fit to the bar that carries it, and the softness of the walls between bar and seat.
#pragma once

#include "rings/detail/fit.hpp"
#include <fitwright/bodies/strip.hpp>
#include <fitwright/number/number.hpp>

namespace fitwright::bodies {

using namespace number;

template <class T>
Strip<T> strip_of(const rings::Joint<T>& j, const T& speed) {
    return {j.ring_compliance * j.ring_span * (1.0 / fields::pi),
            j.shaft_compliance * j.shaft_span * (1.0 / fields::pi),
            j.ring_warm + rings::strain_by_speed(j.ring, speed),
            j.shaft_warm + rings::strain_by_speed(j.shaft, speed),
            j.diameter,
            j.interference,
            j.flexibility,
            j.ring_force_loss,
            j.shaft_force_loss};
}

// A part that does not touch the shaft under it (a washer).
template <class T>
Strip<T> loose_strip(const rings::Section<T>& part, const T& part_warm,
                     const rings::Section<T>& shaft, const T& shaft_warm, const T& speed) {
    return {1.0 / (rings::section_area(part) * part.modulus),
            1.0 / (rings::section_area(shaft) * shaft.modulus),
            part_warm + rings::strain_by_speed(part, speed),
            shaft_warm + rings::strain_by_speed(shaft, speed),
            shaft.outer * 2.0,
            T(-1.0),
            T(1.0),
            T(0.0),
            T(0.0)};
}

// A stress tau on one face of a wall, taken up evenly by its section, shears the wall:
//   tau(r) = tau a/r (b^2 - r^2)/(b^2 - a^2)   from the loaded face a to the free face b
// so that the loaded face moves against the mean of the section by tau times
//   a [b^4 ln(b/a)/(b^2 - a^2) - (3 b^2 - a^2)/4]/(G (b^2 - a^2))
// (ring: a its bore, b its outside; shaft: a its seat, b its bore, the sign turned). That holds for a
// stress that changes slowly along z. One that changes quickly does not reach through the wall: the
// face then moves as that of a half-space, 2 (1 - nu^2)/(E k) for a wave of wavenumber k. A seat of
// length L is a quarter of a wave, k = pi/(2 L), and the stiffer limit rules: 1/c adds.
template <class T>
T wall_softness(const rings::Section<T>& s, const T& loaded, const T& free, const T& length) {
    const T a2 = loaded * loaded;
    const T b2 = free * free;
    const T span = b2 - a2;
    const auto hollow = free > T(0.0);
    const T log_ratio = log(select(hollow, free, loaded) / loaded);
    const T bracket = b2 * b2 * log_ratio / span - (b2 * 3.0 - a2) * 0.25;
    const T slow = abs(loaded * bracket / span) * (2.0 * (1.0 + s.poisson));
    const T quick = length * (4.0 * (1.0 - s.poisson * s.poisson) / fields::pi);
    return slow * quick / ((slow + quick) * s.modulus);
}

// Relative movement of the mean sections of ring and shaft per friction stress at a seat that
// sticks: the one pre-slip softness.
template <class T>
T shear_softness(const rings::Joint<T>& j, const T& length) {
    return wall_softness(j.ring, j.ring.inner, j.ring.outer, length) +
           wall_softness(j.shaft, j.shaft.outer, j.shaft.inner, length);
}

// How a shoulder gives way per force: its land (inner to outer radius) as a strip of width 2 a under
// even pressure p on a body in plane strain. The mean of the strip comes nearer to the depth h by
//   (1 - nu^2) p/(pi E) [2 h atan(a/h) (1 - nu/(1 - nu)) + 2 a ln(1 + h^2/a^2) - 2 a (2 ln 2 - 1)]
// (integral of the stresses under a strip, K. L. Johnson, Contact Mechanics, ch. 2, from memory).
// h is the length of the collar; the ring's own end is counted with the ring.
template <class T>
T land_softness(const T& inner, const T& outer, const T& depth, const T& modulus, double poisson) {
    const T a = (outer - inner) * 0.5;
    const T ratio = depth / a;
    const T bracket = depth * 2.0 * atan(a / depth) * (1.0 - poisson / (1.0 - poisson)) +
                      a * 2.0 * (log(ratio * ratio + 1.0) - 0.38629436111989062);
    const T area = (outer * outer - inner * inner) * fields::pi;
    return bracket * (1.0 - poisson * poisson) / (modulus * area * fields::pi);
}

} // namespace fitwright::bodies
