// The steps. Each acts on what is there; none knows which step came before it.
#pragma once

#include "history_model.hpp"

namespace fitwright::rules {
extern const number::Rule history_lock_loose, history_nut_in_the_way, history_nut_needed,
    history_press_direction, history_press_in_the_way, history_press_needed, history_press_yields,
    history_ring_missing, history_ring_needed, history_ring_order, history_state_unknown,
    history_thread_carries, history_thrust_acts, history_thrust_nowhere;
} // namespace fitwright::rules

namespace fitwright::stack {

// What the steps ask of a stack (bars: bar_stack.hpp; sections: section_stack.hpp):
//   using Load:                  what heat, speed and the like do to it; a vector space (blend)
//   bool complete(history)       whether all is told of it
//   void begin(history, was, whole)   nothing is on; `was` gets its sizes; whole: parts that touch nowhere
//                                may be one piece; bool astray() answers whether one did
//   Load load(state)
//   bool put_on(part, acting, target, was)   hot, where it first touches; answers whether it was heated;
//                                a part that goes on hot stays so in `target`
//   void take_off(part, was)
//   T free_end(part, was)        movement of its end towards the nut
//   T nut_room(was)              how far the shaft's thread is beyond that end of the last part
//   bool advance(acting, held, was, dissipated, as_before)   equilibrium at the end of a sub-step
//   cool_substeps, cools_early   sub-steps of the first cooling; shorter at its beginning?
//   double hook()                stiffness of a puller's hook
//   int seat_begin(part)         its first seat; T seat_place(j), seat_area(j)
//   std::pair<int, double> culprit()   the part and z that found no equilibrium
//   int iterations(); double imbalance()
//   void report(step, acting, held, was)   what is told beside the usual
template <class T, class Stack>
class Steps {
public:
    bool run(const History<T>& history, HistoryResult<T>& result);
    Stack& stack() { return stack_; }

private:
    using Load = typename Stack::Load;

    bool walk(const History<T>& history, HistoryResult<T>& result);
    void begin();

    bool take(const HistoryStep<T>& s) {
        switch (s.kind) {
        case StepKind::slip_on:
            return slip_on(s.first, s.last);
        case StepKind::press:
            return press(s.force, s.reaction);
        case StepKind::release:
            return release();
        case StepKind::nut_on:
            return nut_on();
        case StepKind::tighten:
            return tighten(s.force);
        case StepKind::lock:
            return demand(held_.nut, rules::history_nut_needed, nut()) &&
                   demand(was_.face_force.back() > T(0.0), rules::history_lock_loose, nut());
        case StepKind::state:
            return go_to(s.state);
        case StepKind::loosen:
            return loosen();
        case StepKind::pull:
            return pull(s.down_to);
        case StepKind::repeat:
            return repeat(s);
        }
        return false;
    }

    int nut() const { return static_cast<int>(history_->parts.size()); }
    int parts_on() const {
        int n = 0;
        for (const char on : was_.on)
            n += on;
        return n;
    }
    bool demand(bool right, number::Rule rule, int part, const T& value = T(0.0)) {
        if (right)
            return true;
        result_->rule = rule;
        result_->step = step_;
        result_->part = part;
        result_->value = value_of(value);
        return false;
    }

    // A hot part goes on; what counts begins when it first touches, so that is where it starts.
    bool slip_on(int first, int last) {
        const History<T>& h = *history_;
        if (!demand(!held_.nut, rules::history_nut_in_the_way, nut()) ||
            !demand(!held_.pressed, rules::history_press_in_the_way, parts_on() - 1) ||
            !demand(first == parts_on() && first <= last && last < static_cast<int>(h.parts.size()),
                    rules::history_ring_order, first))
            return false;
        target_ = now_; // with what goes on cold
        bool grips_at_once = false;
        for (int i = first; i <= last; ++i) {
            const bool hot = h.parts[static_cast<std::size_t>(i)].hot;
            (hot ? hot_ : grips_at_once) |= stack_.put_on(i, now_, target_, was_);
        }
        return go(now_, 1) && (!grips_at_once || go(target_, Stack::cool_substeps, true));
    }

    bool press(const T& force, Reaction reaction) {
        if (!demand(parts_on() > 0, rules::history_ring_needed, 0) ||
            !demand(!held_.nut, rules::history_nut_in_the_way, nut()) ||
            !demand(!held_.pressed || held_.reaction == reaction, rules::history_press_in_the_way,
                    parts_on() - 1) ||
            !demand(force >= T(0.0), rules::history_press_direction, parts_on() - 1, force))
            return false;
        for (int i = 0; i < parts_on(); ++i) {
            const T& yield = history_->parts[static_cast<std::size_t>(i)].yield_force;
            if (!demand(!(yield > T(0.0)) || force <= yield, rules::history_press_yields, i, force))
                return false;
        }
        held_.pressed = true;
        held_.reaction = reaction;
        target_ = now_;
        target_.press = force;
        return go(target_, push_substeps);
    }
    bool release() {
        if (!demand(held_.pressed, rules::history_press_needed, parts_on() - 1))
            return false;
        target_ = now_;
        target_.press = T(0.0);
        if (!go(target_, push_substeps))
            return false;
        held_.pressed = false;
        return true;
    }

