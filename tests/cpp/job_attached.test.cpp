// Plate and tools in a job: the models of their rooms with the job's numbers, on every number type.
#include "cases.hpp"
#include "catch.hpp"
#include "joints_cases.hpp"

#include <cmath>
#include <cstring>
#include <fitwright/fields/error.hpp>
#include <fitwright/fields/level.hpp>

using namespace fitwright;
namespace jc = joints_cases;

namespace {

// Numbers of a model's example into the inputs of the job that are told in it.
template <class Part>
void tell(job::Job& job, const std::string& prefix, const fields::Model& model, const Part& in) {
    const auto leaves = fields::leaves_of(*model.inputs);
    const std::vector<double> numbers = cases::numbers(in);
    for (std::size_t i = 0; i < leaves.size(); ++i) {
        const std::string& path = leaves[i].path;
        const std::string told =
            prefix == "plate." && path.rfind("plate.", 0) == 0 ? path : prefix + path;
        for (std::size_t k = 0; k < job.inputs().size(); ++k)
            if (job.inputs()[k].path == told)
                job.set(static_cast<int>(k), numbers[i]);
    }
}

const fields::Model& plate_model() { return fields::model_named("joints.ring_plate"); }
const fields::Model& puller_model() { return fields::model_named("tooling.puller"); }

job::AttachedPlan attached(std::string name, std::string kind, std::vector<std::string> rings,
                           std::initializer_list<const char*> metals, std::vector<int> choices) {
    job::AttachedPlan a{std::move(name), std::move(kind), std::move(rings), {}, std::move(choices)};
    for (const char* metal : metals)
        a.materials.push_back(materials::find(metal));
    return a;
}

// The blower under a plate, with a puller for two of its rings.
job::Job blower_with_tools(bool plate_at_nut = true) {
    job::Plan plan = cases::blower_plan();
    plan.plate =
        attached("", "", {}, {"1045", "4340", "ductile_iron", "4140", "ductile_iron"}, {0});
    plan.plate_at_nut = plate_at_nut;
    plan.tools = {attached("puller", "puller", {"sleeve", "inner_back"}, {"4140", "4340", "4140"},
                           {0, 0, 0})};
    const job::Job bare = cases::blower();
    job::Job job(plan);
    for (std::size_t i = 0; i < bare.inputs().size(); ++i)
        job.set(job.leaf(bare.inputs()[i].path), bare.values()[i]);
    tell(job, "plate.", plate_model(), jc::ring_plate());
    tell(job, "tools.puller.", puller_model(), jc::puller());
    for (const std::string& state : plan.states)
        job.set(job.leaf("states." + state + ".lags.pocket"), -9.0);
    return job;
}

double output(const job::Job& job, const std::vector<double>& all, const std::string& state,
              const std::string& path) {
    return all[static_cast<std::size_t>(job.output(state, path))];
}

} // namespace

TEST_CASE("the plate of a job is its model with the state's thrust and temperatures",
          "[job][joints]") {
    for (const bool at_nut : {true, false}) {
        const job::Job job = blower_with_tools(at_nut);
        const std::vector<double> all = job.evaluate();
        for (const auto& [state, shaft, ring, thrust] :
             {std::tuple{"start", 35.0, 42.0, 4e3}, {"full_load", 70.0, 67.0, 9e3}}) {
            auto in = jc::ring_plate();
            in.ring.temperature = ring;
            in.plate.temperature = in.pocket.temperature = in.bolt.temperature =
                in.thread.temperature = shaft - 9.0;
            in.thrust_to_plate = at_nut ? thrust : 0.0;
            in.thrust_to_shoulder = at_nut ? 0.0 : thrust;
            in.tilting_moment = 0.0;
            const auto wanted = fields::evaluate<joints::RingPlateOutputs<double>>(
                plate_model(), in,
                {&cases::metal("1045"), &cases::metal("52100"), &cases::metal("ductile_iron"),
                 &cases::metal("4140"), &cases::metal("ductile_iron")},
                {0});
            CHECK(output(job, all, state, "plate.shoulder_clamp") == wanted.shoulder_clamp);
            CHECK(output(job, all, state, "plate.plate_clamp") == wanted.plate_clamp);
            CHECK(output(job, all, state, "plate.face_use") == wanted.face_use);
        }
    }
}

TEST_CASE("lanes of every level say of plate and tools what a double says", "[job][levels]") {
    const job::Job job = blower_with_tools();
    const int bore = job.leaf("rings.sleeve.bore");
    const int thrust = job.leaf("states.full_load.thrust");
    std::vector<std::vector<double>> columns(2);
    for (int k = 0; k < 19; ++k) { // with a tail
        columns[0].push_back(0.07999 + 1e-6 * k);
        columns[1].push_back(-9e3 + 1e3 * k);
    }
    std::vector<int> asked;
    for (std::size_t i = 0; i < job.outputs().size(); ++i) {
        const std::string& path = job.outputs()[i].path;
        if (path.rfind("plate.", 0) == 0 || path.rfind("tools.", 0) == 0)
            asked.push_back(static_cast<int>(i));
    }
    const int before = fields::active_level();
    std::vector<double> slopes;
    for (const int level : fields::usable_levels()) {
        fields::force_level(level);
        INFO("level v" << level);
        const auto swept = job.sweep({bore, thrust}, columns, asked, 2);
        for (std::size_t k = 0; k < columns[0].size(); ++k) {
            job::Job there = job;
            there.set(bore, columns[0][k]);
            there.set(thrust, columns[1][k]);
            const std::vector<double> all = there.evaluate();
            for (std::size_t j = 0; j < asked.size(); ++j) {
                const double one = all[static_cast<std::size_t>(asked[j])];
                CHECK(std::memcmp(&swept[j][k], &one, sizeof one) == 0);
            }
        }
        const job::Job::Jacobian all = job.jacobian();
        CHECK(all.outputs == job.evaluate());
        if (slopes.empty())
            slopes = all.derivatives;
        CHECK(slopes == all.derivatives);
    }
    fields::force_level(before);
}

