// Shop tooling: columns, welds, sleeve, puller, fixture, driver, wrench and multiplier.
#include "catch.hpp"
#include "joints_cases.hpp"

#include <algorithm>
#include <cmath>

using namespace fitwright;
using namespace fitwright::tooling;
namespace jc = joints_cases;

namespace {

ColumnOutputs<double> column(const ColumnInputs<double>& in, int section = 0) {
    return jc::run<ColumnOutputs<double>>("tooling.column", in, {"1045"}, {section});
}
WeldOutputs<double> weld(const WeldInputs<double>& in, int pattern) {
    return jc::run<WeldOutputs<double>>("tooling.weld", in, {"1020"}, {pattern});
}
PressSleeveOutputs<double> sleeve(const PressSleeveInputs<double>& in) {
    return jc::run<PressSleeveOutputs<double>>("tooling.press_sleeve", in, {"1045", "52100"});
}
PullerOutputs<double> puller(const PullerInputs<double>& in, int legs = 0, int loading = 0) {
    return jc::run<PullerOutputs<double>>("tooling.puller", in, {"4140", "52100", "4140"},
                                          {0, legs, loading});
}
HoldingFixtureOutputs<double> fixture(const HoldingFixtureInputs<double>& in, int axis = 0,
                                      int form = 0) {
    return jc::run<HoldingFixtureOutputs<double>>("tooling.holding_fixture", in,
                                                  {"4140", "1020", "4140"}, {axis, form, 0, 0});
}
NutDriverOutputs<double> driver(const NutDriverInputs<double>& in, int teeth = 0) {
    return jc::run<NutDriverOutputs<double>>("tooling.nut_driver", in, {"4140", "1045"},
                                             {teeth, 0});
}

} // namespace

TEST_CASE("a column is Euler's when slender, its own section when short", "[tooling]") {
    auto in = jc::column();
    in.bore = in.eccentricity = 0.0;
    in.temperature = 20.0;
    const auto& metal = cases::metal("1045");
    const double e = materials::at(metal.modulus, 20.0);
    const double sy = materials::at(metal.yield, 20.0);
    const double area = fields::pi / 4.0 * 0.03 * 0.03;
    in.length = 0.0;
    CHECK(column(in).critical_load == Approx(area * sy));
    CHECK(column(in).eccentric_load == Approx(area * sy));
    in.length = 2.0;
    const double inertia = fields::pi / 64.0 * std::pow(0.03, 4);
    CHECK(column(in).critical_load == Approx(fields::pi * fields::pi * e * inertia / 4.0));
    CHECK(column(in).eccentric_load == Approx(column(in).euler_load));
    // At the transition both curves meet at half of the yield strength.
    in.length = column(in).transition * 0.03 / 4.0;
    CHECK(column(in).critical_load == Approx(area * sy / 2.0));
    // Fixed below and free above, as a column of twice the length.
    auto free = in;
    free.end_factor = 2.0;
    in.length *= 2.0;
    CHECK(column(free).critical_load == Approx(column(in).critical_load));
}

TEST_CASE("off its axis a column bears what the secant formula says, and less", "[tooling]") {
    auto in = jc::column();
    double before = 1e300;
    for (const double off : {0.0, 0.0005, 0.002, 0.01, 0.05}) {
        in.eccentricity = off;
        const auto out = column(in);
        CHECK(out.eccentric_load < before);
        before = out.eccentric_load;
        // At that load the edge just yields.
        auto at = in;
        at.load = out.eccentric_load;
        const double sy = materials::at(cases::metal("1045").yield, in.temperature);
        if (off > 0.0)
            CHECK(column(at).edge_stress == Approx(sy).epsilon(1e-9));
        CHECK(out.capacity == std::min(out.critical_load, out.eccentric_load));
        CHECK(out.design_factor == Approx(out.capacity / in.load));
    }
}

TEST_CASE("a square tube of welds and a ring of welds agree with their areas", "[tooling]") {
    auto in = fields::standard_inputs<WeldInputs>();
    in.leg = 0.006;
    in.length = 0.060;
    in.axial_force = 20e3;
    CHECK(weld(in, 0).stress == Approx(20e3 / (0.707 * 0.006 * 0.06)));
    CHECK(weld(in, 1).stress == Approx(weld(in, 0).stress / 2.0));
    CHECK(weld(in, 2).stress == Approx(weld(in, 0).stress / 4.0));
    CHECK(weld(in, 3).stress == Approx(weld(in, 0).stress / fields::pi));
    const double two_lines = weld(in, 1).stress;
    in.welds = 2.0;
    CHECK(weld(in, 0).stress == Approx(two_lines));
    in.axial_force = 0.0;
    in.torque = 500.0;
    in.welds = 1.0;
    // A thin ring: T/(2 pi r^2 t).
    CHECK(weld(in, 3).stress == Approx(500.0 / (2.0 * fields::pi * 0.03 * 0.03 * 0.707 * 0.006)));
}

