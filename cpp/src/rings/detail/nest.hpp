// A nest of rings: each layer is a thick ring, the joints are found by complementarity.
//
// On diameter, with C = 1/E, s = 1/(b^2 - a^2), a and b the radii of a layer:
//   outside by outer pressure:  -p 2b C (2 b^2 s - 1 - nu)     bore by inner: p 2a C (2 a^2 s + 1 + nu)
//   outside by inner pressure:   p 2b C 2 a^2 s                bore by outer: -p 2a C 2 b^2 s
//   by heat: diameter of the joint times the area mean of alpha_m (T - 20), whatever the profile
// Each layer has the bore it was measured with; where none is told, the outside of the one within.
//   stress of a profile at a face of a thin ring: E (mean - there) of alpha_m (T - 20);
//   long: 1/(1 - nu) times that, hoop and axial (Timoshenko & Goodier, ch. 13)
#pragma once

#include "contacts.hpp"
#include "thick_ring.hpp"
#include <fitwright/rings/nest.hpp>

namespace fitwright::rules {
extern const number::Rule bore_temperature_in_range, interference_sensible, layer_can_be_opened,
    layer_interference_told_twice, layer_outside_given, outside_above_bore,
    outside_temperature_in_range, surface_speed, temperature_in_material_range;
} // namespace fitwright::rules

