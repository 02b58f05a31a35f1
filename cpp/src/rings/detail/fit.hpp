// A fit of two rings: compatibility of the two diameters at the joint, each of its own part: seat d and
// bore b as measured (equal where they are nominal sizes).
//
//   interference left = seat - bore - s 0.8 (Rz_seat + Rz_bore)          smoothing, DIN 7190-1
//                       + d (alpha_s (Ts - 20) - alpha_r (Tr - 20))      heat, mean expansion from 20
//                       - (growth of the bore - growth of the seat) by speed
//                       - N [b nu_r/(E_r A_r) + d nu_s/(E_s A_s)]        axial force N, Poisson
//   pressure = interference left / (d Cs/E_s + b Cr/E_r), not below 0
//   Cs = (d^2 + di^2)/(d^2 - di^2) - nu_s,  Cr = (Do^2 + b^2)/(Do^2 - b^2) + nu_r
#pragma once

#include "materials/range.hpp"
#include "thick_ring.hpp"
#include <fitwright/rings/fit.hpp>

namespace fitwright::rules {
extern const number::Rule contact_within_length, interference_sensible, interference_told_twice,
    ring_outside_above_seat, shaft_bore_below_seat, surface_speed;
} // namespace fitwright::rules

namespace fitwright::rings {

// Everything of one ring in one state that does not depend on the axial force.
template <class T>
struct Joint {
    Section<T> shaft, ring;
    T shaft_span, ring_span;             // 1/(b^2 - a^2)
    T shaft_compliance, ring_compliance; // 1/E
    T diameter;
    T shaft_warm, ring_warm; // free growth per length
    T interference;          // left at no axial force
    T smoothing_loss;        // part of the interference lost by roughness
    T speed_loss;            // part of the interference taken by speed
    T flexibility;           // d Cs/E_s + b Cr/E_r: interference per pressure
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
    materials::require_in_range(ms, in.shaft_temperature, faults);
    faults.place = places.ring;
    faults.require((ring.outside > in.seat) & (ring.outside > ring.bore),
                   rules::ring_outside_above_seat, ring.outside);
    faults.require(abs(in.interference) < in.seat * 0.01, rules::interference_sensible,
                   in.interference);
    faults.require(in.speed * ring.outside <= T(surface_speed_limit), rules::surface_speed,
                   in.speed);
    materials::require_in_range(mr, in.ring_temperature, faults);

    Joint<T> j;
    const T d = in.seat;
    j.diameter = d;
    j.shaft = {in.shaft_bore * 0.5, d * 0.5,
               materials::at(ms.modulus, in.shaft_temperature) * in.shaft_modulus_factor,
               ms.poisson, ms.density};
    const T b = ring.bore;
    j.ring = {b * 0.5, ring.outside * 0.5,
              materials::at(mr.modulus, in.ring_temperature) * ring.modulus_factor, mr.poisson,
              mr.density};
    j.shaft_warm =
        named("free growth of the shaft",
              materials::free_growth(ms, in.shaft_expansion_factor, in.shaft_temperature));
    j.ring_warm = named("free growth of the ring",
                        materials::free_growth(mr, ring.expansion_factor, in.ring_temperature));

    j.shaft_span = named("inverse section of the shaft", per_span(j.shaft));
    j.ring_span = named("inverse section of the ring", per_span(j.ring));
    j.shaft_compliance = 1.0 / named("modulus of the shaft", j.shaft.modulus);
    j.ring_compliance = 1.0 / named("modulus of the ring", j.ring.modulus);
    const T w2 = in.speed * in.speed;
    j.speed_loss =
        named("growth of the bore by speed",
              own_face_growth(j.ring, w2 * j.ring_compliance, j.ring.inner, j.ring.outer)) -
        named("growth of the seat by speed",
              own_face_growth(j.shaft, w2 * j.shaft_compliance, j.shaft.outer, j.shaft.inner));
    // Peaks are pressed flat only where there is interference to press them.
    j.smoothing_loss = named("loss by smoothing",
                             smaller((in.seat_roughness + ring.roughness) * ring.smoothing * 0.8,
                                     positive(in.interference)));
    j.interference =
        named("interference without axial force",
              in.interference - j.smoothing_loss + d * (j.shaft_warm - j.ring_warm) - j.speed_loss);