TEST_CASE("a press sleeve: cylinder, screw, and the force that closes faces out of square",
          "[tooling]") {
    auto in = jc::press_sleeve();
    const auto out = sleeve(in);
    CHECK(out.cylinder_pressure ==
          Approx(60e3 / (fields::pi / 4.0 * (0.06 * 0.06 - 0.021 * 0.021))));
    CHECK(out.face_pressure == Approx(60e3 / (fields::pi / 4.0 * (0.1 * 0.1 - 0.082 * 0.082))));
    CHECK(out.screw_torque > 0.0);
    CHECK(out.screw_torque_high > out.screw_torque);
    CHECK(out.capacity == Approx(60e3 * out.design_factor));
    CHECK(out.design_factor == std::min({out.column_factor, out.wall_factor, out.bearing_factor}));
    // It shortens by half of what the faces are out of square at the force that closes them.
    in.force = out.one_sided_force;
    CHECK(sleeve(in).deflection == Approx(0.5 * in.out_of_square * in.outside));
    in.piston_diameter = in.screw_diameter = 0.0;
    CHECK(sleeve(in).cylinder_pressure == 0.0);
    CHECK(sleeve(in).screw_torque == 0.0);
    in.face.inside = 0.101;
    CHECK_THAT(
        (jc::refusal<PressSleeveOutputs<double>>("tooling.press_sleeve", in, {"1045", "52100"})),
        ContainsSubstring("inside: 82 mm of the sleeve leaves nothing of the face"));
    // A thin sleeve folds before it yields.
    auto thin = jc::press_sleeve();
    thin.inside = 0.0995;
    CHECK(sleeve(thin).weakest == 2.0);
}

TEST_CASE("a puller's legs share the pull, and its weakest element is named by its number",
          "[tooling]") {
    auto in = jc::puller();
    in.uneven = 1.0;
    in.off_centre = 0.0;
    CHECK(puller(in, 0).leg_load == Approx(30e3));
    CHECK(puller(in, 1).leg_load == Approx(20e3));
    // Off the middle by e: one leg of two carries (1 + e/R)/2, the worst of three (1 + 2 e/R)/3.
    in.off_centre = 0.003;
    const double circle = 0.055 + in.hook_clearance + 0.0125;
    CHECK(puller(in, 0).leg_load == Approx(30e3 * (1.0 + 0.003 / circle)));
    CHECK(puller(in, 1).leg_load == Approx(20e3 * (1.0 + 2.0 * 0.003 / circle)));

    const auto out = puller(in);
    const double factors[] = {out.leg_factor,   out.hook_factor,        out.hook_bearing_factor,
                              out.lip_factor,   out.lip_bearing_factor, out.yoke_factor,
                              out.screw_factor, out.column_factor,      out.thread_factor};
    const auto* least = std::min_element(std::begin(factors), std::end(factors));
    CHECK(out.design_factor == *least);
    CHECK(out.weakest == static_cast<double>(least - factors + 1));
    CHECK(out.factor_margin == Approx(out.design_factor - 2.0));
    CHECK(out.warm_torque == Approx(out.screw_torque * 35.0 / 60.0));
    // Twice the pull, half the factor (columns and all).
    in.pull *= 2.0;
    CHECK(puller(in).design_factor == Approx(out.design_factor / 2.0));
    // The lip of the groove is asked for its own load.
    CHECK(out.groove_capacity == Approx(60e3 * std::min(out.lip_factor, out.lip_bearing_factor)));
}

TEST_CASE("tools are refused below the factor of their loading", "[tooling][bad]") {
    const auto said = [](auto change, int loading = 0) {
        auto in = jc::puller();
        change(in);
        return jc::refusal<PullerOutputs<double>>("tooling.puller", in, {"4140", "52100", "4140"},
                                                  {0, 0, loading});
    };
    using In = PullerInputs<double>;
    CHECK(said([](In&) {}).empty());
    CHECK_THAT(said([](In& in) { in.wanted_factor = 1.5; }),
               ContainsSubstring("wanted_factor: 1.5 is below 2, the least for a steady"));
    CHECK_THAT(
        said([](In& in) { in.wanted_factor = 2.5; }, 1),
        ContainsSubstring("wanted_factor: 2.5 is below 3, the least where a load is handled"));
    CHECK_THAT(said([](In& in) { in.wanted_factor = 4.0; }, 2),
               ContainsSubstring("is below 5") && ContainsSubstring("rated gear"));
    CHECK(said([](In& in) { in.wanted_factor = 6.0; }, 2).empty());
    CHECK_THAT(said([](In& in) { in.hook_thickness = 0.013; }),
               ContainsSubstring("hook_thickness: 13 mm does not go into the groove"));
    CHECK_THAT(said([](In& in) { in.hook_reach = 0.007; }),
               ContainsSubstring("hook_reach: 7 mm is more than the groove is deep"));
    CHECK_THAT(said([](In& in) { in.screw.length = 3.0; }),
               ContainsSubstring("screw.length: 3000 mm of effective length is more than 200"));
    CHECK_THAT(said([](In& in) { in.screw.pitch = 0.012; }),
               ContainsSubstring("screw.pitch: 12 mm must be below a third"));
}

