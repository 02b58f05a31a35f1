// Bolted joints, plates, and the ring under a plate: balance, limits, directions.
#include "catch.hpp"
#include "joints_cases.hpp"

#include <cmath>
#include <fitwright/number/philox.hpp>

using namespace fitwright;
using namespace fitwright::joints;
namespace jc = joints_cases;

namespace {

double uniform(std::uint64_t sample, std::uint64_t input) {
    return number::uniform_open(number::philox({{sample, 0, 0, 0}}, {input, 9}).word[0]);
}

BoltedJointOutputs<double> joint(const BoltedJointInputs<double>& in, int layers, int hole = 0,
                                 int cone = 0, int spring = 0, int fatigue = 0) {
    return jc::run<BoltedJointOutputs<double>>(
        "joints.bolted_joint", in, {"4140", "1045", "1045", "1045", "1045", "1045", "1045", "1045"},
        {0, layers - 1, hole, cone, spring, fatigue});
}
PlateOutputs<double> plate(const PlateInputs<double>& in, int edge = 0, int inner = 0,
                           int shear = 0) {
    return jc::run<PlateOutputs<double>>("joints.plate", in, {"1045"}, {edge, inner, shear});
}
RingPlateOutputs<double> ring_plate(const RingPlateInputs<double>& in) {
    return jc::run<RingPlateOutputs<double>>(
        "joints.ring_plate", in, {"1045", "52100", "ductile_iron", "4140", "ductile_iron"});
}
BoltPatternOutputs<double> pattern(const BoltPatternInputs<double>& in, int bolts) {
    return jc::run<BoltPatternOutputs<double>>("joints.bolt_pattern", in, {}, {bolts - 1});
}

// Cold, with no scatter and nothing that settles.
RingPlateInputs<double> plain_ring_plate(double nip) {
    auto in = jc::ring_plate();
    in.plate.temperature = in.ring.temperature = in.pocket.temperature = in.bolt.temperature =
        in.thread.temperature = 20.0;
    in.ring.width = in.pocket.depth + nip;
    in.tool_scatter = in.embedding = in.tilting_moment = 0.0;
    in.torque = fields::worked_out;
    in.preload = 15e3;
    in.thrust_to_plate = in.thrust_to_shoulder = 0.0;
    return in;
}

} // namespace

TEST_CASE("bolts of any pattern balance the load", "[joints]") {
    for (std::uint64_t k = 0; k < 200; ++k) {
        const int bolts = 3 + static_cast<int>(uniform(k, 0) * 10.0);
        auto in = jc::bolt_pattern();
        auto* places = &in.place1;
        for (int i = 0; i < bolts; ++i) {
            const auto at = static_cast<std::uint64_t>(i);
            places[i].angle = 6.2 * uniform(k, 1 + at);
            places[i].diameter = 0.15 + 0.1 * uniform(k, 20 + at);
        }
        in.moment_direction = 6.0 * uniform(k, 40);
        in.side_direction = 6.0 * uniform(k, 41);
        in.torque = 500.0 * (uniform(k, 42) - 0.5);
        const auto out = pattern(in, bolts);
        double force = 0.0;
        double mx = 0.0;
        double my = 0.0;
        for (int i = 0; i < bolts; ++i) {
            const double tension = (&out.load1)[i].tension;
            force += tension;
            mx += tension * places[i].diameter * 0.5 * std::cos(places[i].angle);
            my += tension * places[i].diameter * 0.5 * std::sin(places[i].angle);
        }
        CHECK(force == Approx(in.thrust));
        CHECK(mx == Approx(in.moment * std::cos(in.moment_direction)).margin(1e-7));
        CHECK(my == Approx(in.moment * std::sin(in.moment_direction)).margin(1e-7));
        CHECK(out.greatest_tension >= in.thrust / bolts);
    }
}

