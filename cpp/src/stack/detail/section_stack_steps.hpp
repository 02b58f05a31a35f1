// One sub-step of a stack of sections: what acts, what was found (with derivatives), what is told of it.
#pragma once

#include "section_stack.hpp"

namespace fitwright::stack {

template <class T>
bool SectionStack<T>::complete(const History<T>& h) const {
    const std::size_t rings = points_->rings;
    bool whole = h.parts.size() == rings && told_->states.size() == h.states.size() &&
                 told_->interference.size() == rings;
    for (const SectionState<T>& s : told_->states)
        whole = whole && s.warm.size() == rings + 1 && s.gradient.size() == rings + 1 &&
                s.spin.size() == rings + 1;
    for (std::size_t k = 0; whole && k < rings; ++k)
        for (std::size_t s = points_->seat_begin[k]; s < points_->seat_begin[k + 1]; ++s)
            whole = whole && static_cast<std::size_t>(points_->seat_slice[s]) <
                                 told_->interference[k].size();
    return whole;
}

template <class T>
void SectionStack<T>::begin(const History<T>& h, Happened<T>& was, bool) {
    history_ = &h;
    const std::size_t rings = points_->rings;
    loads_.clear();
    for (const SectionState<T>& s : told_->states) {
        Load& load = loads_.emplace_back();
        for (std::size_t k = 0; k <= rings; ++k)
            load.insert(load.end(), {s.warm[k], s.gradient[k], s.spin[k]});
    }
    std::vector<double> friction;
    acts_.friction.clear();
    for (const HistoryPart<T>& part : h.parts) {
        acts_.friction.push_back(part.friction);
        friction.push_back(value_of(part.friction));
    }
    solver_.begin(*points_, friction);
    stiff_ = solver_.stiffness();
    soft_ = 1.0 / stiff_;
    was.on.assign(rings, 0);
    was.movement.assign(rings, T(0.0));
    for (std::vector<T>* of : {&was.slip, &was.friction, &was.normal})
        of->assign(points_->seats(), T(0.0));
    was.grip.assign(points_->seats(), Grip::apart);
    was.face_force.assign(rings + 1, T(0.0));
    was.face_gap.assign(rings + 1, T(0.0));
    z_.assign(solver_.system().unknowns(), T(0.0));
    rest_ = more_ = z_;
    swept_.assign(points_->size(), T(0.0));
    out_ = swept_;
    end_moved_.assign(rings, T(0.0));
    if (steps_ != nullptr)
        steps_->assign(h.steps.size(), {});
}

// Movements at every contact by loads and forces from outside, none at the contacts.
template <class T>
void SectionStack<T>::loads_alone(const Acting<T, Load>& acting, const Held& held,
                                  std::vector<T>& moved) const {
    const std::size_t n = points_->size();
    moved.assign(n, T(0.0));
    for (std::size_t k = 0; k < points_->rings; ++k)
        for (std::size_t s = points_->seat_begin[k]; s < points_->seat_begin[k + 1]; ++s)
            moved[s] -=
                told_->interference[k][static_cast<std::size_t>(points_->seat_slice[s])] * 0.5;
    for (std::size_t s = 0; s < points_->seats(); ++s)
        moved[s] *= stiff_;
    const auto add = [&](const T& amount, const double* column) {
        if (amount == T(0.0) && !has_derivatives<T>)
            return;
        const T by = amount * stiff_;
        for (std::size_t i = 0; i < n; ++i)
            moved[i] += by * column[i];
    };
    for (std::size_t q = 0; q < acting.body.size(); ++q)
        add(acting.body[q], points_->by_load.data() + q * n);
    const T& thrust = acting.thrust;
    const int enters = thrust >= T(0.0) ? history_->thrust_inner : history_->thrust_outer;
    if (enters >= 0)
        add(thrust, points_->by_thrust.data() + static_cast<std::size_t>(enters) * n);
    if (held.pressed) {
        add(acting.press, points_->by_push.data() + static_cast<std::size_t>(held_.end) * n);
        if (held.reaction == Reaction::shaft)
            add(acting.press, points_->by_pull.data());
    }
}

template <class T>
void SectionStack<T>::fill(const Acting<T, Load>& acting, const Held& held,
                           const Happened<T>& was) {
    const std::size_t rings = points_->rings;
    held_.on = was.on;
    const int last = last_on(was);
    held_.end = held.nut ? static_cast<int>(rings) - 1 : last;
    held_.given = !(held.nut && !held.turning) && !held.pulled;
    held_.both_ways = held.pulled;
    held_.end_spring = held.pulled ? stiff_ / hook() : 0.0;
    loads_alone(acting, held, acts_.moved);
    for (std::size_t f = 0; f < points_->faces(); ++f)
        acts_.moved[points_->face(f)] +=
            history_->parts[solver_.ring_of_face(f)].settling * acting.settled * stiff_;
    acts_.balance.assign(rings, T(0.0));
    if (held.pressed && last >= 0)
        acts_.balance[static_cast<std::size_t>(last)] += acting.press;
    const int enters = acting.thrust >= T(0.0) ? history_->thrust_inner : history_->thrust_outer;
    if (enters >= 0)
        acts_.balance[static_cast<std::size_t>(enters)] += acting.thrust;
    acts_.slip = was.slip;
    for (T& slip : acts_.slip)
        slip *= stiff_;
    acts_.linear.assign(rings + 1, T(0.0));
    acts_.softness.assign(rings + 1, history_->nut.face_softness * stiff_);
    acts_.linear[0] = history_->shoulder_compliance * stiff_;
    acts_.linear[rings] = held.nut ? acting.nut_compliance * stiff_ : T(0.0);
    for (std::size_t k = 0; k < rings; ++k)
        acts_.softness[k] = history_->parts[k].face_softness * stiff_;
    acts_.touch = history_->touch_force;
    const T stands = was.travel + acting.nut_free - history_->nut.settling * acting.settled;
    acts_.end_target = held.pulled    ? -acting.anchor * stiff_
                       : !held.nut    ? T(0.0)
                       : held.turning ? acting.nut_force
                                      : stands * stiff_;
}

// A hot ring goes on: as hot as it must be to touch nowhere, against the part before it.
template <class T>
bool SectionStack<T>::put_on(int ring, Acting<T, Load>& now, Acting<T, Load>& target,
                             Happened<T>& was) {
    const auto k = static_cast<std::size_t>(ring);
    was.on[k] = 1;
    held_.end = ring;
    const Held free;
    std::vector<T> moved;
    const auto look = [&] {
        loads_alone(now, free, moved);
        solver_.system().sweep(moved.data(), swept_.data());
        solver_.system().evaluate(swept_.data(), z_.data(), out_.data());
    };
    look();
    T hot(0.0);
    for (std::size_t s = points_->seat_begin[k]; s < points_->seat_begin[k + 1]; ++s) {
        const T wants = -out_[s] * soft_ / points_->seat_radius[s];
        if (wants > hot)
            hot = wants;
    }
    now.body[3 * (k + 1)] += hot;
    if (history_->parts[k].hot)
        target.body[3 * (k + 1)] = now.body[3 * (k + 1)];
    look();
    // Its own shift is 0 still.
    T least(0.0);
    bool first = true;
    for (std::size_t f = points_->face_begin[k]; f < points_->face_begin[k + 1]; ++f) {
        const T gap = out_[points_->face(f)] + history_->parts[k].settling * now.settled * stiff_;
        if (first || gap < least)
            least = gap;
        first = false;
    }
    z_[solver_.system().shift(k)] -= least;
    solver_.put(k, value_of(z_[solver_.system().shift(k)]));
    was.movement[k] = z_[solver_.system().shift(k)] * soft_;
    look();
    const std::size_t seats = points_->seats();
    for (std::size_t s = points_->seat_begin[k]; s < points_->seat_begin[k + 1]; ++s) {
        was.slip[s] = out_[seats + s] * soft_;
        was.friction[s] = was.normal[s] = T(0.0);
        was.grip[s] = Grip::apart;
    }
    for (std::size_t j = 0; j < points_->rings; ++j)
        end_moved_[j] = out_[points_->end(j)] * soft_;
    return hot > T(0.0);
}

template <class T>
bool SectionStack<T>::advance(const Acting<T, Load>& acting, const Held& held, Happened<T>& was,
                              T& dissipated, double) {
    fill(acting, held, was);
    if (!values())
        return false;
    derive();
    commit(acting, held, was, dissipated);
    return true;
}

template <class T>
bool SectionStack<T>::values() {
    if constexpr (!has_derivatives<T>) {
        return solver_.advance(acts_, held_);
    } else {
        const auto copy = [](std::vector<double>& to, const std::vector<T>& from) {
            to.resize(from.size());
            for (std::size_t i = 0; i < from.size(); ++i)
                to[i] = value_of(from[i]);
        };
        copy(values_.moved, acts_.moved);
        copy(values_.balance, acts_.balance);
        copy(values_.friction, acts_.friction);
        copy(values_.slip, acts_.slip);
        copy(values_.linear, acts_.linear);
        copy(values_.softness, acts_.softness);
        values_.touch = value_of(acts_.touch);
        values_.end_target = value_of(acts_.end_target);
        return solver_.advance(values_, held_);
    }
}

// The choice is known, and its inverse: what is left over on T is solved for with it.
template <class T>
void SectionStack<T>::derive() {
    const std::vector<double>& found = solver_.unknowns();
    for (std::size_t u = 0; u < z_.size(); ++u)
        z_[u] = T(found[u]);
    solver_.system().sweep(acts_.moved.data(), swept_.data());
    solver_.system().evaluate(swept_.data(), z_.data(), out_.data());
    if constexpr (has_derivatives<T>)
        for (int again = 0; again < 3;
             ++again) { // the spring that holds a ring still must not show
            solver_.rest(acts_, out_.data(), z_.data(), rest_.data());
            solver_.system().solve(rest_.data(), more_.data());
            for (std::size_t u = 0; u < z_.size(); ++u)
                z_[u] += more_[u];
            solver_.system().evaluate(swept_.data(), z_.data(), out_.data());
        }
}

template <class T>
void SectionStack<T>::commit(const Acting<T, Load>& acting, const Held& held, Happened<T>& was,
                             T& dissipated) {
    using Choice = ContactSolver::Choice;
    const ContactSystem& system = solver_.system();
    const std::size_t seats = points_->seats();
    const std::size_t rings = points_->rings;
    for (std::size_t s = 0; s < seats; ++s) {
        if (was.on[solver_.ring_of_seat(s)] == 0)
            continue;
        const Choice c = solver_.choice(s);
        const T t = -z_[s]; // on the ring, towards the shoulder
        was.normal[s] = c == Choice::open ? T(0.0) : out_[s];
        if (c != Choice::holds) {
            const T slip = out_[seats + s] * soft_;
            if (c != Choice::open)
                dissipated += t * (slip - was.slip[s]);
            was.slip[s] = slip;
        }
        was.friction[s] = t;
        was.grip[s] = c == Choice::open    ? Grip::apart
                      : c == Choice::holds ? Grip::holds
                      : c == Choice::out   ? Grip::slides_in
                                           : Grip::slides_out;
    }
    for (std::size_t k = 0; k < rings; ++k) {
        was.movement[k] = z_[system.shift(k)] * soft_;
        end_moved_[k] = out_[points_->end(k)] * soft_;
        was.face_force[k] = was.face_gap[k] = T(0.0);
        if (was.on[k] == 0)
            continue;
        double area = 0.0;
        for (std::size_t f = points_->face_begin[k]; f < points_->face_begin[k + 1]; ++f) {
            was.face_force[k] += z_[system.unknown(points_->face(f))];
            was.face_gap[k] +=
                positive(out_[points_->face(f)] + z_[system.peaks(k)]) * points_->face_area[f];
            area += points_->face_area[f];
        }
        was.face_force[k] = positive(was.face_force[k]);
        if (area > 0.0)
            was.face_gap[k] *= soft_ / area;
    }
    was.face_force[rings] = was.face_gap[rings] = T(0.0);
    if (!held.nut)
        return;
    const T force = positive(z_[system.unknown(points_->end(rings - 1))]);
    // How far the thread is beyond the end of the last ring, peaks pressed flat.
    const T room = end_moved_.back() + z_[system.peaks(rings)] * soft_ +
                   history_->nut.settling * acting.settled - acting.nut_free;
    was.face_force[rings] = force;
    if (held.turning)
        was.travel = room;
    else
        was.face_gap[rings] = positive(room - was.travel);
}

template <class T>
std::pair<int, double> SectionStack<T>::culprit() const {
    const std::size_t seats = points_->seats();
    const std::size_t i = solver_.culprit;
    if (i < 2 * seats)
        return {static_cast<int>(solver_.ring_of_seat(i % seats)), points_->seat_z[i % seats]};
    const std::size_t k =
        i < points_->end(0) ? solver_.ring_of_face(i - 2 * seats) : i - points_->end(0);
    return {static_cast<int>(k),
            points_->seat_begin[k] < seats ? points_->seat_z[points_->seat_begin[k]] : 0.0};
}

template <class T>
void SectionStack<T>::report(int step, const Acting<T, Load>& acting, const Held& held,
                             const Happened<T>& was) {
    if (steps_ == nullptr)
        return;
    const std::size_t seats = points_->seats();
    const std::size_t rings = points_->rings;
    SectionStep<T>& out = (*steps_)[static_cast<std::size_t>(step)];
    out.mean_pressure.assign(rings, T(0.0));
    out.faces.assign(rings, {});
    for (std::size_t k = 0; k < rings; ++k) {
        double area = 0.0;
        for (std::size_t s = points_->seat_begin[k]; s < points_->seat_begin[k + 1]; ++s) {
            out.mean_pressure[k] += positive(was.normal[s]);
            area += points_->seat_area[s];
        }
        if (area > 0.0)
            out.mean_pressure[k] *= 1.0 / area;
        for (std::size_t f = points_->face_begin[k]; f < points_->face_begin[k + 1]; ++f)
            out.faces[k].push_back(
                {positive(z_[solver_.system().unknown(points_->face(f))]) *
                     (1.0 / points_->face_area[f]),
                 was.on[k] != 0
                     ? positive(out_[points_->face(f)] + z_[solver_.system().peaks(k)]) * soft_
                     : T(0.0)});
    }
    bodies::SectionActs& acts = out.acts;
    acts.forces.resize(points_->size());
    for (std::size_t s = 0; s < seats; ++s)
        acts.forces[s] = value_of(was.normal[s]);
    for (std::size_t i = seats; i < acts.forces.size(); ++i)
        acts.forces[i] = value_of(z_[solver_.system().unknown(i)]);
    acts.loads.clear();
    for (const T& load : acting.body)
        acts.loads.push_back(value_of(load));
    acts.push.assign(rings, 0.0);
    acts.thrust.assign(rings, 0.0);
    acts.pull = 0.0;
    const int enters = acting.thrust >= T(0.0) ? history_->thrust_inner : history_->thrust_outer;
    if (enters >= 0)
        acts.thrust[static_cast<std::size_t>(enters)] = value_of(acting.thrust);
    if (held.pressed) {
        acts.push[static_cast<std::size_t>(last_on(was))] = value_of(acting.press);
        if (held.reaction == Reaction::shaft)
            acts.pull = value_of(acting.press);
    }
}

} // namespace fitwright::stack
