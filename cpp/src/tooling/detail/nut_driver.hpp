// A nut driver. Its rim under n equal forces W outwards, a = pi/n (Roark's Formulas for Stress and Strain,
// rings under equally spaced radial forces, from memory):
//   at a force   M = W R/2 (1/a - cot a),   N = W/2 cot a
//   between      M = W R/2 (1/sin a - 1/a), N = W/(2 sin a)
#pragma once

#include "bearings/detail/mounting.hpp"
#include "materials/range.hpp"
#include "puller.hpp"
#include <fitwright/tooling/nut_driver.hpp>

namespace fitwright::rules {
extern const number::Rule circle_on_nut, nut_around_thread, slots_leave_land, socket_wall,
    tooth_for_slot, tooth_in_slot, whole_slots, whole_teeth;
} // namespace fitwright::rules

namespace fitwright::tooling {

// Greatest stress of a rim of wall t and width b.
template <class T>
T rim_stress(const T& force, const T& count, const T& radius, const T& wall, const T& width) {
    const T a = fields::pi / count;
    const T s = sin(a);
    const T cot = cos(a) / s;
    const T per = force * 0.5;
    const T bend = radius * 6.0 / (width * square(wall));
    const T pull = 1.0 / (width * wall);
    return per *
           larger((1.0 / a - cot) * bend + abs(cot) * pull, (1.0 / s - 1.0 / a) * bend + pull / s);
}

template <class T>
struct ToothLoad {
    T root, bearing_area, land;
};
template <class T>
ToothLoad<T> tooth_load(const NutDriverInputs<T>& in, const T& force, bool dogs) {
    const DrivenNut<T>& nut = in.nut;
    const T arm = in.overhang + in.engagement * 0.5;
    const T land = in.circle * fields::pi / nut.slots - nut.slot_width;
    if (dogs) {
        // Bent along the circle: the width is the depth of that beam.
        const T area =
            smaller(in.engagement, nut.slot_length) * smaller(in.tooth_height, nut.slot_depth);
        return {root_stress(force, arm, in.tooth_height, in.tooth_width), area,
                root_stress(force, T(nut.slot_depth * 0.5), nut.slot_length, land)};
    }
    const T d = in.tooth_width;
    const T pin = combined(T(force * arm * 32.0 / (cube(d) * fields::pi)),
                           T(force * 4.0 / (square(d) * fields::pi)));
    return {pin, d * smaller(in.engagement, nut.slot_depth),
            combined(T(0.0), T(force / (land * smaller(in.engagement, nut.slot_depth))))};
}

template <class T>
void require_driver(const NutDriverInputs<T>& in, Faults<T>& faults) {
    const DrivenNut<T>& nut = in.nut;
    faults.require(in.outside > in.inside, rules::socket_wall, in.outside);
    faults.require(in.tooth_width <= nut.slot_width, rules::tooth_in_slot, in.tooth_width);
    faults.require(in.teeth < nut.slots + 0.5, rules::tooth_for_slot, in.teeth);
    faults.require(threads::is_whole(in.teeth), rules::whole_teeth, in.teeth);
    faults.require(in.circle < nut.outside, rules::circle_on_nut, in.circle);
    faults.place = 1;
    faults.require(threads::is_whole(nut.slots), rules::whole_slots, nut.slots);
    faults.require(nut.thread < nut.outside, rules::nut_around_thread, nut.outside);
    faults.require(in.circle * fields::pi > nut.slots * nut.slot_width, rules::slots_leave_land,
                   nut.slot_width);
    faults.place = 0;
}

template <class T>
void NutDriver::run(const T* inputs, T* outputs, const fields::Context& context,
                    Faults<T>& faults) {
    const auto& in = *reinterpret_cast<const NutDriverInputs<T>*>(inputs);
    auto& out = *reinterpret_cast<NutDriverOutputs<T>*>(outputs);
    const materials::Material& metal = *context.materials[0];
    const materials::Material& nut_metal = *context.materials[1];
    const bool dogs = context.choices[0] == static_cast<int>(DriverTeeth::dogs);
    const T wanted = factor_wanted(in.wanted_factor, context.choices[1], faults);
    require_driver(in, faults);
    materials::require_in_range(metal, in.temperature, faults);
    faults.place = 1;
    materials::require_in_range(nut_metal, in.nut.temperature, faults);
    faults.place = 0;

    out.working_load = in.torque;
    // A lever on one side leans on the teeth of that side.
    out.tooth_load =
        in.torque * 2.0 / (in.circle * in.teeth) * in.uneven + in.side_force * 2.0 / in.teeth;
    const T yield = materials::at(metal.yield, in.temperature);
    const T nut_yield = materials::at(nut_metal.yield, in.nut.temperature);
    const ToothLoad<T> tooth = tooth_load(in, out.tooth_load, dogs);
    out.tooth_factor = times(yield, tooth.root);
    const T bearing = out.tooth_load / tooth.bearing_area;
    out.tooth_bearing_factor = times(yield, bearing);
    out.slot_bearing_factor = times(nut_yield, bearing);
    out.land_factor = times(nut_yield, tooth.land);
    const T o2 = square(in.outside);
    const T i2 = square(in.inside);
    const T polar = (square(o2) - square(i2)) * (fields::pi / 32.0);
    const T edge = in.outside * 0.5;
    out.wall_factor = times(yield, combined(T(in.side_force * in.length * edge * 2.0 / polar),
                                            T(in.torque * edge / polar)));
    const T outward = out.tooth_load * sin(in.flank_angle) / cos(in.flank_angle);
    const T wall = (in.outside - in.inside) * 0.5;
    out.burst_factor =
        times(yield, rim_stress(outward, in.teeth, T((in.outside + in.inside) * 0.25), wall,
                                in.engagement));
    const T factors[] = {out.tooth_factor, out.tooth_bearing_factor, out.slot_bearing_factor,
                         out.land_factor,  out.wall_factor,          out.burst_factor};
    judge(out, factors, 6, in.torque, wanted);

    const T modulus = materials::at(metal.modulus, in.temperature) * in.modulus_factor;
    out.clearance =
        in.inside * (materials::free_growth(metal, in.expansion_factor, in.temperature) + 1.0) -
        in.nut.outside *
            (materials::free_growth(nut_metal, in.nut.expansion_factor, in.nut.temperature) + 1.0) -
        in.nut.growth;
    out.clearance_margin = out.clearance - in.least_clearance;
    const T one(1.0);
    const rings::Section<T> socket{in.inside * 0.5, edge, modulus, metal.poisson, metal.density};
    const rings::Section<T> body{in.nut.thread * 0.5, in.nut.outside * 0.5,
                                 materials::at(nut_metal.modulus, in.nut.temperature) *
                                     in.nut.modulus_factor,
                                 nut_metal.poisson, nut_metal.density};
    out.jam_pressure =
        positive(-out.clearance) / (rings::growth_by_pressure(socket, one, socket.inner) -
                                    bearings::squeezed(body, one, body.outer));
    out.nut_closing = -bearings::squeezed(body, out.jam_pressure, body.inner);
    out.twist = in.torque * in.length * (2.0 * (1.0 + metal.poisson)) / (modulus * polar);
}

} // namespace fitwright::tooling
