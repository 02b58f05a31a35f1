// A rotor held by a rod in a welded nut. Vertical: the rod carries the weight; horizontal: it pushes
// against the friction of dry journals and the slope of the axis. The plate is held simply on its bolt
// circle, free at hole and rim, pushed where the nut is welded.
#pragma once

#include "joints/detail/bolt.hpp"
#include "joints/detail/plate.hpp"
#include "screw.hpp"
#include "weld.hpp"
#include <fitwright/tooling/holding_fixture.hpp>

namespace fitwright::rules {
extern const number::Rule bolts_in_plate, hole_in_bolt_circle, nut_in_bolt_circle, nut_over_hole,
    rod_through_hole, something_to_hold, whole_bolts, whole_sides;
} // namespace fitwright::rules

namespace fitwright::tooling {

inline constexpr double standard_gravity = 9.80665;

// The plate, and the weld that holds the nut to it.
template <class T>
struct FixtureBent {
    T stress, deflection;
};
template <class T>
FixtureBent<T> fixture_plate(const FixturePlate<T>& plate, const T& hole, const T& load,
                             const T& modulus, double poisson) {
    const joints::PlateBody<T> body = joints::plate_body(T(hole * 0.5), T(plate.outside * 0.5),
                                                         plate.thickness, modulus, poisson, true);
    const T support = plate.bolt_circle * 0.5;
    const T nut = plate.nut_diameter * 0.5;
    const T none(0.0);
    const joints::PlateLoads<T> loads{none, support, support, load, nut, none, nut};
    constexpr joints::PlateHold hold{joints::PlateEdge::simply_supported, true, false};
    const auto s = joints::solve_plate(body, loads, support, hold);
    FixtureBent<T> b{none, none};
    const auto look = [&](const T& r) {
        const auto at = joints::bent_at(body, loads, s, support, r, hold);
        b.stress = larger(b.stress,
                          joints::face_von_mises(joints::radial_moment(body, at),
                                                 joints::hoop_moment(body, at), plate.thickness));
        b.deflection = larger(b.deflection, abs(at.w));
    };
    look(body.hole);
    look(nut);
    look(support);
    return b;
}

template <class T>
void require_fixture(const HoldingFixtureInputs<T>& in, const T& hole, Faults<T>& faults) {
    faults.place = 2;
    const FixturePlate<T>& p = in.plate;
    faults.require(hole < p.bolt_circle, rules::hole_in_bolt_circle, hole);
    faults.require(hole >= in.rod.diameter, rules::rod_through_hole, hole);
    faults.require(hole < p.nut_diameter, rules::nut_over_hole, p.nut_diameter);
    faults.require(p.nut_diameter < p.bolt_circle, rules::nut_in_bolt_circle, p.nut_diameter);
    faults.require(p.bolt_circle < p.outside, rules::bolts_in_plate, p.outside);
    faults.require(threads::is_whole(p.bolts), rules::whole_bolts, p.bolts);
    faults.require(threads::is_whole(p.weld_sides), rules::whole_sides, p.weld_sides);
    faults.place = 0;
}

template <class T>
void HoldingFixture::run(const T* inputs, T* outputs, const fields::Context& context,
                         Faults<T>& faults) {
    const auto& in = *reinterpret_cast<const HoldingFixtureInputs<T>*>(inputs);
    auto& out = *reinterpret_cast<HoldingFixtureOutputs<T>*>(outputs);
    const bool vertical = context.choices[0] == static_cast<int>(RotorAxis::vertical);
    const materials::Material& rod_metal = *context.materials[0];
    const materials::Material& plate_metal = *context.materials[1];
    const materials::Material& bolt_metal = *context.materials[2];
    const T wanted = factor_wanted(in.wanted_factor, context.choices[3], faults);
    const T hole = fields::given(in.plate.hole, in.rod.diameter * 1.1);
    require_fixture(in, hole, faults);

    const T weight = in.mass * standard_gravity * in.share;
    const T along = vertical ? weight : weight * (in.journal_friction + in.axis_slope);
    out.working_load = (along + in.other_force) * in.handling_factor;
    const T& load = out.working_load;
    faults.require(load > T(0.0), rules::something_to_hold, load);
    faults.place = 1;
    const ScrewStrength<T> s =
        screw_strength(in.rod, load, context.choices[1], rod_metal, plate_metal, faults);
    faults.place = 0;
    out.rod_factor = s.body_factor;
    out.column_factor = s.column_factor;
    out.thread_factor = s.thread_factor;

    const T cold(materials::reference_temperature);
    const T plate_yield = materials::at(plate_metal.yield, cold);
    const FixtureBent<T> bent = fixture_plate(
        in.plate, hole, load, T(materials::at(plate_metal.modulus, cold) * in.plate.modulus_factor),
        plate_metal.poisson);
    out.plate_factor = times(plate_yield, bent.stress);
    out.plate_deflection = bent.deflection;

    // The weld carries the load and turns the thread's torque into the plate.
    const WeldLine<T> line = weld_line(WeldPattern::circle, in.plate.nut_diameter, T(0.0));
    const T depth = in.plate.leg * throat * in.plate.weld_sides;
    out.weld_stress =
        norm2(load / (line.length * depth), s.twisting * line.across / (line.polar * depth));
    const WeldStrength<T> weld =
        weld_strength(in.plate.electrode_strength, in.plate.electrode_yield, plate_yield);
    out.weld_allowable_use = out.weld_stress / weld.allowable;
    out.weld_factor = times(weld.yield, out.weld_stress);

    faults.place = 3;
    const joints::BoltSize<T> size = joints::bolt_size(in.bolt, bolt_metal, faults);
    const threads::ThreadGeometry<T> g =
        threads::thread_geometry(joints::as_nut(in.bolt, size, in.bolt.diameter), T(0.0), faults,
                                 {threads::right, context.choices[2], threads::even_pressure});
    faults.place = 0;
    const T lopsided = in.off_centre * 2.0 / in.plate.bolt_circle *
                       select(in.plate.bolts > T(2.5), T(2.0), T(1.0));
    out.bolt_load = load / in.plate.bolts * (lopsided + 1.0);
    out.bolt_factor = times(T(g.stress_area * size.yield), out.bolt_load);
    const T factors[] = {out.rod_factor,   out.column_factor, out.thread_factor,
                         out.plate_factor, out.weld_factor,   out.bolt_factor};
    judge(out, factors, 6, load, wanted);

    out.lifting_torque = s.torque;
    out.lifting_torque_high = s.torque_high;
    out.lowering_torque = s.lowering;
    out.self_locking_margin = s.self_locking;
    out.slenderness = s.slenderness;
    out.thread_pressure = s.flank_pressure;
    out.thread_pressure_use = s.flank_pressure * (1.0 / 15e6);
    const T rod = load * in.rod.length / (s.root_area * s.modulus);
    const T bolt = out.bolt_load * in.plate.thickness /
                   (g.stress_area * materials::at(bolt_metal.modulus, in.bolt.temperature) *
                    in.bolt.modulus_factor);
    out.deflection = rod + bent.deflection + bolt;
    out.clearance_left = in.travel - out.deflection - in.thread_play - in.thread_wear;
}

} // namespace fitwright::tooling
