// The end of a sub-step: the derivatives of what was found, and what has happened by it.
#pragma once

#include "history_solve.hpp"

namespace fitwright::stack {

template <class T, class Body>
bool Equilibrium<T, Body>::finish(Body& body, Happened<T>& was, T& dissipated) {
    if constexpr (has_derivatives<T>) {
        if (!differentiate(body))
            return false;
        body.follow(t_u_.data());
        commit(body.points(), t_u_, t_normal_, was, dissipated);
    } else {
        body.follow(u_.data());
        commit(body.points(), u_, normal_, was, dissipated);
    }
    return true;
}

template <class T, class Body>
bool Equilibrium<T, Body>::differentiate(Body& body) {
    const bodies::Points<T>& at = body.points();
    const std::size_t n = u_.size();
    if (symmetric_) {
        symmetric_ = false;
        evaluate(body, exact_);
    }
    for (std::size_t i = 0; i < n; ++i) {
        t_u_[i] = T(u_[i]);
        t_rest_[i] = T(0.0);
    }
    const Body& chosen = body;
    chosen.respond(t_u_.data(), t_rest_.data(), t_normal_.data());
    for (std::size_t j = 0; j < at.seats.size(); ++j) {
        const bodies::SeatAt<T>& seat = at.seats[j];
        if (!was_->on[static_cast<std::size_t>(seat.part)])
            continue;
        const T t = friction(seat, j, t_u_, t_normal_);
        seat.push(t_rest_.data(), t);
    }
    for (std::size_t f = 0; f < force_.size(); ++f) {
        int left = 0;
        int right = 0;
        if (!face_points(at, f, left, right))
            continue;
        const T force = face_force(t_u_, f, left, right);
        t_rest_[static_cast<std::size_t>(left)] += force;
        t_rest_[static_cast<std::size_t>(right)] -= force;
    }
    if (held_.pressed || held_.pulled) {
        const int end = at.ends[static_cast<std::size_t>(last_on())].last;
        T& rest = t_rest_[static_cast<std::size_t>(end)];
        rest += acting_->press;
        if (held_.reaction == Reaction::shaft)
            t_rest_[static_cast<std::size_t>(at.nut_end)] -= acting_->press;
        if (held_.pulled)
            rest += (t_u_[static_cast<std::size_t>(end)] - acting_->anchor) * hook();
    }
    const int enters = acting_->thrust >= T(0.0) ? history_->thrust_inner : history_->thrust_outer;
    if (enters >= 0)
        t_rest_[static_cast<std::size_t>(at.ends[static_cast<std::size_t>(enters)].middle)] +=
            acting_->thrust;
    for (std::size_t i = 0; i < at.ends.size(); ++i) {
        const bodies::Ends& e = at.ends[i];
        if (static_cast<std::size_t>(e.first) >= loaded_)
            break;
        for (int p = e.first; p <= e.last; p = p == e.first ? p + 1 : p + 2) {
            const auto q = static_cast<std::size_t>(p);
            if (was_->on[i])
                t_rest_[q] += (t_u_[q] - was_->movement[q]) * (still * stiffest_);
            else
                t_rest_[q] = T(0.0);
        }
    }
    t_rest_[static_cast<std::size_t>(at.fixed)] = T(0.0);
    culprit = k_.factor(way_.data());
    if (culprit >= 0)
        return false;
    k_.solve(t_rest_.data());
    for (std::size_t i = 0; i < loaded_; ++i) {
        t_u_[i] -= t_rest_[i];
        t_rest_[i] = T(0.0);
    }
    chosen.respond(t_u_.data(), t_rest_.data(), t_normal_.data());
    return true;
}

template <class T, class Body>
T Equilibrium<T, Body>::friction(const bodies::SeatAt<T>& seat, std::size_t j,
                                 const std::vector<T>& u, const std::vector<T>& normal) const {
    const auto part = static_cast<std::size_t>(seat.part);
    switch (grip_[j]) {
    case Grip::holds:
        return (seat.moved(u.data()) - was_->slip[j]) * stiffness_[j];
    case Grip::slides_out:
        return history_->parts[part].friction * normal[j];
    case Grip::slides_in:
        return -(history_->parts[part].friction * normal[j]);
    case Grip::apart:
        break;
    }
    return T(0.0);
}

template <class T, class Body>
T Equilibrium<T, Body>::face_force(const std::vector<T>& u, std::size_t f, int left,
                                   int right) const {
    if (f + 1 == force_.size() && held_.turning)
        return acting_->nut_force;
    const T c = closed(u, f, left, right);
    if (!(c > T(0.0)))
        return T(0.0);
    const double n = force_[f];
    const double k = face_stiffness(n, value_of(linear(f)) + hard(), value_of(softness(f)),
                                    value_of(history_->touch_force));
    return (c - face_closing(T(n), linear(f) + hard(), softness(f), history_->touch_force)) * k + n;
}

template <class T, class Body>
void Equilibrium<T, Body>::commit(const bodies::Points<T>& at, const std::vector<T>& u,
                                  const std::vector<T>& normal, Happened<T>& was, T& dissipated) {
    for (std::size_t j = 0; j < at.seats.size(); ++j) {
        const bodies::SeatAt<T>& seat = at.seats[j];
        const auto part = static_cast<std::size_t>(seat.part);
        if (!was.on[part])
            continue;
        const T t = friction(seat, j, u, normal);
        if (grip_[j] != Grip::holds) {
            const T moved = seat.moved(u.data()) - t / stiffness_[j];
            dissipated += t * (moved - was.slip[j]);
            was.slip[j] = moved;
        }
        was.friction[j] = t;
        was.normal[j] = normal[j];
        was.grip[j] = grip_[j];
    }
    for (std::size_t f = 0; f < force_.size(); ++f) {
        int left = 0;
        int right = 0;
        was.face_gap[f] = T(0.0);
        was.face_force[f] = T(0.0);
        if (!face_points(at, f, left, right))
            continue;
        const T force = face_force(u, f, left, right);
        const T c = closed(u, f, left, right);
        if (f + 1 == force_.size() && held_.turning)
            was.travel +=
                face_closing(force, linear(f) + hard(), softness(f), history_->touch_force) - c;
        else
            was.face_gap[f] = positive(-c);
        was.face_force[f] = positive(force);
    }
    for (std::size_t i = 0; i < u.size(); ++i)
        last_way_[i] = value_of(u[i]) - value_of(was.movement[i]);
    was.movement = u;
}

} // namespace fitwright::stack
