// Equilibrium at the end of a sub-step: elastic bodies, one-sided faces, friction that returns to
// its limit. Solved in values by Newton's method, in which every contact takes the state its point
// asks for; where that runs in circles, each step goes only as far as it leads downhill.
// Derivatives follow by one more solve with the matrix of the last step.
//
// It sees bodies through their points alone (bodies/detail/points.hpp).
#pragma once

#include "bodies/detail/band.hpp"
#include "history_model.hpp"

namespace fitwright::stack {

template <class T, class Body>
class Equilibrium {
public:
    using Load = typename Body::Load;

    void begin(const History<T>& history, const Body& body) {
        history_ = &history;
        const bodies::Points<T>& at = body.points();
        const auto n = static_cast<std::size_t>(at.count);
        k_.size(at.count, at.reach);
        places_.clear();
        stiffness_.clear();
        for (const bodies::SeatAt<T>& seat : at.seats) {
            const auto part = static_cast<std::size_t>(seat.part);
            stiffness_.push_back(seat.area / larger(history.parts[part].preslip, T(1e-24)));
            places_.push_back(
                {value_of(history.parts[part].friction), value_of(stiffness_.back()), 0.0});
        }
        u_.assign(n, 0.0);
        last_way_.assign(n, 0.0);
        rest_.assign(n, 0.0);
        way_.assign(n, 0.0);
        normal_.assign(at.seats.size(), 0.0);
        force_.assign(at.ends.size() + 1, 0.0);
        closing_.assign(at.ends.size() + 1, 0.0);
        grip_.assign(at.seats.size(), Grip::apart);
        if constexpr (has_derivatives<T>) {
            t_u_.assign(n, T(0.0));
            t_rest_.assign(n, T(0.0));
            t_normal_.assign(at.seats.size(), T(0.0));
        }
    }

    // Moves `was` on to `acting`. Answers false, with the point that did not settle in `culprit`.
    // `as_before`: how much farther than the last time; the search starts from there.
    bool advance(Body& body, const Acting<T, Load>& acting, const Held& held, Happened<T>& was,
                 T& dissipated, double as_before) {
        const bool whole = held.nut || (held.pressed && held.reaction == Reaction::shaft);
        body.at(acting.body, was.on, whole);
        loaded_ = static_cast<std::size_t>(body.loaded());
        acting_ = &acting;
        held_ = held;
        was_ = &was;
        for (std::size_t j = 0; j < places_.size(); ++j)
            places_[j].slip = value_of(was.slip[j]);
        stiffest_ = 0.0;
        for (std::size_t i = 0; i < was.on.size(); ++i)
            stiffest_ = larger(stiffest_, body.stiffness(static_cast<int>(i)));
        symmetric_ = false;
        restart(as_before);
        elastic_ = as_before == 0.0;
        evaluate(body, false);
        elastic_ = false;
        for (std::size_t i = 0; i < loaded_; ++i)
            if (!(rest_[i] == rest_[i])) { // not a number: it came in with what acts
                culprit = static_cast<int>(i);
                return false;
            }
        for (int pass = 0; pass < passes; ++pass) {
            ++iterations;
            if (pass == free_passes) {
                restart(0.0);
                evaluate(body, true);
            }
            if (pass < free_passes)
                std::swap(way_, rest_); // nobody asks for what was left over
            else
                std::copy_n(rest_.begin(), static_cast<std::ptrdiff_t>(loaded_), way_.begin());
            const int failed = k_.factor(way_.data());
            if (failed >= 0) {
                culprit = failed;
                return false;
            }
            k_.back(way_.data());
            if (pass < free_passes) {
                for (std::size_t i = 0; i < loaded_; ++i)
                    u_[i] -= shortened(way_[i]);
                evaluate(body, false);
            } else {
                for (std::size_t i = 0; i < loaded_; ++i)
                    way_[i] = shortened(way_[i]);
                if (!symmetric_ && !(work() > 0.0)) {
                    symmetric_ = true;
                    evaluate(body, true);
                    continue;
                }
                search(body);
            }
            if (settled(pass < patient))
                return finish(body, was, dissipated);
        }
        culprit = worst_point();
        return false;
    }

    // A puller's hook is about as stiff as a part.
    double hook() const { return stiffest_ * 0.1; }

