// The fits of a job's bearing: each view of the inner raceway with its own pressure, the outer ring in
// its pocket; and what its service is held to by default.
#include "job_checks.hpp"

#include <fitwright/bearings/mounting.hpp>
#include <fitwright/bearings/rating.hpp>
#include <fitwright/bearings/service.hpp>
#include <fitwright/rings/fit.hpp>
#include <fitwright/rings/thick_ring.hpp>

using namespace fitwright;
using namespace job_checks;

namespace {

double of(const job::Job& job, const char* state, const char* path) {
    return job.evaluate()[at(job.output(state, path))];
}
double margin(const job::Job& job, const char* state, const char* path) {
    const int wanted = job.output(state, path);
    for (const job::Finding& f : job.findings(job.evaluate()))
        if (f.output == wanted)
            return f.margin;
    FAIL("no finding of " << path);
    return 0.0;
}

// Growth of the diameter r = raceway of a ring on a shaft, written out with Lame's brackets and
// Timoshenko's rotating disc; one view, of which the outside is `outside`.
double growth_of_view(double outside, double raceway, double force, double speed, double shaft_t,
                      double ring_t) {
    const auto& ms = cases::metal("4340");
    const auto& mr = cases::metal("52100");
    const double d = 0.080036; // seat
    const double b = 0.079994; // bore
    const double di = 0.030;
    const double es = materials::at(ms.modulus, shaft_t);
    const double er = materials::at(mr.modulus, ring_t);
    const double shaft_warm = materials::free_growth(ms, 1.0, shaft_t);
    const double ring_warm = materials::free_growth(mr, 1.0, ring_t);
    const double pi = 3.14159265358979;
    const auto spin = [&](double rho, double nu, double e, double in, double out, double r) {
        const double hole = in * in * out * out / (r * r);
        return rho * speed * speed * r * (3 + nu) * (1 - nu) / (4 * e) *
               (in * in + out * out + (1 + nu) / (1 - nu) * hole - (1 + nu) / (3 + nu) * r * r);
    };
    const double ring_axial = -force / (pi / 4 * (outside * outside - b * b));
    const double shaft_axial = force / (pi / 4 * (d * d - di * di));
    const double left = d - b - 0.8 * (1.6e-6 + 1.6e-6) + d * (shaft_warm - ring_warm) -
                        (spin(mr.density, mr.poisson, er, b / 2, outside / 2, b / 2) -
                         spin(ms.density, ms.poisson, es, di / 2, d / 2, d / 2)) +
                        b * ring_axial * mr.poisson / er - d * shaft_axial * ms.poisson / es;
    const double cs = (d * d + di * di) / (d * d - di * di) - ms.poisson;
    const double cr = (outside * outside + b * b) / (outside * outside - b * b) + mr.poisson;
    const double p = left / (d * cs / es + b * cr / er);
    const double a2 = b * b / 4;
    const double b2 = outside * outside / 4;
    const double r = raceway / 2;
    const double by_pressure =
        2 * p * a2 / (b2 - a2) * ((1 - mr.poisson) * r + (1 + mr.poisson) * b2 / r) / er;
    return by_pressure + spin(mr.density, mr.poisson, er, b / 2, outside / 2, r) -
           raceway * mr.poisson * ring_axial / er + raceway * ring_warm;
}

job::Job pocketed(const char* metal = "grey_iron", bool with_service = true) {
    job::Plan plan = cases::blower_plan();
    plan.pocket = materials::find(metal);
    if (with_service) {
        plan.service = job::ServicePlan{};
        plan.service->pocket = true;
    }
    job::Job job(plan);
    const job::Job plain = cases::blower();
    for (std::size_t i = 0; i < plain.inputs().size(); ++i)
        job.set(job.leaf(plain.inputs()[i].path), plain.values()[i]);
    if (with_service)
        cases::give(job, "service.", {{"viscosity_40", 46e-6}, {"viscosity_100", 6.8e-6}});
    cases::give(job, "pocket.",
                {{"seat_diameter", 0.1700},
                 {"length", 0.032},
                 {"ring_outside", 0.170020},
                 {"housing_outside", 0.220}});
    cases::give(job, "states.full_load.", {{"lags.pocket", -15.0}});
    return job;
}

} // namespace

