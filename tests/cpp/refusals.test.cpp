// Bad input: refused by path, value, rule and unit, all of it at once.
#include "cases.hpp"
#include "catch.hpp"

#include <cmath>
#include <fitwright/fields/error.hpp>
#include <fitwright/rings/thick_ring.hpp>
#include <limits>

using namespace fitwright;
using namespace fitwright::rings;

namespace {

constexpr double missing = std::numeric_limits<double>::quiet_NaN();
constexpr double left_out = std::numeric_limits<double>::infinity();
const materials::Material& shaft_metal = cases::metal("4340");

// Nominal sizes with an interference, cold and at rest.
FitInputs<double> plain() {
    auto in = fields::standard_inputs<FitInputs>();
    in.shaft.seat = in.ring.bore = 0.080;
    in.ring.outside = 0.105;
    in.ring.length = in.ring.contact_length = 0.030;
    in.interference = 38e-6;
    return in;
}

std::string refusal(const FitInputs<double>& in) {
    try {
        fit(in, shaft_metal, cases::metal("52100"));
    } catch (const DomainError& error) {
        return error.what();
    }
    return "";
}

job::Job with(cases::Values changes) {
    job::Job job = cases::blower();
    cases::give(job, "", changes);
    return job;
}
std::string told(const std::vector<Problem>& problems) {
    std::string text;
    for (const Problem& p : problems)
        text += p.path + ": " + p.text + "\n";
    return text;
}
std::string refusal(const job::Plan& plan) {
    try {
        job::Job{plan};
    } catch (const DomainError& error) {
        return told(error.problems());
    }
    return "";
}

} // namespace

TEST_CASE("a fit that makes no sense is refused by name, value and rule", "[fit][bad]") {
    const auto with = [](auto change) {
        auto in = plain();
        change(in);
        return refusal(in);
    };
    using In = FitInputs<double>;
    CHECK(with([](In&) {}).empty());
    CHECK_THAT(with([](In& in) { in.shaft.seat = missing; }),
               ContainsSubstring("shaft.seat: must be given"));
    CHECK_THAT(with([](In& in) { in.speed = missing; }),
               ContainsSubstring("speed: must be a finite number"));
    CHECK_THAT(with([](In& in) { in.speed = std::numeric_limits<double>::infinity(); }),
               ContainsSubstring("speed: must be a finite number"));
    CHECK_THAT(with([](In& in) { in.ring.bore = -0.08; }),
               ContainsSubstring("ring.bore: -80 mm is outside its range: "));
    CHECK_THAT(with([](In& in) { in.ring.outside = 0.079; }),
               ContainsSubstring("ring.outside: 79 mm must be larger than the seat diameter"));
    CHECK_THAT(with([](In& in) { in.shaft.bore = 0.081; }),
               ContainsSubstring("shaft.bore: 81 mm must be smaller than the seat"));
    CHECK_THAT(with([](In& in) { in.ring.contact_length = 0.031; }),
               ContainsSubstring("ring.contact_length: 31 mm must not exceed"));
    CHECK_THAT(with([](In& in) { in.interference = 900e-6; }),
               ContainsSubstring("interference: 900 um must be below 1 %"));
    CHECK_THAT(with([](In& in) { in.shaft.seat = 0.08002; }),
               ContainsSubstring("interference: 38 um disagrees with seat minus bore"));
    // 11000 was meant as rpm; as rad/s it is caught by the surface speed.
    CHECK_THAT(with([](In& in) { in.speed = 11000.0; }),
               ContainsSubstring("did you mean \"11000 rpm\"?"));
    CHECK_THAT(with([](In& in) { in.ring_temperature = 5000.0; }),
               ContainsSubstring("temperatures are degC inside, kelvin is not"));
    CHECK_THAT(with([](In& in) { in.ring_temperature = 900.0; }),
               ContainsSubstring("ring_temperature: 900 degC is outside the temperature range of "
                                 "the material data"));
    CHECK_THAT(with([](In& in) { in.shaft_temperature = -200.0; }),
               ContainsSubstring("shaft_temperature: -200 degC is outside the temperature range"));
    // All at once.
    const std::string two = with([](In& in) {
        in.ring.length = -1.0;
        in.shaft.roughness = missing;
    });
    CHECK_THAT(two, ContainsSubstring("ring.length") && ContainsSubstring("shaft.roughness"));
}

