// A job's bearing under thrust, radial load and tilting moment: what the balls carry is what the states
// ask for. No published example of a whole job exists; the checks are balances, symmetries and limits.
#include "job_checks.hpp"

#include <fitwright/bearings/ball_by_ball.hpp>
#include <fitwright/bearings/service.hpp>
#include <fitwright/bearings/thrust.hpp>
#include <fitwright/job/enclosed.hpp>
#include <fitwright/job/parts.hpp>

using namespace fitwright;
using namespace job_checks;

namespace {

struct Loads {
    double radial = 0.0, across = 0.0, moment = 0.0, moment_across = 0.0;
};
// The blower with oil; its states tell of loads across the shaft.
job::Job carrying(const Loads& loads) {
    job::Plan plan = cases::blower_plan();
    plan.service = job::ServicePlan{};
    plan.has_ring_loads = true;
    job::Job job = oiled_blower(plan);
    for (const char* state : {"states.start.", "states.full_load."})
        cases::give(job, state,
                    {{"share", 0.5},
                     {"radial_load", loads.radial},
                     {"radial_load_across", loads.across},
                     {"moment", loads.moment},
                     {"moment_across", loads.moment_across}});
    return job;
}
const Loads some{2.5e3, -400.0, 15.0, 30.0};

} // namespace

TEST_CASE("without loads across the shaft the balls are those under thrust", "[job][combined]") {
    const job::Job job = carrying({});
    CHECK(told(job) == "");
    for (const std::string state : {"start", "full_load"}) {
        const auto of = [&](const char* path) { return value(job, state, path); };
        CAPTURE(state);
        for (const char* path : {"inner_peak", "outer_peak", "inner_edge", "outer_edge", "arch_gap",
                                 "gyroscopic_friction"})
            CHECK(of((std::string("combined.") + path).c_str()) ==
                  Approx(of(path)).epsilon(1e-7).margin(1e-12));
        CHECK(of("combined.axial_stiffness") == Approx(of("axial_stiffness")).epsilon(1e-7));
        for (const char* load :
             {"greatest_inner_load", "least_inner_load", "inner_equivalent_load"})
            CHECK(of((std::string("combined.") + load).c_str()) ==
                  Approx(of("inner_load")).epsilon(1e-8));
        for (const char* load : {"greatest_outer_load", "outer_equivalent_load"})
            CHECK(of((std::string("combined.") + load).c_str()) ==
                  Approx(of("outer_load")).epsilon(1e-8));
        CHECK(of("combined.radial_displacement") == Approx(0.0).margin(1e-15));
        CHECK(of("combined.tilt_across") == Approx(0.0).margin(1e-12));
        // 4200 MPa leaves a permanent mark of a ten-thousandth of the ball (ISO 76, from memory).
        const double peak = std::max(of("inner_peak"), of("outer_peak"));
        CHECK(of("combined.contact_safety") == Approx(std::pow(4200e6 / peak, 3)).epsilon(1e-7));
    }
    // Standing unloaded and loose, nothing fails and nothing is infinite.
    CHECK(value(job, "cold", "combined.greatest_outer_load") == 0.0);
    CHECK(value(job, "cold", "combined.contact_safety") == 1e6);
}

TEST_CASE("nothing else of a job changes by loads that are nought", "[job][combined]") {
    const job::Job job = carrying({});
    job::Plan plan = cases::blower_plan();
    plan.service = job::ServicePlan{};
    job::Job plain(plan);
    for (std::size_t i = 0; i < plain.inputs().size(); ++i)
        plain.set(static_cast<int>(i), input(job, plain.inputs()[i].path));
    const auto outputs = job.evaluate();
    const auto before = plain.evaluate();
    for (std::size_t i = 0; i < before.size(); ++i) {
        const job::OutputPath& o = plain.outputs()[i];
        CAPTURE(o.state, o.path);
        CHECK(outputs[at(job.output(o.state, o.path))] == Approx(before[i]).epsilon(1e-6));
    }
    CHECK_THROWS_WITH(plain.output("cold", "bearing.combined.inner_peak"),
                      ContainsSubstring("is not an output of state cold"));
    CHECK_THROWS_WITH(plain.leaf("states.start.radial_load"), ContainsSubstring("is not an input"));
}

