// A stack of bodies seen through points with one movement each (bodies/detail/points.hpp: bars along z,
// or full matrices), as the steps of a history ask for it.
#pragma once

#include "bodies/detail/bars.hpp"
#include "history_finish.hpp"
#include <utility>

namespace fitwright::stack {

template <class T, class Body>
class BarStack {
public:
    using Load = typename Body::Load;
    static constexpr int cool_substeps = 24;
    // The point that sticks moves fastest just after the first grip.
    static constexpr bool cools_early = true;

    bool complete(const History<T>& history) const {
        for (const HistoryState<T>& state : history.states)
            if (state.strips.size() != history.parts.size())
                return false;
        return true;
    }

    void begin(const History<T>& h, Happened<T>& was, bool whole) {
        history_ = &h;
        body_.begin();
        for (std::size_t i = 0; i < h.parts.size(); ++i)
            body_.add(h.parts[i].length, h.parts[i].contact_length, h.states[0].strips[i].diameter,
                      h.elements, whole && stays_apart(static_cast<int>(i)));
        const bodies::Points<T>& at = body_.points();
        was.on.assign(h.parts.size(), 0);
        was.movement.assign(static_cast<std::size_t>(at.count), T(0.0));
        for (std::vector<T>* of : {&was.slip, &was.friction, &was.normal})
            of->assign(at.seats.size(), T(0.0));
        was.grip.assign(at.seats.size(), Grip::apart);
        was.face_force.assign(h.parts.size() + 1, T(0.0));
        was.face_gap.assign(h.parts.size() + 1, T(0.0));
        solver_.begin(h, body_);
    }
    const Load& load(int state) const {
        return history_->states[static_cast<std::size_t>(state)].strips;
    }

    bool astray() const { return body_.astray(); }
    bool put_on(int i, Acting<T, Load>& now, Acting<T, Load>& target, Happened<T>& was) {
        const History<T>& h = *history_;
        const bodies::Points<T>& at = body_.points();
        const auto p = static_cast<std::size_t>(i);
        bool heated = false;
        if (h.parts[p].contact_length > T(0.0)) {
            bodies::Strip<T>& s = now.body[p];
            const T opened = positive(s.interference) / s.diameter;
            s.ring_free += opened;
            s.interference -= opened * s.diameter;
            heated = opened > T(0.0);
            if (h.parts[p].hot)
                target.body[p] = s;
        }
        const int against = i == 0 ? at.fixed : at.ends[p - 1].last;
        body_.at(now.body, was.on, true);
        body_.place(i, now.body,
                    was.movement[static_cast<std::size_t>(against)] -
                        h.parts[p].settling * now.settled,
                    was.movement.data());
        was.on[p] = 1;
        for (int j = at.ends[p].seat_begin; j < at.ends[p].seat_end; ++j) {
            const auto q = static_cast<std::size_t>(j);
            was.slip[q] = at.seats[q].moved(was.movement.data());
            was.friction[q] = T(0.0);
            was.grip[q] = Grip::apart;
        }
        return heated;
    }
    void take_off(int, Happened<T>&) {}

    T free_end(int part, const Happened<T>& was) const {
        return was.movement[static_cast<std::size_t>(
            body_.points().ends[static_cast<std::size_t>(part)].last)];
    }
    T nut_room(const Happened<T>& was) const {
        const bodies::Points<T>& at = body_.points();
        return was.movement[static_cast<std::size_t>(at.nut_end)] -
               was.movement[static_cast<std::size_t>(at.ends.back().last)];
    }
    bool advance(const Acting<T, Load>& acting, const Held& held, Happened<T>& was, T& dissipated,
                 double as_before) {
        return solver_.advance(body_, acting, held, was, dissipated, as_before);
    }
    double hook() const { return solver_.hook(); }
    int iterations() const { return solver_.iterations; }
    double imbalance() const { return solver_.imbalance; }

    int seat_begin(int part) const {
        const bodies::Points<T>& at = body_.points();
        return static_cast<std::size_t>(part) < at.ends.size()
                   ? at.ends[static_cast<std::size_t>(part)].seat_begin
                   : static_cast<int>(at.seats.size());
    }
    const T& seat_place(int j) const { return seat(j).place; }
    const T& seat_area(int j) const { return seat(j).area; }

    std::pair<int, double> culprit() const {
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
        return {part,
                z + body_.length(part) *
                        smaller(1.0, larger(0.0, static_cast<double>(solver_.culprit - e.first)) /
                                         span)};
    }
    void report(int, const Acting<T, Load>&, const Held&, const Happened<T>&) {}

private:
    // A seat that is loose in every state touches in none, but for what forces do to it: then the history
    // is taken again.
    bool stays_apart(int part) const {
        const History<T>& h = *history_;
        if (part == h.thrust_inner || part == h.thrust_outer)
            return false; // its middle is a point
        for (const HistoryState<T>& s : h.states)
            if (s.strips[static_cast<std::size_t>(part)].interference > T(0.0))
                return false;
        return true;
    }

    const bodies::SeatAt<T>& seat(int j) const {
        return body_.points().seats[static_cast<std::size_t>(j)];
    }

    const History<T>* history_ = nullptr;
    Body body_;
    Equilibrium<T, Body> solver_;
};

} // namespace fitwright::stack
