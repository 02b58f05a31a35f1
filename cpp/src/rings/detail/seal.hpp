// A seal: both surfaces move, the clearance is what is left.
//
//   rotor = surface [1 + alpha_r (T_r - 20) + (pressure + speed + axial) strain of its face]
//   stator = diameter [1 + alpha_s (T_s - 20)]
//
// hoop strain of a free face by pressure p on the other one: outside 2 p a^2/(b^2 - a^2)/E,
// bore -2 p b^2/(b^2 - a^2)/E; by speed rho w^2 [(1 - nu) own^2 + (3 + nu) other^2]/(4E); by axial
// stress -nu sigma/E (thick_ring.hpp).
#pragma once

#include "materials/range.hpp"
#include "thick_ring.hpp"
#include <fitwright/rings/seal.hpp>

namespace fitwright::rules {
extern const number::Rule outside_above_bore, seal_bore_open, seal_surface_at_face, surface_speed;
} // namespace fitwright::rules

namespace fitwright::rings {

// The sealing face of a ring: its strain by what loads it, at one temperature.
template <class T>
FITWRIGHT_INLINE T sealing_strain(const Section<T>& s, bool at_bore, const T& pressure,
                                  const T& axial, const T& speed) {
    const T own = at_bore ? s.inner : s.outer;
    const T other = at_bore ? s.outer : s.inner;
    const T by_pressure = pressure * square(other) * per_span(s) * (at_bore ? -2.0 : 2.0);
    const T by_speed = square(speed) * density_in(0.25 * s.density, speed) *
                       (square(own) * (1.0 - s.poisson) + square(other) * (3.0 + s.poisson));
    return (by_pressure + by_speed - axial * s.poisson) / s.modulus;
}

template <class T>
FITWRIGHT_INLINE void require_in_data(const T& temperature, const materials::Material& m, int place,
                                      Faults<T>& faults) {
    faults.place = place;
    materials::require_in_range(m, temperature, faults);
}

template <class T>
SealOutputs<T> seal_outputs(const SealInputs<T>& in, bool at_bore,
                            const materials::Material& rotor_metal,
                            const materials::Material& stator_metal, Faults<T>& faults) {
    const SealRotor<T>& rotor = in.rotor;
    require_in_data(in.stator.temperature, stator_metal, 2, faults);
    require_in_data(rotor.temperature, rotor_metal, 1, faults);
    faults.require(rotor.outside > rotor.bore, rules::outside_above_bore, rotor.outside);
    if (at_bore)
        faults.require(rotor.bore > T(0.0), rules::seal_bore_open, rotor.bore);
    faults.require(in.speed * rotor.outside <= T(surface_speed_limit), rules::surface_speed,
                   in.speed);
    const T face = at_bore ? rotor.bore : rotor.outside;
    const T surface = fields::given(rotor.surface, face);
    faults.require(abs(surface - face) <= face * 0.1, rules::seal_surface_at_face, surface);
    faults.place = 0;

    const auto section_at = [&](const T& temperature) {
        return Section<T>{rotor.bore * 0.5, rotor.outside * 0.5,
                          materials::at(rotor_metal.modulus, temperature) * rotor.modulus_factor,
                          rotor_metal.poisson, rotor_metal.density};
    };
    const T cold(materials::reference_temperature);
    const T built_growth =
        surface * sealing_strain(section_at(cold), at_bore,
                                 fields::given(rotor.built_pressure, rotor.fit_pressure),
                                 fields::given(rotor.built_axial_stress, rotor.axial_stress),
                                 T(0.0));
    SealOutputs<T> out;
    out.rotor_growth =
        surface * (materials::free_growth(rotor_metal, rotor.expansion_factor, rotor.temperature) +
                   sealing_strain(section_at(rotor.temperature), at_bore, rotor.fit_pressure,
                                  rotor.axial_stress, in.speed));
    out.stator_growth =
        in.stator.diameter *
        materials::free_growth(stator_metal, in.stator.expansion_factor, in.stator.temperature);
    const double inward = at_bore ? -1.0 : 1.0; // the rotor's growth closes, or opens
    const T free = (in.stator.diameter - surface) * inward;
    out.built_clearance = free - built_growth * inward;
    out.clearance = free + (out.stator_growth - out.rotor_growth) * inward;
    out.closing = out.built_clearance - out.clearance;
    out.least_radial = out.clearance * 0.5 - in.offset;
    out.touch_margin = out.least_radial - in.touch_clearance;
    return out;
}

template <class T>
void Seal::run(const T* inputs, T* outputs, const fields::Context& context, Faults<T>& faults) {
    *reinterpret_cast<SealOutputs<T>*>(outputs) =
        seal_outputs(*reinterpret_cast<const SealInputs<T>*>(inputs), context.choices[0] == 1,
                     *context.materials[0], *context.materials[1], faults);
}

template <class T>
void FaceGap::run(const T* inputs, T* outputs, const fields::Context& context, Faults<T>& faults) {
    const auto& in = *reinterpret_cast<const FaceGapInputs<T>*>(inputs);
    auto& out = *reinterpret_cast<FaceGapOutputs<T>*>(outputs);
    const auto growth = [&](const AxialPath<T>& path, const materials::Material& m, int place) {
        require_in_data(path.temperature, m, place, faults);
        return path.length *
               (materials::free_growth(m, path.expansion_factor, path.temperature) + path.strain);
    };
    out.rotor_expansion = growth(in.rotor, *context.materials[0], 1) + in.movement;
    out.casing_expansion = growth(in.casing, *context.materials[1], 2);
    faults.place = 0;
    out.difference = out.rotor_expansion - out.casing_expansion;
    out.gap = in.built_gap + out.difference * (context.choices[0] == 1 ? 1.0 : -1.0);
    out.touch_margin = out.gap - in.touch_clearance;
}

} // namespace fitwright::rings