TEST_CASE("each view of a raceway has its own pressure", "[job][bearing][rings]") {
    const job::Job job = cases::blower();
    const double raceway = 0.1155 - 0.017462 - 75e-6;
    for (const auto& [state, speed, shaft, ring] :
         {std::tuple{"cold", 0.0, 20.0, 20.0}, {"trip", 0.0, 76.0, 72.0}}) {
        CAPTURE(state);
        const double force = of(job, state, "nut.force");
        // The halves are alike, but the back one is 1 K cooler in the trip.
        const double back = state[0] == 't' ? 71.0 : ring;
        const auto view = [&](double outside) {
            return 0.5 * (growth_of_view(outside, raceway, force, speed, shaft, ring) +
                          growth_of_view(outside, raceway, force, speed, shaft, back));
        };
        const double full = view(0.104);
        const double thin = view(raceway);
        CHECK(of(job, state, "bearing.raceway_growth") ==
              Approx(0.5 * (full + thin)).epsilon(1e-6));
        CHECK(of(job, state, "bearing.raceway_growth_spread") ==
              Approx(thin - full).epsilon(1e-5).margin(1e-11));
        // A ring that ends at the groove grows less than with the pressure of the whole one.
        CHECK(thin > full);
        CHECK((thin - full) / full < 0.1);
    }
}

TEST_CASE("a raceway at speed is the fit's own free surface", "[job][bearing][rings]") {
    // The thin view ends at the raceway, where the model of the fit tells its outside.
    const job::Job job = cases::blower();
    const double raceway = 0.1155 - 0.017462 - 75e-6;
    const auto outputs = job.evaluate();
    const double nut = of(job, "start", "nut.force");
    double expected = 0.0;
    for (const auto& [ring_force] :
         {std::tuple{nut + 4e3}, {nut}}) { // thrust enters at the first half
        auto in = fields::standard_inputs<rings::FitInputs>();
        in.shaft.bore = 0.030;
        in.shaft.seat = 0.080036;
        in.shaft.roughness = in.ring.roughness = 1.6e-6;
        in.ring.bore = 0.079994;
        in.ring.outside = raceway;
        in.ring.length = 0.0195;
        in.speed = 733.0;
        in.shaft_temperature = 35.0;
        in.ring_temperature = 47.0;
        in.axial_force = ring_force;
        expected +=
            0.5 * rings::fit(in, cases::metal("4340"), cases::metal("52100")).outside_growth;
    }
    const double thin = of(job, "start", "bearing.raceway_growth") +
                        0.5 * of(job, "start", "bearing.raceway_growth_spread");
    // The model has one force for ring and shaft: 4 kN on the shaft are a tenth of a micrometre.
    CHECK(thin == Approx(expected).margin(0.1e-6));
}

TEST_CASE("the outer ring's fit in its pocket takes running clearance", "[job][bearing]") {
    const job::Job job = pocketed();
    const job::Job free = cases::blower();
    CHECK(told(job) == "");
    for (const std::string state : {"cold", "full_load"}) {
        auto in = fields::standard_inputs<bearings::HousingFitInputs>();
        const bool hot = state == "full_load";
        in.outside = 0.170020;
        in.raceway = 0.1155 + 0.017462 + 75e-6;
        in.shoulder = in.raceway - 2 * 0.2 * 0.017462;
        in.temperature = hot ? 67.0 : 20.0;
        in.housing.bore = 0.1700;
        in.housing.outside = 0.220;
        in.housing.temperature = hot ? 55.0 : 20.0;
        const materials::Material* metals[] = {&cases::metal("52100"), &cases::metal("grey_iron")};
        const auto alone = fields::evaluate<bearings::HousingFitOutputs<double>>(
            fields::model_named("bearings.housing_fit"), in, {metals[0], metals[1]}, {});
        CAPTURE(state);
        CHECK(value(job, state, "pocket_interference") == Approx(alone.interference));
        CHECK(value(job, state, "pocket_pressure") == Approx(alone.pressure));
        CHECK(value(job, state, "outer_growth") == Approx(alone.outer_growth).epsilon(1e-9));
        CHECK(value(job, state, "outer_growth_spread") == Approx(alone.growth_spread));
        CHECK(value(job, state, "clearance") - value(free, state, "clearance") ==
              Approx(value(job, state, "outer_growth") - value(free, state, "outer_growth"))
                  .epsilon(1e-9));
        CHECK(value(job, state, "clearance") < value(free, state, "clearance"));
        // What holds the ring is the pressure of this fit: 0.12 p pi d^2 L/2.
        CHECK(value(job, state, "outer_margin") + value(job, state, "friction_torque") ==
              Approx(0.12 * alone.pressure * 3.14159265358979 * 0.17 * 0.17 * 0.032 / 2));
    }
    // A loose ring neither takes nor gives, and is held by nothing.
    job::Job loose = job;
    cases::give(loose, "pocket.", {{"ring_outside", 0.16990}});
    CHECK(value(loose, "cold", "clearance") == Approx(value(free, "cold", "clearance")));
    CHECK(value(loose, "cold", "pocket_pressure") == 0.0);
    CHECK(margin(loose, "full_load", "bearing.outer_margin") < 0.0);
    // Without oil the clearance still has it.
    const job::Job dry = pocketed("grey_iron", false);
    CHECK(value(dry, "full_load", "clearance") == value(job, "full_load", "clearance"));
}

