// Creep and frequencies: told to users, and instantiated for double.
#include "all_models.hpp"
#include "detail/creep.hpp"
#include "detail/frequencies.hpp"
#include "fields/at_level.hpp"

namespace fitwright::bearings {

const fields::Model& creep_model() {
    static constexpr const char* places[] = {"", "inner", "outer", "oil"};
    static const fields::Model model{
        {"bearings", "creep", "Whether the rings of a running bearing stay put on their seats.",
         "M = 1e-7 f0 (nu n)^(2/3) dm^3 + f1 F dm (N mm; mm^2/s, r/min, mm), f1 = z (P0/C0)^y; "
         "held: mu p pi d^2 L/2 + mu_f F Dm/2 per clamped face",
         "Friction of a healthy bearing within some 50 %; a failing one can drag ten times as "
         "much and more: give its torque. A loose ring under a load that turns against it walks "
         "whatever holds it: keep some pressure there.",
         "Palmgren; factors tabled in Harris & Kotzalas, Rolling Bearing Analysis (from memory)",
         "fw.bearings.creep(bearing=\"angular_contact\", inner=fw.HeldRing(pressure=\"20 MPa\", "
         "seat_diameter=\"80 mm\", length=\"34 mm\"), outer=fw.HeldRing(seat_diameter=\"150 mm\", "
         "length=\"34 mm\", clamp_force=\"15 kN\"), oil=fw.Lubricant(viscosity=\"20 mm^2/s\"), "
         "pitch_diameter=\"115 mm\", contact_angle=\"30 deg\", speed=\"11000 rpm\", "
         "axial_load=\"9 kN\", static_rating=\"130 kN\", equivalent_static_load=\"3 "
         "kN\").inner_margin"},
        &fields::Declared<CreepInputs>::declaration,
        &fields::Declared<CreepOutputs>::declaration,
        fields::all_formulas<Creep>(&Creep::run<double>),
        places};
    return model;
}

const fields::Model& frequencies_model() {
    static const fields::Model model{
        {"bearings", "frequencies",
         "What a probe hears: frequencies of cage, balls and raceways at the angles of a state.",
         "wm/w = (1 - g cos ai) cos(ao - b)/((1 - g cos ai) cos(ao - b) + (1 + g cos ao) "
         "cos(ai - b)), g = D/dm, tan b = sin ao/(cos ao + g); with one angle (1 - g cos a)/2",
         "Balls roll without gross slip; a skidding or unloaded bearing shows less than this. "
         "One ring turns.",
         "Harris & Kotzalas, Rolling Bearing Analysis: internal speeds, race control",
         "fw.bearings.frequencies(balls=15, ball_diameter=\"17.462 mm\", "
         "pitch_diameter=\"115.5 mm\", inner_angle=\"34 deg\", outer_angle=\"24 deg\", "
         "speed=\"11000 rpm\").inner_pass"},
        &fields::Declared<FrequenciesInputs>::declaration,
        &fields::Declared<FrequenciesOutputs>::declaration,
        fields::all_formulas<Frequencies>(&Frequencies::run<double>),
        {}};
    return model;
}

CreepOutputs<double> creep(const CreepInputs<double>& in, DraggedBearing bearing,
                           OilSupply supply) {
    return fields::evaluate<CreepOutputs<double>>(
        creep_model(), in, {}, {static_cast<int>(bearing), static_cast<int>(supply)});
}
FrequenciesOutputs<double> frequencies(const FrequenciesInputs<double>& in, TurningRing turning,
                                       RaceControl control) {
    return fields::evaluate<FrequenciesOutputs<double>>(
        frequencies_model(), in, {}, {static_cast<int>(turning), static_cast<int>(control)});
}

} // namespace fitwright::bearings
