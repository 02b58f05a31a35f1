// Every formula, on a number that has the allowed operations alone: that this file compiles is most
// of the test.
#include "archetype.hpp"
#include "../../cpp/src/all_models.hpp"
#include "../../cpp/src/bearings/detail/formulas.hpp"
#include "../../cpp/src/heat/detail/formulas.hpp"
#include "../../cpp/src/job/detail/quick.hpp"
#include "../../cpp/src/joints/detail/formulas.hpp"
#include "../../cpp/src/rings/detail/formulas.hpp"
#include "../../cpp/src/stack/detail/formulas.hpp"
#include "../../cpp/src/study/detail/draw.hpp"
#include "../../cpp/src/threads/detail/formulas.hpp"
#include "../../cpp/src/tooling/detail/formulas.hpp"
#include "cases.hpp"
#include "catch.hpp"
#include "joints_cases.hpp"

#include <algorithm>
#include <array>
#include <map>
#include <tuple>

// What only the baseline can do is no formula: it is done for double.
namespace archetype {
void in_baseline(const fitwright::job::LevelCalls& calls, const Number* inputs, Number* outputs,
                 int count, const fitwright::fields::Context& context, int,
                 fitwright::number::Faults<Number>&) {
    double code = 0.0;
    double value = 0.0;
    std::fill_n(outputs, count, Number(0.0));
    calls.values(reinterpret_cast<const double*>(inputs), reinterpret_cast<double*>(outputs),
                 static_cast<int>(sizeof(Number) / sizeof(double)), context, code, value);
}
} // namespace archetype

using namespace fitwright;
using archetype::Number;

namespace {

// The same formula on double and on the archetype: the same bits.
template <class Model>
void compare(const std::vector<double>& in, std::size_t output_count,
             const fields::Context& context) {
    std::vector<double> wanted(output_count);
    number::Faults<double> none;
    Model::template run<double>(in.data(), wanted.data(), context, none);

    const std::vector<Number> given(in.begin(), in.end());
    std::vector<Number> found(output_count);
    number::Faults<Number> faults;
    Model::template run<Number>(given.data(), found.data(), context, faults);
    CHECK(faults.first == number::no_rule);
    for (std::size_t i = 0; i < output_count; ++i)
        CHECK(number::to_bits(found[i].told()) == number::to_bits(wanted[i]));
}
constexpr int standard_choices[4] = {};
template <class Model, template <class> class Outputs, class Inputs>
void compare(const Inputs& in, std::initializer_list<const char*> metals,
             const int* choices = standard_choices) {
    std::vector<const materials::Material*> materials;
    for (const char* name : metals)
        materials.push_back(&cases::metal(name));
    compare<Model>(cases::numbers(in), sizeof(Outputs<double>) / sizeof(double),
                   {materials.data(), choices, nullptr});
}

} // namespace

// By the names users know them by: accuracy.test.cpp tapes them.
archetype::Formula archetype::formula_named(const std::string& name) {
#define FITWRIGHT_NAMED(ROOM, NAME, TYPE) {#ROOM "." #NAME, &ROOM::TYPE::run<Number>},
#define FITWRIGHT_NO_FORMULA(ROOM, NAME)
    static const std::map<std::string, Formula> all{
        FITWRIGHT_ALL_MODELS(FITWRIGHT_NAMED, FITWRIGHT_NO_FORMULA)};
    const auto found = all.find(name);
    return found == all.end() ? nullptr : found->second;
}

