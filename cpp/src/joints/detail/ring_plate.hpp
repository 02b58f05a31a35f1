// The plate over an outer ring. Assembled: the bolts pull with their preload and the contacts share it.
// Then the bolts stay as drawn up, less what settles, and heat and thrust change the shares:
//   h = ring width (1 + a dT) - (pocket depth + shim)(1 + a dT)      nip, negative: gap
//   s = how far drawn up, less embedding, less (thickness + shim)(bolt's growth - plate's growth)
//   thrust T to the plate: N_plate = N_shoulder + T, and the part c2 of the ring beyond the raceway
//   takes T alone; to the shoulder: N_shoulder = N_plate + T, and the part c1 takes it.
// The ring leaves the shoulder where the plate, pushed by c2 alone, carries what it then carries.
#pragma once

#include "between_bolts.hpp"
#include "clamped.hpp"
#include "plate_contacts.hpp"
#include <fitwright/joints/ring_plate.hpp>

namespace fitwright::rules {
extern const number::Rule bolt_heads_fit, bolts_beside_ring, bolts_in_plate, contact_on_face,
    heel_on_rim, hole_in_bolt_circle, ring_outside_above_inside, ring_under_plate,
    shoulder_below_ring, two_bolts_hold_no_moment, whole_bolts;
} // namespace fitwright::rules