    int culprit = -1;       // the point with the largest force left over
    double imbalance = 0.0; // and that force
    int iterations = 0;

private:
    static constexpr int free_passes = 8;
    static constexpr int passes = 80;
    static constexpr int patient =
        30; // passes after which a hundred-thousandth of the forces is enough
    static constexpr int search_limit = 40;
    static constexpr double flat_enough = 0.1;
    // Where the true slope leads uphill, that of an energy does not: what force does to pressure is left
    // out, and a seat that slides keeps this share of its stiffness.
    static constexpr double held_back = 1e-3;
    // Nothing moves farther than this at once: a part that slides as a whole has no stiffness left.
    static constexpr double longest = 20e-6;
    // Contact between flat faces is this many times stiffer than an element; a part that nothing
    // holds stays where it is by this share of one.
    static constexpr double flat = 1e5;
    static constexpr double still = 1e-11;

    // The face under the nut also has nut and thread in series, the first one the shoulder.
    T linear(std::size_t face) const {
        return face + 1 == force_.size() ? acting_->nut_compliance
               : face == 0               ? history_->shoulder_compliance
                                         : T(0.0);
    }
    const T& softness(std::size_t face) const {
        return face + 1 == force_.size() ? history_->nut.face_softness
                                         : history_->parts[face].face_softness;
    }
    const T& settling(std::size_t face) const {
        return face + 1 == force_.size() ? history_->nut.settling : history_->parts[face].settling;
    }
    double hard() const { return 1.0 / (flat * stiffest_); }

    // The two points of a face; false: nothing there.
    bool face_points(const bodies::Points<T>& at, std::size_t face, int& left, int& right) const {
        const std::size_t parts = at.ends.size();
        if (face == parts) {
            if (!held_.nut)
                return false;
            left = at.ends[parts - 1].last;
            right = at.nut_end;
            return true;
        }
        if (!was_->on[face])
            return false;
        left = face == 0 ? at.fixed : at.ends[face - 1].last;
        right = at.ends[face].first;
        return true;
    }
    int last_on() const {
        int last = -1;
        for (std::size_t i = 0; i < was_->on.size(); ++i)
            if (was_->on[i])
                last = static_cast<int>(i);
        return last;
    }

    void restart(double as_before) {
        for (std::size_t i = 0; i < u_.size(); ++i)
            u_[i] = value_of(was_->movement[i]) + as_before * last_way_[i];
        for (std::size_t f = 0; f < force_.size(); ++f) {
            force_[f] = value_of(was_->face_force[f]);
            closing_[f] = closing(f);
        }
    }
    double closing(std::size_t f) const {
        return face_closing(force_[f], value_of(linear(f)) + hard(), value_of(softness(f)),
                            value_of(history_->touch_force));
    }
    double work() const {
        double sum = 0.0;
        for (std::size_t i = 0; i < loaded_; ++i)
            sum += rest_[i] * way_[i];
        return sum;
    }
    // Each point for itself: a part that slides as a whole must not hold the others back.
    static double shortened(double way) { return smaller(larger(way, -longest), longest); }

    // Along the way to where it stops going downhill. For given seat pressures the energy is convex,
    // so that this ends wherever it starts; pressures move little with the forces.
    void search(Body& body) {
        const double start = -work();
        from_ = u_;
        double low = 0.0;
        double low_work = start;
        double high = 0.0; // 0: none yet
        double high_work = 0.0;
        double share = 1.0;
        for (int k = 0; k < search_limit; ++k) {
            for (std::size_t i = 0; i < loaded_; ++i)
                u_[i] = from_[i] - share * way_[i];
            evaluate(body, true);
            const double here = -work();
            if (abs(here) <= flat_enough * abs(start) || (here < 0.0 && share == 1.0) ||
                (high > 0.0 && high - low < 1e-12))
                return;
            (here < 0.0 ? low : high) = share;
            (here < 0.0 ? low_work : high_work) = here;
            // Between the two by the secant, kept off the ends.
            const double secant = low + (high - low) * (-low_work / (high_work - low_work));
            share = smaller(larger(secant, low + 0.05 * (high - low)), high - 0.05 * (high - low));
        }
    }

    void evaluate(Body& body, bool exact) {
        exact_ = exact;
        const bodies::Points<T>& at = body.points();
        std::fill_n(rest_.begin(), static_cast<std::ptrdiff_t>(loaded_), 0.0);
        k_.clear(static_cast<int>(loaded_));
        Friction friction{places_.data(), grip_.data(),
                          elastic_     ? 1.0
                          : symmetric_ ? held_back
                                       : 0.0,
                          !symmetric_ && !elastic_};
        body.respond(u_.data(), rest_.data(), normal_.data(), k_, friction);
        largest_ = friction.largest;
        closing_error_ = 0.0;
        for (std::size_t f = 0; f < force_.size(); ++f)
            face(at, f);
        outside(at);
        hold(at);
    }

