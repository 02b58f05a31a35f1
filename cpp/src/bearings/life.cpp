// The life models: told to users, and instantiated for double.
#include "all_models.hpp"
#include "detail/modified_life.hpp"
#include "detail/reference_life.hpp"
#include "fields/at_level.hpp"

namespace fitwright::bearings {

const fields::Model& basic_life_model() {
    static const fields::Model model{
        {"bearings", "basic_life",
         "Life of a bearing by catalogue figures, and the rating a wanted life needs.",
         "P = X V Fr + Y Fa; L = a1 (C/P)^p million revolutions, p = 3 balls, 10/3 rollers; "
         "a1 = x0 + s (ln 1/S)^(1/b); C = P (L/a1)^(1/p)",
         "P up to half of C. A life is a statistic of many bearings. X and Y hold for the ratio "
         "of the loads they were read for.",
         "ISO 281; Budynas & Nisbett, Shigley's Mechanical Engineering Design (textbook law)",
         "fw.bearings.basic_life(dynamic_rating=\"32.7 kN\", radial_load=\"5 kN\", "
         "speed=\"3000 rpm\").running_time"},
        &fields::Declared<BasicLifeInputs>::declaration,
        &fields::Declared<BasicLifeOutputs>::declaration,
        fields::all_formulas<BasicLife>(&BasicLife::run<double>),
        {}};
    return model;
}

const fields::Model& modified_life_model() {
    static constexpr const char* places[] = {"", "oil"};
    static const fields::Model model{
        {"bearings", "modified_life",
         "Life of a bearing with its oil: film, dirt and the fatigue limit of the steel.",
         "Lnm = a1 aISO (C/P)^p; aISO = 0.1 (1 - (c - d/kappa^e)^w (eC Cu/P)^q)^-r, at most 50; "
         "kappa = nu/nu1, nu1 = 45000 n^-0.83 dm^-0.5 below 1000 r/min, 4500 (n dm)^-0.5 above; "
         "eC = a (1 - c/cbrt(dm)); ln ln (nu + 0.7) straight in ln T",
         "kappa from 0.1; above 4 counts as 4. No additives, no water, no corrosion, no current, "
         "no overheating: each can end a bearing long before. P up to half of C. The maker's "
         "figures come first.",
         "ISO 281:2007 clause 9 and annexes A, B; ASTM D341 (from memory)",
         "fw.bearings.modified_life(dynamic_rating=\"33 kN\", static_rating=\"20.5 kN\", "
         "equivalent_load=\"4 kN\", pitch_diameter=\"65 mm\", speed=\"3000 rpm\", "
         "oil=fw.Lubricant(viscosity_40=\"68 mm^2/s\", viscosity_100=\"8.7 "
         "mm^2/s\")).modification_factor"},
        &fields::Declared<ModifiedLifeInputs>::declaration,
        &fields::Declared<ModifiedLifeOutputs>::declaration,
        fields::all_formulas<ModifiedLife>(&ModifiedLife::run<double>),
        places};
    return model;
}

const fields::Model& reference_life_model() {
    static constexpr const char* places[] = {"", "row"};
    static const fields::Model model{
        {"bearings", "reference_life",
         "Life of a ball bearing from the loads of its balls on both raceways, all balls alike.",
         "L10r = ((Qei/Qci)^(10/3) + (Qee/Qce)^(10/3))^(-9/10) million revolutions, Qc the ball "
         "loads that make the rating C",
         "As for the basic life. All balls alike: thrust along the axis, at any speed. Loads that "
         "differ from ball to ball: fw.bearing_life.ring_life.",
         "ISO/TS 16281 (from memory)",
         "fw.bearings.reference_life(row=fw.BallRow(balls=16, ball_diameter=\"22.2 mm\", "
         "pitch_diameter=\"125 mm\", contact_angle=\"40 deg\"), inner_load=\"1.7 kN\", "
         "outer_load=\"1.8 kN\").life"},
        &fields::Declared<ReferenceLifeInputs>::declaration,
        &fields::Declared<ReferenceLifeOutputs>::declaration,
        fields::all_formulas<ReferenceLife>(&ReferenceLife::run<double>),
        places};
    return model;
}

BasicLifeOutputs<double> basic_life(const BasicLifeInputs<double>& in, Elements elements,
                                    ReliabilityLaw law) {
    return fields::evaluate<BasicLifeOutputs<double>>(
        basic_life_model(), in, {}, {static_cast<int>(elements), static_cast<int>(law)});
}
ModifiedLifeOutputs<double> modified_life(const ModifiedLifeInputs<double>& in,
                                          RatedBearing bearing, Lubrication lubrication,
                                          Cleanliness cleanliness) {
    return fields::evaluate<ModifiedLifeOutputs<double>>(
        modified_life_model(), in, {},
        {static_cast<int>(bearing), static_cast<int>(lubrication), static_cast<int>(cleanliness)});
}
ReferenceLifeOutputs<double> reference_life(const ReferenceLifeInputs<double>& in, BearingKind kind,
                                            Arrangement arrangement, Grooves grooves,
                                            TurningRing turning) {
    return fields::evaluate<ReferenceLifeOutputs<double>>(
        reference_life_model(), in, {},
        {static_cast<int>(kind), static_cast<int>(arrangement), static_cast<int>(grooves),
         static_cast<int>(turning)});
}

} // namespace fitwright::bearings