TEST_CASE("every formula needs only the allowed operations of a number", "[number]") {
    auto ring = fields::standard_inputs<rings::ThickRingInputs>();
    ring.bore = 0.02;
    ring.outside = 0.1;
    ring.inner_pressure = 30e6;
    ring.speed = 900.0;
    ring.temperature = 60.0;
    for (const int shape : {0, 1})
        compare<rings::ThickRing, rings::ThickRingOutputs>(ring, {"4340"}, &shape);

    compare<rings::Fit, rings::FitOutputs>(cases::fit(), {"4340", "52100"});
    auto seal = fields::standard_inputs<rings::SealInputs>();
    seal.rotor.bore = 0.08;
    seal.rotor.outside = 0.105;
    seal.rotor.fit_pressure = 20e6;
    seal.rotor.temperature = 85.0;
    seal.stator.diameter = 0.1055;
    seal.stator.temperature = 60.0;
    seal.speed = 900.0;
    const int outside = 0;
    compare<rings::Seal, rings::SealOutputs>(seal, {"4340", "grey_iron"}, &outside);
    seal.stator.diameter = 0.0795;
    const int bore = 1;
    compare<rings::Seal, rings::SealOutputs>(seal, {"4340", "grey_iron"}, &bore);
    auto face = fields::standard_inputs<rings::FaceGapInputs>();
    face.rotor.length = face.casing.length = 0.9;
    face.rotor.temperature = 90.0;
    face.built_gap = 1e-3;
    compare<rings::FaceGap, rings::FaceGapOutputs>(face, {"4340", "grey_iron"}, &outside);
    compare<rings::Overhang, rings::OverhangOutputs>(cases::overhang(), {"4340", "52100"});
    compare<rings::Slip, rings::SlipOutputs>(cases::slip(), {"4340", "52100"});
    for (const int criterion : {0, 1})
        compare<rings::ElasticPlasticFit, rings::ElasticPlasticOutputs>(
            cases::yielding(), {"1045", "1045"}, &criterion);
    const int slices = 1;
    compare<rings::Stepped, rings::SteppedOutputs>(cases::stepped(), {"4340", "52100"}, &slices);
    for (const int shape : {0, 1}) {
        const int nested[] = {0, 0, 0, 1, 0, 0, 0, 0, 3, shape}; // the fourth is bonded
        compare<rings::Nest, rings::NestOutputs>(
            cases::nest(), {"4340", "52100", "4340", "52100", "4340", "4340", "4340", "4340"},
            nested);
        const int profile[] = {1 - shape, shape};
        compare<rings::HotRing, rings::HotRingOutputs>(cases::hot_ring(), {"52100"}, profile);
    }
    compare<heat::Oven, heat::OvenOutputs>(cases::oven(), {"4340", "52100"});
    compare<heat::Chill, heat::ChillOutputs>(cases::chill(), {"4340", "52100"});
    for (const int reacted : {0, 1})
        compare<heat::Seating, heat::SeatingOutputs>(cases::seating(), {"4340", "52100"}, &reacted);
    compare<heat::TakeOff, heat::TakeOffOutputs>(cases::take_off(), {"4340", "52100"});
    compare<threads::Tighten, threads::Tightening>(cases::nut(), {"4340"});
    compare<bearings::Mounted, bearings::MountedOutputs>(cases::bearing(), {"52100", "52100"});

    auto running = fields::standard_inputs<bearings::ThrustInputs>();
    running.bearing = cases::bearing().bearing;
    running.bearing.shim = 100e-6;
    running.thrust = 5e3;
    running.speed = 1200.0;
    running.outer_control = 0.8;
    compare<bearings::Thrust, bearings::ThrustOutputs>(running, {"52100", "52100"});

    auto seated = fields::standard_inputs<bearings::HousingFitInputs>();
    seated.outside = 0.16;
    seated.raceway = 0.14;
    seated.housing.bore = 0.15998;
    seated.housing.outside = 0.22;
    compare<bearings::HousingFit, bearings::HousingFitOutputs>(seated, {"52100", "4340"});

    auto rows = fields::standard_inputs<bearings::PairInputs>();
    rows.bearing = cases::bearing().bearing;
    rows.preload_force = 500.0;
    rows.thrust = 800.0;
    for (const int arrangement : {0, 1, 2}) {
        const int choices[] = {arrangement, 0};
        compare<bearings::Pair, bearings::PairOutputs>(rows, {"52100", "52100"}, choices);
    }

    auto line = fields::standard_inputs<bearings::LineInputs>();
    line.first_curvature = 100.0;
    line.length = 0.02;
    line.load = 5e3;
    compare<bearings::LineContact, bearings::LineOutputs>(line, {"52100", "52100"});

    auto torque = fields::standard_inputs<threads::TorqueInputs>();
    torque.nut = cases::nut().nut;
    torque.preload = 50e3;
    compare<threads::Torque, threads::Tightening>(torque, {"4340"});

    const auto both = {"4340", "1045"};
    compare<threads::Friction, threads::FrictionOutputs>(cases::friction(), both);
    compare<threads::Breakaway, threads::BreakawayOutputs>(cases::breakaway(), both);
    compare<threads::TurnOfNut, threads::TurnOutputs>(cases::turn(), both);
    compare<threads::Stretch, threads::StretchOutputs>(cases::stretch(), both);
    compare<threads::Scatter, threads::ScatterOutputs>(cases::scatter(), both);
    compare<threads::Stripping, threads::StrippingOutputs>(cases::stripping(), both);
    compare<threads::NutGrowth, threads::NutGrowthOutputs>(cases::nut_growth(), both);
    compare<threads::LockTabs, threads::LockTabsOutputs>(cases::lock_tabs(), both);
    compare<threads::Handed, threads::HandOutputs>(cases::hand(), both);
    compare<stack::Squareness, stack::WedgeOutputs>(cases::wedge(), both);

    auto contact = fields::standard_inputs<bearings::HertzInputs>();
    contact.first.curvature_x = contact.first.curvature_y = 100.0;
    contact.second.curvature_y = -90.0;
    contact.angle = 0.3;
    contact.load = 2e3;
    compare<bearings::Hertz, bearings::HertzOutputs>(contact, {"52100", "52100"});

    const job::Job blower = cases::blower();
    compare<job::Quick>(blower.values(), blower.outputs().size(), blower.context());
    job::Plan plan = cases::blower_plan();
    plan.has_ring_loads = true;
    job::Job loaded(plan);
    for (std::size_t i = 0; i < blower.inputs().size(); ++i)
        loaded.set(loaded.leaf(blower.inputs()[i].path), blower.values()[i]);
    cases::give(loaded, "states.full_load.", {{"radial_load", 2e3}});
    compare<job::Quick>(loaded.values(), loaded.outputs().size(), loaded.context());
}

