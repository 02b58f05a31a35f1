// The models of plates and of the ring under them: told to users, and instantiated for double.
#include "all_models.hpp"
#include "detail/outer_ring.hpp"
#include "detail/plate.hpp"
#include "detail/ring_plate.hpp"
#include "fields/at_level.hpp"

namespace fitwright::joints {

const fields::Model& plate_model() {
    static const fields::Model model{
        {"joints", "plate",
         "How a round plate bends, with or without a hole, by pressure, a force on a circle or at "
         "its centre.",
         "d/dr[(1/r) d(r w')/dr] = Q/D, D = E t^3/(12 (1 - nu^2)); shear adds - Q/(5/6 G t) to the "
         "slope of the deflection",
         "Even thickness, small deflections (membrane_ratio below a half), held on a whole circle: "
         "bolts far apart hold less. Shear as Reissner has it, for thick plates on short spans.",
         "Timoshenko & Woinowsky-Krieger, Theory of Plates and Shells; Roark's Formulas for Stress "
         "and Strain, Table 11.2",
         "fw.joints.plate(outside=\"215 mm\", hole=\"130 mm\", thickness=\"16 mm\", "
         "support=\"190 mm\", ring_load=\"40 kN\", ring_diameter=\"150 mm\", "
         "material=\"1045\").deflection"},
        &fields::Declared<PlateInputs>::declaration,
        &fields::Declared<PlateOutputs>::declaration,
        fields::all_formulas<BentPlate>(&BentPlate::run<double>)};
    return model;
}

const fields::Model& ring_plate_model() {
    static constexpr const char* places[] = {"", "plate", "ring", "pocket", "bolt", "thread"};
    static const fields::Model model{
        {"joints", "ring_plate",
         "What a plate bolted over an outer ring clamps, with nip or gap, warm and under thrust "
         "either way.",
         "gap = f N + c N + cB sum N - s - h at ring, bolts and rim; gap >= 0, N >= 0, gap N = 0",
         "Plate as an annular plate with shear, touching the ring on one circle, the housing "
         "under the bolts and at its rim; housing rigid beside its thread. Between bolts a beam on "
         "an elastic foundation, on the safe side; moment and bolt spacing are added, not solved "
         "together.",
         "Timoshenko & Woinowsky-Krieger (annular plates); Cottle, Pang & Stone, The Linear "
         "Complementarity Problem; Hetenyi, Beams on Elastic Foundation; VDI 2230-1 (bolts, from "
         "memory)",
         "fw.joints.ring_plate(plate=fw.ClampPlate(outside=\"215 mm\", hole=\"130 mm\", "
         "thickness=\"16 mm\", material=\"1045\"), ring=fw.PlatedRing(outside=\"160 mm\", "
         "inside=\"142 mm\", width=\"30.04 mm\", material=\"52100\"), pocket=fw.Pocket("
         "depth=\"30 mm\", material=\"ductile_iron\"), bolt=fw.Bolt(diameter=\"10 mm\", "
         "pitch=\"1.5 mm\", yield_strength=\"640 MPa\", material=\"4140\"), "
         "thread=fw.InternalThread(engagement=\"18 mm\", material=\"ductile_iron\"), bolts=12, "
         "bolt_circle=\"190 mm\", torque=\"40 N m\", thrust_to_plate=\"20 kN\").shoulder_clamp"},
        &fields::Declared<RingPlateInputs>::declaration,
        &fields::Declared<RingPlateOutputs>::declaration,
        fields::all_formulas<RingPlate>(&RingPlate::run<double>),
        places};
    return model;
}

const fields::Model& outer_ring_model() {
    static constexpr const char* places[] = {"", "housing"};
    static const fields::Model model{
        {"joints", "outer_ring",
         "How an outer ring sits in its pocket: fit, tilt, creep, and what clamping does to its "
         "raceway.",
         "interference and growth as bearings.housing_fit; clamp grows it by d nu N/(A E), twists "
         "it by M r^2/(E I); holds mu p pi d^2 b/2 + mu N d a face",
         "Elastic, ring as a plain section; waviness by uneven clamp as if each sector moved "
         "alone, the most it can be. A housing with ribs is stiffer in places: tell its stiffness "
         "at its softest and at its stiffest.",
         "Lame; Timoshenko, Strength of Materials II (ring under couples); Coulomb",
         "fw.joints.outer_ring(outside=\"160 mm\", raceway=\"144 mm\", width=\"30 mm\", "
         "housing=fw.Housing(bore=\"160.02 mm\", outside=\"230 mm\", material=\"ductile_iron\"), "
         "clamp_force=\"15 kN\", friction_torque=\"3 N m\", failing_torque=\"80 N m\", "
         "material=\"52100\").creep_margin"},
        &fields::Declared<OuterRingInputs>::declaration,
        &fields::Declared<OuterRingOutputs>::declaration,
        fields::all_formulas<OuterRing>(&OuterRing::run<double>),
        places};
    return model;
}

} // namespace fitwright::joints
