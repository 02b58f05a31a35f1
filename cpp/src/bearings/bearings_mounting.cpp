// The models of how a bearing sits: told to users, and instantiated for double.
#include "all_models.hpp"
#include "detail/mounting.hpp"
#include "fields/at_level.hpp"

namespace fitwright::bearings {

const fields::Model& housing_fit_model() {
    static constexpr const char* places[] = {"", "housing"};
    static const fields::Model model{
        {"bearings", "housing_fit",
         "The outer ring loose or tight in its housing, and how its raceway grows.",
         "interference = ring outside (1 + a dT) - housing bore (1 + a dT); p = interference/(both "
         "compliances); raceway growth = -2 p b^2/(b^2 - a^2) [(1 - nu) r + (1 + nu) a^2/r]/E + "
         "heat",
         "Plain rings, elastic, both as long as each other; roughness already taken off the sizes; "
         "ring at rest. A housing with ribs or a foot is stiffer in places: give the outside of "
         "its thinnest wall and of its thickest.",
         "Lame; Timoshenko & Goodier, Theory of Elasticity, thick cylinder",
         "fw.bearings.housing_fit(outside=\"160 mm\", raceway=\"140 mm\", "
         "housing=fw.Housing(bore=\"159.98 mm\", outside=\"220 mm\", material=\"4340\"), "
         "material=\"52100\").outer_growth"},
        &fields::Declared<HousingFitInputs>::declaration,
        &fields::Declared<HousingFitOutputs>::declaration,
        fields::all_formulas<HousingFit>(&HousingFit::run<double>),
        places};
    return model;
}

const fields::Model& pair_model() {
    static constexpr const char* places[] = {"", "bearing", "ball"};
    static const fields::Model model{
        {"bearings", "pair", "Two preloaded rows: what each carries, and when one comes off.",
         "F(z) = Z K y^1.5 x/s of each row; clamped: z1 + z2 = offset - change, thrust = F(z1 + s) "
         "- F(z2 - s); spring: second row keeps its force; tandem: half each",
         "Two like rows at rest, thrust along the axis, rings and spacers rigid. At speed the "
         "balls "
         "are flung out and the preload of a clamped pair grows: see thrust_equilibrium.",
         "Harris & Kotzalas, Essential Concepts of Bearing Technology: axial preloading (from "
         "memory)",
         "fw.bearings.pair(bearing=fw.Bearing(balls=16, ball_diameter=\"12 mm\", "
         "pitch_diameter=\"80 mm\", inner_curvature=0.52, outer_curvature=0.52, "
         "clearance=\"60 um\", material=\"52100\"), preload_force=\"500 N\", thrust=\"1 kN\", "
         "material=\"52100\").second_load"},
        &fields::Declared<PairInputs>::declaration,
        &fields::Declared<PairOutputs>::declaration,
        fields::all_formulas<Pair>(&Pair::run<double>),
        places};
    return model;
}

} // namespace fitwright::bearings