TEST_CASE("so do the ratings and lives of a bearing", "[number]") {
    auto rating = fields::standard_inputs<bearings::DynamicRatingInputs>();
    rating.row.balls = 16.0;
    rating.row.ball_diameter = 0.022;
    rating.row.pitch_diameter = 0.125;
    rating.axial_load = 9e3;
    rating.speed = 1000.0;
    auto at_rest = fields::standard_inputs<bearings::StaticRatingInputs>();
    auto reference = fields::standard_inputs<bearings::ReferenceLifeInputs>();
    at_rest.axial_load = 9e3;
    reference.inner_load = 1e3;
    for (const auto& [choices, angle, rows] : {std::tuple{std::array{0, 0, 0, 0}, 0.0, 1.0},
                                               {std::array{0, 1, 1, 1}, 0.5, 2.0},
                                               {std::array{1, 0, 0, 0}, 1.2, 1.0}}) {
        rating.row.contact_angle = angle;
        rating.row.rows = rows;
        at_rest.row = reference.row = rating.row;
        compare<bearings::DynamicRating, bearings::DynamicRatingOutputs>(rating, {},
                                                                         choices.data());
        compare<bearings::StaticRating, bearings::StaticRatingOutputs>(at_rest, {}, choices.data());
        compare<bearings::ReferenceLife, bearings::ReferenceLifeOutputs>(reference, {},
                                                                         choices.data());
    }
    auto rollers = fields::standard_inputs<bearings::RollerRatingInputs>();
    rollers.row.rollers = 14.0;
    rollers.row.roller_diameter = 0.012;
    rollers.row.effective_length = 0.011;
    rollers.row.pitch_diameter = 0.065;
    rollers.row.contact_angle = 0.3;
    rollers.axial_load = 3e3;
    const int none[] = {0, 0, 0};
    compare<bearings::RollerRating, bearings::RollerRatingOutputs>(rollers, {}, none);
    auto basic = fields::standard_inputs<bearings::BasicLifeInputs>();
    basic.dynamic_rating = 30e3;
    basic.radial_load = 5e3;
    compare<bearings::BasicLife, bearings::BasicLifeOutputs>(basic, {}, none);
    auto modified = fields::standard_inputs<bearings::ModifiedLifeInputs>();
    modified.dynamic_rating = 30e3;
    modified.static_rating = 20e3;
    modified.equivalent_load = 3e3;
    modified.pitch_diameter = 0.065;
    modified.speed = 300.0;
    modified.oil.viscosity_40 = 68e-6;
    modified.oil.viscosity_100 = 8.7e-6;
    compare<bearings::ModifiedLife, bearings::ModifiedLifeOutputs>(modified, {}, none);
    auto creep = fields::standard_inputs<bearings::CreepInputs>();
    creep.inner.seat_diameter = creep.outer.seat_diameter = 0.08;
    creep.inner.length = creep.outer.length = 0.03;
    creep.inner.pressure = 20e6;
    creep.oil.viscosity = 20e-6;
    creep.pitch_diameter = 0.115;
    creep.static_rating = 100e3;
    creep.equivalent_static_load = 5e3;
    compare<bearings::Creep, bearings::CreepOutputs>(creep, {}, none);
    auto heard = fields::standard_inputs<bearings::FrequenciesInputs>();
    heard.balls = 15.0;
    heard.ball_diameter = 0.0175;
    heard.pitch_diameter = 0.1155;
    heard.inner_angle = 0.6;
    heard.speed = 1000.0;
    compare<bearings::Frequencies, bearings::FrequenciesOutputs>(heard, {}, none);
    auto service = fields::standard_inputs<bearings::ServiceInputs>();
    service.row = rating.row;
    service.oil = modified.oil;
    service.speed = 900.0;
    service.axial_load = 9e3;
    service.inner_load = 1e3;
    const int thrust[] = {1, 0, 0, 0, 0};
    compare<bearings::ServiceModel, bearings::ServiceOutputs>(service, {}, thrust);
}