    // A place of a seat: what does not change during a run, and how far it has slipped.
    struct Place {
        double friction, stiffness, slip;
    };
    // Friction there: elastic from where it has slipped to, or at its limit.
    struct Friction {
        const Place* places;
        Grip* grip;
        double left;  // share of the stiffness that a place keeps while it slides
        bool follows; // whether its limit follows the normal force
        double largest = 0.0;
        bodies::FrictionAt operator()(std::size_t j, double normal, double moved) {
            const Place& p = places[j];
            const double limit = p.friction * normal;
            if (!(limit > 0.0)) {
                grip[j] = Grip::apart;
                return {0.0, 0.0, 0.0};
            }
            const double trial = p.stiffness * (moved - p.slip);
            if (abs(trial) <= limit) {
                grip[j] = Grip::holds;
                largest = larger(largest, abs(trial));
                return {trial, p.stiffness, 0.0};
            }
            const double sign = trial > 0.0 ? 1.0 : -1.0;
            grip[j] = trial > 0.0 ? Grip::slides_out : Grip::slides_in;
            largest = larger(largest, limit);
            return {sign * limit, p.stiffness * left, follows ? sign * p.friction : 0.0};
        }
    };
    // How far the two sides of a face have come together, less what they have settled.
    template <class S>
    S closed(const std::vector<S>& u, std::size_t f, int left, int right) const {
        const auto as = [](const T& x) {
            if constexpr (std::is_same_v<S, T>)
                return x;
            else
                return value_of(x);
        };
        S c = u[static_cast<std::size_t>(left)] - u[static_cast<std::size_t>(right)] -
              as(settling(f)) * as(acting_->settled);
        if (f + 1 == force_.size())
            c += as(was_->travel) + as(acting_->nut_free);
        return c;
    }

    void face(const bodies::Points<T>& at, std::size_t f) {
        int left = 0;
        int right = 0;
        if (!face_points(at, f, left, right)) {
            force_[f] = 0.0;
            return;
        }
        const auto l = static_cast<std::size_t>(left);
        const auto r = static_cast<std::size_t>(right);
        if (f + 1 == force_.size() && held_.turning) {
            const double n = value_of(acting_->nut_force);
            force_[f] = n;
            rest_[l] += n;
            rest_[r] -= n;
            largest_ = larger(largest_, n);
            return;
        }
        const double c = closed(u_, f, left, right);
        const double flat_closing = value_of(linear(f)) + hard();
        const double u0 = value_of(softness(f));
        const double touch = value_of(history_->touch_force);
        double n = force_[f];
        if (c <= 0.0) {
            n = 0.0;
        } else if (exact_) {
            n = force_at(c, flat_closing, u0, touch);
        } else {
            // The force of the last step, moved along the slope it had.
            const double k = face_stiffness(n, flat_closing, u0, touch);
            const double next = n + k * (c - closing_[f]);
            n = next > 0.0 ? next : 0.1 * n;
        }
        force_[f] = n;
        closing_[f] = n > 0.0 ? face_closing(n, flat_closing, u0, touch) : 0.0;
        if (c > 0.0) {
            const double k = face_stiffness(n, flat_closing, u0, touch);
            const double error = c - closing_[f];
            closing_error_ = larger(closing_error_, abs(error) * k);
            // Against the closing that n has: what is missing is added along the slope.
            const double with = n + k * error;
            rest_[l] += with;
            rest_[r] -= with;
            k_.join(left, right, k);
            largest_ = larger(largest_, n);
        }
    }

    // The force at which a face has closed by c.
    static double force_at(double c, double linear, double softness, double touch) {
        if (!(softness > 0.0))
            return c / linear;
        double n = smaller(c / linear, touch * (exp(smaller(c / softness, 60.0)) - 1.0));
        for (int k = 0; k < 60; ++k) {
            const double error = c - face_closing(n, linear, softness, touch);
            const double next = n + error * face_stiffness(n, linear, softness, touch);
            n = next > 0.0 ? next : 0.1 * n;
            if (abs(error) <= 1e-15 * c)
                break;
        }
        return n;
    }