TEST_CASE("the balls carry the loads of the state", "[job][combined]") {
    const job::Job job = carrying(some);
    CHECK(told(job) == "");
    for (const std::string state : {"start", "full_load"}) {
        CAPTURE(state);
        const auto balls = job.balls(state);
        const double d = input(job, "bearing.ball_diameter");
        const double fi = input(job, "bearing.inner_curvature");
        const double a = (fi + input(job, "bearing.outer_curvature") - 1.0) * d;
        const double cosine = 1.0 - std::max(value(job, state, "clearance"), 0.0) / (2.0 * a);
        const double arm = input(job, "bearing.pitch_diameter") / 2.0 + (fi - 0.5) * d * cosine;
        double thrust = 0.0;
        Loads sum;
        // Outer race control: no friction on the inner contact.
        for (std::size_t k = 0; k < 15; ++k) {
            const double c = 2.0 * fields::pi * double(k) / 15.0;
            const double t = balls.inner_load[k] * std::sin(balls.inner_angle[k]);
            const double u = balls.inner_load[k] * std::cos(balls.inner_angle[k]);
            thrust += t;
            sum.radial += u * std::cos(c);
            sum.across += u * std::sin(c);
            sum.moment += t * arm * std::sin(c);
            sum.moment_across -= t * arm * std::cos(c);
        }
        CHECK(thrust == Approx(input(job, "states." + state + ".thrust")).epsilon(1e-9));
        CHECK(sum.radial == Approx(some.radial).epsilon(1e-8));
        CHECK(sum.across == Approx(some.across).epsilon(1e-8));
        CHECK(sum.moment == Approx(some.moment).epsilon(1e-8));
        CHECK(sum.moment_across == Approx(some.moment_across).epsilon(1e-8));
        CHECK(value(job, state, "combined.greatest_inner_load") ==
              *std::max_element(balls.inner_load.begin(), balls.inner_load.end()));
        // Lives go by the loads ball by ball (ISO/TS 16281, from memory): the turning ring by the
        // mean of cubes, the standing one by that of the powers 10/3.
        double cubes = 0.0;
        double powers = 0.0;
        for (std::size_t k = 0; k < 15; ++k) {
            cubes += std::pow(balls.inner_load[k], 3) / 15.0;
            powers += std::pow(balls.outer_load[k], 10.0 / 3.0) / 15.0;
        }
        auto in = fields::standard_inputs<bearings::ServiceInputs>();
        in.row = {15.0, d, 0.1155, fi, 0.52, std::acos(1.0 - 150e-6 / (2.0 * a)), 1.0};
        in.oil.viscosity_40 = 46e-6;
        in.oil.viscosity_100 = 6.8e-6;
        in.oil_temperature = input(job, "states." + state + ".shaft_temperature") +
                             input(job, "states." + state + ".lags.balls");
        in.speed = input(job, "states." + state + ".speed");
        in.axial_load = thrust;
        in.radial_load = std::hypot(some.radial, some.across);
        in.inner_load = std::cbrt(cubes);
        in.outer_load = std::pow(powers, 0.3);
        const auto alone = bearings::service(in);
        CHECK(value(job, state, "reference_life") == Approx(alone.reference_life).epsilon(1e-7));
        CHECK(value(job, state, "modified_life") == Approx(alone.modified_life).epsilon(1e-6));
        CHECK(value(job, state, "equivalent_static_load") ==
              Approx(alone.equivalent_static_load).epsilon(1e-9));
        CHECK(value(job, state, "static_safety") == Approx(alone.static_safety).epsilon(1e-9));
        CHECK(value(job, state, "reference_life") < value(carrying({}), state, "reference_life"));
    }
}