TEST_CASE("so do joints and tools", "[number]") {
    namespace jc = joints_cases;
    for (const int other : {0, 1}) {
        const int joint[] = {other, 2, other, other, other, 1 + other};
        compare<joints::BoltedJoint, joints::BoltedJointOutputs>(
            jc::bolted_joint(), {"4140", "1045", "1045", "1045", "grey_iron"}, joint);
        const int plate[] = {other, other, other};
        compare<joints::BentPlate, joints::PlateOutputs>(jc::plate(), {"1045"}, plate);
        const int weld[] = {2 + other};
        compare<tooling::Weld, tooling::WeldOutputs>(jc::weld(), {"1020"}, weld);
        compare<tooling::ColumnModel, tooling::ColumnOutputs>(jc::column(), {"1045"}, &other);
        const int puller[] = {other, other, other};
        compare<tooling::Puller, tooling::PullerOutputs>(jc::puller(), {"4140", "52100", "4140"},
                                                         puller);
        const int fixture[] = {other, other, other, other};
        compare<tooling::HoldingFixture, tooling::HoldingFixtureOutputs>(
            jc::holding_fixture(), {"4140", "1020", "4140"}, fixture);
        const int driver[] = {other, other};
        compare<tooling::NutDriver, tooling::NutDriverOutputs>(jc::nut_driver(), {"4140", "1045"},
                                                               driver);
        compare<tooling::Multiplier, tooling::MultiplierOutputs>(jc::multiplier(), {}, driver);
    }
    const int five = 4;
    compare<joints::BoltPattern, joints::BoltPatternOutputs>(jc::bolt_pattern(), {}, &five);
    const auto metals = {"1045", "52100", "ductile_iron", "4140", "ductile_iron"};
    compare<joints::RingPlate, joints::RingPlateOutputs>(jc::ring_plate(), metals);
    compare<joints::OuterRing, joints::OuterRingOutputs>(jc::outer_ring(),
                                                         {"52100", "ductile_iron"});
    compare<tooling::PressSleeve, tooling::PressSleeveOutputs>(jc::press_sleeve(),
                                                               {"1045", "52100"});
    compare<tooling::WrenchAdapter, tooling::WrenchAdapterOutputs>(jc::wrench_adapter(), {});
}

TEST_CASE("so does drawing a sample", "[number]") {
    for (const study::Shape shape : {study::Shape::normal, study::Shape::truncated_normal,
                                     study::Shape::uniform, study::Shape::triangular}) {
        study::Stream s{};
        s.shape = static_cast<int>(shape);
        s.middle = 2.0;
        s.deviation = 0.5;
        s.low = 1.0;
        s.high = 2.5;
        s.probability_low = 0.02;
        s.probability_high = 0.9;
        for (const double u : {1e-9, 0.3, 0.7, 0.999})
            CHECK(study::value_at(s, Number(u)).told() == study::value_at(s, u));
    }
}
