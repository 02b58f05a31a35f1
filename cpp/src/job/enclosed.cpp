#include "detail/enclosed.hpp"
#include "fields/pause.hpp"
#include "plan.hpp"
#include <algorithm>
#include <cmath>
#include <fitwright/job/enclosed.hpp>
#include <memory>
#include <numeric>

namespace fitwright::rings {

using number::Enclosure;
using number::Interval;

Enclosure temperature_for_growth(const materials::Material& m, const Enclosure& expansion_factor,
                                 const Enclosure& growth) {
    const Enclosure wanted = growth / expansion_factor;
    // In the double the root and the division err by some ulp of t - 20.
    const auto of = [&](const Interval& w) {
        const double a = temperature_for_growth(m, 1.0, w.low);
        const double b = temperature_for_growth(m, 1.0, w.high);
        const double slack = 64.0 * 0x1p-52 * std::max(std::max(std::abs(a), std::abs(b)), 100.0);
        return Interval{std::max(a - slack, m.lowest), std::min(b + slack, m.highest)};
    };
    const Interval t = of(wanted.value);
    // Slope of the growth on every piece that t can lie on: A + A' (t - 20).
    Interval slope(0.0);
    bool first = true;
    double piece = 0.0;
    const materials::Table& table = m.expansion;
    for (int k = -1; k < table.count; ++k) {
        if (k >= 0)
            piece += table.slope_change[k];
        const double from = k < 0 ? m.lowest : table.knot[k];
        const double to = k + 1 < table.count ? table.knot[k + 1] : m.highest;
        const Interval on{std::max(t.low, from), std::min(t.high, to)};
        if (on.low > on.high)
            continue;
        const Interval a{std::min(materials::at(table, on.low), materials::at(table, on.high)),
                         std::max(materials::at(table, on.low), materials::at(table, on.high))};
        const Interval here = number::outwards(a.low, a.high, 32.0) +
                              Interval(piece) * (on - Interval(materials::reference_temperature));
        slope = first ? here : number::hull(slope, here);
        first = false;
    }
    Interval inverse = number::inverse(slope);
    if (t.low <= m.lowest || t.high >= m.highest) // held at the ends of the data
        inverse = number::hull(inverse, 0.0);
    return chain(wanted, t, of(wanted.centre), inverse);
}

// With x one stress and y, z the others: square = (x - (y + z)/2)^2 + 3/4 (y - z)^2, and the slope by x
// is (x - (y + z)/2) over the root.
Enclosure von_mises(const Stresses<Enclosure>& s) {
    const Enclosure* const of[] = {&s.radial, &s.hoop, &s.axial};
    Enclosure deviators[3];
    Interval square_value(0.0, number::unbounded);
    Interval square_centre(0.0, number::unbounded);
    for (int i = 0; i < 3; ++i) {
        const Enclosure& y = *of[(i + 1) % 3];
        const Enclosure& z = *of[(i + 2) % 3];
        deviators[i] = *of[i] - (y + z) * 0.5;
        const Enclosure across = y - z;
        square_value = common(square_value, number::square(deviators[i].value) +
                                                number::square(across.value) * Interval(0.75));
        square_centre = common(square_centre, number::square(deviators[i].centre) +
                                                  number::square(across.centre) * Interval(0.75));
    }
    const Interval root = sqrt(square_value);
    const Interval unit = number::outwards(-1.0, 1.0, 4.0);
    Interval slope[3];
    for (int i = 0; i < 3; ++i)
        slope[i] = common(unit, deviators[i].value / root);
    return number::composed(of, slope, root, sqrt(square_centre));
}

} // namespace fitwright::rings

