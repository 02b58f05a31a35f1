// The models of the running bearing: told to users, and instantiated for double.
#include "all_models.hpp"
#include "detail/equilibrium.hpp"
#include "fields/at_level.hpp"

namespace fitwright::bearings {

const fields::Model& thrust_equilibrium_model() {
    static constexpr const char* places[] = {"", "bearing", "ball"};
    static const fields::Model model{
        {"bearings", "thrust_equilibrium",
         "Angles, loads and motion of the balls of a bearing under thrust at speed.",
         "Qi sin ai - li (M/D) cos ai = Qo sin ao - lo (M/D) cos ao = thrust/Z; "
         "Qo cos ao + lo (M/D) sin ao = Qi cos ai + li (M/D) sin ai + F; lo = 1 + w, li = 1 - w; "
         "groove centres apart by the sum of (f - 1/2) D + (Q/K)^(2/3) along both angles",
         "One row, all balls alike, thrust along the axis, outer ring still, rolling without "
         "sliding but for the spin; rigid rings but for the contacts; no film, no drag of cage or "
         "oil; contact constants as at standstill.",
         "Jones, J. Basic Eng. 82 (1960); Harris & Kotzalas, Advanced Concepts of Bearing "
         "Technology: ball speeds, high-speed operation (from memory); Hirano (1965), skidding "
         "(from memory)",
         "fw.bearings.thrust_equilibrium(bearing=fw.Bearing(balls=14, ball_diameter=\"19 mm\", "
         "pitch_diameter=\"110 mm\", inner_curvature=0.52, outer_curvature=0.53, "
         "clearance=\"250 um\", material=\"52100\"), thrust=\"5 kN\", speed=\"12000 rpm\", "
         "material=\"52100\").outer_load"},
        &fields::Declared<ThrustInputs>::declaration,
        &fields::Declared<ThrustOutputs>::declaration,
        fields::all_formulas<Thrust>(&Thrust::run<double>),
        places};
    return model;
}

const fields::Model& equilibrium_model() {
    static constexpr const char* places[] = {"", "bearing", "ball"};
    static const fields::Model model{
        {"bearings", "equilibrium",
         "Displacement, stiffness and the worst ball of a bearing under thrust, radial load and "
         "tilting moment at speed.",
         "each ball as in thrust_equilibrium, its inner groove centre at x + R (a sin c - b cos "
         "c), "
         "y cos c + z sin c - Pd/2; thrust = sum t, radial = sum u (cos c, sin c), "
         "moment = sum (R t + li fi M) (sin c, -cos c)",
         "As thrust_equilibrium; ring rigid, tilts small (first order); balls spaced evenly; each "
         "ball driven by its own angles; all balls of a split ring on the half the thrust presses "
         "on "
         "(arch_gap tells where they would touch the other).",
         "Jones, J. Basic Eng. 82 (1960); Harris & Kotzalas, Advanced Concepts of Bearing "
         "Technology: high-speed operation, combined radial, axial and moment loading (from "
         "memory)",
         "fw.bearings.equilibrium(bearing=fw.Bearing(balls=14, ball_diameter=\"19 mm\", "
         "pitch_diameter=\"110 mm\", inner_curvature=0.52, outer_curvature=0.53, "
         "clearance=\"250 um\", material=\"52100\"), thrust=\"5 kN\", radial_load=\"2 kN\", "
         "speed=\"12000 rpm\", material=\"52100\").greatest_outer_load"},
        &fields::Declared<EquilibriumInputs>::declaration,
        &fields::Declared<EquilibriumOutputs>::declaration,
        fields::all_formulas<Equilibrium>(&Equilibrium::run<double>),
        places};
    return model;
}

ThrustOutputs<double> thrust_equilibrium(const ThrustInputs<double>& inputs,
                                         const materials::Material& rings,
                                         const materials::Material& balls) {
    return fields::evaluate<ThrustOutputs<double>>(thrust_equilibrium_model(), inputs,
                                                   {&rings, &balls});
}

} // namespace fitwright::bearings
