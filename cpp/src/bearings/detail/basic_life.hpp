// Basic rating life by catalogue figures, and its inverse: the rating a wanted life needs.
#pragma once

#include "life_figures.hpp"

namespace fitwright::bearings {

template <class T>
void BasicLife::run(const T* inputs, T* outputs, const fields::Context& context,
                    Faults<T>& faults) {
    const auto& in = *reinterpret_cast<const BasicLifeInputs<T>*>(inputs);
    auto& out = *reinterpret_cast<BasicLifeOutputs<T>*>(outputs);
    const bool balls = static_cast<Elements>(context.choices[0]) == Elements::ball;
    const double exponent = balls ? 3.0 : 10.0 / 3.0;
    const Weibull weibull = weibull_of(static_cast<ReliabilityLaw>(context.choices[1]));
    out.equivalent_load =
        in.radial_factor * in.rotation_factor * in.radial_load + in.axial_factor * in.axial_load;
    out.load_ratio = out.equivalent_load / in.dynamic_rating;
    out.reliability_factor = reliability_factor(in.reliability, weibull);
    const T ratio = load_ratio_for_life(out.equivalent_load, in.dynamic_rating);
    const T basic = power(ratio, -exponent); // millions of revolutions
    out.life = basic * out.reliability_factor * million;
    out.running_time = running_time(out.life, in.speed);
    const T wanted = in.wanted_life / million;
    out.needed_rating =
        out.equivalent_load * power(wanted / out.reliability_factor, 1.0 / exponent);
    out.reached_reliability = reliability_at(wanted / basic, weibull);
    faults.kink(out.load_ratio == T(least_load_ratio));
}

} // namespace fitwright::bearings
