// One fit, twice: by the library's formulas on lanes, and as a loop written by hand.
#include "rings/detail/fit.hpp"
#include "fields/level_file.hpp"
#include "kernels.hpp"

namespace fitwright::bench {

namespace {

// Flat, so that both sides compute the same outputs: parts of the joint that the pressure does not
// need are left out by the compiler, as they are by hand.
template <class Level>
[[gnu::flatten]] void by_lanes(const FitColumns& c, const materials::Material& ms,
                               const materials::Material& mr) {
    using L = typename fields::Formulas<Level>::L;
    for (int k = 0; k < c.count; k += L::width) {
        const auto at = [k](const double* column) { return L::load(column + k); };
        number::Faults<L> faults;
        rings::Ring<L> ring;
        ring.outside = at(c.outside);
        ring.roughness = at(c.ring_roughness);
        ring.smoothing = at(c.smoothing);
        ring.modulus_factor = at(c.ring_modulus);
        ring.expansion_factor = at(c.ring_expansion);
        const L force = at(c.axial_force);
        const rings::Joint<L> joint = rings::joint_of(
            rings::JointInputs<L>{at(c.shaft_bore), at(c.shaft_modulus), at(c.shaft_expansion),
                                  at(c.shaft_temperature), at(c.seat), at(c.seat_roughness),
                                  at(c.interference), at(c.speed), at(c.ring_temperature)},
            ring, ms, mr, rings::JointPlaces{1, 2}, faults);
        rings::pressure_under(joint, force, force).store(c.pressure + k);
        faults.code.store(c.broken + k);
    }
}

// From here on no word of the library: arrays, doubles, and the formulas as a textbook has them.
template <int count>
struct Hinges {
    double first, knot[count], slope_change[count];
};
template <int count>
Hinges<count> hinges(const materials::Table& t) {
    Hinges<count> h{t.first, {}, {}};
    for (int k = 0; k < count; ++k) {
        h.knot[k] = t.knot[k];
        h.slope_change[k] = t.slope_change[k];
    }
    return h;
}
template <int count>
[[gnu::always_inline]] inline double value(const Hinges<count>& h, double t) {
    double y = h.first;
    for (int k = 0; k < count; ++k)
        y += (t > h.knot[k] ? t - h.knot[k] : 0.0) * h.slope_change[k];
    return y;
}

template <bool asked>
void by_loop(const FitColumns& c, const materials::Material& ms, const materials::Material& mr) {
    const auto shaft_e = hinges<shaft_modulus_hinges>(ms.modulus);
    const auto ring_e = hinges<ring_modulus_hinges>(mr.modulus);
    const auto shaft_alpha = hinges<shaft_expansion_hinges>(ms.expansion);
    const auto ring_alpha = hinges<ring_expansion_hinges>(mr.expansion);
    const double nus = ms.poisson;
    const double nur = mr.poisson;
    const double rho_s = ms.density;
    const double rho_r = mr.density;
    const double shaft_low = ms.lowest;
    const double shaft_high = ms.highest;
    const double ring_low = mr.lowest;
    const double ring_high = mr.highest;
    const double* __restrict seat = c.seat;
    const double* __restrict shaft_bore = c.shaft_bore;
    const double* __restrict outside = c.outside;
    const double* __restrict interference = c.interference;
    const double* __restrict seat_roughness = c.seat_roughness;
    const double* __restrict ring_roughness = c.ring_roughness;
    const double* __restrict smoothing = c.smoothing;
    const double* __restrict shaft_temperature = c.shaft_temperature;
    const double* __restrict ring_temperature = c.ring_temperature;
    const double* __restrict speed = c.speed;
    const double* __restrict axial_force = c.axial_force;
    const double* __restrict shaft_modulus = c.shaft_modulus;
    const double* __restrict shaft_expansion = c.shaft_expansion;
    const double* __restrict ring_modulus = c.ring_modulus;
    const double* __restrict ring_expansion = c.ring_expansion;
    double* __restrict pressure = c.pressure;
    double* __restrict broken = c.broken;
    const int count = c.count;
    constexpr double pi = 3.14159265358979323846;

#pragma GCC ivdep
    for (int k = 0; k < count; ++k) {
        const double d = seat[k];
        const double di = shaft_bore[k];
        const double b = outside[k];
        const double ts = shaft_temperature[k];
        const double tr = ring_temperature[k];
        const double es = value(shaft_e, ts) * shaft_modulus[k];
        const double er = value(ring_e, tr) * ring_modulus[k];
        const double warm = value(shaft_alpha, ts) * shaft_expansion[k] * (ts - 20.0) -
                            value(ring_alpha, tr) * ring_expansion[k] * (tr - 20.0);
        const double d2 = d * d;
        const double di2 = di * di;
        const double b2 = b * b;
        const double w2 = speed[k] * speed[k];
        // Growth of the two faces on diameter: rho w^2 d [(1 - nu) own^2 + (3 + nu) other^2]/(16 E)
        const double bore_growth = rho_r * w2 * d * ((1.0 - nur) * d2 + (3.0 + nur) * b2) / er;
        const double seat_growth = rho_s * w2 * d * ((1.0 - nus) * d2 + (3.0 + nus) * di2) / es;
        const double section_r = b2 - d2;
        const double section_s = d2 - di2;
        const double by_force =
            d * (4.0 / pi) * axial_force[k] * (nur / (er * section_r) + nus / (es * section_s));
        const double peaks = 0.8 * smoothing[k] * (seat_roughness[k] + ring_roughness[k]);
        const double tight = interference[k] > 0.0 ? interference[k] : 0.0;
        const double left = interference[k] - (peaks < tight ? peaks : tight) + d * warm -
                            (bore_growth - seat_growth) * 0.0625 - by_force;
        const double cs = (d2 + di2) / section_s - nus;
        const double cr = (b2 + d2) / section_r + nur;
        const double p = left / (d * (cs / es + cr / er));
        pressure[k] = p > 0.0 ? p : 0.0;
        if constexpr (asked) {
            double bad = 0.0;
            bad = !(tr >= ring_low && tr <= ring_high) ? 6.0 : bad;
            bad = !(speed[k] * b <= 600.0) ? 5.0 : bad;
            bad = !(__builtin_fabs(interference[k]) < d * 0.01) ? 4.0 : bad;
            bad = !(b > d) ? 3.0 : bad;
            bad = !(ts >= shaft_low && ts <= shaft_high) ? 2.0 : bad;
            bad = !(di < d) ? 1.0 : bad;
            broken[k] = bad;
        }
    }
}

} // namespace

template <class Level>
void fit_by_lanes(const FitColumns& c, const materials::Material& shaft,
                  const materials::Material& ring) {
    by_lanes<Level>(c, shaft, ring);
}
template <class Level>
void fit_by_loop(const FitColumns& c, const materials::Material& shaft,
                 const materials::Material& ring) {
    c.broken == nullptr ? by_loop<false>(c, shaft, ring) : by_loop<true>(c, shaft, ring);
}

template void fit_by_lanes<AtLevel>(const FitColumns&, const materials::Material&,
                                    const materials::Material&);
template void fit_by_loop<AtLevel>(const FitColumns&, const materials::Material&,
                                   const materials::Material&);

} // namespace fitwright::bench