TEST_CASE("an even circle gives the textbook's worst bolt", "[joints]") {
    auto in = fields::standard_inputs<BoltPatternInputs>();
    auto* places = &in.place1;
    in.circle = 0.2;
    in.moment = 300.0;
    for (const int bolts : {3, 4, 6, 12}) {
        for (int i = 0; i < bolts; ++i)
            places[i].angle = 2.0 * fields::pi * i / bolts;
        // 2 M/(n R), and a torque M/(n R) across each.
        CHECK(pattern(in, bolts).greatest_tension == Approx(2.0 * 300.0 / (bolts * 0.1)));
    }
    in.moment = 0.0;
    in.torque = 120.0;
    for (int i = 0; i < 4; ++i)
        places[i].angle = fields::pi / 2.0 * i;
    CHECK(pattern(in, 4).greatest_shear == Approx(120.0 / (4 * 0.1)));
}

TEST_CASE("bolts that cannot hold are refused", "[joints][bad]") {
    auto in = jc::bolt_pattern();
    const auto said = [&](int bolts) {
        return jc::refusal<BoltPatternOutputs<double>>("joints.bolt_pattern", in, {}, {bolts - 1});
    };
    CHECK(said(5).empty());
    CHECK_THAT(said(2), ContainsSubstring("moment: 500 N m") &&
                            ContainsSubstring("two bolts, or bolts all in one line"));
    in.moment = 0.0;
    in.place1.angle = 0.0;
    in.place2.angle = fields::pi;
    CHECK(said(2).empty());
    // The thrust beside the two bolts tilts too.
    in.place2.angle = 1.0;
    CHECK_THAT(said(2), ContainsSubstring("hold no tilting moment"));
    in.place2.angle = fields::worked_out;
    CHECK_THAT(said(2), ContainsSubstring("place2.angle: must be given for every bolt"));
}

TEST_CASE("a layer cut in two is the same layer", "[joints]") {
    auto one = jc::bolted_joint();
    one.layer1 = one.layer2;
    one.layer1.thickness = 0.030;
    auto two = one;
    two.layer1.thickness = 0.011;
    two.layer2 = one.layer1;
    two.layer2.thickness = 0.019;
    for (const int hole : {0, 1})
        for (const int cone : {0, 1})
            CHECK(joint(two, 2, hole, cone).clamped_compliance ==
                  Approx(joint(one, 1, hole, cone).clamped_compliance).epsilon(1e-12));
}

TEST_CASE("clamped parts lie between a sleeve under the head and a body without end", "[joints]") {
    auto in = jc::bolted_joint();
    in.layer1.thickness = 0.030;
    in.layer1.temperature = 20.0;
    const double e = materials::at(cases::metal("1045").modulus, 20.0);
    const double hole = in.bolt.hole;
    const auto sleeve = [&](double outside) {
        return 0.030 / (e * fields::pi / 4.0 * (outside * outside - hole * hole));
    };
    in.thread.bearing_diameter = in.bolt.head_diameter;
    // No wider than the face: a sleeve, exactly.
    in.layer1.outside = in.bolt.head_diameter;
    CHECK(joint(in, 1).clamped_compliance == Approx(sleeve(in.bolt.head_diameter)));
    double before = joint(in, 1).clamped_compliance;
    for (const double outside : {0.016, 0.020, 0.025, 0.030}) {
        in.layer1.outside = outside;
        const double now = joint(in, 1).clamped_compliance;
        CHECK(now < before);
        CHECK(now > sleeve(outside));
        before = now;
    }
    in.layer1.outside = fields::worked_out;
    CHECK(joint(in, 1).clamped_compliance <= before);
    const auto wide = joint(in, 1, 0, 1);
    CHECK(wide.cone_diameter == Approx(in.bolt.head_diameter + 0.030 * std::tan(fields::pi / 6.0)));
}