    void outside(const bodies::Points<T>& at) {
        const double press = value_of(acting_->press);
        largest_ = larger(largest_, abs(press));
        if (held_.pressed || held_.pulled) {
            const auto last = static_cast<std::size_t>(last_on());
            const int end = at.ends[last].last;
            rest_[static_cast<std::size_t>(end)] += press;
            if (held_.reaction == Reaction::shaft)
                rest_[static_cast<std::size_t>(at.nut_end)] -= press;
            if (held_.pulled) {
                const double k = hook();
                rest_[static_cast<std::size_t>(end)] +=
                    k * (u_[static_cast<std::size_t>(end)] - value_of(acting_->anchor));
                k_.add(end, end, k);
            }
        }
        const double thrust = value_of(acting_->thrust);
        const int enters = thrust >= 0.0 ? history_->thrust_inner : history_->thrust_outer;
        if (enters >= 0)
            rest_[static_cast<std::size_t>(at.ends[static_cast<std::size_t>(enters)].middle)] +=
                thrust;
        largest_ = larger(largest_, abs(thrust));
    }
    void hold(const bodies::Points<T>& at) {
        const double k = still * stiffest_;
        for (std::size_t i = 0; i < at.ends.size(); ++i) {
            const bodies::Ends& e = at.ends[i];
            if (static_cast<std::size_t>(e.first) >= loaded_)
                break;
            const bool on = was_->on[i] != 0;
            const T* stood = was_->movement.data();
            for (int p = e.first; p <= e.last; p = p == e.first ? p + 1 : p + 2) {
                if (on) {
                    rest_.data()[p] += k * (u_.data()[p] - value_of(stood[p]));
                    k_.row(p)[0] += k;
                } else {
                    rest_.data()[p] = 0.0;
                    k_.hold(p);
                }
            }
        }
        rest_[static_cast<std::size_t>(at.fixed)] = 0.0;
        k_.hold(at.fixed);
    }

    bool settled(bool strictly) {
        // Four at a time do not wait for each other; a sum is no number where one of it is none.
        double most[4] = {0.0, 0.0, 0.0, 0.0};
        double sum[4] = {0.0, 0.0, 0.0, 0.0};
        std::size_t i = 0;
        for (; i + 4 <= loaded_; i += 4)
            for (std::size_t q = 0; q < 4; ++q) {
                most[q] = larger(most[q], abs(rest_[i + q]));
                sum[q] += rest_[i + q];
            }
        for (; i < loaded_; ++i) {
            most[0] = larger(most[0], abs(rest_[i]));
            sum[0] += rest_[i];
        }
        imbalance = larger(larger(most[0], most[1]), larger(most[2], most[3]));
        const double whole = (sum[0] + sum[1]) + (sum[2] + sum[3]);
        const double small = strictly ? 1e-8 * largest_ + 1e-4 : 1e-5 * largest_ + 2e-2;
        return imbalance <= small && closing_error_ <= small && whole - whole == 0.0;
    }
    // The point with the largest force left over.
    int worst_point() const {
        double most = 0.0;
        std::size_t worst = 0;
        for (std::size_t i = 0; i < loaded_; ++i)
            if (!(abs(rest_[i]) <= most)) {
                most = abs(rest_[i]);
                worst = i;
            }
        return static_cast<int>(worst);
    }

    // The state of every contact is known: forces, slips and gaps, with their derivatives.
    bool finish(Body& body, Happened<T>& was, T& dissipated);

    // The residual on T at the values found, through the same matrix: dx = -K^-1 dR.
    bool differentiate(Body& body);

    T friction(const bodies::SeatAt<T>& seat, std::size_t j, const std::vector<T>& u,
               const std::vector<T>& normal) const;
    T face_force(const std::vector<T>& u, std::size_t f, int left, int right) const;

    void commit(const bodies::Points<T>& at, const std::vector<T>& u, const std::vector<T>& normal,
                Happened<T>& was, T& dissipated);

    const History<T>* history_ = nullptr;
    const Acting<T, Load>* acting_ = nullptr;
    const Happened<T>* was_ = nullptr;
    Held held_;
    bodies::Band k_;
    std::vector<Place> places_;
    std::vector<T> stiffness_; // of each place
    std::vector<double> u_, rest_, normal_, force_, closing_, way_, from_, last_way_;
    std::vector<T> t_u_, t_rest_, t_normal_;
    std::vector<Grip> grip_;
    std::size_t loaded_ = 0; // points that carry something; the others follow
    double stiffest_ = 0.0, largest_ = 0.0, closing_error_ = 0.0;
    bool exact_ = false, symmetric_ = false, elastic_ = false;
};

} // namespace fitwright::stack
