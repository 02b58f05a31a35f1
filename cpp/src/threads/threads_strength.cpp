// Strength of the threads and growth of the nut: told to users, and instantiated for double.
#include "all_models.hpp"
#include "detail/nut_body.hpp"
#include "detail/stripping.hpp"
#include "fields/at_level.hpp"

namespace fitwright::threads {

const fields::Model& stripping_model() {
    static const fields::Model model{
        {"threads", "stripping",
         "Whether the threads of shaft or nut shear off, and how long the nut must be.",
         "A = pi D L/P [P/2 + tan(alpha) (...)], at the nut's minor and at the shaft's major "
         "diameter",
         "Even load over all threads (the first ones carry more: keep use below a half); limits of "
         "size count, basic sizes are the best case. A nut with a thin wall spreads and loses "
         "area, and shear yield is taken as yield/sqrt(3).",
         "FED-STD-H28/2 (shear areas), from memory; von Mises for shear",
         "fw.threads.stripping(nut=fw.Nut(diameter=\"75 mm\", pitch=\"2 mm\", height=\"20 mm\", "
         "outside=\"105 mm\", face_inside=\"76 mm\", face_outside=\"98 mm\", material=\"1045\"), "
         "preload=\"50 kN\", material=\"4340\").stripping_force"},
        &fields::Declared<StrippingInputs>::declaration,
        &fields::Declared<StrippingOutputs>::declaration,
        fields::all_formulas<Stripping>(&Stripping::run<double>)};
    return model;
}

const fields::Model& nut_growth_model() {
    static const fields::Model model{
        {"threads", "nut_growth",
         "The force a nut loses because it grows off its flanks at speed and heat.",
         "loss = tan(alpha) (growth of nut - growth of shaft)/2/C, growths on diameter at the "
         "pitch diameter",
         "Nut as a plain ring from pitch diameter to outside, thin ring at speed; linear joint; "
         "locked nut.",
         "Timoshenko & Goodier, Theory of Elasticity (rotating ring); opening on the flanks "
         "derived here",
         "fw.threads.nut_growth(nut=fw.Nut(diameter=\"75 mm\", pitch=\"2 mm\", height=\"20 mm\", "
         "outside=\"105 mm\", face_inside=\"76 mm\", face_outside=\"98 mm\", material=\"1045\"), "
         "preload=\"50 kN\", compliance=\"0.5 um/kN\", speed=\"11000 rpm\", "
         "material=\"4340\").preload_lost"},
        &fields::Declared<NutGrowthInputs>::declaration,
        &fields::Declared<NutGrowthOutputs>::declaration,
        fields::all_formulas<NutGrowth>(&NutGrowth::run<double>)};
    return model;
}

} // namespace fitwright::threads