TEST_CASE("a joint shares its load, opens, and then the bolt carries all", "[joints]") {
    auto in = jc::bolted_joint();
    in.tool_scatter = in.embedding = 0.0;
    in.torque = fields::worked_out;
    in.preload = 20e3;
    in.bolt.temperature = in.layer2.temperature = in.layer3.temperature = 20.0;
    in.load_low = 0.0;
    const auto at = [&](double load) {
        in.load = load;
        return joint(in, 3);
    };
    const auto some = at(8e3);
    CHECK(some.bolt_force == Approx(20e3 + some.load_factor * 8e3));
    CHECK(some.clamp_left == Approx(20e3 - (1.0 - some.load_factor) * 8e3));
    CHECK(some.stiffness_share ==
          Approx(some.clamped_compliance / (some.clamped_compliance + some.bolt_compliance)));
    CHECK(at(some.opening_load).clamp_left == Approx(0.0).margin(1e-6));
    CHECK(at(40e3).bolt_force == Approx(40e3));
    CHECK(at(40e3).clamp_left < 0.0);
    // Hotter parts than the bolt tighten it, and loosen a cold one.
    in.layer2.temperature = in.layer3.temperature = 60.0;
    CHECK(at(8e3).heat_change > 0.0);
    in.bolt.temperature = 120.0;
    CHECK(at(8e3).heat_change < 0.0);
    CHECK(at(8e3).clamp_left < some.clamp_left);
}

TEST_CASE("what a fitter gets wrong about a bolt is told", "[joints][bad]") {
    const auto said = [](auto change) {
        auto in = jc::bolted_joint();
        change(in);
        return jc::refusal<BoltedJointOutputs<double>>(
            "joints.bolted_joint", in,
            {"4140", "1045", "1045", "1045", "1045", "1045", "1045", "1045"}, {0, 2, 0, 0, 0, 0});
    };
    using In = BoltedJointInputs<double>;
    CHECK(said([](In&) {}).empty());
    CHECK_THAT(said([](In& in) { in.preload = 10e3; }),
               ContainsSubstring("give either torque or preload"));
    CHECK_THAT(
        said([](In& in) { in.bolt.head_diameter = 0.011; }),
        ContainsSubstring("bolt.head_diameter: 11 mm must be larger than the clearance hole"));
    CHECK_THAT(said([](In& in) { in.bolt.shank_length = 0.05; }),
               ContainsSubstring("bolt.shank_length: 50 mm must not exceed the clamped length"));
    CHECK_THAT(said([](In& in) { in.layer3.thickness = fields::worked_out; }),
               ContainsSubstring("layer3.thickness: must be given for every layer"));
    CHECK_THAT(said([](In& in) { in.layer1.outside = 0.010; }),
               ContainsSubstring("layer1.outside: 10 mm must be larger than the clearance hole"));
    CHECK_THAT(said([](In& in) { in.load_low = 9e3; }),
               ContainsSubstring("load_low: 9 kN must not be above load"));
    CHECK_THAT(said([](In& in) { in.layer2.temperature = 900.0; }),
               ContainsSubstring("layer2.temperature: 900 degC is outside"));
}

TEST_CASE("a plate obeys Maxwell: load here, deflection there, and the other way round",
          "[joints]") {
    auto in = fields::standard_inputs<PlateInputs>();
    in.outside = 0.22;
    in.hole = 0.10;
    in.thickness = 0.012;
    in.support = 0.19;
    in.ring_load = 10e3;
    for (const int inner : {0, 1, 2, 3})
        for (const double rim : {0.215, 0.15}) {
            in.ring_diameter = 0.13;
            in.radius = rim / 2.0;
            const double there = plate(in, 0, inner).deflection;
            in.ring_diameter = rim;
            in.radius = 0.065;
            CHECK(plate(in, 0, inner).deflection == Approx(there).epsilon(1e-9));
        }
}

TEST_CASE("a plate carries what it is given, and no moment at a free edge", "[joints]") {
    const auto in = jc::plate();
    const double area = fields::pi / 4.0 * (0.170 * 0.170 - 0.130 * 0.130);
    for (const int edge : {0, 1})
        for (const int inner : {0, 1, 2, 3}) {
            const auto out = plate(in, edge, inner);
            CHECK(out.support_force + out.inner_force == Approx(25e3 + 0.4e6 * area));
            CHECK((inner >= 2) == (out.inner_force != 0.0));
        }
    auto edges = in;
    edges.radius = 0.060;
    CHECK(plate(edges).radial_stress == Approx(0.0).margin(1.0));
    edges.radius = 0.1075;
    CHECK(plate(edges).radial_stress == Approx(0.0).margin(1.0));
    edges.radius = 0.095;
    CHECK(plate(edges).deflection == Approx(0.0).margin(1e-15));
    CHECK(plate(edges, 1).slope == Approx(0.0).margin(1e-12));
}

