// A plate held on a circle, with its edge of the hole free, guided, supported or clamped.
#pragma once

#include "materials/range.hpp"
#include "plate_theory.hpp"
#include "times.hpp"
#include <fitwright/joints/plate.hpp>
#include <fitwright/materials/table.hpp>

namespace fitwright::rules {
extern const number::Rule centre_load_needs_solid, centre_load_on_plate, hole_in_support,
    inner_edge_needs_hole, plate_is_held, pressure_on_plate, radius_on_plate, ring_load_on_plate,
    support_in_plate;
} // namespace fitwright::rules

namespace fitwright::joints {

// Everything that pushes, as one function of the radius: per unit of nothing.
template <class T>
struct PlateLoads {
    T pressure, from, to; // radii
    T ring, circle;
    T spot_pressure, spot;
    FITWRIGHT_INLINE T total() const {
        return ring + (square(to) - square(from)) * pressure * fields::pi +
               square(spot) * spot_pressure * fields::pi;
    }
};
template <class T>
Bent<T> loaded_part(const PlateBody<T>& p, const PlateLoads<T>& loads, const T& r) {
    Bent<T> sum = pressure_part(p, r, loads.from) * loads.pressure;
    sum += pressure_part(p, r, loads.to) * T(-loads.pressure);
    sum += ring_part(p, r, loads.circle) * loads.ring;
    sum += pressure_part(p, r, T(0.0)) * loads.spot_pressure;
    sum += pressure_part(p, r, loads.spot) * T(-loads.spot_pressure);
    return sum;
}

// The constant A of the free part, the force put on at a supported hole, and the levels of w.
template <class T>
struct PlateSolution {
    T free, inner, level, shear_level;
};

// How a plate is held: the edge outside, whether the edge of the hole turns, whether it is supported.
struct PlateHold {
    PlateEdge edge;
    bool turns, held;
};

// Two conditions: the moment at the rim, or the slope at the support, is zero; and, where the hole is
// supported too, it stands as high as the support.
template <class T>
PlateSolution<T> solve_plate(const PlateBody<T>& p, const PlateLoads<T>& loads, const T& support,
                             const PlateHold& hold) {
    const bool clamped = hold.edge == PlateEdge::clamped;
    const bool turns = hold.turns;
    const T at = clamped ? support : p.outside;
    const auto condition = [&](const Bent<T>& b) {
        return clamped ? b.slope : radial_moment(p, b);
    };
    // Beyond the support its own force counts too.
    const auto at_edge = [&](const Bent<T>& b, const T& force) {
        if (clamped)
            return condition(b);
        Bent<T> sum = b;
        sum += ring_part(p, at, support) * T(-force);
        return condition(sum);
    };
    const T a0 = condition(free_part(p, at, turns));
    if (hold.edge == PlateEdge::free) {
        Bent<T> all = loaded_part(p, loads, at);
        all += ring_part(p, at, p.hole) * T(-loads.total());
        const T free = -condition(all) / a0;
        return {free, -loads.total(), -free_part(p, p.hole, turns).w * free, T(0.0)};
    }
    const T l0 = at_edge(loaded_part(p, loads, at), loads.total());
    if (!hold.held) {
        const T free = -l0 / a0;
        const Bent<T> there = loaded_part(p, loads, support);
        return {free, T(0.0), -(free_part(p, support, turns).w * free + there.w), -there.sheared};
    }
    const T r0 = at_edge(ring_part(p, at, p.hole), T(1.0));
    // w at the support less w at the hole, where every load function is still zero.
    const T a1 = free_part(p, support, turns).w - free_part(p, p.hole, turns).w;
    const T l1 = loaded_part(p, loads, support).w;
    const T r1 = ring_part(p, support, p.hole).w;
    // a0 A + r0 R + l0 = 0, a1 A + r1 R + l1 = 0
    const T determinant = named("determinant of the edges", a0 * r1 - a1 * r0);
    const T free = named("size of the free part", (r0 * l1 - r1 * l0) / determinant);
    const T inner = named("force at the hole", (a1 * l0 - a0 * l1) / determinant);
    return {free, inner, -free_part(p, p.hole, turns).w * free, T(0.0)};
}

template <class T>
Bent<T> bent_at(const PlateBody<T>& p, const PlateLoads<T>& loads, const PlateSolution<T>& s,
                const T& support, const T& r, const PlateHold& hold) {
    Bent<T> sum = free_part(p, r, hold.turns) * s.free;
    sum += loaded_part(p, loads, r);
    if (hold.held)
        sum += ring_part(p, r, p.hole) * s.inner;
    if (hold.edge != PlateEdge::free)
        sum += ring_part(p, r, support) * T(-(loads.total() + s.inner));
    sum.w = named("deflection", sum.w + s.level);
    sum.sheared += s.shear_level;
    sum.radial = named("radial curvature", sum.radial);
    sum.hoop = named("hoop curvature", sum.hoop);
    return sum;
}

template <class T>
void BentPlate::run(const T* inputs, T* outputs, const fields::Context& context,
                    Faults<T>& faults) {
    const auto& in = *reinterpret_cast<const PlateInputs<T>*>(inputs);
    auto& out = *reinterpret_cast<PlateOutputs<T>*>(outputs);
    const materials::Material& metal = *context.materials[0];
    const auto inner = static_cast<InnerEdge>(context.choices[1]);
    const bool with_shear = context.choices[2] == 0;
    const PlateHold hold{static_cast<PlateEdge>(context.choices[0]),
                         inner == InnerEdge::free || inner == InnerEdge::simply_supported,
                         inner == InnerEdge::simply_supported || inner == InnerEdge::clamped};
    const bool clamped = hold.edge == PlateEdge::clamped;

    materials::require_in_range(metal, in.temperature, faults);
    const T b = in.hole * 0.5;
    const T support = fields::given(in.support, in.outside) * 0.5;
    const T outside = in.outside * 0.5;
    faults.require(b < support, rules::hole_in_support, in.hole);
    faults.require(support <= outside * (1.0 + 1e-12), rules::support_in_plate, support * 2.0);
    const auto solid = b == T(0.0);
    if (inner != InnerEdge::free)
        faults.require(!solid, rules::inner_edge_needs_hole, in.hole);
    if (hold.edge == PlateEdge::free && !hold.held)
        faults.require(b < T(0.0), rules::plate_is_held, support * 2.0);
    const PlateBody<T> p =
        plate_body(b, outside, in.thickness,
                   T(materials::at(metal.modulus, in.temperature) * in.modulus_factor),
                   metal.poisson, with_shear);

    PlateLoads<T> loads;
    loads.pressure = in.pressure;
    loads.from = fields::given(in.pressure_inside, in.hole) * 0.5;
    const T edge = hold.edge == PlateEdge::free ? outside : support;
    loads.to = fields::given(in.pressure_outside, T(edge * 2.0)) * 0.5;
    const T rim = clamped ? support : outside;
    const auto within = [&](const T& r) {
        return (r >= b * (1.0 - 1e-12)) & (r <= rim * (1.0 + 1e-12));
    };
    faults.require(within(loads.from) & within(loads.to) & (loads.from <= loads.to),
                   rules::pressure_on_plate, loads.to * 2.0);
    loads.ring = in.ring_load;
    const T circle = fields::given(in.ring_diameter, in.hole) * 0.5;
    const auto rings = in.ring_load == T(0.0);
    faults.require(rings | (within(circle) & (circle > T(0.0))), rules::ring_load_on_plate,
                   circle * 2.0);
    loads.circle = select(circle > T(0.0), circle, support);
    faults.require(solid | (in.centre_load == T(0.0)), rules::centre_load_needs_solid,
                   in.centre_load);
    // A spot smaller than the plate is thick acts over sqrt(1.6 r^2 + t^2) - 0.675 t (Westergaard).
    const T spot = in.centre_diameter * 0.5;
    faults.require(spot <= support, rules::centre_load_on_plate, in.centre_diameter);
    const T spread = root0(square(spot) * 1.6 + square(in.thickness)) - in.thickness * 0.675;
    loads.spot = smaller(select(spot < in.thickness * 0.5, spread, spot), support);
    loads.spot_pressure = in.centre_load / (square(loads.spot) * fields::pi);

    const PlateSolution<T> s = solve_plate(p, loads, support, hold);
    const auto at = [&](const T& r) { return bent_at(p, loads, s, support, r, hold); };
    const T r = fields::given(in.radius, b);
    faults.require(within(r), rules::radius_on_plate, r);
    const T per = 6.0 / square(in.thickness);
    const Bent<T> here = at(r);
    out.deflection = here.w;
    out.slope = here.slope;
    out.radial_stress = radial_moment(p, here) * per;
    out.hoop_stress = hoop_moment(p, here) * per;

    // Greatest values: at every circle where something happens, and at places between.
    out.greatest_deflection = T(0.0);
    out.greatest_stress = T(0.0);
    out.von_mises = T(0.0);
    out.shear_share = T(0.0);
    const auto look = [&](const T& radius) {
        const Bent<T> b1 = at(radius);
        const T mr = radial_moment(p, b1);
        const T mt = hoop_moment(p, b1);
        const T w = abs(b1.w);
        const auto more = w > out.greatest_deflection;
        out.greatest_deflection = select(more, w, out.greatest_deflection);
        out.shear_share = select(more, b1.sheared / select(more, b1.w, T(1.0)), out.shear_share);
        out.greatest_stress = larger(out.greatest_stress, larger(abs(mr), abs(mt)) * per);
        out.von_mises = larger(out.von_mises, face_von_mises(mr, mt, in.thickness));
    };
    constexpr int places = 32; // a summit between two is 0.1 % higher at the most
    for (int k = 0; k <= places; ++k)
        look(b + (rim - b) * (static_cast<double>(k) / places));
    look(support);
    look(loads.circle);
    look(larger(loads.spot, b)); // inside a hole there is nothing
    out.yield_use = out.von_mises / materials::at(metal.yield, in.temperature);
    out.design_factor = times(T(1.0), out.yield_use);
    out.inner_force = -s.inner;
    out.support_force = loads.total() + s.inner;
    out.membrane_ratio = out.greatest_deflection / in.thickness;
}

} // namespace fitwright::joints
