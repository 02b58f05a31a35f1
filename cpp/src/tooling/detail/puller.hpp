// A puller. The worst leg carries pull/n times what is uneven, and for a screw off the middle of the legs
// (1 + e/R) of two, (1 + 2 e/R) of three; its hook bends it by the arm from its middle to where it bears.
#pragma once

#include "materials/range.hpp"
#include "screw.hpp"
#include <fitwright/tooling/puller.hpp>

namespace fitwright::rules {
extern const number::Rule hook_in_groove, hook_reaches_bottom;
} // namespace fitwright::rules

namespace fitwright::tooling {

// A cantilever of width and thickness, its load at an arm: von Mises at the root.
template <class T>
FITWRIGHT_INLINE T root_stress(const T& force, const T& arm, const T& width, const T& thickness) {
    return combined(T(force * arm * 6.0 / (width * square(thickness))),
                    T(force / (width * thickness)));
}

template <class T>
void Puller::run(const T* inputs, T* outputs, const fields::Context& context, Faults<T>& faults) {
    const auto& in = *reinterpret_cast<const PullerInputs<T>*>(inputs);
    auto& out = *reinterpret_cast<PullerOutputs<T>*>(outputs);
    const materials::Material& metal = *context.materials[0];
    const materials::Material& ring = *context.materials[1];
    const materials::Material& screw_metal = *context.materials[2];
    const bool three = context.choices[1] == 1;
    const T wanted = factor_wanted(in.wanted_factor, context.choices[2], faults);
    const PulledGroove<T>& groove = in.groove;
    faults.require(in.hook_thickness <= groove.width, rules::hook_in_groove, in.hook_thickness);
    faults.require(in.hook_reach <= groove.depth, rules::hook_reaches_bottom, in.hook_reach);
    faults.place = 1;
    materials::require_in_range(ring, groove.temperature, faults);

    const T warm = fields::given(in.warm_pull, in.pull);
    out.working_load = larger(in.pull, warm);
    const T circle = groove.diameter * 0.5 + in.hook_clearance + in.leg_thickness * 0.5;
    const double legs = three ? 3.0 : 2.0;
    const T worse = (in.off_centre / circle * (three ? 2.0 : 1.0) + 1.0) * in.uneven;
    const T force = out.working_load / legs * worse;
    out.leg_load = force;
    const T cold(materials::reference_temperature);
    const T yield = materials::at(metal.yield, cold);
    const T modulus = materials::at(metal.modulus, cold) * in.modulus_factor;
    const T ring_yield = materials::at(ring.yield, groove.temperature);

    const T section = in.leg_width * in.leg_thickness;
    const T arm = in.leg_thickness * 0.5 + in.hook_clearance + in.hook_reach * 0.5;
    out.leg_factor = times(yield, T(force / section * (arm * 6.0 / in.leg_thickness + 1.0)));
    out.hook_factor = times(yield, root_stress(force, T(in.hook_clearance + in.hook_reach * 0.5),
                                               in.leg_width, in.hook_thickness));
    const T bearing = force / (in.leg_width * in.hook_reach);
    out.hook_bearing_factor = times(yield, bearing);
    out.lip_factor = times(ring_yield, root_stress(force, T(groove.depth - in.hook_reach * 0.5),
                                                   in.leg_width, groove.lip));
    out.lip_bearing_factor = times(ring_yield, bearing);
    out.yoke_factor =
        times(yield, T(force * circle * 6.0 / (in.yoke_width * square(in.yoke_depth))));
    faults.place = 2;
    const ScrewStrength<T> s =
        screw_strength(in.screw, out.working_load, context.choices[0], screw_metal, metal, faults);
    faults.place = 0;
    out.screw_factor = s.body_factor;
    out.column_factor = s.column_factor;
    out.thread_factor = s.thread_factor;
    const T factors[] = {out.leg_factor,   out.hook_factor,        out.hook_bearing_factor,
                         out.lip_factor,   out.lip_bearing_factor, out.yoke_factor,
                         out.screw_factor, out.column_factor,      out.thread_factor};
    judge(out, factors, 9, out.working_load, wanted);
    out.groove_capacity = out.working_load * smaller(out.lip_factor, out.lip_bearing_factor);
    out.screw_torque = s.torque * in.pull / out.working_load;
    out.screw_torque_high = s.torque_high * in.pull / out.working_load;
    out.warm_torque = s.torque * warm / out.working_load;
    out.thread_pressure = s.flank_pressure;
    const T yoke = force * cube(circle) * 4.0 / (modulus * in.yoke_width * cube(in.yoke_depth));
    out.deflection = force * in.leg_length / (section * modulus) + yoke +
                     out.working_load * in.screw.length / (s.root_area * s.modulus);
}

} // namespace fitwright::tooling