TEST_CASE("loads turned by a ball, or mirrored, load the balls alike", "[job][combined]") {
    const job::Job job = carrying({3e3, 0.0, 0.0, 25.0});
    const double c = std::cos(2.0 * fields::pi / 15.0);
    const double s = std::sin(2.0 * fields::pi / 15.0);
    // Both vectors turn.
    const job::Job turned = carrying({3e3 * c, 3e3 * s, -25.0 * s, 25.0 * c});
    const job::Job mirrored = carrying({3e3, 0.0, 0.0, 25.0});
    const auto balls = job.balls("full_load");
    const auto next = turned.balls("full_load");
    for (std::size_t k = 0; k < 15; ++k) {
        CHECK(next.inner_load[(k + 1) % 15] == Approx(balls.inner_load[k]).epsilon(1e-8));
        CHECK(next.outer_angle[(k + 1) % 15] == Approx(balls.outer_angle[k]).epsilon(1e-8));
        // Load and moment as they are: the plane of the load is one of symmetry.
        CHECK(balls.inner_load[(15 - k) % 15] == Approx(balls.inner_load[k]).epsilon(1e-8));
    }
    const auto left = carrying({2e3, 700.0, 12.0, 20.0}).balls("full_load");
    // Mirrored at the plane of the first ball: what points across turns round, and so does a moment
    // that lies in the plane.
    const auto right = carrying({2e3, -700.0, -12.0, 20.0}).balls("full_load");
    for (std::size_t k = 0; k < 15; ++k)
        CHECK(right.inner_load[(15 - k) % 15] == Approx(left.inner_load[k]).epsilon(1e-8));
    for (const char* path : {"greatest_outer_load", "contact_safety", "outer_equivalent_load"})
        CHECK(value(turned, "full_load", std::string("combined.") + path) ==
              Approx(value(job, "full_load", std::string("combined.") + path)).epsilon(1e-8));
}

TEST_CASE("derivatives of the loaded ring are those of differences", "[job][combined]") {
    const job::Job job = carrying(some);
    const auto j = job.jacobian();
    const auto values = job.evaluate();
    for (std::size_t i = 0; i < values.size(); ++i)
        REQUIRE(std::memcmp(&values[i], &j.outputs[i], sizeof(double)) == 0);
    for (const double slope : j.derivatives)
        if (!std::isfinite(slope))
            FAIL_CHECK(slope);
    check_slopes(
        job,
        {"states.full_load.thrust", "states.full_load.radial_load",
         "states.full_load.moment_across", "states.full_load.speed", "rings.inner_thrust.bore",
         "bearing.clearance", "bearing.pitch_diameter", "states.full_load.lags.balls"},
        {"combined.axial_displacement", "combined.radial_displacement", "combined.tilt_across",
         "combined.greatest_outer_load", "combined.inner_peak", "combined.outer_edge",
         "combined.arch_gap", "combined.contact_safety", "combined.radial_stiffness",
         "combined.inner_equivalent_load", "reference_life", "static_safety", "friction_torque"},
        1e-4, 1e-5);
}

TEST_CASE("the loaded ring has the same bits on lanes", "[job][combined]") {
    const job::Job job = carrying(some);
    const std::vector<int> vary{job.leaf("states.full_load.radial_load"),
                                job.leaf("states.start.speed"), job.leaf("bearing.clearance"),
                                job.leaf("bearing.balls")};
    std::vector<std::vector<double>> columns(4);
    for (int k = 0; k < 77; ++k) {
        columns[0].push_back(100.0 * k); // from none at all
        columns[1].push_back(10.0 * k);
        columns[2].push_back(130e-6 + 0.5e-6 * k);
        columns[3].push_back(12.0 + k % 4);
    }
    CHECK(different_bits(job, vary, columns) == 0);
}

