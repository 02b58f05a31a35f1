// A press sleeve: a short column whose wall may fold, pushing a face. Faces out of square by a slope g
// touch all round once the sleeve has shortened by g D/2: F = E A g D/(2 L).
#pragma once

#include "materials/range.hpp"
#include "screw.hpp"
#include <fitwright/tooling/press_sleeve.hpp>

namespace fitwright::rules {
extern const number::Rule column_range, face_has_width, piston_area, screw_pitch_given,
    sleeve_meets_face, sleeve_wall;
} // namespace fitwright::rules

namespace fitwright::tooling {

template <class T>
void PressSleeve::run(const T* inputs, T* outputs, const fields::Context& context,
                      Faults<T>& faults) {
    const auto& in = *reinterpret_cast<const PressSleeveInputs<T>*>(inputs);
    auto& out = *reinterpret_cast<PressSleeveOutputs<T>*>(outputs);
    const materials::Material& metal = *context.materials[0];
    const materials::Material& pushed = *context.materials[1];
    const T wanted = factor_wanted(in.wanted_factor, context.choices[0], faults);
    faults.require(in.outside > in.inside, rules::sleeve_wall, in.outside);
    materials::require_in_range(metal, in.temperature, faults);
    const T inner = larger(in.inside, in.face.inside);
    const T outer = smaller(in.outside, in.face.outside);
    faults.require(outer > inner, rules::sleeve_meets_face, in.inside);
    faults.place = 1;
    faults.require(in.face.outside > in.face.inside, rules::face_has_width, in.face.outside);
    materials::require_in_range(pushed, in.face.temperature, faults);
    faults.place = 0;

    out.working_load = in.force;
    const T modulus = materials::at(metal.modulus, in.temperature) * in.modulus_factor;
    const T yield = materials::at(metal.yield, in.temperature);
    const Strut<T> s = round_strut(in.outside, in.inside, modulus, yield);
    const ColumnStrength<T> c = column_strength(
        s, T(in.length * in.end_factor), fields::given(in.eccentricity, in.outside * 0.02), faults);
    faults.require(c.slenderness <= T(slenderness_limit), rules::column_range,
                   T(in.length * in.end_factor));
    out.column_factor = times(c.capacity, in.force);
    const T wall = (in.outside - in.inside) * 0.5;
    const T folds = modulus * wall / ((in.outside + in.inside) * 0.25) * (0.6 * 0.2);
    out.wall_factor = times(smaller(folds, yield), T(in.force / s.area));
    out.face_pressure = in.force / ((square(outer) - square(inner)) * (fields::pi / 4.0));
    out.bearing_factor =
        times(smaller(materials::at(pushed.yield, in.face.temperature), yield), out.face_pressure);
    const T factors[] = {out.column_factor, out.wall_factor, out.bearing_factor};
    judge(out, factors, 3, in.force, wanted);
    out.one_sided_force = modulus * s.area * in.out_of_square * in.outside * 0.5 / in.length;
    out.deflection = in.force * in.length / (modulus * s.area);

    const auto piston = in.piston_diameter > T(0.0);
    faults.require((!piston) | (in.piston_diameter > in.piston_bore), rules::piston_area,
                   in.piston_diameter);
    const T area = (square(in.piston_diameter) - square(in.piston_bore)) * (fields::pi / 4.0);
    out.cylinder_pressure = select(piston, in.force / select(area > T(0.0), area, T(1.0)), T(0.0));
    out.pressure_margin = in.rated_pressure - out.cylinder_pressure;
    // Without a screw any screw stands in, and its torque is not told.
    const auto driven = in.screw_diameter > T(0.0);
    faults.require((!driven) | (in.screw_pitch > T(0.0)), rules::screw_pitch_given, in.screw_pitch);
    Screw<T> screw{};
    screw.diameter = select(driven, in.screw_diameter, T(0.03));
    screw.pitch = select(driven & (in.screw_pitch > T(0.0)), in.screw_pitch, T(0.006));
    screw.lead = screw.pitch;
    screw.engagement = screw.diameter;
    screw.point_diameter = in.screw_point;
    screw.thread_friction = screw.point_friction = in.screw_friction;
    screw.thread_friction_low = screw.point_friction_low = in.screw_friction_low;
    screw.thread_friction_high = screw.point_friction_high = in.screw_friction_high;
    const threads::Nut<T> nut = as_nut(screw);
    const threads::ThreadGeometry<T> g = threads::thread_geometry(
        nut, T(0.0), faults, screw_kind(static_cast<int>(ScrewForm::trapezoidal)));
    const threads::TorqueEnds<T> k = threads::torque_ends(nut, g, faults);
    out.screw_torque = select(driven, in.force * k.nominal, T(0.0));
    out.screw_torque_high = select(driven, in.force * k.high_friction, T(0.0));
}

} // namespace fitwright::tooling
