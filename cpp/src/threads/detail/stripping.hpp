// Shear areas in the manner of FED-STD-H28/2, for any flank angle a and thickness P/2 of a ridge at
// the pitch diameter:
//   shaft  pi D1max L/P [P/2 + tan a (d2min - D1max)]   sheared at the minor diameter of the nut
//   nut    pi dmin  L/P [P/2 + tan a (dmin - D2max)]    sheared at the major diameter of the shaft
// The standard writes 1/(2n) + 0.57735 (...), times n L.
#pragma once

#include "tightening.hpp"
#include <fitwright/threads/stripping.hpp>

namespace fitwright::rules {
extern const number::Rule thread_overlap;
} // namespace fitwright::rules

namespace fitwright::threads {

template <class T>
void strip(StrippingOutputs<T>& out, const StrippingInputs<T>& in, const ThreadGeometry<T>& g,
           const materials::Material& shaft, const materials::Material& nut, Faults<T>& faults) {
    const T major = fields::given(in.external_major, in.nut.diameter);
    const T pitch_external = fields::given(in.external_pitch, g.pitch_diameter);
    const T minor = fields::given(in.internal_minor, g.minor_diameter);
    const T pitch_internal = fields::given(in.internal_pitch, g.pitch_diameter);
    const T& pitch = in.nut.pitch;
    const T thick_external = pitch * g.thickness + (pitch_external - minor) * g.tan_flank;
    const T thick_internal = pitch * g.thickness + (major - pitch_internal) * g.tan_flank;
    faults.require((minor < major) & (thick_external > T(0.0)) & (thick_internal > T(0.0)),
                   rules::thread_overlap, minor);
    const T turns = in.nut.height / pitch * fields::pi;
    out.external_area = turns * minor * thick_external;
    out.internal_area = turns * major * thick_internal;
    out.external_shear = in.preload / out.external_area;
    out.internal_shear = in.preload / out.internal_area;
    constexpr double per_root3 = 0.57735026918962576;
    const T yield = yield_at(shaft, in.shaft_temperature, faults);
    const T external = yield * per_root3;
    const T internal = yield_at(nut, in.nut_temperature, faults) * per_root3;
    out.external_use = out.external_shear / external;
    out.internal_use = out.internal_shear / internal;
    const T external_force = out.external_area * external;
    const T internal_force = out.internal_area * internal;
    out.strength_ratio = external_force / internal_force;
    out.stripping_force = smaller(external_force, internal_force);
    out.yield_force = g.stress_area * yield;
    out.needed_height = in.nut.height * out.yield_force / out.stripping_force;
    out.flank_pressure = in.preload / (turns * 0.25 * (square(major) - square(minor)));
    out.face_pressure = in.preload / ((square(in.nut.face_outside) - square(in.nut.face_inside)) *
                                      (fields::pi / 4.0));
}

template <class T>
void Stripping::run(const T* inputs, T* outputs, const fields::Context& context,
                    Faults<T>& faults) {
    const auto& in = *reinterpret_cast<const StrippingInputs<T>*>(inputs);
    const ThreadGeometry<T> g =
        thread_geometry(in.nut, in.shaft_bore, faults, nut_kind(context.choices));
    strip(*reinterpret_cast<StrippingOutputs<T>*>(outputs), in, g, *context.materials[0],
          *context.materials[1], faults);
}

} // namespace fitwright::threads
