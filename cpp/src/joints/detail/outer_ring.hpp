// The outer ring in its pocket. Beside the fit (bearings/detail/mounting.hpp):
//   squeezed by s = N/A along the axis, its diameter grows by d nu s/E
//   twisted by N e per turn, e between where plate and shoulder bear: M = N e/(2 pi r) per length turns
//     the section by M r^2/(E I), I = h b^3/12 about the radial line (Timoshenko, Strength of
//     Materials II: ring under couples)
//   uneven clamp N (q_bolt - q_between): along the axis b s/E from the mid plane, b/2 of it felt at the
//     raceway; radially nu s/E times half of the wall. Both as if each sector moved alone: the most.
//   free, it tilts until pocket or faces stop it: the lesser of clearance/width and gap/diameter.
#pragma once

#include "bearings/detail/creep.hpp"
#include "bearings/detail/mounting.hpp"
#include <fitwright/joints/outer_ring.hpp>

namespace fitwright::rules {
extern const number::Rule clamp_ends_in_order, gap_or_clamp, plate_on_face, shoulder_on_face;
} // namespace fitwright::rules

namespace fitwright::joints {

using namespace number;

template <class T>
void OuterRing::run(const T* inputs, T* outputs, const fields::Context& context,
                    Faults<T>& faults) {
    const auto& in = *reinterpret_cast<const OuterRingInputs<T>*>(inputs);
    auto& out = *reinterpret_cast<OuterRingOutputs<T>*>(outputs);
    const materials::Material& metal = *context.materials[0];

    const bearings::HousingFitInputs<T> seat{in.outside,     in.raceway,        in.shoulder,
                                             in.temperature, in.modulus_factor, in.expansion_factor,
                                             in.housing};
    const auto told = in.housing_stiffness < T(1e300);
    const T give = select(
        told, in.housing.bore * in.width / select(told, in.housing_stiffness, T(1.0)), T(1e301));
    const auto fit = bearings::housed(seat, metal, *context.materials[1], 0, 1, faults, give);
    out.interference = fit.interference;
    out.pressure = fit.pressure;
    out.fit_growth = fit.outer_growth;
    out.growth_spread = fit.growth_spread;

    const T inside = fields::given(in.shoulder, in.raceway);
    const T middle = (in.outside + inside) * 0.5;
    const T plate = fields::given(in.plate_diameter, middle);
    const T shoulder = fields::given(in.shoulder_diameter, plate);
    const auto on_face = [&](const T& d) {
        return (d >= inside * (1.0 - 1e-12)) & (d <= in.outside * (1.0 + 1e-12));
    };
    faults.require(on_face(plate), rules::plate_on_face, plate);
    faults.require(on_face(shoulder), rules::shoulder_on_face, shoulder);
    const T greatest = fields::given(in.clamp_force_high, in.clamp_force);
    faults.require(greatest >= in.clamp_force, rules::clamp_ends_in_order, greatest);
    faults.require((in.axial_gap == T(0.0)) | (greatest == T(0.0)), rules::gap_or_clamp,
                   in.axial_gap);
    const T modulus = materials::at(metal.modulus, in.temperature) * in.modulus_factor;
    const T area = (square(in.outside) - square(inside)) * (fields::pi / 4.0);
    const T strain = greatest / (area * modulus);
    out.clamp_growth = in.raceway * strain * metal.poisson;
    out.outer_growth = out.fit_growth + out.clamp_growth;
    const T wall = (in.outside - inside) * 0.5;
    const T moment = greatest * (plate - shoulder) * 0.5 / (middle * fields::pi);
    out.twist = abs(moment) * square(middle * 0.5) * 12.0 / (modulus * wall * cube(in.width));
    const T uneven = strain * (in.clamp_at_bolts - in.clamp_between_bolts);
    out.axial_waviness = uneven * in.width * 0.5;
    out.radial_waviness = uneven * wall * (0.5 * metal.poisson);

    const T loose = positive(-out.interference);
    out.free_tilt = smaller(loose / in.width, in.axial_gap / in.outside);

    const bearings::HeldRing<T> held{out.pressure,
                                     in.outside,
                                     in.width,
                                     in.pocket_friction,
                                     in.clamp_force,
                                     T(2.0),
                                     (plate + shoulder) * 0.5,
                                     in.face_friction};
    out.holding_torque = bearings::holding_torque(held);
    out.creep_margin = out.holding_torque - in.friction_torque;
    out.creep_share = bearings::dragged_share(in.friction_torque, out.holding_torque);
    out.failing_margin = out.holding_torque - in.failing_torque;
    out.failing_share = bearings::dragged_share(in.failing_torque, out.holding_torque);
}

} // namespace fitwright::joints
