// A ring with a radial temperature profile (Timoshenko & Goodier, Theory of Elasticity, ch. 13).
//
// With the thermal strain e(r) = alpha_m(T) (T - 20), E at the mean temperature, and the mean
// m(r) of e by area from the bore to r:
//   radial = E/2 (1 - a^2/r^2) (m(b) - m(r))
//   hoop   = E [m(b) (1 + a^2/r^2)/2 + m(r) (1 - a^2/r^2)/2 - e(r)]
//   long: both over 1 - nu, axial = E/(1 - nu) (m(b) - e)
//   both faces move by their diameter times m(b), thin or long
#pragma once

#include "thick_ring.hpp"
#include <fitwright/number/number.hpp>
#include <fitwright/rings/hot_ring.hpp>

namespace fitwright::rules {
extern const number::Rule bore_temperature_in_range, log_profile_hollow, outside_above_bore,
    outside_temperature_in_range, radius_in_ring;
} // namespace fitwright::rules

namespace fitwright::rings {

// Mean over the section by area: Gauss and Legendre, ten points (Abramowitz & Stegun, table 25.4).
template <class T, class F>
T mean_by_area(const F& f, const T& from, const T& to) {
    constexpr double place[] = {0.1488743389816312, 0.4333953941292472, 0.6794095682990244,
                                0.8650633666889845, 0.9739065285171717};
    constexpr double weight[] = {0.2955242247147529, 0.2692667193099963, 0.2190863625159820,
                                 0.1494513491505806, 0.0666713443086881};
    const T middle = (from + to) * 0.5;
    const T half = (to - from) * 0.5;
    T sum(0.0);
    for (int k = 0; k < 5; ++k) {
        const T low = middle - half * place[k];
        const T high = middle + half * place[k];
        sum += (f(low) * low + f(high) * high) * (0.5 * weight[k]);
    }
    return sum / middle;
}

template <class T>
void HotRing::run(const T* inputs, T* outputs, const fields::Context& context, Faults<T>& faults) {
    const auto& in = *reinterpret_cast<const HotRingInputs<T>*>(inputs);
    auto& out = *reinterpret_cast<HotRingOutputs<T>*>(outputs);
    const materials::Material& m = *context.materials[0];
    const bool logarithmic = context.choices[0] == 0;
    const bool long_ring = context.choices[1] == 1;
    const T r = fields::given(in.radius, in.bore * 0.5);
    faults.require(in.outside > in.bore, rules::outside_above_bore, in.outside);
    faults.require((r >= in.bore * (0.5 - 1e-12)) & (r <= in.outside * (0.5 + 1e-12)),
                   rules::radius_in_ring, r);
    const auto in_range = [&](const T& t, int rule) {
        faults.require((t >= T(m.lowest)) & (t <= T(m.highest)), rule, t);
    };
    in_range(in.bore_temperature, rules::bore_temperature_in_range);
    in_range(in.outside_temperature, rules::outside_temperature_in_range);
    const auto hollow = in.bore > T(0.0);
    if (logarithmic)
        faults.require(hollow, rules::log_profile_hollow, in.bore);

    const T a = in.bore * 0.5;
    const T b = in.outside * 0.5;
    const T safe_a = select(hollow, a, b * 0.5);
    const T drop = in.outside_temperature - in.bore_temperature;
    const T per_log = 1.0 / log(b / safe_a);
    const T per_length = 1.0 / (b - a);
    const auto temperature = [&](const T& x) {
        if (logarithmic)
            return in.bore_temperature + drop * log(larger(x, safe_a) / safe_a) * per_log;
        return in.bore_temperature + drop * (x - a) * per_length;
    };
    const auto strain = [&](const T& x) {
        return materials::free_growth(m, in.expansion_factor, temperature(x));
    };
    out.mean_temperature = mean_by_area(temperature, a, b);
    out.local_temperature = temperature(r);
    const T whole = mean_by_area(strain, a, b);
    const auto off_bore = r > a;
    const T inside = select(off_bore, mean_by_area(strain, a, select(off_bore, r, b)), strain(a));
    const T here = strain(r);
    const Section<T> section{a, b,
                             materials::at(m.modulus, out.mean_temperature) * in.modulus_factor,
                             m.poisson, m.density};
    const T hole = at_radius(section, r).hole;
    const T stiff = section.modulus * (long_ring ? 1.0 / (1.0 - m.poisson) : 1.0);
    const Stresses<T> s{stiff * 0.5 * (1.0 - hole) * (whole - inside),
                        stiff * (whole * (1.0 + hole) * 0.5 + inside * (1.0 - hole) * 0.5 - here),
                        long_ring ? stiff * (whole - here) : T(0.0)};
    out.radial_stress = s.radial;
    out.hoop_stress = s.hoop;
    out.long_stress = s.axial;
    out.von_mises = von_mises(s);
    out.yield_use = out.von_mises / materials::at(m.yield, out.local_temperature);
    out.growth = r * 2.0 * ((s.hoop - (s.radial + s.axial) * m.poisson) / section.modulus + here);
    out.strain = whole;
}

} // namespace fitwright::rings