TEST_CASE("a holding fixture carries the rotor's weight, or its journals' friction", "[tooling]") {
    auto in = jc::holding_fixture();
    in.other_force = 0.0;
    in.share = in.handling_factor = 1.0;
    const double weight = 900.0 * 9.80665;
    CHECK(fixture(in, 0).working_load == Approx(weight));
    CHECK(fixture(in, 1).working_load == Approx(weight * 0.26));
    in.handling_factor = 1.5;
    const auto out = fixture(in, 0);
    CHECK(out.working_load == Approx(1.5 * weight));
    CHECK(out.design_factor == std::min({out.rod_factor, out.column_factor, out.thread_factor,
                                         out.plate_factor, out.weld_factor, out.bolt_factor}));
    CHECK(out.clearance_left == Approx(0.002 - out.deflection - 0.0003 - 0.0002));
    CHECK(out.deflection > out.plate_deflection);
    CHECK(out.lifting_torque_high > out.lifting_torque);
    // One start holds, four starts of a slippery thread run back.
    CHECK(out.self_locking_margin > 0.0);
    in.rod.lead = 4.0 * in.rod.pitch;
    const auto fast = fixture(in, 0);
    CHECK(fast.self_locking_margin < 0.0);
    CHECK(fast.lifting_torque > out.lifting_torque);
    CHECK(fast.lowering_torque < out.lowering_torque);
    // Welded on both sides the throat carries half.
    in.plate.weld_sides = 2.0;
    CHECK(fixture(in, 0).weld_factor == Approx(2.0 * fast.weld_factor));
}

TEST_CASE("a fixture's plate is the plate of the room of joints", "[tooling]") {
    const auto in = jc::holding_fixture();
    const auto out = fixture(in);
    auto p = fields::standard_inputs<joints::PlateInputs>();
    p.outside = in.plate.outside;
    p.hole = 1.1 * in.rod.diameter;
    p.thickness = in.plate.thickness;
    p.support = in.plate.bolt_circle;
    p.ring_load = out.working_load;
    p.ring_diameter = in.plate.nut_diameter;
    p.radius = p.hole / 2.0;
    const auto bent = jc::run<joints::PlateOutputs<double>>("joints.plate", p, {"1020"});
    CHECK(out.plate_deflection == Approx(bent.deflection));
    CHECK(out.plate_factor == Approx(bent.design_factor));
}

TEST_CASE("a fixture that cannot be is refused", "[tooling][bad]") {
    const auto said = [](auto change, int axis = 0) {
        auto in = jc::holding_fixture();
        change(in);
        return jc::refusal<HoldingFixtureOutputs<double>>(
            "tooling.holding_fixture", in, {"4140", "1020", "4140"}, {axis, 0, 0, 2});
    };
    using In = HoldingFixtureInputs<double>;
    CHECK(said([](In&) {}).empty());
    CHECK_THAT(said([](In& in) { in.plate.hole = 0.290; }),
               ContainsSubstring("plate.hole: 290 mm must be smaller than the bolt circle"));
    CHECK_THAT(said([](In& in) { in.plate.hole = 0.070; }),
               ContainsSubstring("plate.nut_diameter: 60 mm must be larger than the hole"));
    CHECK_THAT(
        said([](In& in) { in.plate.nut_diameter = 0.3; }),
        ContainsSubstring("plate.nut_diameter: 300 mm must be smaller than the bolt circle"));
    CHECK_THAT(said([](In& in) { in.plate.bolt_circle = 0.33; }),
               ContainsSubstring("plate.outside: 320 mm of the plate must be larger"));
    CHECK_THAT(said([](In& in) { in.rod.length = 2.0; }),
               ContainsSubstring("rod.length: 2000 mm of effective length is more than 200"));
    CHECK_THAT(said([](In& in) { in.wanted_factor = 4.0; }),
               ContainsSubstring("wanted_factor: 4 is below 5"));
    CHECK_THAT(said([](In& in) { in.journal_friction = in.axis_slope = in.other_force = 0.0; }, 1),
               ContainsSubstring("there is nothing to hold"));
}

