// Friction and preload from what is measured: told to users, and instantiated for double.
#include "all_models.hpp"
#include "detail/friction.hpp"
#include "detail/preload.hpp"
#include "fields/at_level.hpp"

namespace fitwright::threads {

const fields::Model& friction_model() {
    static const fields::Model model{
        {"threads", "friction", "The friction that explains a measured torque and force.",
         "T/F = d2/2 (tan l + mu_n)/(1 - mu_n tan l) + k mu Dm/2, mu_n = mu/cos(alpha_n): the "
         "smaller root",
         "One measurement tells one friction: how face and thread share it is an input. Force "
         "measured apart from the torque, by stretch or by a load cell.",
         "VDI 2230-1 and Shigley's Mechanical Engineering Design (torque), turned round; "
         "uncertainty by JCGM 100",
         "fw.threads.friction(nut=fw.Nut(diameter=\"75 mm\", pitch=\"2 mm\", height=\"20 mm\", "
         "outside=\"105 mm\", face_inside=\"76 mm\", face_outside=\"98 mm\", material=\"1045\"), "
         "torque=\"600 N m\", preload=\"52 kN\").thread_friction"},
        &fields::Declared<FrictionInputs>::declaration,
        &fields::Declared<FrictionOutputs>::declaration,
        fields::all_formulas<Friction>(&Friction::run<double>)};
    return model;
}

const fields::Model& breakaway_model() {
    static const fields::Model model{
        {"threads", "breakaway",
         "The friction and the force that explain a tightening and a loosening torque.",
         "T'/T = [d2/2 (mu_n - tan l)/(1 + mu_n tan l) + k mu Dm/2]/[d2/2 (tan l + mu_n)/(1 - mu_n "
         "tan l) + k mu Dm/2]",
         "The same force at both readings. The force comes from a small difference of two torques: "
         "its uncertainty is told and is great with fine threads. A nut at rest sticks: read both "
         "torques while it turns, or give the breakaway factor.",
         "Torque equations of VDI 2230-1, both ways; uncertainty by JCGM 100",
         "fw.threads.breakaway(nut=fw.Nut(diameter=\"75 mm\", pitch=\"2 mm\", height=\"20 mm\", "
         "outside=\"105 mm\", face_inside=\"76 mm\", face_outside=\"98 mm\", material=\"1045\"), "
         "torque=\"600 N m\", loosening_torque=\"560 N m\").preload"},
        &fields::Declared<BreakawayInputs>::declaration,
        &fields::Declared<BreakawayOutputs>::declaration,
        fields::all_formulas<Breakaway>(&Breakaway::run<double>)};
    return model;
}

const fields::Model& turn_of_nut_model() {
    static const fields::Model model{
        {"threads", "turn_of_nut",
         "The force an angle from snug gives, or the angle a force needs.",
         "F = F_snug + (angle lead/(2 pi) - settling)/C",
         "Linear joint from snug on: snug high enough that every face touches. C is the secant of "
         "the whole joint; rings that grip their seats make it stiffer, rough faces softer. The "
         "twist of the shaft end is left out.",
         "Common practice; C by theory of springs in series",
         "fw.threads.turn_of_nut(nut=fw.Nut(diameter=\"75 mm\", pitch=\"2 mm\", height=\"20 mm\", "
         "outside=\"105 mm\", face_inside=\"76 mm\", face_outside=\"98 mm\", material=\"1045\"), "
         "snug_torque=\"150 N m\", preload=\"50 kN\", compliance=\"0.5 um/kN\", "
         "material=\"4340\").angle"},
        &fields::Declared<TurnInputs>::declaration,
        &fields::Declared<TurnOutputs>::declaration,
        fields::all_formulas<TurnOfNut>(&TurnOfNut::run<double>)};
    return model;
}

const fields::Model& stretch_model() {
    static const fields::Model model{
        {"threads", "stretch",
         "What to read on the shaft's length for a force, and how sure that is, beside torque.",
         "dL = F sum L/(E A): body, free thread at the stress area, half of the nut at the root",
         "Elastic; the force is the same all along, so the rings must slide on their seats or the "
         "part that grips be left out of body_length. Both readings at one temperature of the "
         "shaft.",
         "Hooke's law; half of the nut as in VDI 2230-1, common practice; uncertainty by JCGM 100",
         "fw.threads.stretch(nut=fw.Nut(diameter=\"75 mm\", pitch=\"2 mm\", height=\"20 mm\", "
         "outside=\"105 mm\", face_inside=\"76 mm\", face_outside=\"98 mm\", material=\"1045\"), "
         "preload=\"50 kN\", body_diameter=\"80 mm\", body_length=\"100 mm\", shaft_bore=\"30 "
         "mm\", material=\"4340\").stretch"},
        &fields::Declared<StretchInputs>::declaration,
        &fields::Declared<StretchOutputs>::declaration,
        fields::all_formulas<Stretch>(&Stretch::run<double>)};
    return model;
}

const fields::Model& scatter_model() {
    static const fields::Model model{
        {"threads", "scatter",
         "How far the force scatters when a torque is set: tool, thread and face.",
         "half ranges of F one at a time, then sqrt(tool^2 + thread^2 + face^2)",
         "Three independent causes whose ranges mean the same (all limits, or all of one "
         "coverage); the worst case beside it needs neither. Embedding and temperature are not in "
         "it.",
         "JCGM 100 (root of the sum of squares); tools by common practice",
         "fw.threads.scatter(nut=fw.Nut(diameter=\"75 mm\", pitch=\"2 mm\", height=\"20 mm\", "
         "outside=\"105 mm\", face_inside=\"76 mm\", face_outside=\"98 mm\", material=\"1045\"), "
         "torque=\"600 N m\", tool_scatter=0.05).scatter"},
        &fields::Declared<ScatterInputs>::declaration,
        &fields::Declared<ScatterOutputs>::declaration,
        fields::all_formulas<Scatter>(&Scatter::run<double>)};
    return model;
}

} // namespace fitwright::threads
