// The elements of shop tooling, and what turns: told to users, and instantiated for double.
#include "all_models.hpp"
#include "detail/column.hpp"
#include "detail/weld.hpp"
#include "detail/wrench.hpp"
#include "fields/at_level.hpp"

namespace fitwright::tooling {

const fields::Model& column_model() {
    static const fields::Model model{
        {"tooling", "column", "What a strut bears, slender or short, loaded off its axis or not.",
         "Pe = pi^2 E A/(l/k)^2; P = A Sy (1 - Sy (l/k)^2/(4 pi^2 E)); P/A (1 + e c/k^2 sec(pi/2 "
         "sqrt(P/Pe))) = Sy",
         "Straight, of one section, elastic to yield. Nothing is without eccentricity: give a "
         "hundredth of the length where none is known.",
         "Timoshenko, Theory of Elastic Stability; Shigley's Mechanical Engineering Design, ch. 4",
         "fw.tooling.column(diameter=\"30 mm\", length=\"400 mm\", load=\"40 kN\", "
         "eccentricity=\"2 mm\", material=\"1045\").design_factor"},
        &fields::Declared<ColumnInputs>::declaration,
        &fields::Declared<ColumnOutputs>::declaration,
        fields::all_formulas<ColumnModel>(&ColumnModel::run<double>)};
    return model;
}

const fields::Model& weld_model() {
    static const fields::Model model{
        {"tooling", "weld", "What fillet welds bear, by their throat.",
         "t = V/A, M c/J, N/A + M c/I on 0.707 h; added as vectors",
         "Static load, sound welds of a qualified welder, base metal fit to weld. A hardened or "
         "free-cutting nut is not: it cracks beside the weld whatever stands here.",
         "Shigley's Mechanical Engineering Design, ch. 9 (Tables 9-1, 9-2, allowable stresses)",
         "fw.tooling.weld(pattern=\"circle\", leg=\"6 mm\", length=\"50 mm\", axial_force=\"20 "
         "kN\", torque=\"150 N m\", material=\"1020\").yield_factor"},
        &fields::Declared<WeldInputs>::declaration,
        &fields::Declared<WeldOutputs>::declaration,
        fields::all_formulas<Weld>(&Weld::run<double>)};
    return model;
}

const fields::Model& wrench_adapter_model() {
    static const fields::Model model{
        {"tooling", "wrench_adapter",
         "What to set a torque wrench to with an adapter on it, and how far that may be off.",
         "setting = T L/(L + E cos(angle))",
         "The hand pulls square to the wrench, in the middle of the grip; a wrench that clicks by "
         "its own lever reads the torque at its square. Straight extensions along the axis change "
         "nothing.",
         "TM 9-254 (torque wrench, angled extension); statics",
         "fw.tooling.wrench_adapter(torque=\"600 N m\", wrench_length=\"900 mm\", "
         "adapter_length=\"120 mm\", angle=\"20 deg\").setting",
         "torque"},
        &fields::Declared<WrenchAdapterInputs>::declaration,
        &fields::Declared<WrenchAdapterOutputs>::declaration,
        fields::all_formulas<WrenchAdapter>(&WrenchAdapter::run<double>)};
    return model;
}

const fields::Model& multiplier_model() {
    static const fields::Model model{
        {"tooling", "multiplier",
         "What a torque multiplier needs, what its arm must hold, and where that force goes.",
         "T_in = T/(i eta); arm holds T - T_in (same way) or T + T_in; F = torque/(a cos(angle))",
         "Steady turning. An arm that bears on one side pushes driver and nut sideways by the "
         "same force: it bends them and adds friction the wrench cannot see.",
         "Statics of a gear whose case is held by an arm",
         "fw.tooling.multiplier(torque=\"2 kN m\", gear_ratio=13.6, arm=\"350 "
         "mm\").reaction_force",
         "torque"},
        &fields::Declared<MultiplierInputs>::declaration,
        &fields::Declared<MultiplierOutputs>::declaration,
        fields::all_formulas<Multiplier>(&Multiplier::run<double>)};
    return model;
}

} // namespace fitwright::tooling
