// A preloaded bolt: force diagram, losses, stresses (VDI 2230-1; Shigley's Mechanical Engineering
// Design, joints in tension).
//   Phi = n dP/(dS + dP),  F_bolt = F + Phi P,  F_clamp = F - (1 - Phi) P, once open F_bolt = P
//   assembly  sqrt(s^2 + 3 t^2) at the high end of F;  working  sqrt(s^2 + 3 (t/2)^2)
//   Goodman  Sa = Se (Su - s)/(Su + Se);  Gerber  Sa = [Su sqrt(Su^2 + 4 Se (Se + s)) - Su^2 - 2 s Se]/(2 Se)
//   with s the least stress of the swing
#pragma once

#include "clamped.hpp"
#include "times.hpp"

namespace fitwright::rules {
extern const number::Rule layer_thickness_given, load_ends_in_order, nut_above_hole;
} // namespace fitwright::rules

namespace fitwright::joints {

template <class T>
T amplitude_borne(const T& endurance, const T& tensile, const T& least, int line) {
    switch (static_cast<FatigueLine>(line)) {
    case FatigueLine::goodman:
        return positive(endurance * (tensile - least) / (tensile + endurance));
    case FatigueLine::gerber: {
        // Where the parabola meets the line of the swing, without a difference of like numbers; what
        // is pressed gains nothing.
        const T low = positive(least);
        const T s2 = square(tensile);
        const T root = sqrt(s2 + endurance * (endurance + low) * 4.0);
        return positive(endurance * (s2 - square(low)) * 2.0 /
                        (tensile * root + s2 + low * endurance * 2.0));
    }
    default:
        return endurance;
    }
}

template <class T>
void BoltedJoint::run(const T* inputs, T* outputs, const fields::Context& context,
                      Faults<T>& faults) {
    const auto& in = *reinterpret_cast<const BoltedJointInputs<T>*>(inputs);
    auto& out = *reinterpret_cast<BoltedJointOutputs<T>*>(outputs);
    const int form = context.choices[0];
    const int count = context.choices[1] + 1;
    const bool through = context.choices[2] == static_cast<int>(HoleKind::through);
    const bool vdi = context.choices[3] == static_cast<int>(Cone::vdi);
    const bool with_ends = context.choices[4] == static_cast<int>(Spring::with_ends);
    const materials::Material& metal = *context.materials[0];
    const materials::Material& partner = *context.materials[1];
    const auto* told = reinterpret_cast<const ClampedLayer<T>*>(&in.layer1);

    faults.place = 1;
    const BoltSize<T> size = bolt_size(in.bolt, metal, faults);
    const threads::NutKind kind{threads::right, form, threads::even_pressure};
    const threads::Nut<T> nut = as_nut(in.bolt, size, in.thread.engagement);
    const threads::ThreadGeometry<T> g = threads::thread_geometry(nut, T(0.0), faults, kind);
    const T modulus = materials::at(metal.modulus, in.bolt.temperature) * in.bolt.modulus_factor;
    faults.place = 2;
    materials::require_in_range(partner, in.thread.temperature, faults);
    const T nut_face = fields::given(in.thread.bearing_diameter, size.head);
    faults.require(nut_face > size.hole, rules::nut_above_hole, nut_face);

    Layers<T> layers;
    layers.count = count;
    layers.grip = T(0.0);
    T growth(0.0);
    T softest(1e300);
    for (int k = 0; k < count; ++k) {
        faults.place = k + 3;
        const materials::Material& m = *context.materials[k + 2];
        faults.require(told[k].thickness < T(1e300), rules::layer_thickness_given,
                       told[k].thickness);
        materials::require_in_range(m, told[k].temperature, faults);
        layers.thickness[k] = fields::given(told[k].thickness, T(1e-3));
        layers.outside[k] = fields::given(told[k].outside, T(1e3));
        layers.modulus[k] = materials::at(m.modulus, told[k].temperature) * told[k].modulus_factor;
        layers.grip += layers.thickness[k];
        growth += layers.thickness[k] *
                  materials::free_growth(m, told[k].expansion_factor, told[k].temperature);
        if (k == 0 || (through && k + 1 == count))
            softest = smaller(softest, materials::at(m.yield, told[k].temperature));
    }
    faults.place = 1;
    out.bolt_compliance = bolt_compliance(
        in.bolt, size, g, layers.grip, modulus,
        T(materials::at(partner.modulus, in.thread.temperature) * in.thread.modulus_factor),
        through, with_ends, faults);
    faults.place = 0;
    const ClampedSpring<T> clamped =
        clamped_spring(layers, size.head, nut_face, size.hole, in.cone_angle, through, vdi, faults);
    out.clamped_compliance = clamped.compliance;
    out.cone_diameter = clamped.widest;
    const T both =
        named("compliance of bolt and parts", out.bolt_compliance + out.clamped_compliance);
    out.stiffness_share = out.clamped_compliance / both;
    out.load_factor = out.stiffness_share * in.load_introduction;

    const BoltPreload<T> preload =
        bolt_preload(nut, g, in.torque, in.preload, in.tool_scatter, faults);
    out.torque = preload.torque;
    out.preload = preload.nominal;
    out.preload_low = preload.low;
    out.preload_high = preload.high;
    const double between = static_cast<double>(through ? count - 1 : count);
    out.embedding_loss = fields::given(in.embedding, usual_embedding<T>(through, between)) / both;
    out.heat_change =
        (growth - layers.grip * materials::free_growth(metal, in.bolt.expansion_factor,
                                                       in.bolt.temperature)) /
        both;
    out.preload_left = out.preload - out.embedding_loss + out.heat_change;
    const T least = named("least preload left",
                          out.preload_low - out.embedding_loss + smaller(out.heat_change, T(0.0)));
    const T most = named("greatest preload left", out.preload_high + positive(out.heat_change));

    faults.require(in.load_low <= in.load, rules::load_ends_in_order, in.load_low);
    const T kept = named("share of the load kept off the bolt", 1.0 - out.load_factor);
    out.bolt_force = larger(most + out.load_factor * in.load, in.load);
    out.clamp_left = least - kept * in.load;
    out.opening_load = least / larger(kept, T(1e-9));

    const auto mises = [&](const T& force, const T& twist) {
        T tension, torsion;
        return threads::thread_von_mises(g, T(0.0), force, twist, tension, torsion);
    };
    out.assembly_stress = mises(out.preload_high, preload.thread_torque_high);
    out.assembly_use = out.assembly_stress / size.yield;
    out.working_stress = mises(out.bolt_force, preload.thread_torque_high * 0.5);
    out.working_use = out.working_stress / size.yield;

    // Once open, the bolt feels the whole swing.
    const auto force_at = [&](const T& load) {
        return larger(out.preload_left + out.load_factor * load, load);
    };
    const T high = named("bolt force under the high load", force_at(in.load));
    const T low = named("bolt force under the low load", force_at(in.load_low));
    out.stress_amplitude = (high - low) * 0.5 / g.stress_area;
    const T endurance =
        fields::given(in.endurance_limit, (T(0.150) / in.bolt.diameter + 45.0) * (0.85 * 1e6));
    out.fatigue_strength =
        amplitude_borne(endurance, size.tensile, T(low / g.stress_area), context.choices[5]);
    out.fatigue_use = out.stress_amplitude / larger(out.fatigue_strength, T(1.0));

    const auto face = [&](const T& outer) {
        return out.bolt_force / ((square(outer) - square(size.hole)) * (fields::pi / 4.0));
    };
    out.head_pressure = face(size.head);
    out.nut_pressure = through ? face(nut_face) : T(0.0);
    out.pressure_use =
        larger(out.head_pressure, out.nut_pressure) / fields::given(in.pressure_limit, softest);

    auto strip = threads::StrippingInputs<T>{};
    strip.nut = nut;
    strip.preload = out.bolt_force;
    strip.external_major = strip.external_pitch = strip.internal_minor = strip.internal_pitch =
        T(1e301);
    strip.shaft_temperature = in.bolt.temperature;
    strip.nut_temperature = in.thread.temperature;
    strip.shaft_bore = T(0.0);
    threads::StrippingOutputs<T> stripped;
    threads::strip(stripped, strip, g, metal, partner, faults);
    // The bolt by its property class, not by the table of its metal.
    constexpr double per_root3 = 0.57735026918962576;
    const T bolt_thread = named("stripping force of the bolt's thread",
                                stripped.external_area * size.yield * per_root3);
    const T other_thread = named(
        "stripping force of the other thread",
        stripped.internal_area * materials::at(partner.yield, in.thread.temperature) * per_root3);
    out.stripping_force = smaller(bolt_thread, other_thread);
    out.stripping_use = out.bolt_force / out.stripping_force;
    const T yield_force = named("force at yield", size.yield * g.stress_area);
    out.needed_engagement = in.thread.engagement * yield_force / out.stripping_force;

    const T felt = out.load_factor * in.load;
    out.overload_factor = times(T(yield_force - out.preload_left), felt);
    out.yield_factor = times(yield_force, T(out.preload_left + felt));
    out.opening_factor = times(out.preload_left, T(kept * in.load));
}

} // namespace fitwright::joints
