// Every formula, on a number that has the allowed operations alone: that this file compiles is most
// of the test.
#include "archetype.hpp"
#include "../../cpp/src/bearings/detail/mounting.hpp"
#include "../../cpp/src/bearings/detail/shear.hpp"
#include "../../cpp/src/bearings/detail/thrust.hpp"
#include "../../cpp/src/heat/detail/oven.hpp"
#include "../../cpp/src/job/detail/quick.hpp"
#include "../../cpp/src/rings/detail/fit.hpp"
#include "../../cpp/src/study/detail/draw.hpp"
#include "../../cpp/src/threads/detail/tightening.hpp"
#include "cases.hpp"
#include "catch.hpp"

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
template <class Model, template <class> class Outputs, class Inputs>
void compare(const Inputs& in, std::initializer_list<const char*> metals,
             const int* choices = nullptr) {
    std::vector<const materials::Material*> materials;
    for (const char* name : metals)
        materials.push_back(&cases::metal(name));
    compare<Model>(cases::numbers(in), sizeof(Outputs<double>) / sizeof(double),
                   {materials.data(), choices, nullptr});
}

} // namespace

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
    compare<heat::Oven, heat::OvenOutputs>(cases::oven(), {"4340", "52100"});
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

    auto contact = fields::standard_inputs<bearings::HertzInputs>();
    contact.first.curvature_x = contact.first.curvature_y = 100.0;
    contact.second.curvature_y = -90.0;
    contact.angle = 0.3;
    contact.load = 2e3;
    compare<bearings::Hertz, bearings::HertzOutputs>(contact, {"52100", "52100"});

    const job::Job blower = cases::blower();
    compare<job::Quick>(blower.values(), blower.outputs().size(), blower.context());
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