TEST_CASE("a pocket that is told wrongly is refused by name", "[job][bearing][bad]") {
    job::Job job = pocketed();
    cases::give(job, "pocket.", {{"housing_outside", fields::worked_out}});
    CHECK_THAT(told(job), ContainsSubstring("pocket.housing_outside: must be given"));
    job = pocketed();
    cases::give(job, "pocket.", {{"pressure", 5e6}});
    CHECK_THAT(told(job), ContainsSubstring("pocket.pressure: follows from ring_outside"));
    job = pocketed();
    cases::give(job, "pocket.", {{"housing_outside", 0.160}});
    CHECK_THAT(told(job), ContainsSubstring("pocket.housing_outside: 160 mm must be larger than"));
    job = pocketed();
    cases::give(job, "pocket.", {{"ring_outside", 0.175}});
    CHECK_THAT(told(job), ContainsSubstring("pocket.ring_outside less pocket.seat_diameter: "));
    job = pocketed();
    cases::give(job, "states.full_load.", {{"lags.pocket", 400.0}});
    CHECK_THAT(told(job), ContainsSubstring("states.full_load.lags.pocket") &&
                              ContainsSubstring("grey_iron is known from"));
}

TEST_CASE("film, life and least load of a bearing are held to limits by default",
          "[job][bearing][service]") {
    job::Plan plan = cases::blower_plan();
    plan.service = job::ServicePlan{};
    job::Job job = oiled_blower(plan);
    cases::give(job, "states.start.", {{"share", 0.02}});
    cases::give(job, "states.full_load.", {{"share", 0.98}});
    CHECK(margin(job, "full_load", "bearing.viscosity_ratio") > 0.0);
    CHECK(margin(job, "cold", "bearing.duty_time") > 0.0);
    CHECK(margin(job, "full_load", "bearing.least_load_margin") > 0.0);
    CHECK(margin(job, "trip", "bearing.least_load_margin") == Approx(1e9).epsilon(1e-9)); // at rest

    job::Job thin = job;
    cases::give(thin, "service.", {{"viscosity_40", 8e-6}, {"viscosity_100", 2.2e-6}});
    CHECK(margin(thin, "full_load", "bearing.viscosity_ratio") < 0.0);
    // Three times the thrust is a life of a twenty-seventh and less: below 25 000 hours.
    job::Job heavy = job;
    cases::give(heavy, "states.full_load.", {{"thrust", 27e3}});
    CHECK(margin(heavy, "cold", "bearing.duty_time") < 0.0);
    // P = Y Fa by ISO 281 at the nominal angle, against a hundredth of C.
    const bearings::Grooves grooves = bearings::Grooves::standard;
    auto rated = fields::standard_inputs<bearings::DynamicRatingInputs>();
    rated.row.balls = 15.0;
    rated.row.ball_diameter = 0.017462;
    rated.row.pitch_diameter = 0.1155;
    rated.row.inner_curvature = 0.515;
    rated.row.outer_curvature = 0.52;
    rated.row.contact_angle = std::acos(1.0 - 150e-6 / (2.0 * 0.035 * 0.017462));
    rated.axial_load = 9e3;
    const auto alone = bearings::dynamic_rating(rated, bearings::BearingKind::radial,
                                                bearings::Arrangement::tandem, grooves);
    CHECK(of(job, "full_load", "bearing.equivalent_load") == Approx(alone.equivalent_load));
    CHECK(of(job, "full_load", "bearing.least_load_margin") ==
          Approx(alone.equivalent_load - 0.01 * alone.dynamic_rating));
    job::Job light = job;
    cases::give(light, "states.full_load.", {{"thrust", 200.0}});
    CHECK(margin(light, "full_load", "bearing.least_load_margin") < 0.0);
    // Where no state has a share of the time, the shortest life of all of them is held to the limit.
    cases::give(job, "states.start.", {{"share", 0.0}});
    cases::give(job, "states.full_load.", {{"share", 0.0}});
    CHECK(of(job, "cold", "bearing.duty_time") ==
          Approx(std::min(of(job, "start", "bearing.running_time"),
                          of(job, "full_load", "bearing.running_time"))));
}
