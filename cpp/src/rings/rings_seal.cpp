// The seal models: told to users, and instantiated for double.
#include "all_models.hpp"
#include "detail/seal.hpp"
#include "fields/at_level.hpp"

namespace fitwright::rings {

const fields::Model& seal_model() {
    static constexpr const char* places[] = {"", "rotor", "stator"};
    static const fields::Model model{
        {"rings", "seal",
         "Clearance of a seal between a ring and a stator, from built cold to running.",
         "clearance = stator (1 + alpha_s (Ts - 20)) - surface (1 + alpha_r (Tr - 20) + "
         "[2 p a^2/(b^2 - a^2) + rho w^2 ((1 - nu) b^2 + (3 + nu) a^2)/4 - nu sigma]/E)",
         "Elastic ring under even pressure and temperature; the stator is free to grow (a housing "
         "that holds it changes its growth); rotor and stator stay round.",
         "Timoshenko & Goodier, Theory of Elasticity: thick cylinder, rotating disc",
         "fw.rings.seal(rotor=fw.SealRotor(bore=\"80 mm\", outside=\"105 mm\", fit_pressure=\"20 "
         "MPa\", temperature=\"80 degC\", material=\"4340\"), "
         "stator=fw.SealStator(diameter=\"105.4 "
         "mm\", temperature=\"70 degC\", material=\"grey_iron\"), speed=\"11000 rpm\").clearance"},
        &fields::Declared<SealInputs>::declaration,
        &fields::Declared<SealOutputs>::declaration,
        fields::all_formulas<Seal>(&Seal::run<double>),
        places};
    return model;
}

const fields::Model& face_gap_model() {
    static constexpr const char* places[] = {"", "rotor", "casing"};
    static const fields::Model model{
        {"rings", "face_gap",
         "Gap between a face of the rotor and one of the casing, from built cold to running.",
         "gap = built gap -+ [length (alpha_r (Tr - 20) + strain) + movement - casing length "
         "(alpha_c (Tc - 20) + strain)]",
         "Rotor and casing are held at one datum, the thrust bearing; mean temperatures of the "
         "lengths.",
         "mean expansion from 20 degC of the material",
         "fw.rings.face_gap(rotor=fw.AxialPath(length=\"900 mm\", temperature=\"95 degC\", "
         "material=\"4340\"), casing=fw.AxialPath(length=\"900 mm\", temperature=\"60 degC\", "
         "material=\"grey_iron\"), built_gap=\"1.5 mm\").gap"},
        &fields::Declared<FaceGapInputs>::declaration,
        &fields::Declared<FaceGapOutputs>::declaration,
        fields::all_formulas<FaceGap>(&FaceGap::run<double>),
        places};
    return model;
}

SealOutputs<double> seal(const SealInputs<double>& inputs, const materials::Material& rotor,
                         const materials::Material& stator, bool at_bore) {
    return fields::evaluate<SealOutputs<double>>(seal_model(), inputs, {&rotor, &stator},
                                                 {at_bore ? 1 : 0});
}

FaceGapOutputs<double> face_gap(const FaceGapInputs<double>& inputs,
                                const materials::Material& rotor, const materials::Material& casing,
                                bool growth_opens) {
    return fields::evaluate<FaceGapOutputs<double>>(face_gap_model(), inputs, {&rotor, &casing},
                                                    {growth_opens ? 1 : 0});
}

} // namespace fitwright::rings
