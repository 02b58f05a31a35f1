// Modified rating life, ISO 281:2007 clause 9 and annex A: what the oil makes of the basic life.
// Formulas and coefficients from memory.
#pragma once

#include "basic_life.hpp"
#include "roller_rating.hpp"
#include "viscosity.hpp"

namespace fitwright::rules {
extern const number::Rule contamination_class_known, fatigue_limit_known;
} // namespace fitwright::rules

namespace fitwright::bearings {

// eC = a (1 - c/cbrt(dm)), a = factor kappa^0.68 dm^0.55 but at most 1, dm in mm.
struct Contamination {
    double factor, c, c_large; // c_large: pitch diameters from 500 mm on
};
FITWRIGHT_INLINE Contamination contamination_of(Cleanliness oil, Contamination high,
                                                Contamination normal, Contamination slight,
                                                Contamination severe, Contamination very_severe) {
    return oil == Cleanliness::high     ? high
           : oil == Cleanliness::normal ? normal
           : oil == Cleanliness::slight ? slight
           : oil == Cleanliness::severe ? severe
                                        : very_severe;
}
FITWRIGHT_INLINE Contamination contamination_of(Lubrication supply, Cleanliness oil) {
    switch (supply) {
    case Lubrication::oil_filtered:
        return contamination_of(oil, {0.0864, 0.5663, 0.5663}, {0.0432, 0.9987, 0.9987},
                                {0.0288, 1.6329, 1.6329}, {0.0216, 2.3362, 2.3362},
                                {0.0, 0.0, 0.0});
    case Lubrication::oil_bath:
        return contamination_of(oil, {0.0864, 0.5796, 0.5796}, {0.0288, 1.141, 1.141},
                                {0.0133, 1.670, 1.670}, {0.00864, 2.5164, 2.5164},
                                {0.00411, 3.8974, 3.8974});
    default:
        return contamination_of(oil, {0.0864, 0.6796, 0.6796}, {0.0432, 1.141, 1.141},
                                {0.0177, 1.887, 1.677}, {0.0115, 2.662, 2.662},
                                {0.00617, 4.06, 4.06});
    }
}
template <class T>
T contamination_factor(const Contamination& c, const T& viscosity_ratio, const T& pitch) {
    const T a = smaller(power(viscosity_ratio, 0.68) * power(pitch, 0.55) * c.factor, T(1.0));
    const T minus = select(pitch < T(500.0), T(c.c), T(c.c_large));
    return positive(a * (1.0 - minus / cbrt(pitch)));
}

// aISO = 0.1 (1 - (c - d/kappa^e)^inner (eC Cu/(share P))^load)^-outer, at most 50.
template <class T>
T modification_factor(RatedBearing bearing, const T& viscosity_ratio, const T& clean_load_ratio,
                      Faults<T>& faults) {
    const bool balls = bearing == RatedBearing::radial_ball || bearing == RatedBearing::thrust_ball;
    const double share = bearing == RatedBearing::thrust_ball     ? 3.0
                         : bearing == RatedBearing::thrust_roller ? 2.5
                                                                  : 1.0;
    const T kappa = smaller(viscosity_ratio, T(4.0));
    const auto thin = kappa < T(0.4);
    const auto middling = kappa < T(1.0);
    const T curved = select(thin, power(kappa, -0.054381),
                            select(middling, power(kappa, -0.19087), power(kappa, -0.071739)));
    const T d = balls ? select(thin, T(2.2649), T(1.9987)) : select(thin, T(1.3993), T(1.2348));
    const T film = (balls ? 2.5671 : 1.5859) - d * curved;
    const T part =
        power(film, balls ? 0.83 : 1.0) * power(clean_load_ratio / share, balls ? 1.0 / 3.0 : 0.4);
    // Well below the base that makes 50, so that the power stays finite.
    const T base = larger(1.0 - part, T(0.4));
    const T free = power(base, balls ? -9.3 : -9.185) * 0.1;
    faults.kink((free == T(50.0)) | (kappa == T(0.4)) | (kappa == T(1.0)) |
                (viscosity_ratio == T(4.0)) | (viscosity_ratio == T(0.1)));
    // Below 0.1 the standard gives nothing: the least factor it knows.
    return select(viscosity_ratio < T(0.1), T(0.1), smaller(free, T(50.0)));
}

// What the job asks for state by state: aISO from the oil, the load and the speed.
template <class T>
struct OilFigures {
    T viscosity, reference_viscosity, viscosity_ratio, contamination_factor, modification_factor;
};
template <class T>
OilFigures<T> oil_figures(RatedBearing bearing, const Contamination& contamination,
                          const T& viscosity, const T& told_contamination_factor, const T& speed,
                          const T& pitch_diameter, const T& fatigue_limit, const T& equivalent_load,
                          Faults<T>& faults) {
    OilFigures<T> o;
    o.viscosity = viscosity;
    o.reference_viscosity = reference_viscosity(speed, pitch_diameter, faults);
    o.viscosity_ratio = o.viscosity / o.reference_viscosity;
    const T pitch = pitch_diameter * 1e3;
    const T kappa = smaller(larger(o.viscosity_ratio, T(0.1)), T(4.0));
    const auto told = is_given(told_contamination_factor);
    faults.require(contamination.factor > 0.0 ? told | !told : told,
                   rules::contamination_class_known, told_contamination_factor);
    o.contamination_factor =
        fields::given(told_contamination_factor, contamination_factor(contamination, kappa, pitch));
    // Without load the film is as good as it gets.
    const T load = larger(equivalent_load, fatigue_limit * 1e-6);
    o.modification_factor = modification_factor(
        bearing, o.viscosity_ratio, o.contamination_factor * fatigue_limit / load, faults);
    return o;
}

template <class T>
void ModifiedLife::run(const T* inputs, T* outputs, const fields::Context& context,
                       Faults<T>& faults) {
    const auto& in = *reinterpret_cast<const ModifiedLifeInputs<T>*>(inputs);
    auto& out = *reinterpret_cast<ModifiedLifeOutputs<T>*>(outputs);
    const auto bearing = static_cast<RatedBearing>(context.choices[0]);
    const auto contamination = contamination_of(static_cast<Lubrication>(context.choices[1]),
                                                static_cast<Cleanliness>(context.choices[2]));
    const bool balls = bearing == RatedBearing::radial_ball || bearing == RatedBearing::thrust_ball;

    faults.place = 1;
    const T viscosity = oil_viscosity(in.oil, in.temperature, faults);
    faults.place = 0;
    const auto known = is_given(in.fatigue_limit) | is_given(in.static_rating);
    faults.require(known, rules::fatigue_limit_known, in.fatigue_limit);
    const T rating = select(is_given(in.static_rating), in.static_rating, T(1.0));
    out.fatigue_limit = fields::given(
        in.fatigue_limit, estimated_fatigue_limit(rating, T(in.pitch_diameter * 1e3), !balls));

    const auto oil =
        oil_figures(bearing, contamination, viscosity, in.contamination_factor, in.speed,
                    in.pitch_diameter, out.fatigue_limit, in.equivalent_load, faults);
    out.viscosity = oil.viscosity;
    out.reference_viscosity = oil.reference_viscosity;
    out.viscosity_ratio = oil.viscosity_ratio;
    out.contamination_factor = oil.contamination_factor;
    out.modification_factor = oil.modification_factor;
    out.reliability_factor =
        reliability_factor(in.reliability, weibull_of(ReliabilityLaw::iso_281));
    const T basic = power(load_ratio_for_life(in.equivalent_load, in.dynamic_rating),
                          balls ? -3.0 : -10.0 / 3.0) *
                    million;
    out.life = basic * out.reliability_factor * out.modification_factor;
    out.running_time = running_time(out.life, in.speed);
}

} // namespace fitwright::bearings
