// A stack of bodies in contact at many points (condensed sections; anything that fills ContactPoints), as
// the steps of a history ask for it.
#pragma once

#include "contact_solve.hpp"
#include <fitwright/stack/section_history.hpp>
#include <utility>

namespace fitwright::stack {

template <class T>
class SectionStack {
public:
    using Load = std::vector<T>;
    // Even sub-steps: what a small press force loses by them is told in docs/theory-bodies.md.
    static constexpr int cool_substeps = 20;
    static constexpr bool cools_early = false;

    void set(const bodies::ContactPoints& points, const SectionHistory<T>& told,
             std::vector<SectionStep<T>>* steps) {
        points_ = &points;
        told_ = &told;
        steps_ = steps;
    }

    bool complete(const History<T>& h) const;
    void begin(const History<T>& h, Happened<T>& was, bool whole);
    bool astray() const { return false; }
    const Load& load(int state) const { return loads_[static_cast<std::size_t>(state)]; }
    bool put_on(int ring, Acting<T, Load>& now, Acting<T, Load>& target, Happened<T>& was);
    void take_off(int ring, Happened<T>&) { solver_.drop(static_cast<std::size_t>(ring)); }
    T free_end(int ring, const Happened<T>&) const {
        return -end_moved_[static_cast<std::size_t>(ring)];
    }
    T nut_room(const Happened<T>&) const { return end_moved_.back(); }
    bool advance(const Acting<T, Load>& acting, const Held& held, Happened<T>& was, T& dissipated,
                 double as_before);
    double hook() const { return 0.1 * solver_.stiffness(); }
    int iterations() const { return solver_.iterations; }
    double imbalance() const { return solver_.imbalance; }
    int searches() const { return solver_.searches; }

    int seat_begin(int ring) const {
        return static_cast<int>(points_->seat_begin[static_cast<std::size_t>(ring)]);
    }
    T seat_place(int j) const { return T(points_->seat_z[static_cast<std::size_t>(j)]); }
    T seat_area(int j) const { return T(points_->seat_area[static_cast<std::size_t>(j)]); }
    std::pair<int, double> culprit() const;
    void report(int step, const Acting<T, Load>& acting, const Held& held, const Happened<T>& was);

private:
    void loads_alone(const Acting<T, Load>& acting, const Held& held, std::vector<T>& moved) const;
    void fill(const Acting<T, Load>& acting, const Held& held, const Happened<T>& was);
    bool values();
    void derive();
    void commit(const Acting<T, Load>& acting, const Held& held, Happened<T>& was, T& dissipated);
    int last_on(const Happened<T>& was) const {
        int last = -1;
        for (std::size_t k = 0; k < was.on.size(); ++k)
            if (was.on[k] != 0)
                last = static_cast<int>(k);
        return last;
    }

    const bodies::ContactPoints* points_ = nullptr;
    const SectionHistory<T>* told_ = nullptr;
    const History<T>* history_ = nullptr;
    std::vector<SectionStep<T>>* steps_ = nullptr;
    std::vector<Load> loads_;
    ContactSolver solver_;
    ContactActs<T> acts_;
    ContactActs<double> values_;
    ContactHeld held_;
    std::vector<T> z_, swept_, out_, rest_, more_; // at the end of the last sub-step
    std::vector<T> end_moved_;
    double stiff_ = 1.0, soft_ = 1.0; // the solver tells movements as forces
};

} // namespace fitwright::stack

#include "section_stack_steps.hpp"
