// The models of this room: told to users, and instantiated for double.
#include "all_models.hpp"
#include "detail/tightening.hpp"
#include "fields/at_level.hpp"

namespace fitwright::threads {

const fields::Model& tighten_model() {
    static const fields::Model model{
        {"threads", "tighten", "The force a torque gives under a nut, and what the thread feels.",
         "T = F [d2/2 (tan l + mu_n)/(1 - mu_n tan l) + mu_b Dm/2], mu_n = mu/cos(alpha_n)",
         "Basic profile of the form; even pressure under the face, or its mean diameter; right and "
         "left "
         "hand alike.",
         "ISO 68-1, ASME B1.1, ISO 2904, ASME B1.5 (profiles, from memory); VDI 2230-1 and "
         "Shigley's "
         "Mechanical Engineering Design (torque)",
         "fw.threads.tighten(nut=fw.Nut(diameter=\"75 mm\", pitch=\"2 mm\", height=\"20 mm\", "
         "outside=\"105 mm\", face_inside=\"76 mm\", face_outside=\"98 mm\", hand=\"left\", "
         "material=\"1045\"), torque=\"600 N m\", shaft_bore=\"30 mm\", "
         "material=\"4340\").preload"},
        &fields::Declared<TightenInputs>::declaration,
        &fields::Declared<Tightening>::declaration,
        fields::all_formulas<Tighten>(&Tighten::run<double>)};
    return model;
}

const fields::Model& torque_model() {
    static const fields::Model model{
        {"threads", "torque", "The torque a wanted force needs, and what the thread feels.",
         "T = F [d2/2 (tan l + mu_n)/(1 - mu_n tan l) + mu_b Dm/2], mu_n = mu/cos(alpha_n)",
         "Basic profile of the form; even pressure under the face, or its mean diameter; right and "
         "left "
         "hand alike.",
         "ISO 68-1, ASME B1.1, ISO 2904, ASME B1.5 (profiles, from memory); VDI 2230-1 and "
         "Shigley's "
         "Mechanical Engineering Design (torque)",
         "fw.threads.torque(nut=fw.Nut(diameter=\"75 mm\", pitch=\"2 mm\", height=\"20 mm\", "
         "outside=\"105 mm\", face_inside=\"76 mm\", face_outside=\"98 mm\", material=\"1045\"), "
         "preload=\"50 kN\", material=\"4340\").torque"},
        &fields::Declared<TorqueInputs>::declaration,
        &fields::Declared<Tightening>::declaration,
        fields::all_formulas<Torque>(&Torque::run<double>)};
    return model;
}

Tightening<double> tighten(const TightenInputs<double>& inputs, const materials::Material& shaft,
                           NutKind kind) {
    return fields::evaluate<Tightening<double>>(tighten_model(), inputs, {&shaft, &shaft},
                                                {kind.hand, kind.form, kind.face_law});
}
Tightening<double> torque(const TorqueInputs<double>& inputs, const materials::Material& shaft,
                          NutKind kind) {
    return fields::evaluate<Tightening<double>>(torque_model(), inputs, {&shaft, &shaft},
                                                {kind.hand, kind.form, kind.face_law});
}

} // namespace fitwright::threads
