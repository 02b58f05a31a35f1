// A rigid plate on like bolts: the force along a bolt is a plane over its place,
//   N = T/n + bx (x - xc) + by (y - yc),  [Sxx Sxy; Sxy Syy] b = moments about the centroid,
// the force across it turns about the centroid, V = F/n + (M/J) (place - centroid) turned by 90 deg.
#pragma once

#include "times.hpp"
#include <fitwright/joints/bolt_pattern.hpp>
#include <fitwright/number/number.hpp>

namespace fitwright::rules {
extern const number::Rule bolt_angle_given, pattern_holds_moment, pattern_holds_torque;
} // namespace fitwright::rules

namespace fitwright::joints {

using namespace number;

template <class T>
void BoltPattern::run(const T* inputs, T* outputs, const fields::Context& context,
                      Faults<T>& faults) {
    const auto& in = *reinterpret_cast<const BoltPatternInputs<T>*>(inputs);
    const auto* places = reinterpret_cast<const BoltPlace<T>*>(inputs);
    auto& out = *reinterpret_cast<BoltPatternOutputs<T>*>(outputs);
    auto* loads = reinterpret_cast<PlaceLoad<T>*>(outputs);
    const int count = context.choices[0] + 1;
    const double per_bolt = 1.0 / static_cast<double>(count);

    T x[place_limit];
    T y[place_limit];
    T xc(0.0);
    T yc(0.0);
    for (int k = 0; k < count; ++k) {
        faults.place = k + 1;
        faults.require(places[k].angle < T(1e300), rules::bolt_angle_given, places[k].angle);
        const T angle = fields::given(places[k].angle, T(0.0));
        const T radius = fields::given(places[k].diameter, in.circle) * 0.5;
        x[k] = radius * cos(angle);
        y[k] = radius * sin(angle);
        xc += x[k] * per_bolt;
        yc += y[k] * per_bolt;
    }
    faults.place = 0;
    T sxx(0.0);
    T sxy(0.0);
    T syy(0.0);
    for (int k = 0; k < count; ++k) {
        sxx += square(x[k] - xc);
        sxy += (x[k] - xc) * (y[k] - yc);
        syy += square(y[k] - yc);
    }
    const T polar = sxx + syy;
    const T determinant = sxx * syy - sxy * sxy;
    const auto holds = determinant > square(polar) * 1e-9;
    // The thrust acts on the axis of the circle, which need not be the centroid.
    const T mx = in.moment * cos(in.moment_direction) - in.thrust * xc;
    const T my = in.moment * sin(in.moment_direction) - in.thrust * yc;
    const T arm = (abs(in.thrust) * in.circle + in.moment) * 1e-9;
    const auto tilts = (abs(mx) > arm) | (abs(my) > arm);
    faults.require(holds | !tilts, rules::pattern_holds_moment, in.moment);
    const T one = select(holds, determinant, T(1.0));
    const T bx = select(holds, (mx * syy - my * sxy) / one, T(0.0));
    const T by = select(holds, (my * sxx - mx * sxy) / one, T(0.0));

    const T fx = in.side_force * cos(in.side_direction);
    const T fy = in.side_force * sin(in.side_direction);
    // The side force acts on the axis too: about the centroid it turns.
    const T turn = in.torque - (fy * xc - fx * yc);
    const auto round = polar > T(0.0);
    const T turning = square(in.circle) * 1e-18;
    faults.require((polar > turning) | (turn == T(0.0)), rules::pattern_holds_torque, in.torque);
    const T twist = select(round, turn / select(round, polar, T(1.0)), T(0.0));

    out.greatest_tension = T(-1e300);
    out.least_tension = T(1e300);
    out.greatest_shear = T(0.0);
    for (int k = 0; k < place_limit; ++k) {
        loads[k] = {T(0.0), T(0.0)};
        if (k >= count)
            continue;
        const T dx = x[k] - xc;
        const T dy = y[k] - yc;
        loads[k].tension = in.thrust * per_bolt + bx * dx + by * dy;
        loads[k].shear = norm2(fx * per_bolt - twist * dy, fy * per_bolt + twist * dx);
        out.greatest_tension = larger(out.greatest_tension, loads[k].tension);
        out.least_tension = smaller(out.least_tension, loads[k].tension);
        out.greatest_shear = larger(out.greatest_shear, loads[k].shear);
    }
    const auto pulled = in.thrust > T(0.0);
    out.uneven = select(pulled, times(out.greatest_tension, T(in.thrust * per_bolt)), T(1.0));
}

} // namespace fitwright::joints
