#include "attached.hpp"
#include "fields/nearest.hpp"
#include "fields/pause.hpp"
#include "plan.hpp"
#include "quick.hpp"
#include "section.hpp"
#include "slices.hpp"
#include "steps.hpp"
#include <algorithm>
#include <cmath>
#include <cstddef>
#include <fitwright/fields/rules.hpp>
#include <fitwright/sizes/threads.hpp>
#include <iterator>
#include <string_view>
#include <unordered_map>

namespace fitwright::rules {
extern const number::Rule no_convergence, oven_below_limit, temperature_in_material_range;
} // namespace fitwright::rules

namespace fitwright::job {

namespace {

// 25 ksi: hoop tension a through-hardened rolling-bearing ring is usually held to. from memory
constexpr double inner_ring_hoop_limit = 172e6;

// The ring an output speaks of, -1 when it speaks of none.
int ring_of_output(const Layout& at, int output) {
    if (output >= at.output_count)
        return -1;
    if (output >= at.ovens_at)
        return (output - at.ovens_at) * at.rings / (at.output_count - at.ovens_at);
    const int in_state = output % at.outputs_per_state;
    if (output >= at.states * at.outputs_per_state || in_state < at.rings_out_at)
        return -1;
    return (in_state - at.rings_out_at) * at.rings / (at.outputs_per_state - at.rings_out_at);
}

// How far the data go that a temperature has left.
std::string with_range(const Plan& plan, const Layout& at, const Fault& fault) {
    std::string text = fault_text(fault);
    if (fault.rule != rules::temperature_in_material_range || fault.place >= Place::steps)
        return text;
    const int place = fault.place % Place::per_state;
    if (place >= Place::attached)
        return text; // they have several
    const materials::Entry* metal = &plan.shaft;
    const auto ring_metal = [&](int i) {
        return &plan.rings[static_cast<std::size_t>(i)].material;
    };
    if (place >= Place::slice)
        metal = ring_metal(at.member_ring[place - Place::slice]);
    else if (place >= Place::seal)
        metal = &plan.seals[static_cast<std::size_t>(place - Place::seal)].material;
    else if (place >= Place::ring)
        metal = ring_metal(place - Place::ring);
    else if (place == Place::nut)
        metal = &plan.nut;
    else if (place == Place::lock && plan.lock.has_value())
        metal = &*plan.lock;
    else if (place == Place::pocket && plan.pocket.has_value())
        metal = &*plan.pocket;
    else if (place == Place::outer_ring && plan.bearing.has_value())
        metal = &plan.bearing->outer_ring;
    else if (place != Place::rotor)
        return text; // the bearing has several
    return text + "; " + metal->name + " is known from " +
           show(metal->numbers.lowest, fields::Quantity::temperature) + " to " +
           show(metal->numbers.highest, fields::Quantity::temperature);
}

} // namespace

// Names are looked up often: reading a file asks for each of its paths.
struct Job::Index {
    std::unordered_map<std::string_view, int> leaves;
    std::unordered_map<std::string_view, std::vector<int>> outputs; // in all states, in order
};

// The limits here hold unless the job says otherwise.
Job::Job(const Plan& plan)
    : plan_(std::make_shared<const Plan>(plan)) {
    if (std::vector<Problem> problems = problems_of(plan); !problems.empty())
        throw DomainError(std::move(problems));
    if (plan.steps.empty()) {
        Plan whole = plan;
        whole.steps = usual_steps(plan);
        if (whole.steps.size() > static_cast<std::size_t>(step_limit))
            throw DomainError(
                {{"steps", "the usual sequence has " + std::to_string(whole.steps.size()) +
                               " steps: at most " + std::to_string(step_limit)}});
        plan_ = std::make_shared<const Plan>(std::move(whole));
    }
    layout_ = std::make_shared<const Layout>(layout_of(*plan_));
    if (plan.in_section) {
        sections_ = std::make_shared<const SectionSource>(1.0);
        auto there = std::make_shared<Layout>(*layout_);
        there->sections = sections_.get();
        layout_ = std::move(there);
    }
    inputs_ = std::make_shared<const std::vector<InputPath>>(inputs_of(*plan_));
    outputs_ = std::make_shared<const std::vector<OutputPath>>(outputs_of(*plan_));
    auto index = std::make_shared<Index>();
    for (const InputPath& in : *inputs_) {
        index->leaves.emplace(in.path, static_cast<int>(values_.size()));
        values_.push_back(in.field->standard);
    }
    for (std::size_t i = 0; i < outputs_->size(); ++i)
        index->outputs[(*outputs_)[i].path].push_back(static_cast<int>(i));
    index_ = std::move(index);

    const Layout& at = *layout_;
    for (int i = 0; i < at.outputs_at(Level::heating); ++i) {
        const fields::Field& f = *(*outputs_)[static_cast<std::size_t>(i)].field;
        fields::Range usual = f.range;
        if (i >= at.output_count && i < at.arches_at &&
            !is_service(plan_->steps,
                        static_cast<std::size_t>((i - at.output_count) / at.step_outputs)))
            continue; // what is clamped while still being built is held against nothing
        const std::string name = f.name;
        if (name == "energy_error")
            continue; // what the calculation owes, not the fitter: tests hold it to 1e-6
        if (const int ring = ring_of_output(at, i); ring >= 0) {
            // A ring that slides need not grip, and is not heated.
            if (!at.ring_grips[ring] &&
                (i >= at.ovens_at || name == "grip_left" || name == "end_effect_reach" ||
                 name == "ring_yield_use_high"))
                continue;
            if ((name == "ring_hoop" || name == "ring_hoop_high") && ring >= at.inner_first &&
                ring <= at.inner_last)
                usual.high = inner_ring_hoop_limit;
        }
        if (!std::isnan(usual.low) || !std::isnan(usual.high))
            limits_.push_back({i, usual.low, usual.high});
    }
    usual_limits_ = std::make_shared<const std::vector<Limit>>(limits_);
}

namespace {

// Leaves that the limits of size of the thread follow.
bool sizes_the_thread(const Layout& at, int leaf) {
    return leaf == at.nut_at + static_cast<int>(offsetof(Nut<double>, diameter) / sizeof(double)) ||
           leaf == at.nut_at + static_cast<int>(offsetof(Nut<double>, pitch) / sizeof(double));
}

} // namespace

// Threads of a job in a class of their own: the other forms have none here and keep basic sizes.
bool Job::has_thread_class() const {
    return layout_->thread_form == threads::iso_metric || layout_->thread_form == threads::unified;
}

sizes::ThreadSlack Job::thread_slack(const std::string& classes) const {
    const auto system = layout_->thread_form == threads::unified ? sizes::ThreadSystem::unified
                                                                 : sizes::ThreadSystem::iso_metric;
    const Inputs<double> job{values_.data(), *layout_};
    return sizes::thread_slack(system, job.nut().diameter, job.nut().pitch, classes,
                               "nut.thread_class");
}

void Job::set(int leaf, double value) {
    values_[static_cast<std::size_t>(leaf)] = value;
    if (!sizes_the_thread(*layout_, leaf) || !has_thread_class())
        return;
    const Inputs<double> job{values_.data(), *layout_};
    if (!(job.nut().diameter > 0.0 && job.nut().diameter < 10.0 && job.nut().pitch > 0.0 &&
          job.nut().pitch < job.nut().diameter))
        return; // not both told yet, or told as wrong
    auto changed = std::make_shared<Layout>(*layout_);
    try {
        changed->thread_slack = thread_slack(plan_->thread_class);
    } catch (const DomainError&) {
        changed->thread_slack = thread_slack(""); // problems() tells what is wrong
    }
    layout_ = std::move(changed);
}

int Job::leaf(const std::string& path) const {
    if (const auto found = index_->leaves.find(path); found != index_->leaves.end())
        return found->second;
    std::vector<std::string> names;
    for (const InputPath& in : *inputs_)
        names.push_back(in.path);
    throw DomainError(
        {{path, "is not an input of this job; nearest: " + fields::nearest(path, names)}});
}

int Job::output(const std::string& state, const std::string& path) const {
    if (const auto found = index_->outputs.find(path); found != index_->outputs.end())
        for (const int i : found->second)
            if (i < output_count() && (*outputs_)[static_cast<std::size_t>(i)].state == state)
                return i;
    std::vector<std::string> states = plan_->states;
    for (const StepPlan& step : plan_->steps)
        states.push_back(step.name);
    if (std::find(states.begin(), states.end(), state) == states.end())
        throw DomainError({{"state", quoted(state) + " is not a state of this job; nearest: " +
                                         fields::nearest(state, states)}});
    std::vector<std::string> names;
    for (int i = 0; i < layout_->outputs_at(Level::heating); ++i) {
        const OutputPath& o = (*outputs_)[static_cast<std::size_t>(i)];
        if (o.state != state)
            continue;
        if (o.path == path)
            throw DomainError(
                {{path,
                  "is an output of level \"" +
                      std::string(i < layout_->outputs_at(Level::history) ? "history" : "heating") +
                      "\"; ask at that level"}});
        if (i < output_count())
            names.push_back(o.path);
    }
    throw DomainError({{path, "is not an output of state " + state +
                                  "; nearest: " + fields::nearest(path, names)}});
}

namespace {

// "*" stands for one whole name.
bool matches(std::string_view pattern, std::string_view path) {
    std::size_t a = 0;
    std::size_t b = 0;
    while (true) {
        const std::size_t pa = std::min(pattern.find('.', a), pattern.size());
        const std::size_t pb = std::min(path.find('.', b), path.size());
        const std::string_view name = pattern.substr(a, pa - a);
        if (name != "*" && name != path.substr(b, pb - b))
            return false;
        if (pa == pattern.size() || pb == path.size())
            return pa == pattern.size() && pb == path.size();
        a = pa + 1;
        b = pb + 1;
    }
}

} // namespace

void Job::set_limit(const std::string& pattern, const std::string& state, double at_least,
                    double at_most) {
    std::vector<Limit> told;
    const auto add = [&](const std::vector<int>& outputs) {
        for (const int i : outputs)
            if (state == "*" || state == (*outputs_)[static_cast<std::size_t>(i)].state)
                told.push_back({i, at_least, at_most});
    };
    if (pattern.find('*') == std::string::npos) {
        if (const auto same = index_->outputs.find(pattern); same != index_->outputs.end())
            add(same->second);
    } else {
        for (const auto& [path, outputs] : index_->outputs)
            if (matches(pattern, path))
                add(outputs);
    }
    if (!told.empty()) {
        const auto before = [](const Limit& a, const Limit& b) { return a.output < b.output; };
        std::sort(told.begin(), told.end(), before);
        std::vector<Limit> all; // of two for one output the first stays, which is the one told now
        std::set_union(told.begin(), told.end(), limits_.begin(), limits_.end(),
                       std::back_inserter(all), before);
        limits_ = std::move(all);
        return;
    }
    std::vector<std::string> names;
    for (const OutputPath& o : *outputs_)
        if (o.state == plan_->states.front() || state == o.state)
            names.push_back(o.path);
    if (state != "*")
        output(state, plan_->states.empty() ? pattern : outputs_->front().path);
    throw DomainError(
        {{pattern, "matches no output; nearest: " + fields::nearest(pattern, names)}});
}

std::span<const Limit> Job::limits() const {
    const auto end = std::find_if(limits_.begin(), limits_.end(),
                                  [&](const Limit& l) { return l.output >= output_count(); });
    return {limits_.begin(), end};
}

Job Job::at(Level level) const {
    Job there = *this;
    there.level_ = level;
    return there;
}

namespace {

bool carries_across(const Inputs<double>& job, int state) {
    if (!job.at.has_combined || state >= job.at.states)
        return false;
    const auto& loads = job.loads(state);
    return loads.radial_load != 0.0 || loads.radial_load_across != 0.0 || loads.moment != 0.0 ||
           loads.moment_across != 0.0;
}

} // namespace

std::string Job::path_of(const Fault& fault) const {
    const std::string field = rules::row_of(fault.rule).field;
    if (fault.place >= Place::steps) {
        const auto step = static_cast<std::size_t>((fault.place - Place::steps) / Place::per_step);
        return "steps." + plan_->steps[step].name + (field.empty() ? "" : "." + field);
    }
    const int place = fault.place % Place::per_state;
    const auto state = static_cast<std::size_t>(fault.place / Place::per_state);
    const std::string in_state =
        "states." + plan_->states[std::min(state, plan_->states.size() - 1)];
    if (place >= Place::attached)
        return attached_path(
            *plan_, *layout_, (place - Place::attached) / Place::per_attached,
            {fault.rule, (place - Place::attached) % Place::per_attached, fault.value});
    std::string part = "shaft";
    std::string lag;
    if (place >= Place::slice) {
        const int m = place - Place::slice;
        const int i = layout_->member_ring[m];
        lag = plan_->rings[static_cast<std::size_t>(i)].name;
        part = "rings." + lag;
        if (field == "interference")
            return "seats." + plan_->rings[static_cast<std::size_t>(i)].seat + ".diameter less " +
                   part + ".bore";
        if (field != "bore")
            part += ".slice" + std::to_string(m - layout_->first_member[i] + 1);
    } else if (place >= Place::seal) {
        lag = plan_->seals[static_cast<std::size_t>(place - Place::seal)].name;
        part = "seals." + lag;
    } else if (place >= Place::ring) {
        const auto i = static_cast<std::size_t>(place - Place::ring);
        part = "rings." + plan_->rings[i].name;
        lag = plan_->rings[i].name;
        if (field == "interference")
            return "seats." + plan_->rings[i].seat + ".diameter less " + part + ".bore";
    } else if (place == Place::nut) {
        part = lag = "nut";
    } else if (place == Place::lock) {
        part = lag = "lock";
    } else if (place == Place::bearing) {
        part = "bearing";
        lag = "outer_ring";
    } else if (place == Place::pocket) {
        part = lag = "pocket";
        if (field == "outside")
            return "pocket.housing_outside";
    } else if (place == Place::outer_ring) {
        part = "pocket";
        lag = "outer_ring";
        if (field == "outside")
            return "pocket.ring_outside";
        if (field == "interference")
            return "pocket.ring_outside less pocket.seat_diameter";
    } else if (place == Place::service) {
        part = "service";
    } else if (place == Place::shoulder) {
        part = "shoulder";
    }
    if (field == "shaft_bore")
        return "shaft.bore";
    if (field == "thrust" && carries_across({values_.data(), *layout_}, static_cast<int>(state)))
        return in_state + ".thrust with its radial load and moment";
    if (field == "speed" || field == "thrust")
        return in_state + "." + field;
    if (field == "temperature")
        return lag.empty() ? in_state + ".shaft_temperature"
                           : in_state + ".shaft_temperature plus " + in_state + ".lags." + lag;
    return field.empty() ? part : part + "." + field;
}

// A class that its thread cannot have; one that is left out always fits.
void Job::add_thread_problems(std::vector<Problem>& problems) const {
    if (plan_->thread_class.empty())
        return;
    if (!has_thread_class()) {
        problems.push_back({"nut.thread_class", "is known for iso_metric and unified threads only; "
                                                "give external_major, external_pitch, "
                                                "internal_minor and internal_pitch"});
        return;
    }
    const Inputs<double> job{values_.data(), *layout_};
    if (!std::isfinite(job.nut().diameter) || !std::isfinite(job.nut().pitch))
        return;
    try {
        thread_slack(plan_->thread_class);
    } catch (const DomainError& error) {
        for (const Problem& p : error.problems())
            problems.push_back(p);
    }
}

void Job::add_pocket_problems(std::vector<Problem>& problems) const {
    if (!layout_->has_pocket_fit)
        return;
    const Inputs<double> job{values_.data(), *layout_};
    const Pocket<double>& pocket = job.pocket();
    for (const auto& [name, value] : {std::pair{"ring_outside", pocket.ring_outside},
                                      {"housing_outside", pocket.housing_outside}})
        if (!std::isfinite(value))
            problems.push_back({std::string("pocket.") + name,
                                "must be given where the outer ring's fit in the pocket counts"});
    if (pocket.pressure != 0.0)
        problems.push_back({"pocket.pressure",
                            "follows from ring_outside and seat_diameter: leave one of them out"});
}

// Fields, ends in order, and what the first state may be.
std::vector<Problem> Job::field_problems() const {
    std::vector<Problem> problems;
    const auto value = [&](std::size_t i) { return values_[i]; };
    for (std::size_t i = 0; i < inputs_->size(); ++i)
        if (std::string text = fields::range_problem(value(i), *(*inputs_)[i].field); !text.empty())
            problems.push_back({(*inputs_)[i].path, std::move(text)});
    for (std::size_t i = 0; i + 2 < inputs_->size(); ++i) {
        if ((*inputs_)[i + 1].field->kind != fields::Kind::low_end)
            continue;
        const auto end = [&](std::size_t of) {
            return std::isinf(value(of)) ? value(i) : value(of);
        };
        if (end(i + 1) > value(i) || value(i) > end(i + 2))
            problems.push_back({(*inputs_)[i].path, "must lie between its low and its high end"});
    }
    const Inputs<double> job{values_.data(), *layout_};
    for (int i = 0; i < layout_->rings; ++i)
        if (layout_->has_slices(i))
            add_slice_problems(job, i, "rings." + plan_->rings[static_cast<std::size_t>(i)].name,
                               problems);
    add_thread_problems(problems);
    add_pocket_problems(problems);
    if (layout_->has_shoulder && std::isfinite(job.rotor().shoulder_outside))
        problems.push_back({"shaft.shoulder_outside",
                            "is told by [shoulder] (land_outside): leave one of them out"});
    if (plan_->has_torque_window && !(job.nut().torque_window_low < job.nut().torque_window_high))
        problems.push_back({"nut.torque_window_high", "must be above torque_window_low"});
    for (int s = 0; s < layout_->states; ++s) {
        const std::string state = "states." + plan_->states[static_cast<std::size_t>(s)];
        if (s == 0 && job.state(s).speed != 0.0)
            problems.push_back({state + ".speed", "must be 0: the first state is as built"});
        if (s == 0 && job.state(s).thrust != 0.0)
            problems.push_back({state + ".thrust", "must be 0: the first state is as built"});
        else if (job.state(s).thrust != 0.0 && !layout_->has_bearing)
            problems.push_back({state + ".thrust", "needs a bearing to pass it to the stack"});
        for (int k = 0; s == 0 && k < layout_->torques; ++k)
            if (job.torque(0, k) != 0.0)
                problems.push_back({torque_path(plan_->states.front(),
                                                plan_->torque_rings[static_cast<std::size_t>(k)]),
                                    "must be 0: the first state is as built"});
        if (s > 0 || !layout_->has_combined)
            continue;
        const auto& names = fields::Declared<StateLoads>::declaration;
        for (const fields::Leaf& load : fields::leaves_of(names))
            if (values_[static_cast<std::size_t>(leaf(state + "." + load.path))] != 0.0)
                problems.push_back(
                    {state + "." + load.path, "must be 0: the first state is as built"});
    }
    return problems;
}

// The parts whose fields a fault at this place can come from.
std::vector<std::string> Job::parts_of(const Fault& fault) const {
    const int place = fault.place % Place::per_state;
    const auto state = static_cast<std::size_t>(fault.place / Place::per_state);
    if (place >= Place::attached)
        return {attached_part(*plan_, (place - Place::attached) / Place::per_attached)};
    std::vector<std::string> parts{"shaft"};
    if (state < plan_->states.size())
        parts.push_back("states." + plan_->states[state]);
    const auto add_ring = [&](int i) {
        const RingPlan& ring = plan_->rings[static_cast<std::size_t>(i)];
        parts.push_back("rings." + ring.name);
        parts.push_back("seats." + ring.seat);
    };
    if (fault.rule == rules::no_face_to_bear_on || fault.rule == rules::no_face_under_nut) {
        // With the part before it, towards the shoulder.
        const bool on_lock = place == Place::nut && layout_->has_lock;
        if (on_lock)
            parts.push_back("lock");
        else
            add_ring(place >= Place::ring ? std::max(place - Place::ring - 1, 0)
                                          : layout_->rings - 1);
    }
    if (place >= Place::slice) {
        add_ring(layout_->member_ring[place - Place::slice]);
    } else if (place >= Place::seal) {
        const auto i = static_cast<std::size_t>(place - Place::seal);
        parts.push_back("seals." + plan_->seals[i].name);
        add_ring(layout_->seal_ring[i]);
    } else if (place >= Place::ring) {
        add_ring(place - Place::ring);
    } else if (place == Place::bearing || place == Place::service || place == Place::pocket ||
               place == Place::outer_ring) {
        parts.push_back("bearing");
        if (layout_->has_pocket_fit)
            parts.push_back("pocket");
        if (layout_->has_service)
            parts.push_back("service");
        for (int i = layout_->inner_first; i <= layout_->inner_last; ++i)
            add_ring(i);
    } else {
        for (const std::string& seat : plan_->seats)
            parts.push_back("seats." + seat);
        parts.push_back(place == Place::nut        ? "nut"
                        : place == Place::shoulder ? "shoulder"
                                                   : "lock");
        if (place == Place::shoulder)
            add_ring(0);
    }
    return parts;
}

// What the formulas have against the geometry, but for parts that have a bad field anyway.
std::vector<Problem> Job::geometry_problems(const std::vector<Problem>& bad_fields) const {
    std::vector<Problem> problems;
    std::vector<Fault> faults;
    number::Faults<double> collecting;
    collecting.collected = &faults;
    std::vector<double> outputs(static_cast<std::size_t>(layout_->output_count));
    Quick::run<double>(values_.data(), outputs.data(), context(), collecting);
    bool unsolved = false;
    for (const Fault& f : faults) {
        const std::vector<std::string> parts = parts_of(f);
        const bool known =
            std::none_of(bad_fields.begin(), bad_fields.end(), [&](const Problem& b) {
                return std::any_of(parts.begin(), parts.end(), [&](const std::string& part) {
                    return b.path.compare(0, part.size() + 1, part + ".") == 0;
                });
            });
        const Problem p{path_of(f), with_range(*plan_, *layout_, f)};
        const bool told = std::any_of(problems.begin(), problems.end(), [&](const Problem& q) {
            return q.path == p.path && q.text == p.text;
        });
        if (f.rule == rules::no_convergence)
            unsolved = true; // follows from another problem, as a rule
        else if (known && !told)
            problems.push_back(p);
    }
    if (!problems.empty() || !bad_fields.empty())
        return problems;
    if (unsolved)
        return {{"", "the forces of the joint could not be solved"}};
    // A hotter oven than the part may see is refused: it is an instruction, not a finding.
    const Inputs<double> job{values_.data(), *layout_};
    for (int i = 0; i < layout_->rings; ++i) {
        const std::string ring = "rings." + plan_->rings[static_cast<std::size_t>(i)].name;
        const int margin = output(plan_->states.front(), ring + ".setting_margin");
        if (std::isfinite(job.ring(i).oven) && outputs[static_cast<std::size_t>(margin)] < 0.0)
            problems.push_back(
                {ring + ".oven",
                 fault_text({rules::oven_below_limit, 0, job.ring(i).oven}) + ", " +
                     show(job.ring(i).oven + outputs[static_cast<std::size_t>(margin)],
                          fields::Quantity::temperature) +
                     ": leave oven out, oven_needed tells what it takes; where the limit is too "
                     "low for that, chill the shaft (job.chill tells how far)"});
    }
    for (int i = 0; problems.empty() && i < layout_->output_count; ++i)
        if (!std::isfinite(outputs[static_cast<std::size_t>(i)])) {
            const OutputPath& o = (*outputs_)[static_cast<std::size_t>(i)];
            problems.push_back({o.path, "is not finite in state " + o.state});
        }
    return problems;
}

std::vector<Problem> Job::problems() const {
    std::vector<Problem> problems = field_problems();
    std::vector<Problem> geometry = geometry_problems(problems);
    problems.insert(problems.end(), geometry.begin(), geometry.end());
    return problems;
}

std::vector<double> Job::evaluate(const fields::Between& between) const {
    if (is_in_section() && level_ != Level::quick)
        sections(); // names what cannot be meshed
    return fields::with_pauses(between, [&](const fields::Stop& stop) {
        std::vector<double> outputs(static_cast<std::size_t>(output_count()));
        number::Faults<double> faults;
        try {
            formulas().scalar(values_.data(), outputs.data(), context(&stop), faults);
        } catch (const Fault& f) {
            throw DomainError({{path_of(f), with_range(*plan_, *layout_, f)}});
        }
        return outputs;
    });
}

double reserve_scale(const OutputPath& output, double limit) {
    return limit != 0.0 ? std::fabs(limit) : output.field->standard;
}

std::vector<Finding> findings_of(std::span<const OutputPath> paths, std::span<const Limit> limits,
                                 const std::vector<double>& outputs) {
    std::vector<Finding> all;
    for (const Limit& l : limits) {
        const auto i = static_cast<std::size_t>(l.output);
        const auto held = [&](double limit, bool is_least) {
            const double margin = is_least ? outputs[i] - limit : limit - outputs[i];
            const double scale = reserve_scale(paths[i], limit);
            return Finding{l.output, outputs[i], limit, is_least, margin, margin / scale, scale};
        };
        if (!std::isnan(l.at_least) && !std::isnan(l.at_most)) {
            const Finding least = held(l.at_least, true);
            const Finding most = held(l.at_most, false);
            all.push_back(least.reserve <= most.reserve ? least : most);
        } else {
            all.push_back(std::isnan(l.at_most) ? held(l.at_least, true) : held(l.at_most, false));
        }
    }
    return all;
}

} // namespace fitwright::job