namespace fitwright::job {

namespace {

using number::Enclosure;
using number::Interval;

// Any value and any slope by what it hangs on.
Enclosure unknown(const Enclosure& hangs_on) {
    const Interval all{-number::unbounded, number::unbounded};
    return chain(hangs_on, all, all, all);
}

template <template <class> class Part>
Enclosure sum_of(const Part<Enclosure>& part) {
    Enclosure sum(0.0);
    const auto* leaf = reinterpret_cast<const Enclosure*>(&part);
    for (std::size_t i = 0; i < sizeof(Part<double>) / sizeof(double); ++i)
        if (std::abs(leaf[i].centre.low) < number::unbounded) // not one to be worked out
            sum += leaf[i];
    return sum;
}

} // namespace

void write_running(Enclosure* outputs, const Inputs<Enclosure>& job, int s,
                   Assembly<Enclosure>& assembly, number::Faults<Enclosure>& faults) {
    const Layout& at = job.at;
    const State<Enclosure>& state = job.state(s);
    faults.place = s * Place::per_state + Place::bearing;
    faults.kink(abs(state.thrust) <= Enclosure(0.0));
    const auto& mounted =
        *reinterpret_cast<const BearingOutputs<Enclosure>*>(outputs + at.bearing_out_at);
    Enclosure balls = mounted.clearance + assembly.contacts.stiffness + state.thrust + state.speed +
                      sum_of(job.bearing());
    for (int i = at.running_out_at; i < at.bearing_out_at + job.size<BearingOutputs>(); ++i)
        outputs[i] = unknown(balls);
    if (at.has_combined) {
        balls += sum_of(job.loads(s));
        for (int i = 0; i < job.size<bearings::EquilibriumOutputs>(); ++i)
            outputs[at.combined_out_at + i] = unknown(balls);
    }
    if (!at.has_service)
        return;
    const auto& nut =
        *reinterpret_cast<const stack::NutOutputs<Enclosure>*>(outputs + at.nut_out_at);
    const auto& shoulder =
        *reinterpret_cast<const stack::ShoulderOutputs<Enclosure>*>(outputs + at.shoulder_at);
    Enclosure all = balls + nut.force_low + shoulder.clamp_low + sum_of(job.service()) +
                    sum_of(job.state_service(s)) + state.shaft_temperature +
                    job.lag(s, at.lag_of_balls) + job.seat(at.ring_seat[at.inner_first]).diameter;
    for (int i = at.inner_first; i <= at.inner_last; ++i)
        all += reinterpret_cast<const RingOutputs<Enclosure>*>(outputs + at.rings_out_at)[i]
                   .torque_capacity;
    if (at.has_pocket)
        all += sum_of(job.pocket());
    for (int i = at.service_out_at; i < at.service_out_at + job.size<ServiceOutputs>(); ++i)
        outputs[i] = unknown(all);
    if (at.has_pocket)
        outputs[at.pocket_out_at] = unknown(all);
    assembly.duty.add(all, Enclosure(1.0), Enclosure(1.0)); // hangs on all of them
}

void write_attached(Enclosure* all, Enclosure* outputs, int number, const Inputs<Enclosure>& job,
                    int s, const Assembly<Enclosure>& assembly, number::Faults<Enclosure>& faults) {
    const Attached& attached = job.at.attached[number];
    std::vector<Enclosure> inputs(attached_inputs, Enclosure(0.0));
    attached_inputs_of(inputs.data(), attached, job, s, all, assembly, faults);
    Enclosure hangs_on(0.0);
    for (const Enclosure& x : inputs)
        if (std::abs(x.centre.low) < number::unbounded) // not one to be worked out
            hangs_on += x;
    for (int i = 0; i < attached.output_count; ++i)
        outputs[i] = unknown(hangs_on);
}

void write_duty(Enclosure* outputs, const Layout& at, const Assembly<Enclosure>& assembly) {
    for (int i = 0; i < size_of<DutyOutputs>(); ++i)
        outputs[at.duty_at + i] = unknown(assembly.duty.time());
}

namespace {

// Of two states: the force as tightened and, in each, that of the nut, the pressures of the rings and
// the bearing's clearance.
constexpr int hub_limit = 24;
constexpr int pieces = 8; // of the range of a hub

// Runs the formula with the sides that have a width as directions; hands on one output.
class Run {
public:
    Run(const Layout& layout, const std::vector<double>& values, const std::vector<BoxSide>& sides,
        int hubs, int hub = -1, const Interval& part = 0.0)
        : layout_(layout)
        , sides_(sides)
        , box_(count(sides), hubs)
        , open_(box_) {
        if (hub >= 0)
            box_.restrict_hub(hub, part);
        for (const double x : values)
            in_.emplace_back(x);
        int direction = 0;
        for (const BoxSide& s : sides) {
            Enclosure x(s.low);
            if (s.low < s.high) {
                const double centre = s.low + (s.high - s.low) * 0.5;
                box_.span(direction,
                          {number::below(s.low - centre), number::above(s.high - centre)});
                x = Enclosure::input(direction++, {s.low, s.high}, centre);
            }
            for (const int leaf : s.leaves)
                in_[static_cast<std::size_t>(leaf)] = x;
        }
        out_.resize(static_cast<std::size_t>(layout_.output_count));
        Quick::run<Enclosure>(in_.data(), out_.data(), {nullptr, nullptr, &layout_}, faults_);
    }
    Enclosed operator[](int output) const { return told(output, -1); }
    Enclosed told(int output, int held) const {
        const Enclosure& x = out_[static_cast<std::size_t>(output)];
        Enclosed found;
        found.value = x.value;
        found.kinked = kinked(output);
        const std::vector<Interval> totals = x.totals(held);
        std::size_t direction = 0;
        for (const BoxSide& s : sides_)
            found.slopes.push_back(s.low < s.high ? totals[direction++] : Interval(0.0));
        if (held >= 0) {
            found.hub = held;
            found.hub_range = box_.hub_range(held);
            found.hub_slope = totals.back();
        }
        return found;
    }
    // Hubs by what they do to an output over their range, the most first.
    struct Effect {
        double size;
        int hub;
        Interval range;
    };
    std::vector<Effect> effects(int output) const {
        std::vector<Effect> found;
        for (int k = 0; k < box_.hubs(); ++k) {
            const Interval& range = box_.hub_range(k);
            const Interval slope = out_[static_cast<std::size_t>(output)].slope(box_.inputs() + k);
            if (const double size = slope.size() * range.width(); size > 0.0)
                found.push_back({size, k, range});
        }
        std::sort(found.begin(), found.end(),
                  [](const Effect& x, const Effect& y) { return x.size > y.size; });
        return found;
    }

private:
    static int count(const std::vector<BoxSide>& sides) {
        return static_cast<int>(std::count_if(sides.begin(), sides.end(),
                                              [](const BoxSide& s) { return s.low < s.high; }));
    }
    // Formulas tell of the bearing in a state and of rings in a state.
    bool kinked(int output) const {
        const int state = output / layout_.outputs_per_state;
        const int inside = output % layout_.outputs_per_state;
        if (state >= layout_.states)
            return false;
        for (const int place : faults_.kinked_at) {
            const int part = place % Place::per_state;
            if (place / Place::per_state != state)
                continue;
            if (part == Place::bearing && layout_.has_bearing && inside >= layout_.bearing_out_at &&
                inside < layout_.seals_out_at)
                return true;
        }
        return false;
    }

