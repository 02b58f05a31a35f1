// A fit of two rings: compatibility of the two diameters at the joint.
//
//   interference left = seat - bore - s 0.8 (Rz_seat + Rz_bore)          smoothing, DIN 7190-1
//                       + d (alpha_s (Ts - 20) - alpha_r (Tr - 20))      heat, mean expansion from 20
//                       - (growth of the bore - growth of the seat) by speed
//                       - d N [nu_r/(E_r A_r) + nu_s/(E_s A_s)]          axial force N, Poisson
//   pressure = interference left / (d [Cs/E_s + Cr/E_r]), not below 0
//   Cs = (d^2 + di^2)/(d^2 - di^2) - nu_s,  Cr = (Do^2 + d^2)/(Do^2 - d^2) + nu_r
#pragma once

#include "thick_ring.hpp"
#include <fitwright/number/root.hpp>
#include <fitwright/rings/fit.hpp>

namespace fitwright::rings {

// Everything of one ring in one state that does not depend on the axial force.
template <class T>
struct Joint {
    Section<T> shaft, ring;
    T diameter;
    T shaft_warm, ring_warm; // free growth per length
    T interference;          // left at no axial force
    T smoothing_loss;        // part of the interference lost by roughness
    T speed_loss;            // part of the interference taken by speed
    T flexibility;           // d [Cs/E_s + Cr/E_r]: interference per pressure
    T ring_force_loss;       // interference taken per axial force in the ring (it fattens)
    T shaft_force_loss;      // and per axial force in the shaft (it thins)
    T length_coupling;       // ring shortens, shaft lengthens: relative strain per pressure
};

template <class T>
struct JointInputs {
    T shaft_bore, shaft_modulus_factor, shaft_expansion_factor, shaft_temperature;
    T seat, seat_roughness;
    T interference; // before smoothing
    T speed, ring_temperature;
};

// What a fault speaks of: the shaft or the ring (the caller names the places).
struct JointPlaces {
    int shaft, ring;
};

template <class T>
Joint<T> joint_of(const JointInputs<T>& in, const Ring<T>& ring, const materials::Material& ms,
                  const materials::Material& mr, JointPlaces places, Faults<T>& faults) {
    faults.place = places.shaft;
    faults.require(in.shaft_bore < in.seat, rules::shaft_bore_below_seat, in.shaft_bore);
    faults.require((in.shaft_temperature >= T(ms.lowest)) & (in.shaft_temperature <= T(ms.highest)),
                   rules::temperature_in_material_range, in.shaft_temperature);
    faults.place = places.ring;
    faults.require(ring.outside > in.seat, rules::ring_outside_above_seat, ring.outside);
    faults.require(abs(in.interference) < in.seat * 0.01, rules::interference_sensible,
                   in.interference);
    faults.require(in.speed * ring.outside <= T(surface_speed_limit), rules::surface_speed,
                   in.speed);
    faults.require((in.ring_temperature >= T(mr.lowest)) & (in.ring_temperature <= T(mr.highest)),
                   rules::temperature_in_material_range, in.ring_temperature);

    Joint<T> j;
    const T d = in.seat;
    j.diameter = d;
    j.shaft = {in.shaft_bore * 0.5, d * 0.5,
               materials::at(ms.modulus, in.shaft_temperature) * in.shaft_modulus_factor,
               ms.poisson, ms.density};
    j.ring = {d * 0.5, ring.outside * 0.5,
              materials::at(mr.modulus, in.ring_temperature) * ring.modulus_factor, mr.poisson,
              mr.density};
    j.shaft_warm = materials::free_growth(ms, in.shaft_expansion_factor, in.shaft_temperature);
    j.ring_warm = materials::free_growth(mr, ring.expansion_factor, in.ring_temperature);

    j.speed_loss = face_growth_by_speed(j.ring, in.speed, j.ring.inner) -
                   face_growth_by_speed(j.shaft, in.speed, j.shaft.outer);
    // Peaks are pressed flat only where there is interference to press them.
    j.smoothing_loss = smaller((in.seat_roughness + ring.roughness) * ring.smoothing * 0.8,
                               positive(in.interference));
    j.interference =
        in.interference - j.smoothing_loss + d * (j.shaft_warm - j.ring_warm) - j.speed_loss;

    const T d2 = d * d;
    const T ks = d2 / (d2 - in.shaft_bore * in.shaft_bore); // even stress in the shaft per pressure
    const T kr = d2 / (ring.outside * ring.outside - d2);
    // (d^2 + di^2)/(d^2 - di^2) = 2 ks - 1, (Do^2 + d^2)/(Do^2 - d^2) = 2 kr + 1
    j.flexibility = d * ((ks * 2.0 - (1.0 + ms.poisson)) / j.shaft.modulus +
                         (kr * 2.0 + (1.0 + mr.poisson)) / j.ring.modulus);
    const T nus = ms.poisson / j.shaft.modulus;
    const T nur = mr.poisson / j.ring.modulus;
    j.ring_force_loss = d * nur / section_area(j.ring);
    j.shaft_force_loss = d * nus / section_area(j.shaft);
    j.length_coupling = (kr * nur + ks * nus) * 2.0;
    return j;
}

template <class T>
FITWRIGHT_INLINE T interference_under(const Joint<T>& j, const T& ring_force,
                                      const T& shaft_force) {
    return j.interference - j.ring_force_loss * ring_force - j.shaft_force_loss * shaft_force;
}

template <class T>
FITWRIGHT_INLINE T pressure_under(const Joint<T>& j, const T& ring_force, const T& shaft_force) {
    return positive(interference_under(j, ring_force, shaft_force)) / j.flexibility;
}

// Mean pressure of a ring on a shaft that goes on beyond it, over Lame's, less one:
// kappa (d/L) Cs/(Cs + Cr); kappa 0.092 for a solid shaft, 0.126 at di/d = 0.5, 0.134 at 0.75.
// Fitted to two independent finite-element programs (docs/theory.md), for L >= d/4; below that the
// value at L = d/4 is kept.
template <class T>
T overhang_excess(const Joint<T>& j, const T& contact_length) {
    const T q = j.shaft.inner / j.shaft.outer;
    const T kappa = q * 0.09 - q * q * 0.045 + 0.092;
    const T d2 = square(j.shaft.outer);
    const T shaft_share = (d2 * 2.0 / (d2 - square(j.shaft.inner)) - (1.0 + j.shaft.poisson)) /
                          j.shaft.modulus / j.flexibility * j.diameter;
    return kappa * smaller(j.diameter / contact_length, T(4.0)) * shaft_share;
}

// Growth of a raceway's diameter ground into the ring: the ring taken with its full outside (at the
// groove's radius) and taken as if it ended at the groove. Their mean, and their difference as the
// error of the model.
template <class T>
struct RacewayGrowth {
    T mean, spread;
};
template <class T>
RacewayGrowth<T> raceway_growth(const Joint<T>& j, const T& ring_force, const T& shaft_force,
                                const T& raceway, const T& speed) {
    const T p = pressure_under(j, ring_force, shaft_force);
    const T r = raceway * 0.5;
    const auto of = [&](const Section<T>& s) {
        return growth_by_pressure(s, p, r) + face_growth_by_speed(s, speed, r) +
               r * 2.0 * (ring_force / section_area(s) * s.poisson / s.modulus);
    };
    Section<T> groove = j.ring;
    groove.outer = r;
    const T full = of(j.ring);
    const T thin = of(groove);
    return {(full + thin) * 0.5 + raceway * j.ring_warm, thin - full};
}

// Elongation of a ring as a residual in temperature: where does the grip end?
template <class T>
struct ElongationEquation {
    const materials::Table* expansion;
    T factor, wanted; // factor alpha(t) (t - 20) = wanted
    FITWRIGHT_INLINE Residual<T> operator()(const T& t) const {
        const auto a = materials::value_and_slope(*expansion, t);
        const T rise = t - materials::reference_temperature;
        return {a.value * factor * rise - wanted, (a.value + rise * a.slope) * factor};
    }
    FITWRIGHT_INLINE ElongationEquation<Value<T>> values() const {
        return {expansion, value_of(factor), value_of(wanted)};
    }
};

// Temperature at which the free growth of a part is `growth`, held to the range of the data.
template <class T>
T temperature_for_growth(const materials::Material& m, const T& expansion_factor, const T& growth,
                         Faults<T>& faults) {
    const T most = materials::free_growth(m, expansion_factor, T(m.highest));
    const T least = materials::free_growth(m, expansion_factor, T(m.lowest));
    const auto within = (growth <= most) & (growth >= least);
    const ElongationEquation<T> held{&m.expansion, expansion_factor,
                                     select(within, growth, T(0.0))};
    const auto r =
        root(held, T(m.lowest), T(m.highest), T(materials::reference_temperature), T(1.0));
    faults.require(r.converged, rules::no_convergence, growth);
    return select(within, r.x, select(growth > most, T(m.highest), T(m.lowest)));
}

inline constexpr double never = 2e5; // rad/s, stands for "no speed takes the grip"

template <class T>
FitOutputs<T> fit_outputs(const Joint<T>& j, const Ring<T>& ring, const T& ring_force,
                          const T& shaft_force, const T& speed, const materials::Material& ms,
                          const materials::Material& mr, const T& shaft_temperature,
                          const T& ring_temperature, Faults<T>& faults) {
    FitOutputs<T> out;
    const T left = interference_under(j, ring_force, shaft_force);
    faults.kink(left == T(0.0));
    const T p = positive(left) / j.flexibility;
    out.interference_left = left;
    out.smoothing_loss = j.smoothing_loss;
    out.pressure = p;
    out.gap = positive(-left);
    const T contact = fields::given(ring.contact_length, ring.length);
    faults.require(contact <= ring.length, rules::contact_within_length, contact);
    out.holding_force = ring.friction_low * p * j.diameter * contact * fields::pi;
    out.torque_capacity = out.holding_force * j.diameter * 0.5;

    // Ring at its bore, thin; compressed by the clamp.
    const T ring_axial = -ring_force / section_area(j.ring);
    const Stresses<T> rp = pressure_stresses(j.ring, p, T(0.0), j.ring.inner);
    const Stresses<T> rw = rotation_stresses(j.ring, speed, j.ring.inner, false);
    const Stresses<T> rs{rp.radial + rw.radial, rp.hoop + rw.hoop, ring_axial};
    out.ring_hoop = rs.hoop;
    out.ring_von_mises = von_mises(rs);
    out.ring_tresca = tresca(rs);
    out.ring_yield_use = out.ring_von_mises / materials::at(mr.yield, ring_temperature);

    // Shaft, long; stretched by the clamp. The worst point is its bore or its surface.
    const T shaft_axial = shaft_force / section_area(j.shaft);
    const auto shaft_at = [&](const T& r) {
        const Stresses<T> sp = pressure_stresses(j.shaft, T(0.0), p, r);
        const Stresses<T> sw = rotation_stresses(j.shaft, speed, r, true);
        return Stresses<T>{sp.radial + sw.radial, sp.hoop + sw.hoop, sw.axial + shaft_axial};
    };
    const Stresses<T> inside = shaft_at(j.shaft.inner);
    out.shaft_hoop = inside.hoop;
    out.shaft_von_mises = larger(von_mises(inside), von_mises(shaft_at(j.shaft.outer)));
    out.shaft_yield_use = out.shaft_von_mises / materials::at(ms.yield, shaft_temperature);

    // Free faces: 2 p a^2/(b^2 - a^2)/E of the ring's outside, and its mirror image in the shaft.
    const T b = j.ring.outer;
    const T a = j.ring.inner;
    out.outside_growth = b * 2.0 *
                             (p * 2.0 * a * a / (b * b - a * a) / j.ring.modulus + j.ring_warm -
                              ring_axial * mr.poisson / j.ring.modulus) +
                         face_growth_by_speed(j.ring, speed, b);
    const T c = j.shaft.inner;
    out.shaft_bore_growth = c * 2.0 *
                                (p * -2.0 * a * a / (a * a - c * c) / j.shaft.modulus +
                                 j.shaft_warm - shaft_axial * ms.poisson / j.shaft.modulus) +
                            face_growth_by_speed(j.shaft, speed, c);
    const T kr = a * a / (b * b - a * a);
    const T ks = a * a / (a * a - c * c);
    out.ring_strain = j.ring_warm + strain_by_speed(j.ring, speed) +
                      (ring_axial - p * kr * (2.0 * mr.poisson)) / j.ring.modulus;
    out.shaft_strain = j.shaft_warm + strain_by_speed(j.shaft, speed) +
                       (shaft_axial + p * ks * (2.0 * ms.poisson)) / j.shaft.modulus;

    // Speed takes interference as its square.
    const T per_square =
        (face_growth_by_speed(j.ring, T(1.0), a) - face_growth_by_speed(j.shaft, T(1.0), a));
    const T at_rest = left + j.speed_loss;
    const auto loses = per_square > T(0.0);
    out.loss_speed = smaller(
        select(loses, root0(positive(at_rest) / select(loses, per_square, T(1.0))), T(never)),
        T(never));
    // The ring must grow by what is left, from where it is.
    out.loss_temperature = temperature_for_growth(
        mr, ring.expansion_factor, j.ring_warm + positive(left) / j.diameter, faults);
    return out;
}

template <class T>
void Fit::run(const T* inputs, T* outputs, const fields::Context& context, Faults<T>& faults) {
    const auto& in = *reinterpret_cast<const FitInputs<T>*>(inputs);
    const materials::Material& ms = *context.materials[0];
    const materials::Material& mr = *context.materials[1];
    const T measured = in.shaft.seat - in.ring.bore;
    const T interference = fields::given(in.interference, measured);
    // Equal sizes are nominal sizes: then the interference is free.
    faults.require((measured == T(0.0)) | (abs(interference - measured) <= T(1e-9)),
                   rules::interference_told_twice, interference);
    const Joint<T> j =
        joint_of(JointInputs<T>{in.shaft.bore, in.shaft.modulus_factor, in.shaft.expansion_factor,
                                in.shaft_temperature, in.shaft.seat, in.shaft.roughness,
                                interference, in.speed, in.ring_temperature},
                 in.ring, ms, mr, JointPlaces{1, 2}, faults);
    *reinterpret_cast<FitOutputs<T>*>(outputs) =
        fit_outputs(j, in.ring, in.axial_force, in.axial_force, in.speed, ms, mr,
                    in.shaft_temperature, in.ring_temperature, faults);
}

} // namespace fitwright::rings
