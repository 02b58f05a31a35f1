// The models of this room: told to users, and instantiated for double.
#include "all_models.hpp"
#include "detail/fit.hpp"
#include "fields/at_level.hpp"

namespace fitwright {

namespace rings {

const fields::Model& thick_ring_model() {
    static const fields::Model model{
        {"rings", "thick_ring",
         "Stress and movement of a thick ring or shaft anywhere in its section.",
         "sigma_r, sigma_t = A -+ B/r^2 with A = (pa a^2 - pb b^2)/(b^2 - a^2), "
         "B = (pa - pb) a^2 b^2/(b^2 - a^2); rotation and heat added",
         "Elastic, even temperature, ends far enough away; a solid section (bore 0) is exact.",
         "Timoshenko & Goodier, Theory of Elasticity: thick cylinder, rotating disc",
         "fw.rings.thick_ring(bore=\"20 mm\", outside=\"100 mm\", inner_pressure=\"300 MPa\", "
         "material=\"4340\").hoop_stress"},
        &fields::Declared<ThickRingInputs>::declaration,
        &fields::Declared<ThickRingOutputs>::declaration,
        fields::study_formulas<ThickRing>(&ThickRing::run<double>)};
    return model;
}

const fields::Model& fit_model() {
    static constexpr const char* places[] = {"", "shaft", "ring"};
    static const fields::Model model{
        {"rings", "fit", "What a ring shrunk on a shaft holds, feels and moves, hot and spinning.",
         "p = (seat - bore - 0.8 (Rz + Rz) + heat - speed - axial) / (d (Cs/Es + Cr/Er)), not "
         "below 0",
         "Elastic; ring and shaft section of equal length (a short ring on a long shaft grips up "
         "to "
         "a half more); each part at one temperature.",
         "DIN 7190-1 (elastic fit, smoothing); Timoshenko, Strength of Materials II",
         "fw.rings.fit(shaft=fw.Shaft(seat=\"80 mm\", material=\"4340\"), "
         "ring=fw.Ring(bore=\"80 mm\", outside=\"105 mm\", length=\"30 mm\", material=\"52100\"), "
         "interference=\"38 um\").pressure"},
        &fields::Declared<FitInputs>::declaration,
        &fields::Declared<FitOutputs>::declaration,
        fields::study_formulas<Fit>(&Fit::run<double>),
        places};
    return model;
}

FitOutputs<double> fit(const FitInputs<double>& inputs, const materials::Material& shaft,
                       const materials::Material& ring) {
    return fields::evaluate<FitOutputs<double>>(fit_model(), inputs, {&shaft, &ring});
}

ThickRingOutputs<double> thick_ring(const ThickRingInputs<double>& inputs,
                                    const materials::Material& material, bool is_long) {
    return fields::evaluate<ThickRingOutputs<double>>(thick_ring_model(), inputs, {&material},
                                                      {is_long ? 1 : 0});
}

} // namespace rings

} // namespace fitwright