    const T ks = square(j.shaft.outer) * j.shaft_span; // even stress in the shaft per pressure
    const T kr = square(j.ring.inner) * j.ring_span;
    // (d^2 + di^2)/(d^2 - di^2) = 2 ks - 1, (Do^2 + b^2)/(Do^2 - b^2) = 2 kr + 1
    j.flexibility = named("flexibility of the joint",
                          d * (ks * 2.0 - (1.0 + ms.poisson)) * j.shaft_compliance +
                              b * (kr * 2.0 + (1.0 + mr.poisson)) * j.ring_compliance);
    const T nus = j.shaft_compliance * ms.poisson;
    const T nur = j.ring_compliance * mr.poisson;
    j.ring_force_loss = named("interference lost per force in the ring",
                              b * nur * j.ring_span * (1.0 / fields::pi));
    j.shaft_force_loss = named("interference lost per force in the shaft",
                               d * nus * j.shaft_span * (1.0 / fields::pi));
    j.length_coupling = named("relative strain per pressure", (kr * nur + ks * nus) * 2.0);
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

// The same joint with the ring taken as if it ended at the radius r.
template <class T>
Joint<T> ending_at(const Joint<T>& whole, const T& r, const T& speed) {
    Joint<T> j = whole;
    j.ring.outer = r;
    j.ring_span = per_span(j.ring);
    const T w2 = speed * speed * j.ring_compliance;
    j.speed_loss += own_face_growth(j.ring, w2, j.ring.inner, j.ring.outer) -
                    own_face_growth(j.ring, w2, j.ring.inner, whole.ring.outer);
    j.interference += whole.speed_loss - j.speed_loss;
    const T more = square(j.ring.inner) * (j.ring_span - whole.ring_span); // of kr
    j.flexibility += j.ring.inner * more * 4.0 * j.ring_compliance;
    j.ring_force_loss *= j.ring_span / whole.ring_span;
    j.length_coupling += more * 2.0 * j.ring.poisson * j.ring_compliance;
    return j;
}

// Growth of a raceway's diameter ground into the ring: the ring taken with its full outside (at the
// groove's radius) and taken as if it ended at the groove. Each view has its own pressure, speed loss
// and section: a ring that ends at the groove gives way more. Their mean, and their difference as the
// error of the model.
template <class T>
struct RacewayGrowth {
    T mean, spread;
};
template <class T>
RacewayGrowth<T> raceway_growth(const Joint<T>& j, const T& ring_force, const T& shaft_force,
                                const T& raceway, const T& speed) {
    const T r = raceway * 0.5;
    const auto of = [&](const Joint<T>& view, const T& p) {
        return growth_by_pressure(view.ring, p, r) + face_growth_by_speed(view.ring, speed, r) +
               r * 2.0 * (ring_force / section_area(view.ring) * view.ring.poisson) *
                   view.ring_compliance;
    };
    const Joint<T> ending = ending_at(j, r, speed);
    const T full = of(j, T(hub(pressure_under(j, ring_force, shaft_force))));
    const T thin = of(ending, pressure_under(ending, ring_force, shaft_force));
    return {(full + thin) * 0.5 + raceway * j.ring_warm, thin - full};
}

// Temperature at which the free growth of a part is `growth`, held to the range of the data.
// With u = t - 20 the growth is factor (A + s u) u between two knots, and the growth at the knots
// tells which two: so there is nothing to iterate.
template <class T>
T temperature_for_growth(const materials::Material& m, const T& expansion_factor, const T& growth) {
    const materials::Table& table = m.expansion;
    const T wanted = growth / expansion_factor;
    double straight = table.first; // A: this piece carried on to 20 degC
    double slope = 0.0;
    T a(straight);
    T s(slope);
    for (int k = 0; k < table.count; ++k) {
        const double u = table.knot[k] - materials::reference_temperature;
        straight -= table.slope_change[k] * u;
        slope += table.slope_change[k];
        const auto beyond = wanted > T((straight + slope * u) * u);
        a = select(beyond, T(straight), a);
        s = select(beyond, T(slope), s);
    }
    const T t =
        wanted * 2.0 / (a + root0(a * a + s * wanted * 4.0)) + materials::reference_temperature;
    return smaller(larger(t, T(m.lowest)), T(m.highest));
}

inline constexpr double never = 2e5; // rad/s, stands for "no speed takes the grip"

template <class T>
FitOutputs<T> fit_outputs(const Joint<T>& j, const Ring<T>& ring, const T& ring_force,
                          const T& shaft_force, const T& speed, const materials::Material& ms,
                          const materials::Material& mr, const T& shaft_temperature,
                          const T& ring_temperature, Faults<T>& faults) {
    FitOutputs<T> out;
    const T left = named("interference left", interference_under(j, ring_force, shaft_force));
    faults.kink(left == T(0.0));
    const T p = hub(named("pressure", positive(left) / j.flexibility));
    out.interference_left = left;
    out.smoothing_loss = j.smoothing_loss;
    out.pressure = p;
    out.gap = positive(-left);
    const T contact = named("length in contact", fields::given(ring.contact_length, ring.length));
    faults.require(contact <= ring.length, rules::contact_within_length, contact);
    out.holding_force = ring.friction_low * p * j.diameter * contact * fields::pi;
    out.torque_capacity = out.holding_force * j.diameter * 0.5;

    // Ring at its bore, thin; compressed by the clamp.
    const T ring_axial =
        named("axial stress of the ring", -ring_force * j.ring_span * (1.0 / fields::pi));
    const At<T> at_bore = at_inner_face(j.ring);
    const Stresses<T> rp = pressure_stresses(j.ring, j.ring_span, p, T(0.0), at_bore);
    const Stresses<T> rw = rotation_stresses(j.ring, speed, at_bore, false);
    const Stresses<T> rs{named("radial stress at the bore of the ring", rp.radial + rw.radial),
                         named("hoop stress at the bore of the ring", rp.hoop + rw.hoop),
                         ring_axial};
    out.ring_hoop = rs.hoop;
    out.ring_von_mises = von_mises(rs);
    out.ring_tresca = tresca(rs);
    out.ring_yield_use = out.ring_von_mises / materials::at(mr.yield, ring_temperature);

    // Shaft, long; stretched by the clamp. The worst point is its bore or its surface.
    const T shaft_axial =
        named("axial stress of the shaft", shaft_force * j.shaft_span * (1.0 / fields::pi));
    const auto shaft_at = [&](const At<T>& place) {
        const Stresses<T> sp = pressure_stresses(j.shaft, j.shaft_span, T(0.0), p, place);
        const Stresses<T> sw = rotation_stresses(j.shaft, speed, place, true);
        return Stresses<T>{named("radial stress of the shaft", sp.radial + sw.radial),
                           named("hoop stress of the shaft", sp.hoop + sw.hoop),
                           named("long stress of the shaft", sw.axial + shaft_axial)};
    };
    const Stresses<T> inside = shaft_at(at_inner_face(j.shaft));
    out.shaft_hoop = inside.hoop;
    out.shaft_von_mises =
        larger(von_mises(inside), von_mises(shaft_at(at_radius(j.shaft, j.shaft.outer))));
    out.shaft_yield_use = out.shaft_von_mises / materials::at(ms.yield, shaft_temperature);

    // Free faces: 2 p a^2/(b^2 - a^2)/E of the ring's outside, and its mirror image in the shaft.
    const T b = j.ring.outer;
    const T a = j.ring.inner;
    const T d = j.shaft.outer;
    const T c = j.shaft.inner;
    const T kr = a * a * j.ring_span;
    const T ks = d * d * j.shaft_span;
    const T w2 = speed * speed;
    out.outside_growth =
        b * 2.0 * ((p * 2.0 * kr - ring_axial * mr.poisson) * j.ring_compliance + j.ring_warm) +
        own_face_growth(j.ring, w2 * j.ring_compliance, b, a);
    out.shaft_bore_growth =
        c * 2.0 * (j.shaft_warm - (p * 2.0 * ks + shaft_axial * ms.poisson) * j.shaft_compliance) +
        own_face_growth(j.shaft, w2 * j.shaft_compliance, c, d);
    out.ring_strain =
        j.ring_warm + (w2 * (a * a + b * b) * density_in(-0.5 * mr.poisson * mr.density, w2) +
                       ring_axial - p * kr * (2.0 * mr.poisson)) *
                          j.ring_compliance;
    out.shaft_strain =
        j.shaft_warm + (w2 * (d * d + c * c) * density_in(-0.5 * ms.poisson * ms.density, w2) +
                        shaft_axial + p * ks * (2.0 * ms.poisson)) *
                           j.shaft_compliance;

    // Speed takes interference as its square. What is loose at rest has no grip to lose, even where
    // speed would close it.
    const T per_square = named("interference taken per square of speed",
                               own_face_growth(j.ring, j.ring_compliance, a, b) -
                                   own_face_growth(j.shaft, j.shaft_compliance, d, c));
    const T at_rest = named("interference at rest", left + j.speed_loss);
    const auto loses = per_square > T(0.0);
    const T lost_at = root0(positive(at_rest) / select(loses, per_square, T(1.0)));
    out.loss_speed =
        smaller(select(loses, lost_at, select(at_rest > T(0.0), T(never), T(0.0))), T(never));
    // The ring must grow by what is left, from where it is.
    out.loss_temperature = temperature_for_growth(mr, ring.expansion_factor,
                                                  j.ring_warm + positive(left) / j.diameter);
    return out;
}

template <class T>
Joint<T> joint_of_fit(const FitInputs<T>& in, const materials::Material& ms,
                      const materials::Material& mr, Faults<T>& faults) {
    const T measured = in.shaft.seat - in.ring.bore;
    const T interference =
        named("interference before joining", fields::given(in.interference, measured));
    // Equal sizes are nominal sizes: then the interference is free.
    faults.require((measured == T(0.0)) | (abs(interference - measured) <= T(1e-9)),
                   rules::interference_told_twice, interference);
    return joint_of(JointInputs<T>{in.shaft.bore, in.shaft.modulus_factor,
                                   in.shaft.expansion_factor, in.shaft_temperature, in.shaft.seat,
                                   in.shaft.roughness, interference, in.speed, in.ring_temperature},
                    in.ring, ms, mr, JointPlaces{1, 2}, faults);
}

template <class T>
void Fit::run(const T* inputs, T* outputs, const fields::Context& context, Faults<T>& faults) {
    const auto& in = *reinterpret_cast<const FitInputs<T>*>(inputs);
    const materials::Material& ms = *context.materials[0];
    const materials::Material& mr = *context.materials[1];
    *reinterpret_cast<FitOutputs<T>*>(outputs) =
        fit_outputs(joint_of_fit(in, ms, mr, faults), in.ring, in.axial_force, in.axial_force,
                    in.speed, ms, mr, in.shaft_temperature, in.ring_temperature, faults);
}

} // namespace fitwright::rings