TEST_CASE("a clamped plate is stiffer, a thin one wants a membrane, a short one shears",
          "[joints]") {
    auto in = jc::plate();
    CHECK(plate(in, 1).greatest_deflection < plate(in, 0).greatest_deflection);
    CHECK(plate(in, 0).shear_share > 0.0);
    CHECK(plate(in, 0, 0, 1).shear_share == Approx(0.0).margin(1e-12));
    CHECK(plate(in, 0).greatest_deflection > plate(in, 0, 0, 1).greatest_deflection);
    in.thickness = 0.06;
    CHECK(plate(in).shear_share > 0.1);
    CHECK(plate(in).membrane_ratio < 0.001);
    in.thickness = 0.0006;
    CHECK(plate(in).membrane_ratio > 0.5);
    CHECK(plate(in).shear_share < 1e-3);
}

TEST_CASE("plates that cannot be are refused", "[joints][bad]") {
    const auto said = [](auto change, int edge = 0, int inner = 0) {
        auto in = jc::plate();
        change(in);
        return jc::refusal<PlateOutputs<double>>("joints.plate", in, {"1045"}, {edge, inner, 0});
    };
    using In = PlateInputs<double>;
    CHECK(said([](In&) {}).empty());
    CHECK_THAT(said([](In& in) { in.hole = 0.195; }),
               ContainsSubstring("hole: 195 mm must be smaller than the circle"));
    CHECK_THAT(said([](In& in) { in.support = 0.3; }),
               ContainsSubstring("support: 300 mm must not be larger than the outside"));
    CHECK_THAT(said([](In& in) { in.centre_load = 1e3; }),
               ContainsSubstring("centre_load: 1 kN needs a plate without a hole"));
    CHECK_THAT(said([](In& in) { in.hole = in.pressure_inside = 0.0; }, 0, 1),
               ContainsSubstring("hole: 0 mm must be above 0 where the edge"));
    CHECK_THAT(said([](In& in) { in.ring_diameter = 0.2; }, 1),
               ContainsSubstring("ring_diameter: 200 mm must lie on the plate"));
    CHECK_THAT(said([](In&) {}, 2), ContainsSubstring("hold it at the edge of the hole"));
    CHECK_THAT(said([](In& in) { in.radius = 0.05; }),
               ContainsSubstring("radius: 50 mm must lie on the plate"));
}

TEST_CASE("plate, ring and housing share what the bolts pull with", "[joints]") {
    for (const double nip : {-60e-6, 0.0, 20e-6, 80e-6, 300e-6}) {
        const auto in = plain_ring_plate(nip);
        const auto out = ring_plate(in);
        CHECK(out.nip == Approx(nip).margin(1e-15));
        CHECK(out.ring_clamp_built + out.housing_clamp_built == Approx(12 * 15e3));
        // Nothing has changed since: the same clamp.
        CHECK(out.ring_clamp == Approx(out.ring_clamp_built).epsilon(1e-9).margin(1e-3));
        CHECK(out.bolt_force == Approx(15e3));
    }
    CHECK(ring_plate(plain_ring_plate(-60e-6)).ring_clamp == 0.0);
    CHECK(ring_plate(plain_ring_plate(-60e-6)).closing_force == 0.0);
    CHECK(ring_plate(plain_ring_plate(-60e-6)).shoulder_margin == 1e9);
    // Proud enough and the plate rides on the ring alone.
    const auto proud = ring_plate(plain_ring_plate(500e-6));
    CHECK(proud.housing_clamp_built == 0.0);
    CHECK(proud.closing_force > 15e3);
    CHECK(proud.ring_clamp_built == Approx(12 * 15e3));
}