TEST_CASE("slopes of plate and tools go on into the job", "[job][derivatives]") {
    const job::Job job = blower_with_tools();
    const job::Job::Jacobian all = job.jacobian();
    const std::size_t n = job.inputs().size();
    for (const auto& [state, path, source, step] :
         {std::tuple{"cold", "tools.puller.sleeve.working_load", "rings.sleeve.bore", 1e-9},
          {"cold", "tools.puller.inner_back.design_factor", "seats.main.diameter", 1e-9},
          {"cold", "tools.puller.sleeve.leg_factor", "tools.puller.leg_width", 1e-7},
          {"full_load", "plate.shoulder_clamp", "states.full_load.thrust", 1.0},
          {"full_load", "plate.nip_warm", "states.full_load.lags.outer_ring", 1e-3},
          {"full_load", "plate.bolt_use", "plate.bolt.thread_friction_low", 1e-7}}) {
        INFO(path << " by " << source);
        const int leaf = job.leaf(source);
        const double at = job.values()[static_cast<std::size_t>(leaf)];
        double ends[2];
        for (const int side : {0, 1}) {
            job::Job there = job;
            there.set(leaf, at + (side == 0 ? -step : step));
            ends[side] = output(there, there.evaluate(), state, path);
        }
        const double slope = all.derivatives[static_cast<std::size_t>(job.output(state, path)) * n +
                                             static_cast<std::size_t>(leaf)];
        CHECK(slope == Approx((ends[1] - ends[0]) / (2.0 * step)).epsilon(1e-5).margin(1e-12));
    }
}

TEST_CASE("a tool that cannot be is told with its part and its ring", "[job][bad]") {
    job::Job job = blower_with_tools();
    const auto said = [](const job::Job& there) {
        std::string all;
        for (const Problem& p : there.problems())
            all += p.path + ": " + p.text + "\n";
        return all;
    };
    CHECK(said(job).empty());
    job.set(job.leaf("tools.puller.hook_thickness"), 0.013);
    CHECK_THAT(said(job),
               ContainsSubstring("tools.puller.hook_thickness with rings.sleeve: 13 mm does not go "
                                 "into the groove") &&
                   ContainsSubstring("with rings.inner_back"));
    job.set(job.leaf("tools.puller.hook_thickness"), 0.011);
    job.set(job.leaf("plate.hole"), 0.200);
    CHECK_THAT(said(job), ContainsSubstring("plate.hole: 200 mm must be smaller than the bolt"));
    // In a sweep the sample is told whose tool cannot be, and no other is lost by it.
    job.set(job.leaf("plate.hole"), 0.130);
    const int hook = job.leaf("tools.puller.hook_thickness");
    CHECK_THROWS_WITH(
        job.sweep({hook}, {{0.010, 0.011, 0.014}}, {0}, 1),
        ContainsSubstring(
            "14 mm does not go into the groove: it is thicker than the groove is wide (point 2 of "
            "the sweep)"));
}

TEST_CASE("plans of plates and tools that make no job are refused", "[job][bad]") {
    const auto said = [](auto change) {
        job::Plan plan = blower_with_tools().plan();
        change(plan);
        try {
            job::Job{plan};
        } catch (const DomainError& error) {
            return std::string(error.what());
        }
        return std::string();
    };
    using Plan = job::Plan;
    CHECK(said([](Plan&) {}).empty());
    CHECK_THAT(said([](Plan& p) { p.tools[0].rings = {}; }),
               ContainsSubstring("tools.puller.rings: must name the rings it serves"));
    CHECK_THAT(said([](Plan& p) { p.tools[0].rings = {"sleeve", "sleeve"}; }),
               ContainsSubstring("\"sleeve\" is named twice"));
    CHECK_THAT(said([](Plan& p) { p.tools[0].rings = {"drum"}; }),
               ContainsSubstring("\"drum\" is not a ring"));
    CHECK_THAT(said([](Plan& p) { p.tools[0].kind = "hammer"; }),
               ContainsSubstring("\"hammer\" is no kind of tool"));
    CHECK_THAT(said([](Plan& p) { p.tools.resize(13, p.tools[0]); }),
               ContainsSubstring("at most 24 in a job"));
    CHECK_THAT(said([](Plan& p) { p.rings[0].name = "pocket"; }),
               ContainsSubstring("is the name of another part"));
    CHECK_THAT(said([](Plan& p) { p.bearing.reset(); }),
               ContainsSubstring("plate: needs a bearing"));
}
