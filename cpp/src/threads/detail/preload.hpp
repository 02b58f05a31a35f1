// Turn of nut: F = F_snug + (angle lead/(2 pi) - settling)/C, with C of the whole joint.
// Stretch: dL = F sum L/(E A) of the shaft between the measuring points; the force is taken to end
// half way into the nut, at the root section (VDI 2230-1 manner, common practice).
// Scatter: half ranges one at a time, added as the root of the sum of squares (JCGM 100).
#pragma once

#include "materials/range.hpp"
#include "tightening.hpp"
#include <fitwright/threads/preload.hpp>

namespace fitwright::rules {
extern const number::Rule angle_or_preload, body_hollow, preload_above_snug, stretch_or_preload;
} // namespace fitwright::rules

namespace fitwright::threads {

using fields::is_given;

// A bolt's or a screw's thread, as the formulas of this room take it; the face it rubs on is left to who
// knows it.
template <class T, class Screw>
Nut<T> thread_of(const Screw& screw, const T& lead, const T& height) {
    Nut<T> nut;
    nut.diameter = screw.diameter;
    nut.pitch = screw.pitch;
    nut.lead = lead;
    nut.height = height;
    nut.outside = screw.diameter * 2.0;
    nut.thread_friction = screw.thread_friction;
    nut.thread_friction_low = screw.thread_friction_low;
    nut.thread_friction_high = screw.thread_friction_high;
    nut.modulus_factor = T(1.0);
    nut.expansion_factor = T(1.0);
    return nut;
}

// Exactly one of two is given; the other is left to be worked out.
template <class T>
FITWRIGHT_INLINE Truth<T> one_of(const T& x, const T& y) {
    return (is_given(x) | is_given(y)) & !(is_given(x) & is_given(y));
}

// Force per torque at both ends of the frictions, and between.
template <class T>
struct TorqueEnds {
    T low_friction, nominal, high_friction; // torque per force
};
template <class T>
TorqueEnds<T> torque_ends(const Nut<T>& nut, const ThreadGeometry<T>& g, Faults<T>& faults) {
    require_frictions(nut, faults);
    return {torque_per_force(g, nut.thread_friction_low, nut.face_friction_low, faults),
            torque_per_force(g, nut.thread_friction, nut.face_friction, faults),
            torque_per_force(g, nut.thread_friction_high, nut.face_friction_high, faults)};
}
// Half of the range of forces that one torque gives, over the nominal force.
template <class T>
FITWRIGHT_INLINE T scatter_by_torque(const TorqueEnds<T>& k) {
    return (k.nominal / k.low_friction - k.nominal / k.high_friction) * 0.5;
}

template <class T>
void TurnOfNut::run(const T* inputs, T* outputs, const fields::Context& context,
                    Faults<T>& faults) {
    const auto& in = *reinterpret_cast<const TurnInputs<T>*>(inputs);
    auto& out = *reinterpret_cast<TurnOutputs<T>*>(outputs);
    const ThreadGeometry<T> g =
        thread_geometry(in.nut, in.shaft_bore, faults, nut_kind(context.choices));
    const TorqueEnds<T> k = torque_ends(in.nut, g, faults);
    const auto by_preload = is_given(in.preload);
    const T preload = fields::given(in.preload, T(1.0));
    const T angle = fields::given(in.angle, T(0.0));
    faults.require(one_of(in.angle, in.preload), rules::angle_or_preload, preload);
    const T snug = in.snug_torque / k.nominal;
    out.snug_preload = snug;
    faults.require((!by_preload) | (preload >= snug), rules::preload_above_snug, preload);
    const T advance = per_radian(g);
    // Snug leaves play where the joint settles more than the nut has yet advanced.
    const T turned = select(by_preload, (preload - snug) * in.compliance,
                            positive(angle * advance - in.settling));
    out.angle = select(by_preload, (turned + in.settling) / advance, angle);
    out.preload = snug + turned / in.compliance;
    const T closed = positive(out.angle * advance - in.settling);
    out.preload_low = in.snug_torque / k.high_friction +
                      closed / (in.compliance * (in.compliance_uncertainty + 1.0));
    out.preload_high = in.snug_torque / k.low_friction +
                       closed / (in.compliance * (1.0 - in.compliance_uncertainty));
    out.preload_per_degree = advance * (fields::pi / 180.0) / in.compliance;
    out.torque = out.preload * k.nominal;
    out.torque_low = out.preload * k.low_friction;
    out.torque_high = out.preload * k.high_friction;
    // No snug and nothing turned is no force, and no scatter.
    const auto some = out.preload > T(0.0);
    out.scatter =
        select(some, (out.preload_high - out.preload_low) * 0.5 / select(some, out.preload, T(1.0)),
               T(0.0));
    out.scatter_by_torque = scatter_by_torque(k);
    T tension, torsion;
    out.yield_use_high =
        thread_von_mises(g, in.shaft_bore, out.preload_high,
                         out.preload_high * thread_part(g, in.nut.thread_friction, true, faults),
                         tension, torsion) /
        yield_at(*context.materials[0], in.temperature, faults);
}

template <class T>
void Stretch::run(const T* inputs, T* outputs, const fields::Context& context, Faults<T>& faults) {
    const auto& in = *reinterpret_cast<const StretchInputs<T>*>(inputs);
    auto& out = *reinterpret_cast<StretchOutputs<T>*>(outputs);
    const materials::Material& shaft = *context.materials[0];
    const ThreadGeometry<T> g =
        thread_geometry(in.nut, in.shaft_bore, faults, nut_kind(context.choices));
    const TorqueEnds<T> k = torque_ends(in.nut, g, faults);
    faults.require(one_of(in.stretch, in.preload), rules::stretch_or_preload,
                   fields::given(in.preload, T(0.0)));
    faults.require(in.body_diameter > in.shaft_bore, rules::body_hollow, in.body_diameter);
    materials::require_in_range(shaft, in.temperature, faults);
    const T modulus = materials::at(shaft.modulus, in.temperature);
    const T bore2 = square(in.shaft_bore);
    const T body = (square(in.body_diameter) - bore2) * (fields::pi / 4.0);
    const T root = (square(g.root_diameter) - bore2) * (fields::pi / 4.0);
    out.compliance =
        (in.body_length / body + in.thread_length / g.stress_area + in.nut.height * 0.5 / root) /
        modulus;
    out.preload = select(is_given(in.preload), fields::given(in.preload, T(1.0)),
                         fields::given(in.stretch, T(0.0)) / out.compliance);
    out.stretch = out.preload * out.compliance;
    out.gauge_part = in.gauge_uncertainty / out.compliance;
    const T length = in.body_length + in.thread_length + in.nut.height * 0.5;
    out.heat_part = materials::at(shaft.expansion, in.temperature) * length *
                    in.temperature_uncertainty / out.compliance;
    out.modulus_part = out.preload * in.modulus_uncertainty;
    out.length_part = out.preload * in.length_uncertainty / (root * modulus) / out.compliance;
    out.uncertainty =
        norm2(norm2(out.gauge_part, out.heat_part), norm2(out.modulus_part, out.length_part));
    out.scatter = out.uncertainty * 2.0 / out.preload;
    out.torque = out.preload * k.nominal;
    out.scatter_by_torque = scatter_by_torque(k);
    out.tension = out.preload / g.stress_area;
}

template <class T>
void Scatter::run(const T* inputs, T* outputs, const fields::Context& context, Faults<T>& faults) {
    const auto& in = *reinterpret_cast<const ScatterInputs<T>*>(inputs);
    auto& out = *reinterpret_cast<ScatterOutputs<T>*>(outputs);
    const ThreadGeometry<T> g =
        thread_geometry(in.nut, in.shaft_bore, faults, nut_kind(context.choices));
    const TorqueEnds<T> k = torque_ends(in.nut, g, faults);
    const Nut<T>& nut = in.nut;
    out.preload = in.torque / k.nominal;
    // Half of the range over the nominal force, when torque per force runs from `least` to `most`.
    const auto half = [&](const T& least, const T& most) {
        return (k.nominal / least - k.nominal / most) * 0.5;
    };
    out.tool_part = in.tool_scatter;
    out.thread_part =
        half(torque_per_force(g, nut.thread_friction_low, nut.face_friction, faults),
             torque_per_force(g, nut.thread_friction_high, nut.face_friction, faults));
    out.face_part = half(torque_per_force(g, nut.thread_friction, nut.face_friction_low, faults),
                         torque_per_force(g, nut.thread_friction, nut.face_friction_high, faults));
    out.scatter = norm2(norm2(out.tool_part, out.thread_part), out.face_part);
    out.preload_low = out.preload * positive(1.0 - out.scatter);
    out.preload_high = out.preload * (out.scatter + 1.0);
    out.tightening_factor = (out.scatter + 1.0) / larger(1.0 - out.scatter, T(1e-3));
    out.preload_least = in.torque * (1.0 - in.tool_scatter) / k.high_friction;
    out.preload_greatest = in.torque * (in.tool_scatter + 1.0) / k.low_friction;
}

} // namespace fitwright::threads