TEST_CASE("thrust takes clamp off one face of the ring, and opens it where it says", "[joints]") {
    auto in = plain_ring_plate(40e-6);
    const auto still = ring_plate(in);
    in.thrust_to_plate = 0.5 * still.shoulder_opening_thrust;
    const auto half = ring_plate(in);
    CHECK(half.shoulder_clamp > 0.0);
    CHECK(half.shoulder_clamp < still.ring_clamp);
    CHECK(half.lift == 0.0);
    in.thrust_to_plate = still.shoulder_opening_thrust;
    CHECK(ring_plate(in).shoulder_clamp == Approx(0.0).margin(1e-3));
    in.thrust_to_plate *= 1.2;
    const auto open = ring_plate(in);
    CHECK(open.shoulder_clamp == 0.0);
    CHECK(half.shoulder_margin == half.shoulder_clamp);
    CHECK(open.shoulder_margin == Approx(open.shoulder_opening_thrust - in.thrust_to_plate));
    CHECK(open.shoulder_margin < 0.0);
    CHECK(open.plate_margin == open.plate_clamp);
    CHECK(open.lift > 0.0);
    // The other way the shoulder is stiff: the plate keeps its clamp far longer.
    CHECK(still.plate_opening_thrust > still.shoulder_opening_thrust);
    in.thrust_to_plate = 0.0;
    in.thrust_to_shoulder = still.plate_opening_thrust;
    CHECK(ring_plate(in).plate_clamp == Approx(0.0).margin(1.0));
    // With a gap the ring first takes up its play, a little less where the plate dishes.
    auto loose = plain_ring_plate(-50e-6);
    loose.thrust_to_plate = 1.0;
    CHECK(ring_plate(loose).lift == Approx(50e-6).epsilon(0.2));
}

TEST_CASE("a thick plate is rigid, a thin one pries and bends", "[joints]") {
    auto in = plain_ring_plate(0.0);
    in.thrust_to_plate = 60e3;
    const auto with = [&](double thickness) {
        in.plate.thickness = thickness;
        return ring_plate(in);
    };
    const auto thin = with(0.006);
    const auto thick = with(0.060);
    CHECK(thick.plate_compliance < 0.05 * thin.plate_compliance);
    CHECK(thick.plate_stress < 0.1 * thin.plate_stress);
    // The bolts of a rigid plate feel no more than springs in parallel give them.
    CHECK(thick.prying > 0.0);
    CHECK(thick.prying < 0.35);
    // A very thin one is told to be a membrane.
    in.bolts = 6.0;
    in.ring.width = in.pocket.depth + 300e-6;
    CHECK(with(0.0004).membrane_ratio > 0.5);
    CHECK(thick.membrane_ratio < 0.01);
}

TEST_CASE("more bolts clamp more evenly; a moment opens one side", "[joints]") {
    auto in = plain_ring_plate(40e-6);
    double before = -1.0;
    for (const double bolts : {4.0, 6.0, 12.0, 24.0}) {
        in.bolts = bolts;
        const auto out = ring_plate(in);
        CHECK(out.clamp_between_bolts > before);
        CHECK(out.clamp_between_bolts <= 1.0);
        CHECK(out.clamp_at_bolts >= 1.0);
        before = out.clamp_between_bolts;
    }
    in.tilting_moment = 400.0;
    const auto tilted = ring_plate(in);
    CHECK(tilted.moment_loss == Approx(2.0 * 400.0 / 0.076));
    CHECK(tilted.bolt_force == Approx(15e3 + 2.0 * 400.0 / (24 * 0.095)));
}

