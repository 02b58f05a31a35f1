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

// ln(b/a) for b > a, without the digits that a thin wall would lose.
template <class T>
FITWRIGHT_INLINE T log_ratio(const T& b, const T& a) {
    const T u = b / a;
    const T x = (b - a) / a;
    const auto near = u == T(1.0);
    return select(near, x, log(select(near, T(2.0), u)) * (x / select(near, T(1.0), u - 1.0)));
}

// The temperature along the radius: straight in x, which is r, or ln(r/a) in a hollow ring.
template <class T>
struct Profile {
    T bore, outside; // radii
    T at_bore, drop; // temperatures
    T whole;         // x outside; 0 at the bore
    bool logarithmic;

    FITWRIGHT_INLINE T place(const T& r) const {
        return logarithmic ? log_ratio(larger(r, bore), bore) : r - bore;
    }
    FITWRIGHT_INLINE T temperature(const T& x) const { return at_bore + drop * (x / whole); }
    // r dr = weight(x) dx
    FITWRIGHT_INLINE T weight(const T& x) const {
        if (logarithmic)
            return bore * bore * exp(x * 2.0);
        return bore + x;
    }
};

// Integrals over the area from x to x, over 2 pi: of a growth from 20 degC and of 1.
template <class T>
struct AreaSum {
    T growth, area;
};

// Gauss and Legendre, ten points (Abramowitz & Stegun, table 25.4).
template <class T, class F>
void add_gauss(const Profile<T>& p, const T& from, const T& to, const F& growth, AreaSum<T>& sum) {
    constexpr double place[] = {0.1488743389816312, 0.4333953941292472, 0.6794095682990244,
                                0.8650633666889845, 0.9739065285171717};
    constexpr double weight[] = {0.2955242247147529, 0.2692667193099963, 0.2190863625159820,
                                 0.1494513491505806, 0.0666713443086881};
    const T middle = (from + to) * 0.5;
    const T half = (to - from) * 0.5;
    for (int k = 0; k < 5; ++k)
        for (const double side : {-1.0, 1.0}) {
            const T x = middle + half * (side * place[k]);
            const T w = p.weight(x) * half * weight[k];
            sum.growth += growth(p.temperature(x)) * w;
            sum.area += w;
        }
}

// Mean of the free growth by area from the bore to x. Between two knots of the expansion table the
// growth is a parabola of the temperature, so that Gauss is exact there (linear profile) or to the last
// digit (logarithmic one, by halves): each piece for itself.
template <class T>
T mean_growth(const Profile<T>& p, const materials::Material& m, const T& expansion_factor,
              const T& to) {
    const materials::Table& table = m.expansion;
    const auto slopes = abs(p.drop) > T(0.0);
    const T per_degree = p.whole / select(slopes, p.drop, T(1.0));
    AreaSum<T> sum{T(0.0), T(0.0)};
    // In the order in which the table goes; where the temperature falls along the radius the pieces
    // come from the outside inwards.
    const auto place_of = [&](double t) { // of one temperature all lies on one side of a knot
        const T x =
            select(slopes, (T(t) - p.at_bore) * per_degree, select(p.at_bore < T(t), to, T(0.0)));
        return larger(smaller(x, to), T(0.0));
    };
    double straight = table.first; // of this piece: (straight + slope u) u, u = t - 20
    double slope = 0.0;
    T last = select(p.drop < T(0.0), to, T(0.0));
    for (int k = 0; k <= table.count; ++k) {
        const bool final = k == table.count;
        const T next = final ? select(p.drop < T(0.0), T(0.0), to) : place_of(table.knot[k]);
        const T from = smaller(last, next);
        const T end = larger(last, next);
        if (any(end > from)) {
            const auto growth = [&](const T& t) {
                const T u = t - materials::reference_temperature;
                return (u * slope + straight) * u;
            };
            const T middle = (from + end) * 0.5;
            add_gauss(p, from, middle, growth, sum);
            add_gauss(p, middle, end, growth, sum);
        }
        if (!final) {
            straight -= table.slope_change[k] * (table.knot[k] - materials::reference_temperature);
            slope += table.slope_change[k];
        }
        last = next;
    }
    const auto some = sum.area > T(0.0);
    const T u = p.at_bore;
    return select(some, sum.growth / select(some, sum.area, T(1.0)) * expansion_factor,
                  materials::free_growth(m, expansion_factor, u));
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
    Profile<T> profile{logarithmic ? safe_a : a,
                       b,
                       in.bore_temperature,
                       in.outside_temperature - in.bore_temperature,
                       T(0.0),
                       logarithmic};
    profile.whole = profile.place(b);
    const T x = profile.place(r);
    AreaSum<T> heat{T(0.0), T(0.0)};
    const auto itself = [](const T& t) { return t; };
    add_gauss(profile, T(0.0), profile.whole * 0.5, itself, heat);
    add_gauss(profile, profile.whole * 0.5, profile.whole, itself, heat);
    out.mean_temperature = heat.growth / heat.area;
    out.local_temperature = profile.temperature(x);
    const T whole = mean_growth(profile, m, in.expansion_factor, profile.whole);
    const T inside = mean_growth(profile, m, in.expansion_factor, x);
    const T here = materials::free_growth(m, in.expansion_factor, out.local_temperature);
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
