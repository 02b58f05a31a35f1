// The path of a history: from step to step, along the line of each, and what is told of it.
#pragma once

#include "history_steps.hpp"

namespace fitwright::rules {
extern const number::Rule history_incomplete, history_no_equilibrium, history_nut_in_the_way,
    history_part_off, history_press_in_the_way, history_repeat_range, history_ring_needed;
} // namespace fitwright::rules

namespace fitwright::stack {

template <class T, class Stack>
bool Steps<T, Stack>::run(const History<T>& history, HistoryResult<T>& result) {
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

template <class T, class Stack>
bool Steps<T, Stack>::walk(const History<T>& history, HistoryResult<T>& result) {
    result.rule = number::no_rule;
    result.step = result.part = -1;
    result.cycle_nut_force.clear();
    result.cycle_shoulder_force.clear();
    step_ = 0;
    const bool whole = !history.parts.empty() && !history.states.empty() && history.elements > 0 &&
                       history.refinement > 0;
    if (!whole || !stack_.complete(history)) {
        result.steps.clear();
        return demand(false, rules::history_incomplete, 0);
    }
    begin();
    result.seat_begin.clear();
    for (int i = 0; i <= nut(); ++i)
        result.seat_begin.push_back(stack_.seat_begin(i));
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
        stack_.report(step_, now_, held_, was_);
        out_->to_shoulder = was_.face_force[0] - shoulder;
        out_->to_nut = nut - was_.face_force.back();
        out_->to_seats = seats - seat_force_sum();
    }
    return true;
}

template <class T, class Stack>
void Steps<T, Stack>::begin() {
    const History<T>& h = *history_;
    stack_.begin(h, was_, whole_);
    was_.travel = T(0.0);
    held_ = Held{};
    hot_ = false;
    now_.body = stack_.load(0);
    now_.nut_compliance = h.states[0].nut_compliance;
    now_.nut_free = h.states[0].nut_free;
    now_.thrust = now_.settled = now_.press = now_.nut_force = now_.anchor = T(0.0);
}

template <class T, class Stack>
bool Steps<T, Stack>::pull(int down_to) {
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

template <class T, class Stack>
bool Steps<T, Stack>::pull_last() {
    const int part = parts_on() - 1;
    const auto p = static_cast<std::size_t>(part);
    T capacity(0.0);
    for (int j = stack_.seat_begin(part); j < stack_.seat_begin(part + 1); ++j)
        capacity += was_.normal[static_cast<std::size_t>(j)] * history_->parts[p].friction;
    held_.pulled = true;
    held_.reaction = Reaction::outside;
    now_.anchor = stack_.free_end(part, was_);
    const T stretch = capacity * 2.0 / stack_.hook() + history_->parts[p].preslip * capacity * 2.0 /
                                                           larger(seat_area(part), T(1e-12));
    T before(0.0);
    for (int k = 0; k < pull_limit; ++k) {
        target_ = now_;
        target_.anchor = now_.anchor + stretch * (1.0 / pull_substeps);
        if (!go(target_, 1))
            return false;
        const T force = (now_.anchor - stack_.free_end(part, was_)) * stack_.hook();
        if (force > out_->pull_force)
            out_->pull_force = force;
        if (all_slides(part) && !(force > before * (1.0 + 1e-6)))
            break;
        before = force;
    }
    held_.pulled = false;
    was_.on[p] = 0;
    for (int j = stack_.seat_begin(part); j < stack_.seat_begin(part + 1); ++j) {
        const auto q = static_cast<std::size_t>(j);
        was_.friction[q] = was_.normal[q] = T(0.0);
        was_.grip[q] = Grip::apart;
    }
    was_.face_force[p] = was_.face_gap[p] = T(0.0);
    stack_.take_off(part, was_);
    return go(now_, 1);
}

template <class T, class Stack>
bool Steps<T, Stack>::repeat(const HistoryStep<T>& s) {
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

template <class T, class Stack>
bool Steps<T, Stack>::go(const Acting<T, Load>& target, int n, bool early) {
    start_ = now_;
    const double whole = 1.0 / (n * (n > 1 ? history_->refinement : 1));
    const double least = whole / 1024.0;
    double done = 0.0;
    double part = whole;
    double last = 0.0; // the sub-step before, in the measure of what acts
    double reached = 0.0;
    while (done < 1.0) {
        if (fields::asked_to_stop(history_->stop))
            return demand(false, rules::history_no_equilibrium, 0);
        const double share = done + part > 1.0 - 1e-9 ? 1.0 : done + part;
        const double acts = early ? share * sqrt(share) : share;
        const double as_before = last > 0.0 ? (acts - reached) / last : 0.0;
        blend(next_, start_, target, acts);
        const int before = stack_.iterations();
        const bool good = stack_.advance(next_, held_, was_, out_->dissipated, as_before);
        out_->iterations += stack_.iterations() - before;
        if (good) {
            if (whole_ && stack_.astray()) {
                astray_ = true;
                return false;
            }
            ++out_->substeps;
            out_->imbalance = stack_.imbalance();
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

template <class T, class Stack>
bool Steps<T, Stack>::stuck() {
    const auto [part, place] = stack_.culprit();
    result_->place = place;
    return demand(false, rules::history_no_equilibrium, part, T(result_->place));
}

template <class T, class Stack>
T Steps<T, Stack>::seat_force_sum() const {
    T sum(0.0);
    for (const T& t : was_.friction)
        sum += t;
    return sum;
}

template <class T, class Stack>
void Steps<T, Stack>::report() {
    StepResult<T>& out = *out_;
    out.faces.resize(was_.face_force.size());
    for (std::size_t f = 0; f < was_.face_force.size(); ++f)
        out.faces[f] = {was_.face_force[f], was_.face_gap[f]};
    out.nut_force = was_.face_force.back();
    out.nut_travel = held_.nut ? was_.travel - travel_start_ : T(0.0);
    out.seats.resize(was_.slip.size());
    out.seat_force.assign(static_cast<std::size_t>(nut()), T(0.0));
    for (int i = 0; i < nut(); ++i)
        for (int j = stack_.seat_begin(i); j < stack_.seat_begin(i + 1); ++j) {
            const auto q = static_cast<std::size_t>(j);
            const T area = 1.0 / stack_.seat_area(j);
            out.seats[q] = {stack_.seat_place(j), positive(was_.normal[q]) * area,
                            was_.friction[q] * area, was_.slip[q], was_.grip[q]};
            out.seat_force[static_cast<std::size_t>(i)] += was_.friction[q];
        }
}

} // namespace fitwright::stack