TEST_CASE("a thick ring refuses a point outside its section", "[fit][bad]") {
    auto in = fields::standard_inputs<ThickRingInputs>();
    in.bore = 0.04;
    in.outside = 0.1;
    in.radius = 0.06;
    CHECK_THROWS_WITH(thick_ring(in, shaft_metal),
                      ContainsSubstring("radius: 60 mm must lie between bore and outside"));
    in.bore = in.outside;
    CHECK_THROWS_WITH(thick_ring(in, shaft_metal),
                      ContainsSubstring("outside: 100 mm must be larger than the bore"));
}
TEST_CASE("all that is wrong with the numbers is told at once", "[job][bad]") {
    const std::string ranges = told(with({{"rings.sleeve.bore", -0.08},
                                          {"nut.torque", missing},
                                          {"lock.thickness", missing},
                                          {"states.start.speed", left_out},
                                          {"rings.wheel.friction_low", 0.5}})
                                        .problems());
    CHECK_THAT(ranges, ContainsSubstring("rings.sleeve.bore: -80 mm is outside its range"));
    CHECK_THAT(ranges, ContainsSubstring("nut.torque: must be given"));
    CHECK_THAT(ranges, ContainsSubstring("lock.thickness: must be given"));
    CHECK_THAT(ranges, ContainsSubstring("states.start.speed: must be a finite number"));
    CHECK_THAT(ranges, ContainsSubstring("rings.wheel.friction: must lie between its low"));

    const std::string geometry = told(with({{"rings.sleeve.outside", 0.079},
                                            {"rings.wheel.contact_length", 0.02},
                                            {"lock.outside", 0.07},
                                            {"nut.pitch", 0.04},
                                            {"bearing.balls", 30.0},
                                            {"states.trip.shaft_temperature", 900.0}})
                                          .problems());
    CHECK_THAT(geometry, ContainsSubstring("rings.sleeve.outside: 79 mm must be larger"));
    CHECK_THAT(geometry, ContainsSubstring("rings.wheel.contact_length: 20 mm must not exceed"));
    CHECK_THAT(geometry, ContainsSubstring("lock.outside: 70 mm must be larger than the bore"));
    CHECK_THAT(geometry, ContainsSubstring("nut.pitch: 40 mm must be below a third"));
    CHECK_THAT(geometry, ContainsSubstring("bearing.balls: 30 do not fit side by side"));
    CHECK_THAT(geometry, ContainsSubstring("states.trip.shaft_temperature: 900 degC is outside"));
}

TEST_CASE("what a shop gets wrong is told in its words", "[job][bad]") {
    // A speed meant in rpm, a ring colder than its data, an oven hotter than the part may see.
    CHECK_THAT(told(with({{"states.full_load.speed", 11000.0}}).problems()),
               ContainsSubstring("states.full_load.speed: ") &&
                   ContainsSubstring("did you mean \"11000 rpm\"?"));
    CHECK_THAT(told(with({{"states.start.lags.sleeve", -400.0}}).problems()),
               ContainsSubstring("states.start.shaft_temperature plus states.start.lags.sleeve: "
                                 "-365 degC is outside the temperature range"));
    CHECK_THAT(
        told(
            with({{"rings.sleeve.oven", 130.0}, {"rings.sleeve.heating_limit", 120.0}}).problems()),
        ContainsSubstring("rings.sleeve.oven: 130 degC is above the heating limit"));
    CHECK_THAT(told(with({{"rings.sleeve.bore", 0.078}}).problems()),
               ContainsSubstring("seats.main.diameter less rings.sleeve.bore: ") &&
                   ContainsSubstring("must be below 1 % of the seat diameter"));
    CHECK_THROWS_WITH(with({{"bearing.shim", 900e-6}}).evaluate(),
                      ContainsSubstring("bearing.shim: 900 um is wider than the arch"));
}

TEST_CASE("an impossible plan is refused with everything that is wrong with it", "[job][bad]") {
    job::Plan plan = cases::blower_plan();
    CHECK(refusal(plan).empty());
    plan.rings[0].name = "Sleeve";
    plan.rings[3].name = "nut";
    plan.rings[4].seat = "front";
    plan.bearing->inner_rings = {"inner_back", "inner_thrust"};
    plan.states = {"cold", "cold"};
    const std::string text = refusal(plan);
    CHECK_THAT(text, ContainsSubstring("rings: \"Sleeve\" must be a lower-case name"));
    CHECK_THAT(text, ContainsSubstring("rings.nut: is the name of another part"));
    CHECK_THAT(text, ContainsSubstring("rings.slinger.seat: \"front\" is not a seat"));
    CHECK_THAT(text, ContainsSubstring("bearing.inner_rings: the halves must follow each other"));
    CHECK_THAT(text, ContainsSubstring("states.cold: is named twice"));
    CHECK_THAT(refusal(job::Plan{}), ContainsSubstring("a job needs at least one ring") &&
                                         ContainsSubstring("a job needs at least one seat") &&
                                         ContainsSubstring("a job needs at least one state"));
    plan = cases::blower_plan();
    plan.bearing->inner_rings = {"outer"};
    CHECK_THAT(refusal(plan), ContainsSubstring("\"outer\" is not a ring"));
}
