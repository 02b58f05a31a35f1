// Without friction the history must tell what the quick level tells: the same parts, filled from the
// same structures, solved in another way.
#include "../../cpp/src/stack/detail/history_scene.hpp"
#include "../../cpp/src/job/detail/quick.hpp"
#include "catch.hpp"
#include "history_cases.hpp"

using namespace fitwright;

namespace {

// A job's states as a history, as the job room will do it.
stack::History<double> history_of(const job::Job& job) {
    const std::vector<double> values = job.values();
    const job::Layout& at = job.layout();
    const job::Inputs<double> in{values.data(), at};
    number::Faults<double> faults;
    job::Assembly<double> assembly;
    assembly.thread = threads::thread_geometry(in.thread(), in.rotor().bore, faults);
    assembly.tightened = threads::tightening(in.thread(), in.rotor().bore, in.nut().torque, true,
                                             *at.shaft, in.state(0).shaft_temperature, faults);
    stack::History<double> h;
    job::Scene<double> scene;
    for (int s = 0; s < at.states; ++s) {
        job::set_scene(scene, in, s, assembly, faults);
        const job::State<double>& state = in.state(s);
        const stack::Lock<double>& lock = in.lock();
        const double t = state.shaft_temperature + in.lag(s, at.lag_of_lock);
        const stack::Washer<double> washer{
            {lock.bore * 0.5, lock.outside * 0.5,
             materials::at(at.lock->modulus, t) * lock.modulus_factor, at.lock->poisson,
             at.lock->density},
            lock.thickness,
            materials::free_growth(*at.lock, lock.expansion_factor, t)};
        const double before = in.ring(at.rings - 1).face_roughness;
        const stack::HistoryEnd<double> end{
            &washer,
            stack::face_softness(lock.face_roughness, before),
            lock.settling,
            scene.body,
            stack::face_softness(in.nut().face_roughness, lock.face_roughness),
            in.nut().settling,
            in.thread().height,
            assembly.tightened.preload,
            0.0};
        if (s == 0)
            stack::history_parts(h, scene.members, at.rings, end, at.inner_first, at.inner_last);
        const double opening =
            stack::nut_opening(scene.body, state.speed, scene.nut_warm, scene.shaft_warm);
        h.states.push_back(stack::history_state(scene.members, at.rings, end, scene.nut_warm,
                                                opening, state.speed, state.thrust,
                                                s == 0 ? 0.0 : 1.0));
    }
    return h;
}

} // namespace

TEST_CASE("without friction history and quick level agree", "[history]") {
    job::Job job = cases::blower();
    for (const char* state : {"start", "full_load"})
        cases::give(job, std::string("states.") + state + ".", {{"thrust", 0.0}});
    for (const job::RingPlan& ring : job.plan().rings)
        cases::give(job, "rings." + ring.name + ".",
                    {{"friction", 0.0}, {"friction_low", 0.0}, {"friction_high", 0.0}});
    const auto quick = [&](const std::string& state) {
        return job.evaluate()[static_cast<std::size_t>(job.output(state, "nut.force"))];
    };
    stack::History<double> h = history_of(job);
    h.steps = {cases::slip_on(0, static_cast<int>(h.parts.size()) - 1), cases::state(0),
               cases::step(stack::StepKind::nut_on), cases::tighten(quick("cold")),
               cases::step(stack::StepKind::lock)};
    for (int s = 1; s < 4; ++s)
        h.steps.push_back(cases::state(s));
    const auto r = stack::history(h);
    const char* names[] = {"start", "full_load", "trip"};
    for (std::size_t s = 0; s < 3; ++s) {
        CAPTURE(names[s]);
        const auto& step = r.steps[5 + s];
        CHECK(step.nut_force == Approx(quick(names[s])).epsilon(2e-3));
        CHECK(step.faces[0].force == Approx(step.nut_force).epsilon(1e-5));
    }
}
