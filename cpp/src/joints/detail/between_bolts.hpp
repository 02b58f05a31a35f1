// A finite number of bolts: the plate as a beam on an elastic foundation under equal forces at equal
// distances (Hetenyi, Beams on Elastic Foundation). With x = lambda p, p the distance along the bolt
// circle, lambda = (k/(4 E I))^(1/4), k the foundation per length:
//   at a bolt   q/q_mean = x/2 (sinh x + sin x)/(cosh x - cos x)
//   between     q/q_mean = x (sinh(x/2) cos(x/2) + cosh(x/2) sin(x/2))/(cosh x - cos x)
#pragma once

#include <fitwright/number/number.hpp>

namespace fitwright::joints {

using namespace number;

template <class T>
struct ClampRound {
    T at_bolts, between;
};

// Both from e^-x, so that a long distance does not overflow.
template <class T>
ClampRound<T> clamp_round(const T& x) {
    const auto close = x < T(0.05);
    const T far = select(close, T(1.0), x);
    const T e = exp(-far);
    const T half = exp(-far * 0.5);
    const T sinh2 = 1.0 - e * e; // times 2 e^-x
    const T cosh2 = e * e + 1.0;
    const T down = cosh2 - e * cos(far) * 2.0;
    const T at = far * 0.5 * (sinh2 + e * sin(far) * 2.0) / down;
    const T middle = far * half * ((1.0 - e) * cos(far * 0.5) + (e + 1.0) * sin(far * 0.5)) / down;
    // For small x: 1 + x^4/180 and 1 - 7 x^4/1440.
    const T x4 = square(square(x));
    return {select(close, x4 * (1.0 / 180.0) + 1.0, at),
            select(close, 1.0 - x4 * (7.0 / 1440.0), middle)};
}

} // namespace fitwright::joints