namespace fitwright::joints {

// What of the plate's width bends between two bolts: with this share the clamp midway is on the safe side
// of the Fourier series of the annular plate (tests/python/test_joints.py).
inline constexpr double width_between_bolts = 0.6;

// All that gives, each for the whole circle.
template <class T>
struct PlateJoint {
    PlateBody<T> body;
    T on_ring, bolts, heel;   // radii
    T plate[2][2];            // flexibility at ring and heel about the bolt circle
    T ring_below, ring_above; // from raceway to shoulder, from raceway to the plate's middle
    T bolt;                   // with the half of the cone that the head sinks into
    T under, rim;             // the other half of the cone, and of the plate at the heel
};

// The plate free at both edges under unit forces up at `c`, held down at the bolt circle: rise at r.
template <class T>
struct PlateRise {
    T free, level, c;
};
template <class T>
Bent<T> rise_at(const PlateJoint<T>& j, const PlateRise<T>& u, const T& r) {
    Bent<T> sum = free_part(j.body, r, true) * u.free;
    sum += ring_part(j.body, r, u.c);
    sum += ring_part(j.body, r, j.bolts) * T(-1.0);
    sum.w += u.level;
    return sum;
}
template <class T>
PlateRise<T> plate_rise(const PlateJoint<T>& j, const T& c) {
    const PlateBody<T>& p = j.body;
    Bent<T> loads = ring_part(p, p.outside, c);
    loads += ring_part(p, p.outside, j.bolts) * T(-1.0);
    PlateRise<T> u{-radial_moment(p, loads) / radial_moment(p, free_part(p, p.outside, true)),
                   T(0.0), c};
    u.level = -rise_at(j, u, j.bolts).w;
    return u;
}

// The matrix of the contacts; `below` whether the ring down to the shoulder gives too, `locked` whether
// the bolts do.
template <class T>
ContactMatrix<T> contact_matrix(const PlateJoint<T>& j, bool below, bool locked) {
    ContactMatrix<T> m{};
    const T bolts = locked ? j.bolt : T(0.0);
    for (int i = 0; i < contact_count; ++i)
        for (int k = 0; k < contact_count; ++k)
            m.a[i][k] = bolts;
    m.a[on_ring][on_ring] += j.plate[0][0] + j.ring_above + (below ? j.ring_below : T(0.0));
    m.a[on_ring][at_heel] += j.plate[0][1];
    m.a[at_heel][on_ring] += j.plate[1][0];
    m.a[at_heel][at_heel] += j.plate[1][1] + j.rim;
    m.a[under_bolts][under_bolts] += j.under;
    return m;
}

// A state of the locked joint: forces on the plate, and at the shoulder.
template <class T>
struct PlateState {
    T plate, shoulder, bolts_total, heel, lift;
};
template <class T>
PlateState<T> with_thrust_to_plate(const PlateJoint<T>& j, const T& nip, const T& drawn,
                                   const T& thrust) {
    const ContactMatrix<T> m = contact_matrix(j, true, true);
    const T constant[contact_count] = {
        (j.plate[0][0] + j.ring_above + j.bolt) * thrust - drawn - nip, j.bolt * thrust - drawn,
        (j.plate[1][0] + j.bolt) * thrust - drawn};
    const ContactForces<T> f = locked_contacts(m, constant);
    return {f.force[on_ring] + thrust, f.force[on_ring], f.total() + thrust, f.force[at_heel],
            f.gap[on_ring]};
}
template <class T>
PlateState<T> with_thrust_to_shoulder(const PlateJoint<T>& j, const T& nip, const T& drawn,
                                      const T& thrust) {
    const ContactMatrix<T> m = contact_matrix(j, true, true);
    const T constant[contact_count] = {j.ring_below * thrust - drawn - nip, -drawn, -drawn};
    const ContactForces<T> f = locked_contacts(m, constant);
    return {f.force[on_ring], f.force[on_ring] + thrust, f.total(), f.force[at_heel], T(0.0)};
}

template <class T>
struct PlateSizes {
    T contact, shoulder_inside, face_area, shoulder_area;
};
template <class T>
PlateSizes<T> plate_sizes(const RingPlateInputs<T>& in, const BoltSize<T>& bolt,
                          Faults<T>& faults) {
    PlateSizes<T> s;
    const PlatedRing<T>& ring = in.ring;
    s.contact = fields::given(ring.contact_diameter, (ring.outside + ring.inside) * 0.5);
    s.shoulder_inside = fields::given(in.pocket.shoulder_inside, ring.inside);
    faults.place = 1;
    faults.require(in.plate.hole < in.bolt_circle, rules::hole_in_bolt_circle, in.plate.hole);
    faults.require(in.plate.outside > in.bolt_circle, rules::bolts_in_plate, in.plate.outside);
    faults.place = 2;
    faults.require(ring.outside > ring.inside, rules::ring_outside_above_inside, ring.outside);
    faults.require((s.contact >= ring.inside) & (s.contact <= ring.outside), rules::contact_on_face,
                   s.contact);
    faults.require(in.plate.hole <= s.contact, rules::ring_under_plate, s.contact);
    faults.place = 3;
    faults.require(s.shoulder_inside < ring.outside, rules::shoulder_below_ring, s.shoulder_inside);
    faults.place = 0;
    faults.require(in.bolt_circle >= ring.outside + bolt.hole, rules::bolts_beside_ring,
                   in.bolt_circle);
    faults.require(threads::is_whole(in.bolts), rules::whole_bolts, in.bolts);
    faults.require((in.bolts > T(2.5)) | (in.tilting_moment == T(0.0)),
                   rules::two_bolts_hold_no_moment, in.bolts);
    faults.require(in.bolts * bolt.head < in.bolt_circle * fields::pi, rules::bolt_heads_fit,
                   in.bolts);
    const auto disc = [](const T& outer, const T& inner) {
        return (square(outer) - square(inner)) * (fields::pi / 4.0);
    };
    s.face_area = disc(ring.outside, larger(ring.inside, in.plate.hole));
    s.shoulder_area = disc(ring.outside, larger(ring.inside, s.shoulder_inside));
    return s;
}

template <class T>
void RingPlate::run(const T* inputs, T* outputs, const fields::Context& context,
                    Faults<T>& faults) {
    const auto& in = *reinterpret_cast<const RingPlateInputs<T>*>(inputs);
    auto& out = *reinterpret_cast<RingPlateOutputs<T>*>(outputs);
    const materials::Material& plate_metal = *context.materials[0];
    const materials::Material& ring_metal = *context.materials[1];
    const materials::Material& house_metal = *context.materials[2];
    const materials::Material& bolt_metal = *context.materials[3];
    const materials::Material& thread_metal = *context.materials[4];
    const ClampPlate<T>& plate = in.plate;
    const PlatedRing<T>& ring = in.ring;

    faults.place = 4;
    const BoltSize<T> size = bolt_size(in.bolt, bolt_metal, faults);
    const threads::NutKind kind{threads::right, context.choices[0], threads::even_pressure};
    const threads::Nut<T> nut = as_nut(in.bolt, size, in.thread.engagement);
    const threads::ThreadGeometry<T> g = threads::thread_geometry(nut, T(0.0), faults, kind);
    faults.place = 1;
    materials::require_in_range(plate_metal, plate.temperature, faults);
    faults.place = 2;
    materials::require_in_range(ring_metal, ring.temperature, faults);
    faults.place = 3;
    materials::require_in_range(house_metal, in.pocket.temperature, faults);
    faults.place = 5;
    materials::require_in_range(thread_metal, in.thread.temperature, faults);
    const PlateSizes<T> sizes = plate_sizes(in, size, faults);

    PlateJoint<T> j;
    const T plate_modulus =
        materials::at(plate_metal.modulus, plate.temperature) * plate.modulus_factor;
    j.body = plate_body(T(plate.hole * 0.5), T(plate.outside * 0.5), plate.thickness, plate_modulus,
                        plate_metal.poisson, true);
    j.on_ring = sizes.contact * 0.5;
    j.bolts = in.bolt_circle * 0.5;
    j.heel = fields::given(plate.heel_diameter, plate.outside) * 0.5;
    faults.place = 1;
    faults.require((j.heel > j.bolts) & (j.heel <= j.body.outside), rules::heel_on_rim,
                   j.heel * 2.0);
    const PlateRise<T> by_ring = plate_rise(j, j.on_ring);
    const PlateRise<T> by_heel = plate_rise(j, j.heel);
    j.plate[0][0] = rise_at(j, by_ring, j.on_ring).w;
    j.plate[0][1] = rise_at(j, by_heel, j.on_ring).w;
    j.plate[1][0] = j.plate[0][1]; // reciprocal
    j.plate[1][1] = rise_at(j, by_heel, j.heel).w;
    const T ring_area = (square(ring.outside) - square(ring.inside)) * (fields::pi / 4.0);
    const T ring_modulus =
        materials::at(ring_metal.modulus, ring.temperature) * ring.modulus_factor;
    const T per_ring = ring.width / (ring_area * ring_modulus);
    j.ring_below = per_ring * ring.raceway_place + ring.face_compliance;
    // Half of the plate's thickness is squeezed too: over the ring's face, and over a strip as wide as
    // the plate is thick at the heel.
    j.ring_above = per_ring * (1.0 - ring.raceway_place) + ring.face_compliance +
                   plate.thickness * 0.5 / (sizes.face_area * plate_modulus);
    j.rim = 0.25 / fields::pi / (j.heel * plate_modulus);
    faults.place = 4;
    const T bolt_modulus =
        materials::at(bolt_metal.modulus, in.bolt.temperature) * in.bolt.modulus_factor;
    const T grip = plate.thickness + in.pocket.shim;
    j.bolt = bolt_compliance(in.bolt, size, g, grip, bolt_modulus,
                             T(materials::at(thread_metal.modulus, in.thread.temperature) *
                               in.thread.modulus_factor),
                             false, true, faults) /
             in.bolts;
    Layers<T> layers;
    layers.count = 1;
    layers.thickness[0] = layers.grip = plate.thickness;
    layers.outside[0] = T(1e3);
    layers.modulus[0] = plate_modulus;
    faults.place = 0;
    j.under = clamped_spring(layers, size.head, size.head, size.hole, T(fields::pi / 6.0), false,
                             false, faults)
                  .compliance *
              0.5 / in.bolts;
    j.bolt += j.under;

    // As built, and how far the bolts are drawn up at each end of the preload.
    out.nip = ring.width - in.pocket.depth - in.pocket.shim;
    const T pocket_warm =
        materials::free_growth(house_metal, in.pocket.expansion_factor, in.pocket.temperature);
    out.nip_warm =
        out.nip +
        ring.width * materials::free_growth(ring_metal, ring.expansion_factor, ring.temperature) -
        (in.pocket.depth + in.pocket.shim) * pocket_warm;
    out.closing_force =
        positive(out.nip) / (j.plate[0][0] + j.ring_below + j.ring_above) / in.bolts;
    out.plate_compliance = j.plate[0][0];
    out.ring_compliance = j.ring_below + j.ring_above;
    const BoltPreload<T> preload =
        bolt_preload(nut, g, in.torque, in.preload, in.tool_scatter, faults);
    out.torque = preload.torque;
    out.preload = preload.nominal;
    out.preload_low = preload.low;
    out.preload_high = preload.high;
    const ContactMatrix<T> while_tightening = contact_matrix(j, true, false);
    const T standing[contact_count] = {-out.nip, T(0.0), T(0.0)};
    const T relaxed =
        fields::given(in.embedding, usual_embedding<T>(false, 3.0)) +
        grip * (materials::free_growth(bolt_metal, in.bolt.expansion_factor, in.bolt.temperature) -
                materials::free_growth(plate_metal, plate.expansion_factor, plate.temperature));
    ContactForces<T> built;
    const auto drawn_up = [&](const T& each) {
        T level;
        const T all = each * in.bolts;
        built = tightened_contacts(while_tightening, standing, all, level);
        return T(j.bolt * all - level - relaxed);
    };
    const T drawn_low = drawn_up(preload.low);
    const T drawn_high = drawn_up(preload.high);
    drawn_up(preload.nominal);
    out.ring_clamp_built = built.force[on_ring];
    out.housing_clamp_built = built.force[under_bolts] + built.force[at_heel];

    const T none(0.0);
    const PlateState<T> low = with_thrust_to_plate(j, out.nip_warm, drawn_low, none);
    const PlateState<T> high = with_thrust_to_plate(j, out.nip_warm, drawn_high, none);
    const PlateState<T> low_out =
        with_thrust_to_plate(j, out.nip_warm, drawn_low, in.thrust_to_plate);
    const PlateState<T> high_out =
        with_thrust_to_plate(j, out.nip_warm, drawn_high, in.thrust_to_plate);
    const PlateState<T> low_in =
        with_thrust_to_shoulder(j, out.nip_warm, drawn_low, in.thrust_to_shoulder);
    const PlateState<T> high_in =
        with_thrust_to_shoulder(j, out.nip_warm, drawn_high, in.thrust_to_shoulder);
    out.ring_clamp = low.plate;
    out.ring_clamp_high = high.plate;
    out.shoulder_clamp = low_out.shoulder;
    out.plate_clamp = low_in.plate;
    out.lift = low_out.lift;
    // Off the shoulder: the plate carries the thrust by what gives above the raceway alone.
    const T locked[contact_count] = {-drawn_low - out.nip_warm, -drawn_low, -drawn_low};
    out.shoulder_opening_thrust =
        locked_contacts(contact_matrix(j, false, true), locked).force[on_ring];
    // Off the plate: what the plate sinks without the ring, over what gives below the raceway.
    const T without[contact_count] = {T(1e3), -drawn_low, -drawn_low};
    const ContactForces<T> alone = locked_contacts(contact_matrix(j, true, true), without);
    const T sunk = j.bolt * alone.total() + j.plate[0][1] * alone.force[at_heel] - drawn_low;
    out.plate_opening_thrust = positive(out.nip_warm - sunk) / larger(j.ring_below, T(1e-15));

    const T spacing = in.bolt_circle * fields::pi / in.bolts;
    const T bending = plate_modulus * (plate.outside - plate.hole) *
                      (0.5 * width_between_bolts / 12.0) * cube(plate.thickness);
    const T foundation = 1.0 / (out.ring_compliance * in.bolt_circle * fields::pi);
    const ClampRound<T> round =
        clamp_round(T(root0(root0(foundation / (bending * 4.0))) * spacing));
    out.clamp_between_bolts = round.between;
    out.clamp_at_bolts = round.at_bolts;
    out.moment_loss = in.tilting_moment * 2.0 / j.on_ring;
    // What is left of a clamp, or how far past its opening the thrust is.
    const auto play = out.nip < T(0.0);
    const auto margin = [&](const T& left, const T& opening, const T& thrust) {
        const T closed = select(left > T(0.0), left, smaller(opening - thrust, T(0.0)));
        return T(select(play, T(1e9), closed - out.moment_loss));
    };
    out.shoulder_margin =
        margin(out.shoulder_clamp, out.shoulder_opening_thrust, in.thrust_to_plate);
    out.plate_margin = margin(out.plate_clamp, out.plate_opening_thrust, in.thrust_to_shoulder);
    out.shoulder_clamp_worst = out.shoulder_clamp * round.between - out.moment_loss;

    const T by_moment = in.tilting_moment * 2.0 / j.bolts / in.bolts;
    const auto each = [&](const PlateState<T>& s) { return s.bolts_total / in.bolts; };
    const T most = larger(larger(each(high_out), each(high_in)), each(high));
    out.bolt_force = larger(most, preload.high) + by_moment;
    out.bolt_force_least = smaller(smaller(each(low_out), each(low_in)), each(low)) - by_moment;
    out.heel_force = larger(larger(high_out.heel, high_in.heel), high.heel);
    out.prying = select(
        in.thrust_to_plate > T(0.0),
        (high_out.bolts_total - high.bolts_total) / larger(in.thrust_to_plate, T(1e-9)), T(0.0));
    T tension, torsion;
    out.bolt_use =
        threads::thread_von_mises(g, T(0.0), out.bolt_force, T(preload.thread_torque_high * 0.5),
                                  tension, torsion) /
        size.yield;
    out.bolt_amplitude = (abs(each(high_out) - each(high_in)) * 0.5 + by_moment) / g.stress_area;

    // Stress of the plate where it is greatest, of all states at the high end.
    const T net = larger(in.bolt_circle * fields::pi - in.bolts * size.hole, T(1e-9));
    const T left = in.bolt_circle * fields::pi / net;
    out.plate_stress = T(0.0);
    out.plate_deflection = T(0.0);
    out.plate_tilt = T(0.0);
    const auto look = [&](const T& ring_force, const T& heel_force) {
        const auto at = [&](const T& r) {
            Bent<T> b = rise_at(j, by_ring, r) * ring_force;
            b += rise_at(j, by_heel, r) * heel_force;
            return b;
        };
        const auto stress = [&](const T& r, const T& factor) {
            const Bent<T> b = at(r);
            out.plate_stress =
                larger(out.plate_stress, face_von_mises(T(radial_moment(j.body, b) * factor),
                                                        hoop_moment(j.body, b), plate.thickness));
        };
        const T one(1.0);
        stress(j.body.hole, one);
        stress(j.on_ring, one);
        stress(T((j.on_ring + j.bolts) * 0.5), one);
        stress(j.bolts, left);
        stress(T((j.bolts + j.heel) * 0.5), one);
        stress(j.body.outside, one);
        const Bent<T> there = at(j.on_ring);
        out.plate_deflection = larger(out.plate_deflection, abs(there.w));
        out.plate_tilt = larger(out.plate_tilt, abs(there.slope));
    };
    look(high.plate, high.heel);
    look(high_out.plate, high_out.heel);
    look(high_in.plate, high_in.heel);
    drawn_up(preload.high);
    look(built.force[on_ring], built.force[at_heel]);
    out.plate_use = out.plate_stress / materials::at(plate_metal.yield, plate.temperature);
    out.membrane_ratio = out.plate_deflection / plate.thickness;
    const T on_plate = larger(larger(high.plate, high_out.plate), built.force[on_ring]);
    const T on_shoulder = larger(larger(high.shoulder, high_in.shoulder), built.force[on_ring]);
    out.face_pressure = larger(on_plate / sizes.face_area, on_shoulder / sizes.shoulder_area);
    const T softest = smaller(materials::at(ring_metal.yield, ring.temperature),
                              smaller(materials::at(house_metal.yield, in.pocket.temperature),
                                      materials::at(plate_metal.yield, plate.temperature)));
    out.face_use = out.face_pressure / softest;
}

} // namespace fitwright::joints
