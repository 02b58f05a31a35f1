// The path of a history: from step to step, along the line of each, and what is told of it.
#pragma once

#include "history_finish.hpp"
#include "history_steps.hpp"

namespace fitwright::rules {
extern const number::Rule history_incomplete, history_no_equilibrium, history_nut_in_the_way,
    history_part_off, history_press_in_the_way, history_repeat_range, history_ring_needed;
} // namespace fitwright::rules

namespace fitwright::stack {

template <class T, class Body>
bool Steps<T, Body>::run(const History<T>& history, HistoryResult<T>& result) {
    history_ = &history;
    result_ = &result;
    whole_ = history.whole_open_parts;
    astray_ = false;
    if (walk(history, result))
        return true;
    if (!astray_)
        return false;
    whole_ = false;
    return walk(history, result);
}

// A seat that is loose in every state touches in none, but for what forces do to it: then the history
// is taken again.
template <class T, class Body>
bool Steps<T, Body>::stays_apart(int part) const {
    const History<T>& h = *history_;
    if (part == h.thrust_inner || part == h.thrust_outer)
        return false; // its middle is a point
    for (const HistoryState<T>& s : h.states)
        if (s.strips[static_cast<std::size_t>(part)].interference > T(0.0))
            return false;
    return true;
}

template <class T, class Body>
bool Steps<T, Body>::walk(const History<T>& history, HistoryResult<T>& result) {
    result.rule = number::no_rule;
    result.step = result.part = -1;
    result.cycle_nut_force.clear();
    result.cycle_shoulder_force.clear();
    step_ = 0;
    bool whole = !history.parts.empty() && !history.states.empty() && history.elements > 0 &&
                 history.refinement > 0;
    for (const HistoryState<T>& state : history.states)
        whole = whole && state.strips.size() == history.parts.size();
    if (!whole) {
        result.steps.clear();
        return demand(false, rules::history_incomplete, 0);
    }
    begin();
    const bodies::Points<T>& at = body_.points();
    result.seat_begin.clear();
    for (const bodies::Ends& e : at.ends)
        result.seat_begin.push_back(e.seat_begin);
    result.seat_begin.push_back(static_cast<int>(at.seats.size()));
    result.steps.resize(history.steps.size());
    for (step_ = 0; step_ < static_cast<int>(history.steps.size()); ++step_) {
        out_ = &result.steps[static_cast<std::size_t>(step_)];
        out_->dissipated = out_->pull_force = T(0.0);
        out_->imbalance = 0.0;
        out_->substeps = out_->iterations = 0;
        const T shoulder = was_.face_force[0];
        const T nut = was_.face_force.back();
        const T seats = seat_force_sum();
        if (!take(history.steps[static_cast<std::size_t>(step_)])) {
            result.steps.resize(static_cast<std::size_t>(step_));
            return false;
        }
        report();
        out_->to_shoulder = was_.face_force[0] - shoulder;
        out_->to_nut = nut - was_.face_force.back();
        out_->to_seats = seats - seat_force_sum();
    }
    return true;
}

template <class T, class Body>
void Steps<T, Body>::begin() {
    const History<T>& h = *history_;
    body_.begin();
    for (std::size_t i = 0; i < h.parts.size(); ++i)
        body_.add(h.parts[i].length, h.parts[i].contact_length, h.states[0].strips[i].diameter,
                  h.elements, whole_ && stays_apart(static_cast<int>(i)));
    const bodies::Points<T>& at = body_.points();
    was_.on.assign(h.parts.size(), 0);
    was_.movement.assign(static_cast<std::size_t>(at.count), T(0.0));
    for (std::vector<T>* of : {&was_.slip, &was_.friction, &was_.normal})
        of->assign(at.seats.size(), T(0.0));
    was_.grip.assign(at.seats.size(), Grip::apart);
    was_.face_force.assign(h.parts.size() + 1, T(0.0));
    was_.face_gap.assign(h.parts.size() + 1, T(0.0));
    was_.travel = T(0.0);
    held_ = Held{};
    hot_ = false;
    now_.body = h.states[0].strips;
    now_.nut_compliance = h.states[0].nut_compliance;
    now_.nut_free = h.states[0].nut_free;
    now_.thrust = now_.settled = now_.press = now_.nut_force = now_.anchor = T(0.0);
    solver_.begin(h, body_);
}

template <class T, class Body>
bool Steps<T, Body>::pull(int down_to) {
    const int last = down_to < 0 ? parts_on() - 1 : down_to;
    if (!demand(parts_on() > 0, rules::history_ring_needed, 0) ||
        !demand(parts_on() > last, rules::history_part_off, last) ||
        !demand(!held_.nut, rules::history_nut_in_the_way, nut()) ||
        !demand(!held_.pressed, rules::history_press_in_the_way, parts_on() - 1))
        return false;
    while (parts_on() > last)
        if (!pull_last())
            return false;
    return true;
}

template <class T, class Body>
bool Steps<T, Body>::pull_last() {
    const auto part = static_cast<std::size_t>(parts_on() - 1);
    const bodies::Points<T>& at = body_.points();
    const bodies::Ends& e = at.ends[part];
    const auto end = static_cast<std::size_t>(e.last);
    T capacity(0.0);
    for (int j = e.seat_begin; j < e.seat_end; ++j)
        capacity += was_.normal[static_cast<std::size_t>(j)] * history_->parts[part].friction;
    held_.pulled = true;
    held_.reaction = Reaction::outside;
    now_.anchor = was_.movement[end];
    const T stretch = capacity * 2.0 / solver_.hook() + history_->parts[part].preslip * capacity *
                                                            2.0 / larger(seat_area(e), T(1e-12));
    T before(0.0);
    for (int k = 0; k < pull_limit; ++k) {
        target_ = now_;
        target_.anchor = now_.anchor + stretch * (1.0 / pull_substeps);
        if (!go(target_, 1))
            return false;
        const T force = (now_.anchor - was_.movement[end]) * solver_.hook();
        if (force > out_->pull_force)
            out_->pull_force = force;
        if (all_slides(e) && !(force > before * (1.0 + 1e-6)))
            break;
        before = force;
    }
    held_.pulled = false;
    was_.on[part] = 0;
    for (int j = e.seat_begin; j < e.seat_end; ++j) {
        const auto q = static_cast<std::size_t>(j);
        was_.friction[q] = was_.normal[q] = T(0.0);
        was_.grip[q] = Grip::apart;
    }
    was_.face_force[part] = was_.face_gap[part] = T(0.0);
    return go(now_, 1);
}

template <class T, class Body>
bool Steps<T, Body>::repeat(const HistoryStep<T>& s) {
    if (!demand(s.first >= 0 && s.first <= s.last && s.last < step_ && s.times >= 1,
                rules::history_repeat_range, 0, T(static_cast<double>(s.last))))
        return false;
    for (int k = 0; k < s.times; ++k) {
        for (int i = s.first; i <= s.last; ++i) {
            const HistoryStep<T>& again = history_->steps[static_cast<std::size_t>(i)];
            if (!demand(again.kind != StepKind::repeat, rules::history_repeat_range, 0,
                        T(static_cast<double>(i))) ||
                !take(again))
                return false;
        }
        result_->cycle_nut_force.push_back(was_.face_force.back());
        result_->cycle_shoulder_force.push_back(was_.face_force[0]);
    }
    return true;
}

template <class T, class Body>
bool Steps<T, Body>::go(const Acting<T, Load>& target, int n, bool early) {
    start_ = now_;
    const double whole = 1.0 / (n * (n > 1 ? history_->refinement : 1));
    const double least = whole / 1024.0;
    double done = 0.0;
    double part = whole;
    double last = 0.0; // the sub-step before, in the measure of what acts
    double reached = 0.0;
    while (done < 1.0) {
        const double share = done + part > 1.0 - 1e-9 ? 1.0 : done + part;
        const double acts = early ? share * sqrt(share) : share;
        const double as_before = last > 0.0 ? (acts - reached) / last : 0.0;
        blend(next_, start_, target, acts);
        const int before = solver_.iterations;
        const bool good = solver_.advance(body_, next_, held_, was_, out_->dissipated, as_before);
        out_->iterations += solver_.iterations - before;
        if (good) {
            if (whole_ && body_.astray()) {
                astray_ = true;
                return false;
            }
            ++out_->substeps;
            out_->imbalance = solver_.imbalance;
            done = share;
            last = acts - reached;
            reached = acts;
            now_ = next_;
            part = smaller(whole, part * 2.0);
            continue;
        }
        part *= 0.5;
        if (part < least)
            return stuck();
    }
    return true;
}

template <class T, class Body>
bool Steps<T, Body>::stuck() {
    const bodies::Points<T>& at = body_.points();
    int part = 0;
    for (std::size_t i = 0; i < at.ends.size(); ++i)
        if (solver_.culprit >= at.ends[i].shaft_first)
            part = static_cast<int>(i);
    const bodies::Ends& e = at.ends[static_cast<std::size_t>(part)];
    double z = 0.0;
    for (int i = 0; i < part; ++i)
        z += body_.length(i);
    const int span = e.last - e.first;
    result_->place =
        z + body_.length(part) *
                smaller(1.0, larger(0.0, static_cast<double>(solver_.culprit - e.first)) / span);
    return demand(false, rules::history_no_equilibrium, part, T(result_->place));
}

template <class T, class Body>
T Steps<T, Body>::seat_force_sum() const {
    T sum(0.0);
    for (const T& t : was_.friction)
        sum += t;
    return sum;
}

template <class T, class Body>
void Steps<T, Body>::report() {
    const bodies::Points<T>& at = body_.points();
    StepResult<T>& out = *out_;
    out.faces.resize(was_.face_force.size());
    for (std::size_t f = 0; f < was_.face_force.size(); ++f)
        out.faces[f] = {was_.face_force[f], was_.face_gap[f]};
    out.nut_force = was_.face_force.back();
    out.nut_travel = held_.nut ? was_.travel - travel_start_ : T(0.0);
    out.seats.resize(at.seats.size());
    out.seat_force.assign(at.ends.size(), T(0.0));
    for (std::size_t j = 0; j < at.seats.size(); ++j) {
        const bodies::SeatAt<T>& seat = at.seats[j];
        const T area = 1.0 / seat.area;
        out.seats[j] = {seat.place, positive(was_.normal[j]) * area, was_.friction[j] * area,
                        was_.slip[j], was_.grip[j]};
        out.seat_force[static_cast<std::size_t>(seat.part)] += was_.friction[j];
    }
}

} // namespace fitwright::stack
