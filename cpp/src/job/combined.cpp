// The ring of a job's bearing on its balls. The solver is long and knows double: it lives in the
// baseline, and every level calls it there.
#include "combined.hpp"
#include "detail/baseline.hpp"
#include "detail/bearing.hpp"
#include <algorithm>
#include <cmath>
#include <fitwright/fields/rules.hpp>
#include <fitwright/job/job.hpp>

namespace fitwright::job {

namespace {

struct Combined {
    static int inputs(const Layout&) {
        return static_cast<int>(sizeof(bearings::LoadedBearing<double>) / sizeof(double));
    }
    static int outputs(const Layout&) {
        return static_cast<int>(sizeof(bearings::EquilibriumOutputs<double>) / sizeof(double));
    }
    template <class T>
    static bool makes_sense(const bearings::LoadedBearing<T>& in) {
        const double balls = number::value_of(in.bearing.balls);
        double sum = number::value_of(in.contacts.stiffness + in.clearance + in.speed);
        for (const T& load : in.loads)
            sum += number::value_of(load);
        return balls >= 1.0 && balls <= double(bearings::ball_limit) && std::isfinite(sum) &&
               in.clearance < in.contacts.groove_distance * 2.0;
    }
    template <class T>
    static void run(const T* in, T* out, const fields::Context& context,
                    number::Faults<T>& faults) {
        const Layout& at = *static_cast<const Layout*>(context.layout);
        const auto& loaded = *reinterpret_cast<const bearings::LoadedBearing<T>*>(in);
        auto& told = *reinterpret_cast<bearings::EquilibriumOutputs<T>*>(out);
        if (!makes_sense(loaded)) // broken rules have told of it already
            std::fill(out, out + outputs(at), T(0.0));
        else
            told = bearings::loaded_state(loaded, *at.balls, nullptr, faults);
    }
};

} // namespace

LevelCalls combined_calls() { return baseline_calls<Combined, ShortSlope>(); }

bearings::BallByBall Job::balls(const std::string& state) const {
    if (!layout_->has_bearing)
        throw DomainError({Problem{"bearing", "is not in this job"}});
    const Job quick = at(Level::quick);
    const int clearance = quick.output(state, "bearing.clearance");
    const auto outputs = quick.evaluate(); // the full message, should a rule be broken
    const auto s = std::find(plan_->states.begin(), plan_->states.end(), state);
    const Inputs<double> job{values_.data(), *layout_};
    number::Faults<double> faults;
    const auto contacts = bearings::contact_constants(
        job.bearing(), *layout_->balls, *layout_->ring_materials[layout_->inner_first],
        job.ring(layout_->inner_first).modulus_factor, faults);
    const auto loaded = loaded_bearing(job, static_cast<int>(s - plan_->states.begin()), contacts,
                                       outputs[static_cast<std::size_t>(clearance)]);
    try {
        return bearings::ball_by_ball(loaded, *layout_->balls);
    } catch (const Fault& f) {
        const std::string field = rules::row_of(f.rule).field;
        throw DomainError({Problem{"states." + state + "." + field, fault_text(f)}});
    }
}

} // namespace fitwright::job
