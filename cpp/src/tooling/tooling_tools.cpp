// The tools of the shop: told to users, and instantiated for double.
#include "all_models.hpp"
#include "detail/holding_fixture.hpp"
#include "detail/nut_driver.hpp"
#include "detail/press_sleeve.hpp"
#include "detail/puller.hpp"
#include "fields/at_level.hpp"

namespace fitwright::tooling {

const fields::Model& press_sleeve_model() {
    static constexpr const char* places[] = {"", "face"};
    static const fields::Model model{
        {"tooling", "press_sleeve",
         "What a sleeve that pushes a ring home bears, and what cylinder or screw drives it.",
         "column off its axis; wall min(0.12 E t/r, Sy); face F/A; touches all round from E A g "
         "D/(2 L) on",
         "Guided ram, sleeve in one piece. A split or slotted sleeve, a weld in it, or a ball "
         "under the ram is not in it.",
         "Timoshenko, Theory of Elastic Stability (thin tube, a fifth counted: common practice)",
         "fw.tooling.press_sleeve(force=\"60 kN\", inside=\"82 mm\", outside=\"100 mm\", "
         "length=\"200 mm\", face=fw.PushedFace(inside=\"80 mm\", outside=\"105 mm\", "
         "material=\"52100\"), piston_diameter=\"60 mm\", material=\"1045\").design_factor",
         "press"},
        &fields::Declared<PressSleeveInputs>::declaration,
        &fields::Declared<PressSleeveOutputs>::declaration,
        fields::all_formulas<PressSleeve>(&PressSleeve::run<double>),
        places};
    return model;
}

const fields::Model& puller_model() {
    static constexpr const char* places[] = {"", "groove", "screw"};
    static const fields::Model model{
        {"tooling", "puller",
         "What a puller and the groove it hooks into bear, and the torque on its screw.",
         "leg F/A + 6 F a/(w t^2); hook and lip sqrt((6 F a/(w t^2))^2 + 3 (F/(w t))^2); screw by "
         "torque and column",
         "Slow pull, legs in line with the axis, square corners rounded; no notch factor (few "
         "pulls). Legs as wide as told at hook and lip, with nothing beside them counted.",
         "Statics and beam theory; Shigley's Mechanical Engineering Design (power screws, columns)",
         "fw.tooling.puller(pull=\"60 kN\", groove=fw.PulledGroove(width=\"12 mm\", depth=\"6 "
         "mm\", lip=\"10 mm\", diameter=\"110 mm\", material=\"4140\"), screw=fw.Screw("
         "diameter=\"30 mm\", pitch=\"6 mm\", engagement=\"45 mm\", length=\"180 mm\", "
         "material=\"4140\"), leg_width=\"40 mm\", leg_thickness=\"25 mm\", leg_length=\"250 "
         "mm\", hook_thickness=\"11 mm\", hook_reach=\"5 mm\", yoke_width=\"50 mm\", "
         "yoke_depth=\"70 mm\", material=\"4140\").design_factor",
         "press|heat"},
        &fields::Declared<PullerInputs>::declaration,
        &fields::Declared<PullerOutputs>::declaration,
        fields::all_formulas<Puller>(&Puller::run<double>),
        places};
    return model;
}

const fields::Model& holding_fixture_model() {
    static constexpr const char* places[] = {"", "rod", "plate", "bolt"};
    static const fields::Model model{
        {"tooling", "holding_fixture",
         "Whether a rod through a welded nut in a bolted plate holds a rotor while its thrust "
         "bearing is out.",
         "load = (m g share + other) handling; horizontal m g (mu + slope); rod by torque and "
         "column, plate bent by the nut, weld, bolts, way left",
         "Rotor at rest, both ends carried, drive and fluids shut off. A welded nut is no rated "
         "lifting part: lifting and hanging are for rated gear and local rules, and less than the "
         "factor of the loading is refused.",
         "Shigley's Mechanical Engineering Design (screws, columns, welds); Timoshenko & "
         "Woinowsky-Krieger (plate)",
         "fw.tooling.holding_fixture(axis=\"horizontal\", mass=\"900 kg\", rod=fw.Screw("
         "diameter=\"36 mm\", pitch=\"6 mm\", engagement=\"40 mm\", length=\"160 mm\", "
         "material=\"4140\"), plate=fw.FixturePlate(outside=\"320 mm\", thickness=\"25 mm\", "
         "nut_diameter=\"60 mm\", bolt_circle=\"280 mm\", bolts=8, leg=\"8 mm\", "
         "material=\"1020\"), bolt=fw.Bolt(diameter=\"16 mm\", pitch=\"2 mm\", "
         "yield_strength=\"640 MPa\", material=\"4140\"), travel=\"2 mm\", "
         "loading=\"jerked\").design_factor",
         "hold|torque"},
        &fields::Declared<HoldingFixtureInputs>::declaration,
        &fields::Declared<HoldingFixtureOutputs>::declaration,
        fields::all_formulas<HoldingFixture>(&HoldingFixture::run<double>),
        places};
    return model;
}

const fields::Model& nut_driver_model() {
    static constexpr const char* places[] = {"", "nut"};
    static const fields::Model model{
        {"tooling", "nut_driver",
         "What the dogs or pins of a nut driver bear, its socket, and the nut itself; how tight it "
         "may fit.",
         "F = 2 T/(n D) uneven; root bent and sheared, flank F/A; socket T r/J; rim under n "
         "forces outwards W R/2 (1/a - cot a)",
         "Driver square on the nut and held on: dogs that climb out break at any torque. Pins "
         "round, dogs square; no notch factor (few pulls).",
         "Beam theory; Roark's Formulas for Stress and Strain (rings, from memory); Lame",
         "fw.tooling.nut_driver(torque=\"900 N m\", nut=fw.DrivenNut(outside=\"105 mm\", "
         "thread=\"75 mm\", slots=4, slot_width=\"10 mm\", slot_depth=\"5 mm\", slot_length=\"12 "
         "mm\", material=\"1045\"), teeth=4, circle=\"100 mm\", tooth_width=\"9.5 mm\", "
         "tooth_height=\"8 mm\", engagement=\"10 mm\", inside=\"105.4 mm\", outside=\"125 mm\", "
         "length=\"90 mm\", material=\"4140\").design_factor",
         "torque"},
        &fields::Declared<NutDriverInputs>::declaration,
        &fields::Declared<NutDriverOutputs>::declaration,
        fields::all_formulas<NutDriver>(&NutDriver::run<double>),
        places};
    return model;
}

} // namespace fitwright::tooling