TEST_CASE("a nut driver: torque over its teeth, socket, rim, and how tight it fits", "[tooling]") {
    auto in = jc::nut_driver();
    in.side_force = 0.0;
    const auto out = driver(in);
    CHECK(out.tooth_load == Approx(900.0 / (4.0 * 0.05) * 1.5));
    // A thin tube twisted: T/(2 pi r^2 t).
    auto thin = in;
    thin.outside = thin.inside + 0.002;
    const double yield = materials::at(cases::metal("4140").yield, in.temperature);
    const double r = (thin.inside + thin.outside) / 4.0;
    CHECK(driver(thin).wall_factor ==
          Approx(yield / (std::sqrt(3.0) * 900.0 / (2.0 * fields::pi * r * r * 0.001)))
              .epsilon(0.02));
    // Straight dogs do not spread the rim.
    CHECK(out.burst_factor < 1e6);
    auto straight = in;
    straight.flank_angle = 0.0;
    CHECK(driver(straight).burst_factor == 1e6);
    // Two slanted dogs bend the rim as a ring between two forces: W R/pi and W R (1/2 - 1/pi).
    auto two = in;
    two.teeth = 2.0;
    const double w = driver(two).tooth_load * std::tan(0.1);
    const double wall = (two.outside - two.inside) / 2.0;
    const double mean = (two.outside + two.inside) / 4.0;
    const double bent = w * mean / fields::pi * 6.0 / (two.engagement * wall * wall);
    CHECK(driver(two).burst_factor == Approx(yield / bent).epsilon(1e-9));

    // Warm and squeezed the nut fills the socket; then it jams and closes on its thread.
    CHECK(out.clearance < 0.1054 - 0.105);
    CHECK(out.clearance > 0.0);
    CHECK(out.jam_pressure == 0.0);
    in.inside = 0.10500;
    const auto jammed = driver(in);
    CHECK(jammed.clearance < 0.0);
    CHECK(jammed.jam_pressure > 0.0);
    CHECK(jammed.nut_closing > 0.0);
    CHECK(jammed.nut_closing < -jammed.clearance);
    CHECK(jammed.clearance_margin < 0.0);

    in = jc::nut_driver();
    const auto said = [&](auto change) {
        auto i = in;
        change(i);
        return jc::refusal<NutDriverOutputs<double>>("tooling.nut_driver", i, {"4140", "1045"});
    };
    using In = NutDriverInputs<double>;
    CHECK_THAT(said([](In& i) { i.tooth_width = 0.011; }),
               ContainsSubstring("tooth_width: 11 mm does not go into the slot"));
    CHECK_THAT(said([](In& i) { i.teeth = 6.0; }),
               ContainsSubstring("teeth: 6 are more than the nut has slots"));
    CHECK_THAT(said([](In& i) { i.nut.slot_width = 0.08; }),
               ContainsSubstring("nut.slot_width: 80 mm leaves no land"));
}

TEST_CASE("a torque wrench with an adapter, and a multiplier, by their levers", "[tooling]") {
    auto in = fields::standard_inputs<WrenchAdapterInputs>();
    in.torque = 30.0;
    in.wrench_length = 12.0 * 0.0254;
    in.adapter_length = 6.0 * 0.0254;
    const auto set = [&](double angle) {
        in.angle = angle;
        return jc::run<WrenchAdapterOutputs<double>>("tooling.wrench_adapter", in, {});
    };
    // Straight on 12/18, square to it nothing, back 12/6.
    CHECK(set(0.0).setting == Approx(20.0));
    CHECK(set(fields::pi / 2.0).setting == Approx(30.0));
    CHECK(set(fields::pi).setting == Approx(60.0));
    CHECK(set(0.0).hand_force * in.wrench_length == Approx(20.0));
    CHECK(set(0.7).torque_low < 30.0);
    CHECK(set(0.7).torque_high > 30.0);
    CHECK(set(0.0).error > 0.0);
    in.adapter_length = 12.0 * 0.0254;
    in.angle = fields::pi;
    CHECK_THAT((jc::refusal<WrenchAdapterOutputs<double>>("tooling.wrench_adapter", in, {})),
               ContainsSubstring("turn the adapter round"));

    auto gear = fields::standard_inputs<MultiplierInputs>();
    gear.torque = 1000.0;
    gear.gear_ratio = 5.0;
    gear.efficiency = gear.efficiency_low = gear.efficiency_high = 1.0;
    gear.arm = 0.4;
    const auto with = [&](int turns, int reaction) {
        return jc::run<MultiplierOutputs<double>>("tooling.multiplier", gear, {},
                                                  {turns, reaction});
    };
    CHECK(with(0, 0).input_torque == Approx(200.0));
    CHECK(with(0, 0).reaction_torque == Approx(800.0));
    CHECK(with(1, 0).reaction_torque == Approx(1200.0));
    CHECK(with(0, 0).reaction_force == Approx(2000.0));
    CHECK(with(0, 0).side_force == with(0, 0).reaction_force);
    CHECK(with(0, 1).side_force == 0.0);
}