    const Layout& layout_;
    const std::vector<BoxSide>& sides_;
    number::Box box_;
    number::Box::Open open_;
    number::Faults<Enclosure> faults_;
    std::vector<Enclosure> in_, out_;
};

} // namespace

std::vector<Enclosed> Encloser::all(const std::vector<double>& values,
                                    const std::vector<BoxSide>& box) const {
    const Run run(job_.layout(), values, box, 0);
    std::vector<Enclosed> found;
    for (int i = 0; i < job_.layout().output_count; ++i)
        found.push_back(run[i]);
    return found;
}

namespace {

// The same job with the first state and that of an output alone.
struct PartOfJob {
    Layout layout;
    std::vector<double> values;
    std::vector<BoxSide> sides;
    int output;
};
// A stop begins at the greatest speed of all states.
bool asks_all_states(const Layout& whole, int output) {
    const int in_state = output % whole.outputs_per_state;
    return whole.rotation > 0 && output < whole.states * whole.outputs_per_state &&
           in_state >= whole.drive_at && in_state < whole.drive_at + size_of<NutDrive>();
}

// The states besides the first that an output is worked out with; all of them: -1.
int state_asked(const Layout& whole, int output) {
    if (asks_all_states(whole, output))
        return -1;
    const int of_state = output / whole.outputs_per_state;
    return of_state < whole.states ? of_state : 0;
}

int in_part(const Layout& whole, int output) {
    const int state = state_asked(whole, output);
    if (state < 0)
        return output;
    const int left_out = whole.states - (state > 0 ? 2 : 1);
    const int before = state > 0 ? state - 1 : output < whole.outputs_per_state ? 0 : left_out;
    return output - before * whole.outputs_per_state;
}

PartOfJob part_of(const Layout& whole, const std::vector<double>& values,
                  const std::vector<BoxSide>& box, int output) {
    const int state = state_asked(whole, output);
    if (state < 0)
        return {whole, values, box, output};
    PartOfJob part{whole, {}, box, output};
    Layout& at = part.layout;
    at.states = state > 0 ? 2 : 1;
    const int left_out = whole.states - at.states;
    at.input_count -= left_out * whole.state_size;
    at.output_count -= left_out * whole.outputs_per_state;
    for (int* after_states : {&at.tightened_at, &at.torque_held_at, &at.meetings_at, &at.window_at,
                              &at.duty_at, &at.give_at, &at.assembled_at, &at.ovens_at})
        *after_states -= left_out * whole.outputs_per_state;
    for (int k = at.has_plate ? 1 : 0; k < at.attached_count; ++k)
        at.attached[k].outputs_at -= left_out * whole.outputs_per_state;
    const int first_end = whole.states_at + whole.state_size;
    const int from = whole.states_at + state * whole.state_size;
    const auto moved = [&](int leaf) { // -1: left out
        if (leaf < first_end)
            return leaf;
        if (leaf >= from && leaf < from + whole.state_size)
            return leaf - from + first_end;
        const int beyond = whole.states_at + whole.states * whole.state_size;
        return leaf < beyond ? -1 : leaf - left_out * whole.state_size;
    };
    at.workshop_at = moved(whole.workshop_at);
    at.steps_at = moved(whole.steps_at);
    part.values.resize(static_cast<std::size_t>(at.input_count));
    for (int i = 0; i < whole.input_count; ++i)
        if (const int to = moved(i); to >= 0)
            part.values[static_cast<std::size_t>(to)] = values[static_cast<std::size_t>(i)];
    for (BoxSide& s : part.sides) {
        std::vector<int> leaves;
        for (const int leaf : s.leaves)
            if (const int to = moved(leaf); to >= 0)
                leaves.push_back(to);
        s.leaves = leaves;
        if (leaves.empty())
            s.high = s.low; // it moves nothing here
    }
    part.output = in_part(whole, output);
    return part;
}

} // namespace

Enclosed Encloser::one(const std::vector<double>& values, const std::vector<BoxSide>& box,
                       int output, bool finely) const {
    const PartOfJob part = part_of(job_.layout(), values, box, output);
    Enclosed found;
    std::vector<Run::Effect> effects;
    {
        const Run run(part.layout, part.values, part.sides, hub_limit);
        found = run[part.output];
        effects = run.effects(part.output);
        if (!effects.empty()) {
            found.hub = effects.front().hub;
            found.hub_range = effects.front().range;
        }
    }
    effects.resize(finely ? std::min<std::size_t>(effects.size(), 3) : 0);
    for (const Run::Effect& e : effects) {
        Enclosed all;
        for (int k = 0; k < pieces; ++k) {
            const double step = e.range.width() / pieces;
            const Interval piece{k == 0 ? e.range.low : e.range.low + k * step,
                                 k + 1 == pieces ? e.range.high : e.range.low + (k + 1) * step};
            const Enclosed there =
                Run(part.layout, part.values, part.sides, hub_limit, e.hub, piece)[part.output];
            if (k == 0) {
                all = there;
                continue;
            }
            all.value = number::hull(all.value, there.value);
            for (std::size_t i = 0; i < box.size(); ++i)
                all.slopes[i] = number::hull(all.slopes[i], there.slopes[i]);
        }
        found.value = number::common(found.value, all.value);
        for (std::size_t i = 0; i < box.size(); ++i)
            found.slopes[i] = number::common(found.slopes[i], all.slopes[i]);
    }
    return found;
}

// Over a box of some ulp a derivative is one number, but at a kink: there the bounds are the
// derivatives of both sides. State by state, each with the first: no more hangs together.
std::vector<char> Job::one_sided(const std::vector<int>& outputs, const std::vector<int>& leaves,
                                 const fields::Between& between) const {
    evaluate(between); // the full message, should a rule be broken
    std::vector<BoxSide> sides;
    for (const int leaf : leaves) {
        const auto i = static_cast<std::size_t>(leaf);
        const double x = values_[i];
        const fields::Range& range = (*inputs_)[i].field->range;
        const double some = std::isfinite(x) ? std::max(std::fabs(x) * 0x1p-49, 1e-290) : 0.0;
        const bool inside = x - some > range.low && x + some < range.high;
        BoxSide s{{leaf}, x, x};
        if (inside && some > 0.0)
            s = {{leaf}, x - some, x + some};
        sides.push_back(s);
    }
    const auto is_moved = [&](const Enclosed& e, double output_scale, std::size_t i) {
        const number::Interval& slope = e.slopes[i];
        const auto leaf = static_cast<std::size_t>(leaves[i]);
        const fields::Field& field = *(*inputs_)[leaf].field;
        double input_scale = std::fabs(values_[leaf]);
        if (!(input_scale > 0.0) || !std::isfinite(input_scale))
            input_scale = std::isfinite(field.standard) ? std::fabs(field.standard) : 0.0;
        if (!(input_scale > 0.0))
            input_scale = std::min(std::max(field.range.high, -field.range.low) * 1e-3, 1.0);
        const double width = slope.width();
        const bool moves = slope.low != 0.0 || slope.high != 0.0;
        if (!e.bounded()) // nothing is known but where the formula itself tells of a kink
            return moves && e.kinked;
        return width > 1e-6 * slope.size() && width * input_scale > 1e-8 * output_scale && moves;
    };
    // Above the quick level there is one flag for all that the level adds.
    const bool above = std::any_of(outputs.begin(), outputs.end(),
                                   [&](int o) { return o >= layout_->output_count; });
    const char any = above && slopes({}, leaves, between).one_sided ? 1 : 0;
    std::vector<char> flags(outputs.size() * leaves.size(), any);
    std::vector<std::size_t> order(outputs.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
        return state_asked(*layout_, outputs[a]) < state_asked(*layout_, outputs[b]);
    });
    std::unique_ptr<const PartOfJob> part;
    std::unique_ptr<const Run> run;
    int state = -2;
    fields::Pace pace(between);
    for (const std::size_t o : order) {
        const int output = outputs[o];
        if (output >= layout_->output_count)
            continue;
        if (state_asked(*layout_, output) != state) {
            pace();
            run.reset();
            part = std::make_unique<PartOfJob>(part_of(*layout_, values_, sides, output));
            run = std::make_unique<Run>(part->layout, part->values, part->sides, 0);
            state = state_asked(*layout_, output);
        }
        const Enclosed e = (*run)[in_part(*layout_, output)];
        const double scale =
            std::max(e.value.size(), (*outputs_)[static_cast<std::size_t>(output)].field->standard);
        for (std::size_t i = 0; i < sides.size(); ++i)
            flags[o * leaves.size() + i] = is_moved(e, scale, i) ? 1 : 0;
    }
    return flags;
}

std::vector<char> Job::one_sided(const fields::Between& between) const {
    std::vector<int> outputs(static_cast<std::size_t>(output_count()));
    std::vector<int> leaves(inputs_->size());
    std::iota(outputs.begin(), outputs.end(), 0);
    std::iota(leaves.begin(), leaves.end(), 0);
    return one_sided(outputs, leaves, between);
}

Enclosed Encloser::within(const std::vector<double>& values, const std::vector<BoxSide>& box,
                          int output, int hub, const number::Interval& range) const {
    const PartOfJob part = part_of(job_.layout(), values, box, output);
    return Run(part.layout, part.values, part.sides, hub_limit, hub, range).told(part.output, hub);
}

} // namespace fitwright::job