namespace fitwright::rings {

// A layer in its state, before any joint pushes.
template <class T>
struct LayerSection {
    Section<T> section;
    T span, compliance;
    T warm, bore_warm, outside_warm; // free growth per length: area mean, and at the faces
    T bore_growth, outside_growth;   // on diameter: heat, speed and axial stress
};

template <class T>
LayerSection<T> layer_section(const Layer<T>& l, const T& bore, const T& joint, const T& speed,
                              const materials::Material& m, Faults<T>& faults) {
    const auto in_range = [&](const T& t, int rule) {
        faults.require((t >= T(m.lowest)) & (t <= T(m.highest)), rule, t);
    };
    faults.require(l.outside < T(1e300), rules::layer_outside_given, l.outside);
    faults.require(l.outside > bore, rules::outside_above_bore, l.outside);
    faults.require(speed * l.outside <= T(surface_speed_limit), rules::surface_speed, speed);
    in_range(l.temperature, rules::temperature_in_material_range);
    const T at_bore = fields::given(l.bore_temperature, l.temperature);
    const T at_outside = fields::given(l.outside_temperature, l.temperature);
    in_range(at_bore, rules::bore_temperature_in_range);
    in_range(at_outside, rules::outside_temperature_in_range);

    LayerSection<T> out;
    const T a = bore * 0.5;
    const T b = l.outside * 0.5;
    out.section = {a, b, materials::at(m.modulus, l.temperature) * l.modulus_factor, m.poisson,
                   m.density};
    out.span = per_span(out.section);
    out.compliance = 1.0 / out.section.modulus;
    out.warm = materials::free_growth(m, l.expansion_factor, l.temperature);
    out.bore_warm = materials::free_growth(m, l.expansion_factor, at_bore);
    out.outside_warm = materials::free_growth(m, l.expansion_factor, at_outside);
    const T w2 = speed * speed * out.compliance;
    const T thinner = l.axial_stress * out.compliance * m.poisson;
    out.bore_growth = joint * out.warm - a * 2.0 * thinner + own_face_growth(out.section, w2, a, b);
    out.outside_growth = b * 2.0 * (out.warm - thinner) + own_face_growth(out.section, w2, b, a);
    return out;
}

// Growth of the faces on diameter by a pressure in the bore and one on the outside.
template <class T>
T bore_by_inner(const LayerSection<T>& l) {
    const T& a = l.section.inner;
    return a * 2.0 * l.compliance * (a * a * l.span * 2.0 + (1.0 + l.section.poisson));
}
template <class T>
T outside_by_outer(const LayerSection<T>& l) {
    const T& b = l.section.outer;
    return b * -2.0 * l.compliance * (b * b * l.span * 2.0 - (1.0 + l.section.poisson));
}
template <class T>
T outside_by_inner(const LayerSection<T>& l) {
    const T& a = l.section.inner;
    return l.section.outer * 4.0 * l.compliance * (a * a * l.span);
}
template <class T>
T bore_by_outer(const LayerSection<T>& l) {
    const T& b = l.section.outer;
    return l.section.inner * -4.0 * l.compliance * (b * b * l.span);
}

// Interference of a layer on the one inside it at 20 degC, after the loss by roughness.
template <class T>
T joint_interference(const Layer<T>& l, const Layer<T>& inside, const materials::Material& m,
                     const materials::Material& m_inside, bool bonded, Faults<T>& faults) {
    const T measured = inside.outside - fields::given(l.bore, inside.outside);
    const T told = fields::given(l.interference, measured);
    faults.require((measured == T(0.0)) | (abs(told - measured) <= T(1e-9)),
                   rules::layer_interference_told_twice, told);
    faults.require(abs(told) < inside.outside * 0.01, rules::interference_sensible, told);
    if (bonded)
        return told;
    // The most that can be opened: this layer at its heating limit on the other at the cold end of
    // its data.
    const T opens = inside.outside *
                    (materials::free_growth(m, l.expansion_factor, T(m.heating_limit)) -
                     materials::free_growth(m_inside, inside.expansion_factor, T(m_inside.lowest)));
    faults.require(told < opens, rules::layer_can_be_opened, told);
    return told - smaller((inside.outside_roughness + l.bore_roughness) * l.smoothing * 0.8,
                          positive(told));
}

template <class T>
NestLayer<T> layer_state(const Layer<T>& l, const LayerSection<T>& s, const materials::Material& m,
                         const T& inner, const T& outer, const T& speed, bool long_ring) {
    const double nu = m.poisson;
    const T gradient = s.section.modulus * (long_ring ? 1.0 / (1.0 - nu) : 1.0);
    const auto stress = [&](const At<T>& at, const T& warm) {
        const Stresses<T> p = pressure_stresses(s.section, s.span, inner, outer, at);
        const Stresses<T> w = rotation_stresses(s.section, speed, at, long_ring);
        const T heat = gradient * (s.warm - warm);
        T axial = w.axial + l.axial_stress;
        if (long_ring)
            axial += heat;
        // At the centre of a solid section radial and hoop stress are one, and half as large.
        const T centre = select(at.radius > T(0.0), T(0.0), heat * 0.5);
        return Stresses<T>{p.radial + w.radial + centre, p.hoop + w.hoop + heat - centre, axial};
    };
    const T& a = s.section.inner;
    const T& b = s.section.outer;
    const Stresses<T> bore = stress(at_inner_face(s.section), s.bore_warm);
    const Stresses<T> outside = stress(at_radius(s.section, b), s.outside_warm);
    NestLayer<T> o;
    o.bore_hoop = bore.hoop;
    o.bore_radial = bore.radial;
    o.bore_long = bore.axial;
    o.bore_von_mises = von_mises(bore);
    o.bore_tresca = tresca(bore);
    o.outside_hoop = outside.hoop;
    o.outside_radial = outside.radial;
    o.outside_long = outside.axial;
    o.outside_von_mises = von_mises(outside);
    o.outside_tresca = tresca(outside);
    o.yield_use = larger(
        o.bore_von_mises / materials::at(m.yield, fields::given(l.bore_temperature, l.temperature)),
        o.outside_von_mises /
            materials::at(m.yield, fields::given(l.outside_temperature, l.temperature)));
    o.bore_growth = s.bore_growth + bore_by_inner(s) * inner + bore_by_outer(s) * outer;
    o.outside_growth = s.outside_growth + outside_by_inner(s) * inner + outside_by_outer(s) * outer;
    const T even = (inner * a * a - outer * b * b) * s.span;
    o.strain = s.warm + strain_by_speed(s.section, speed) +
               (l.axial_stress - even * (2.0 * nu)) * s.compliance;
    return o;
}

template <class T>
void Nest::run(const T* inputs, T* outputs, const fields::Context& context, Faults<T>& faults) {
    const auto& in = *reinterpret_cast<const NestInputs<T>*>(inputs);
    const auto* layers = reinterpret_cast<const Layer<T>*>(inputs);
    auto* contacts_out = reinterpret_cast<NestContact<T>*>(outputs);
    auto* layers_out = reinterpret_cast<NestLayer<T>*>(contacts_out + joint_limit);
    const int count = context.choices[nest_limit] + 1;
    const bool long_ring = context.choices[nest_limit + 1] == 1;
    const auto bonded = [&](int k) { return context.choices[k] == 1; };

    LayerSection<T> sections[nest_limit];
    Joints<T> joints;
    joints.count = count - 1;
    for (int k = 0; k < count; ++k) {
        faults.place = k + 1;
        const T joint = k == 0 ? fields::given(layers[0].bore, T(0.0)) : layers[k - 1].outside;
        const T bore = fields::given(layers[k].bore, joint);
        sections[k] =
            layer_section(layers[k], bore, joint, in.speed, *context.materials[k], faults);
        if (k > 0)
            joints.interference[k - 1] =
                joint_interference(layers[k], layers[k - 1], *context.materials[k],
                                   *context.materials[k - 1], bonded(k), faults);
    }
    faults.place = 0;

    const T first = sections[0].outside_growth + outside_by_inner(sections[0]) * in.inner_pressure;
    const LayerSection<T>& last = sections[count - 1];
    Truth<T> closed[joint_limit];
    for (int i = 0; i < joints.count; ++i) {
        const LayerSection<T>& inside = sections[i];
        const LayerSection<T>& around = sections[i + 1];
        T bore = around.bore_growth;
        if (i + 1 == joints.count)
            bore += bore_by_outer(last) * in.outer_pressure;
        joints.interference[i] += (i == 0 ? first : inside.outside_growth) - bore;
        joints.flexibility[i] = bore_by_inner(around) - outside_by_outer(inside);
        joints.inward[i] = outside_by_inner(inside);
        joints.outward[i] = -bore_by_outer(around);
        const T no(0.0);
        closed[i] = bonded(i + 1) ? no == no : no < no;
    }
    find_closed(joints, closed);
    T pressure[nest_limit];
    pressures_of(joints, closed, pressure);

    for (int i = 0; i < joint_limit; ++i) {
        contacts_out[i] = {T(0.0), T(0.0), T(0.0)};
        if (i >= joints.count)
            continue;
        const T overlap = overlap_of(joints, pressure, i);
        if (!bonded(i + 1)) {
            faults.kink(overlap == T(0.0));
            pressure[i] = positive(pressure[i]); // rounding beside a joint that only touches
        }
        contacts_out[i] = {joints.interference[i], pressure[i],
                           select(closed[i], T(0.0), positive(-overlap))};
    }
    for (int k = 0; k < nest_limit; ++k) {
        if (k < count) {
            layers_out[k] =
                layer_state(layers[k], sections[k], *context.materials[k],
                            k == 0 ? in.inner_pressure : pressure[k - 1],
                            k + 1 == count ? in.outer_pressure : pressure[k], in.speed, long_ring);
            continue;
        }
        auto* none = reinterpret_cast<T*>(&layers_out[k]);
        for (unsigned i = 0; i < sizeof(NestLayer<double>) / sizeof(double); ++i)
            none[i] = T(0.0);
    }
}

} // namespace fitwright::rings
