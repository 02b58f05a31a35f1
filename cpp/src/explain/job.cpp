#include <fitwright/explain/job.hpp>

#include "explain/detail/formulas.hpp"
#include "explain/detail/record.hpp"
// before the formulas
#include "job/detail/bearing.hpp"
#include "job/detail/in_baseline.hpp"
#include <algorithm>
#include <fitwright/fields/rules.hpp>

// What the job calls by pointer; told before it.
namespace fitwright::explain {

// The ring of a bearing on its balls: found in steps, from all that it is told.
void in_baseline(const job::LevelCalls& calls, const Number* inputs, Number* outputs, int count,
                 const fields::Context& context, int, number::Faults<Number>&) {
    Recording* r = Recording::now();
    constexpr int told = sizeof(bearings::LoadedBearing<double>) / sizeof(double);
    double in[told];
    std::vector<double> out(static_cast<std::size_t>(count));
    const int first = static_cast<int>(r->lists.size());
    for (int i = 0; i < told; ++i) {
        in[i] = inputs[i].told();
        if (in[i] < 1e300)
            r->lists.push_back(inputs[i].node());
    }
    double code = 0.0;
    double value = 0.0;
    calls.values(in, out.data(), 1, context, code, value);
    for (int i = 0; i < count; ++i) {
        const double x = out[static_cast<std::size_t>(i)];
        outputs[i] = Number::at(
            x, r->add(Operation::stepped, x, -1, first, static_cast<int>(r->lists.size())));
    }
}

} // namespace fitwright::explain

#include "job/detail/quick.hpp"

namespace fitwright::explain {

// Plate and tools: their own formulas, from what the job knows.
void run_attached(const job::Layout&, const job::Attached& attached, const Number* inputs,
                  Number* outputs, int place, number::Faults<Number>&) {
    Recording* r = Recording::now();
    const int from = r->places_from;
    r->places_from = place;
    number::Faults<Number> faults;
    faults.place = 0;
    formula_of (*attached.model)(inputs, outputs, {attached.materials, attached.choices, nullptr},
                                 faults);
    r->places_from = from;
}

namespace {

using job::Place;

// "sleeve, full_load"
std::string where(const job::Plan& plan, const job::Layout& at, const Node& n) {
    const int place = n.place % Place::per_state;
    const auto state = static_cast<std::size_t>(n.place / Place::per_state);
    const auto ring = [&](int i) { return plan.rings[static_cast<std::size_t>(i)].name; };
    std::string part;
    if (n.member >= 0 && n.member < at.members)
        part = ring(at.member_ring[n.member]);
    else if (place >= Place::attached) {
        const auto k = static_cast<std::size_t>((place - Place::attached) / Place::per_attached);
        const int served = at.attached[k].ring;
        part = at.attached[k].model->text.name;
        if (served >= 0)
            part += ", " + ring(served);
    } else if (place >= Place::slice)
        part = ring(at.member_ring[place - Place::slice]);
    else if (place >= Place::seal)
        part = plan.seals[static_cast<std::size_t>(place - Place::seal)].name;
    else if (place >= Place::ring)
        part = ring(place - Place::ring);
    else if (place >= Place::bearing && place <= Place::outer_ring)
        part = "bearing";
    else if (place == Place::lock)
        part = "lock";
    else if (place == Place::nut)
        part = "nut";
    else if (place == Place::rotor)
        part = "shaft";
    if (state < plan.states.size())
        part += (part.empty() ? "" : ", ") + plan.states[state];
    return part;
}

} // namespace

JobCalculation::JobCalculation(const job::Job& asked)
    : job_(asked.at(job::Level::quick)) {
    const job::Job& job = job_;
    const std::vector<double> values = job.evaluate();
    for (const job::InputPath& in : job.inputs())
        words_.inputs.push_back({in.path, in.field->meaning, in.field->quantity});
    for (const job::OutputPath& out : job.outputs())
        words_.outputs.push_back({out.state.empty() ? out.path : out.path + " [" + out.state + "]",
                                  out.field->meaning, out.field->quantity, -1});
    const job::Layout& at = job.layout();
    const job::Plan& plan = job.plan();
    const auto metal = [&](const materials::Material* m, const materials::Entry& entry) {
        if (m != nullptr)
            words_.metals.push_back({m, entry.name});
    };
    metal(at.shaft, plan.shaft);
    metal(at.nut, plan.nut);
    if (plan.lock)
        metal(at.lock, *plan.lock);
    if (plan.bearing) {
        metal(at.balls, plan.bearing->balls);
        metal(at.outer_ring, plan.bearing->outer_ring);
    }
    if (plan.pocket)
        metal(at.pocket, *plan.pocket);
    for (int i = 0; i < at.rings; ++i)
        metal(at.ring_materials[i], plan.rings[static_cast<std::size_t>(i)].material);
    for (int i = 0; i < at.seals; ++i)
        metal(at.seal_materials[i], plan.seals[static_cast<std::size_t>(i)].material);
    words_.where = [plan, at](const Node& n) { return where(plan, at, n); };

    const std::vector<Number> in =
        record_inputs(recording_, job.values().data(), job.inputs().size());
    std::vector<Number> out(values.size(), Number(0.0));
    {
        const Recording::Open open(&recording_);
        number::Faults<Number> faults;
        faults.place = 0;
        job::Quick::run<Number>(in.data(), out.data(), job.context(), faults);
    }
    record_outputs(recording_, out, words_.outputs);
}

std::vector<JobCalculation::Limit> JobCalculation::limits() const {
    std::vector<Limit> all;
    for (const Held& held : limits_of(recording_, words_)) {
        const Fault fault{held.rule, held.place, held.value};
        Limit limit{job_.path_of(fault), rules::row_of(held.rule).sentence, held.compared,
                    held.room};
        const bool told = std::any_of(all.begin(), all.end(), [&](const Limit& other) {
            return other.path == limit.path && other.sentence == limit.sentence &&
                   other.compared == limit.compared;
        });
        if (!told)
            all.push_back(std::move(limit));
    }
    std::stable_sort(all.begin(), all.end(),
                     [](const Limit& x, const Limit& y) { return x.room < y.room; });
    return all;
}

double JobCalculation::value(int output) const {
    return recording_.at(words_.outputs[static_cast<std::size_t>(output)].node).value;
}

} // namespace fitwright::explain