    // Up to the last part, without force.
    bool nut_on() {
        const History<T>& h = *history_;
        if (!demand(parts_on() == static_cast<int>(h.parts.size()), rules::history_ring_missing,
                    parts_on()) ||
            !demand(!held_.nut, rules::history_nut_in_the_way, nut()))
            return false;
        was_.travel = stack_.nut_room(was_) + h.nut.settling * now_.settled - now_.nut_free;
        travel_start_ = was_.travel;
        held_.nut = true;
        return go(now_, 1);
    }
    bool turn_to(const T& force) {
        now_.nut_force = was_.face_force.back();
        target_ = now_;
        target_.nut_force = force;
        held_.turning = true;
        const bool done = go(target_, turn_substeps);
        held_.turning = false;
        return done;
    }
    bool tighten(const T& force) {
        const T& most = history_->nut.thread_force;
        if (!demand(held_.nut, rules::history_nut_needed, nut()) ||
            !demand(!(most > T(0.0)) || force <= most, rules::history_thread_carries, nut(), force))
            return false;
        // A nut that is tighter already does not move.
        return !(force > was_.face_force.back()) || turn_to(force);
    }
    bool loosen() {
        if (!demand(held_.nut, rules::history_nut_needed, nut()) ||
            !demand(now_.thrust == T(0.0), rules::history_thrust_acts, nut(), now_.thrust) ||
            !turn_to(T(0.0)))
            return false;
        held_.nut = false;
        was_.face_force.back() = was_.face_gap.back() = T(0.0);
        return true;
    }

    bool go_to(int state) {
        const History<T>& h = *history_;
        if (!demand(state >= 0 && state < static_cast<int>(h.states.size()),
                    rules::history_state_unknown, 0, T(static_cast<double>(state))))
            return false;
        const HistoryState<T>& s = h.states[static_cast<std::size_t>(state)];
        const T& most = h.nut.thread_force;
        if (!(s.thrust == T(0.0)) && (!demand(h.thrust_inner >= 0 && h.thrust_outer >= 0,
                                              rules::history_thrust_nowhere, 0, s.thrust) ||
                                      !demand(held_.nut, rules::history_nut_needed, nut()) ||
                                      !demand(!(most > T(0.0)) || -s.thrust <= most,
                                              rules::history_thread_carries, nut(), -s.thrust)))
            return false;
        target_ = now_;
        target_.body = stack_.load(state);
        target_.nut_compliance = s.nut_compliance;
        target_.nut_free = s.nut_free;
        target_.thrust = s.thrust;
        target_.settled = larger(now_.settled, s.settled);
        const bool cools = hot_;
        hot_ = false;
        return go(target_, cools ? Stack::cool_substeps : state_substeps,
                  cools && Stack::cools_early);
    }

    // The last part is drawn towards the nut end until all of its seat slides.
    bool pull(int down_to);
    bool pull_last();
    bool all_slides(int part) const {
        for (int j = stack_.seat_begin(part); j < stack_.seat_begin(part + 1); ++j)
            if (was_.grip[static_cast<std::size_t>(j)] == Grip::holds)
                return false;
        return true;
    }
    T seat_area(int part) const {
        T sum(0.0);
        for (int j = stack_.seat_begin(part); j < stack_.seat_begin(part + 1); ++j)
            sum += stack_.seat_area(j);
        return sum;
    }

    bool repeat(const HistoryStep<T>& s);

    // Along a line from where things are to `target`, in n sub-steps; halved where one fails. The
    // point that sticks moves fastest just after the first grip: `early` makes those shorter.
    bool go(const Acting<T, Load>& target, int n, bool early = false);
    bool stuck();

    T seat_force_sum() const;

    void report();

    // Sub-steps at refinement 1, chosen by the convergence test (docs/theory-history.md).
    static constexpr int push_substeps = 4;
    static constexpr int turn_substeps = 6;
    static constexpr int state_substeps = 6;
    static constexpr int pull_substeps = 8;
    static constexpr int pull_limit = 200;

    const History<T>* history_ = nullptr;
    HistoryResult<T>* result_ = nullptr;
    StepResult<T>* out_ = nullptr;
    Stack stack_;
    Happened<T> was_;
    Held held_;
    Acting<T, Load> now_, start_, next_, target_;
    T travel_start_{0.0};
    int step_ = 0;
    bool hot_ = false;
    bool whole_ = false, astray_ = false; // open parts are one bar; one of them touched
};

} // namespace fitwright::stack