TEST_CASE("a plate that cannot hold the ring is refused", "[joints][bad]") {
    const auto said = [](auto change) {
        auto in = jc::ring_plate();
        change(in);
        return jc::refusal<RingPlateOutputs<double>>(
            "joints.ring_plate", in, {"1045", "52100", "ductile_iron", "4140", "ductile_iron"});
    };
    using In = RingPlateInputs<double>;
    CHECK(said([](In&) {}).empty());
    CHECK_THAT(said([](In& in) { in.bolts = 2.0; }),
               ContainsSubstring("bolts: 2 hold no tilting moment"));
    CHECK_THAT(said([](In& in) { in.bolts = 7.5; }),
               ContainsSubstring("bolts: 7.5 must be a whole number"));
    CHECK_THAT(said([](In& in) { in.bolts = 60.0; }),
               ContainsSubstring("bolts: 60 do not fit side by side"));
    CHECK_THAT(said([](In& in) { in.plate.hole = 0.2; }),
               ContainsSubstring("plate.hole: 200 mm must be smaller than the bolt circle"));
    CHECK_THAT(said([](In& in) { in.plate.hole = 0.158; }),
               ContainsSubstring("ring.contact_diameter: 152 mm is inside the hole of the plate"));
    CHECK_THAT(said([](In& in) { in.bolt_circle = 0.165; }),
               ContainsSubstring("bolt_circle: 165 mm must clear the ring"));
    CHECK_THAT(said([](In& in) { in.plate.heel_diameter = 0.18; }),
               ContainsSubstring("plate.heel_diameter: 180 mm must lie between"));
    CHECK_THAT(said([](In& in) { in.pocket.shoulder_inside = 0.17; }),
               ContainsSubstring("pocket.shoulder_inside: 170 mm must be smaller"));
}

TEST_CASE("an outer ring in a plain housing is what the bearing's own model says", "[joints]") {
    const auto in = jc::outer_ring();
    const auto of = [](const OuterRingInputs<double>& i) {
        return jc::run<OuterRingOutputs<double>>("joints.outer_ring", i, {"52100", "ductile_iron"});
    };
    const auto out = of(in);
    const bearings::HousingFitInputs<double> seat{
        in.outside,        in.raceway,          in.shoulder, in.temperature,
        in.modulus_factor, in.expansion_factor, in.housing};
    const auto fit = jc::run<bearings::HousingFitOutputs<double>>("bearings.housing_fit", seat,
                                                                  {"52100", "ductile_iron"});
    CHECK(out.pressure == fit.pressure);
    CHECK(out.fit_growth == fit.outer_growth);
    // The stiffness of that plain housing, told instead: p d b over its growth.
    const auto& iron = cases::metal("ductile_iron");
    const double a = in.housing.bore / 2.0;
    const double b = in.housing.outside / 2.0;
    const double give = 2.0 * a * a / (b * b - a * a) *
                        (a * (1.0 - iron.poisson) + b * b / a * (1.0 + iron.poisson)) /
                        materials::at(iron.modulus, in.housing.temperature);
    auto told = in;
    told.housing_stiffness = in.housing.bore * in.width / give;
    CHECK(of(told).pressure == Approx(out.pressure).epsilon(1e-9));
    told.housing_stiffness *= 10.0;
    CHECK(of(told).pressure > out.pressure);
    CHECK(of(told).outer_growth < out.outer_growth);

    // Clamped it holds by its faces, loose and free it tilts and creeps.
    CHECK(out.free_tilt == 0.0);
    CHECK(out.creep_margin > 0.0);
    auto loose = in;
    loose.housing.bore = 0.16008;
    loose.clamp_force = loose.clamp_force_high = 0.0;
    loose.axial_gap = 40e-6;
    const auto free = of(loose);
    CHECK(free.pressure == 0.0);
    CHECK(free.free_tilt == Approx(40e-6 / 0.160));
    CHECK(free.holding_torque == 0.0);
    CHECK(free.creep_share == 1e6);
    CHECK(free.failing_margin == -80.0);
    loose.clamp_force_high = 10.0;
    CHECK_THAT((jc::refusal<OuterRingOutputs<double>>("joints.outer_ring", loose,
                                                      {"52100", "ductile_iron"})),
               ContainsSubstring("of play and a clamp force exclude each other"));
}