TEST_CASE("least thrust of an inner ring in halves is that of the bearing alone",
          "[job][combined]") {
    const job::Job job = cases::blower().at(job::Level::history);
    for (const std::string state : {"cold", "start", "full_load", "trip"}) {
        auto in = fields::standard_inputs<bearings::ThrustInputs>();
        in.bearing = *reinterpret_cast<const bearings::Bearing<double>*>(
            &job.values()[at(job.leaf("bearing.balls"))]);
        in.inner_growth = value(job, state, "raceway_growth");
        in.outer_growth = value(job, state, "outer_growth");
        const std::string here = "states." + state + ".";
        in.ball_temperature =
            input(job, here + "shaft_temperature") + input(job, here + "lags.balls");
        in.thrust = input(job, here + "thrust");
        in.speed = input(job, here + "speed");
        const auto alone =
            bearings::thrust_equilibrium(in, cases::metal("52100"), cases::metal("52100"));
        CAPTURE(state);
        CHECK(value(job, state, "arch_thrust") == Approx(alone.arch_thrust).epsilon(1e-7));
        CHECK(value(job, state, "arch_limit") == Approx(alone.arch_limit).epsilon(1e-7));
        const double margin = std::min(in.thrust - alone.arch_thrust, alone.arch_limit - in.thrust);
        CHECK(value(job, state, "arch_margin") ==
              Approx(in.thrust > 0.0 ? margin : 1e9).epsilon(1e-6));
    }
    // Just beyond the limit the other half is touched, and the finding fails.
    job::Job pressed = job;
    const double limit = value(job, "full_load", "arch_limit");
    for (const double share : {0.97, 1.03}) {
        pressed.set(pressed.leaf("states.full_load.thrust"), share * limit);
        pressed.set(pressed.leaf("bearing.inner_shoulder"), 0.4);
        pressed.set(pressed.leaf("bearing.outer_shoulder"), 0.4);
        CHECK((value(pressed, "full_load", "arch_margin") > 0.0) == (share < 1.0));
        CHECK((value(pressed, "full_load", "arch_gap") > 0.0) == (share < 1.0));
    }
    job::Plan whole = cases::blower_plan();
    whole.bearing->inner_rings = {"inner_thrust"};
    CHECK_THROWS_WITH(job::Job(whole).at(job::Level::history).output("cold", "bearing.arch_margin"),
                      ContainsSubstring("is not an output of state cold"));
    CHECK_THROWS_WITH(cases::blower().output("cold", "bearing.arch_margin"),
                      ContainsSubstring("is an output of level \"history\""));
}

TEST_CASE("bounds know the loaded ring only as what it hangs on", "[job][combined][bounds]") {
    const job::Job job = carrying(some);
    const std::vector<job::BoxSide> sides{{{job.leaf("states.full_load.radial_load")}, 2e3, 3e3}};
    const auto all = job::Encloser(job).all(job.values(), sides);
    for (const char* path : {"bearing.combined.inner_peak", "bearing.reference_life"}) {
        CHECK_FALSE(all[at(job.output("full_load", path))].bounded());
        CHECK(all[at(job.output("full_load", path))].slopes[0].high > 0.0);
    }
    // Thrust alone does not hang on it.
    CHECK(all[at(job.output("full_load", "bearing.inner_peak"))].slopes[0].size() == 0.0);
}

TEST_CASE("loads that cannot be carried are told by name", "[job][combined]") {
    job::Job job = carrying(some);
    cases::give(job, "states.cold.", {{"moment", 5.0}});
    CHECK(told(job) == "states.cold.moment: must be 0: the first state is as built\n");
    job = carrying(some);
    cases::give(job, "states.start.", {{"radial_load", 2e8}});
    CHECK_THAT(told(job), ContainsSubstring("states.start.radial_load: "));
    cases::give(job, "states.start.", {{"radial_load", 2e6}});
    CHECK_THAT(told(job),
               ContainsSubstring("states.start.thrust with its radial load and moment: ") &&
                   ContainsSubstring("by more than a twentieth of the ball"));
    // A bearing open at the back, and a load that tilts a ball over to there.
    job = carrying({3e3, 0.0, 0.0, 600.0});
    cases::give(job, "bearing.", {{"back_shoulder", 0.0}});
    cases::give(job, "states.start.", {{"moment_across", 0.0}, {"radial_load", 0.0}});
    CHECK(told(job) == "states.full_load.thrust with its radial load and moment: 9 kN pushes "
                       "against the side of the grooves that has no shoulder\n");
    job::Plan plan = cases::blower_plan();
    plan.bearing.reset();
    plan.has_ring_loads = true;
    CHECK_THROWS_WITH(job::Job(plan),
                      ContainsSubstring("is needed: a state tells of a radial load or a moment"));
    CHECK_THROWS_WITH(carrying(some).balls("nowhere"), ContainsSubstring("is not a state"));
    CHECK_THROWS_WITH(job::Job([] {
                          job::Plan none = cases::blower_plan();
                          none.bearing.reset();
                          return none;
                      }())
                          .balls("cold"),
                      ContainsSubstring("is not in this job"));
}
