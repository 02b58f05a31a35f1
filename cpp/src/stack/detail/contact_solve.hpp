// Equilibrium of a stack in contact at many points at the end of a sub-step: normal forces and openings,
// friction that returns to its limit, faces that open in part. It knows bodies as contacts that move each
// other (bodies/contacts.hpp).
//
// Newton's method in which every contact takes the state its point asks for; where that runs in circles,
// friction limits are held and each step goes only as far as it leads downhill, which ends, because for
// given limits the energy is convex (docs/theory-bodies.md, "The contact solver").
#pragma once

#include "contact_system.hpp"
#include "history_model.hpp"

namespace fitwright::stack {

inline constexpr double contact_tight = 1e-12; // m: gaps and slips below are none

// What acts in one sub-step. Movements here and in the solver are told as forces: times `stiffness()`.
template <class T>
struct ContactActs {
    std::vector<T> moved;            // at every contact by loads alone, no contact forces
    std::vector<T> balance;          // of each ring: force from outside towards the shoulder
    std::vector<T> friction;         // of each ring's seat
    std::vector<T> slip;             // of each seat: where it sticks
    std::vector<T> linear, softness; // of each face and of the nut: how its peaks close
    T touch{1.0};
    T end_target{0.0}; // of the end that is held: its force where given, else its movement
};

// How the stack is held, which is no number.
struct ContactHeld {
    std::vector<char> on;
    int end = -1;            // the ring whose end is pushed or drawn; -1: none
    bool given = false;      // the end's force is given
    bool both_ways = false;  // it pulls as well (a puller's hook)
    double end_spring = 0.0; // in series with the end
};

class ContactSolver {
public:
    using Row = ContactSystem::Row;
    enum class Choice : signed char { open, holds, out, in }; // out: pushed out, slides in

    void begin(const bodies::ContactPoints& points, const std::vector<double>& friction);
    // From where things are; false where nothing was found, and then nothing has changed.
    bool advance(const ContactActs<double>& acts, const ContactHeld& held);

    // What there is.
    const std::vector<double>& unknowns() const { return accepted_.z; }
    Choice choice(std::size_t seat) const { return accepted_.seat[seat]; }
    const ContactSystem& system() const { return system_; }
    double stiffness() const { return stiffness_; }
    std::size_t ring_of_seat(std::size_t s) const { return ring_of_seat_[s]; }
    std::size_t ring_of_face(std::size_t f) const { return ring_of_face_[f]; }
    // A ring is put there along z.
    void put(std::size_t ring, double shift) { accepted_.z[system_.shift(ring)] = shift; }
    // A ring that is taken off.
    void drop(std::size_t ring);

    // Left over by every row: what it asks for less what it has.
    template <class T>
    void rest(const ContactActs<T>& acts, const T* out, const T* z, T* rest) const;

    int iterations = 0, searches = 0;
    double imbalance = 0.0;
    std::size_t culprit = 0; // a contact

private:
    struct State {
        std::vector<double> z;
        std::vector<Choice> seat;
        std::vector<char> face;
        bool end = false;
    };

    // Equilibrium for one choice (contact_solve.cpp).
    bool solve(bool coupled);
    void impose(bool coupled);
    bool keep_near();
    // How far the peaks of a face have closed under a force; a straight line in a search.
    template <class T>
    T peaks_of(const ContactActs<T>& acts, std::size_t face, const T& force) const {
        if (straight_.empty())
            return force > T(0.0)
                       ? face_closing(force, acts.linear[face], acts.softness[face], acts.touch)
                       : force * system_.softness(face);
        const double n = straight_[face];
        return face_closing(T(n), acts.linear[face], acts.softness[face], acts.touch) +
               (force - n) * system_.softness(face);
    }
    double face_force(std::size_t face, const double* z) const;
    void soften(double tolerance);

    // The choice (contact_search.cpp).
    bool newton(int passes);
    bool consistent();
    void choose_next();
    double face_gap(std::size_t face_point) const;
    double end_gap() const;
    bool stands() const { return held_->end >= 0 && !held_->given; }

    // Downhill. Forces, and movements less what the contacts give way by themselves.
    struct Way {
        std::vector<double> z, force, place;
    };
    bool search();
    void choose_by_place();
    void read(Way& way) const;
    double slope(double share) const;
    double end_force(double place) const;
    bool go_downhill();

    const bodies::ContactPoints* points_ = nullptr;
    const ContactActs<double>* acts_ = nullptr;
    const ContactHeld* held_ = nullptr;
    ContactSystem system_;
    std::vector<double> softness_, own_; // of each contact alone: all of it, and its peaks
    std::vector<std::size_t> ring_of_seat_, ring_of_face_;
    double stiffness_ = 0.0, tight_ = 0.0;

    State accepted_, now_;
    std::vector<double> swept_, out_, rest_, more_;
    double largest_ = 1.0; // force
    bool coupled_ = true;
    bool fresh_ = true;            // out_ does not belong to z yet
    std::vector<double> limit_;    // of friction, in a search
    std::vector<double> straight_; // forces at which laws of faces are made straight, in a search
    Way at_, to_;
};

template <class T>
void ContactSolver::rest(const ContactActs<T>& acts, const T* out, const T* z, T* rest) const {
    const std::size_t seats = points_->seats();
    const std::size_t rings = points_->rings;
    for (std::size_t s = 0; s < seats; ++s) {
        const Choice c = now_.seat[s];
        if (c == Choice::holds) {
            rest[s] = acts.slip[s] - out[seats + s];
            continue;
        }
        rest[s] = -z[s];
        if (c == Choice::open)
            continue;
        const T limit = coupled_ ? acts.friction[ring_of_seat_[s]] * out[s] : T(limit_[s]);
        if (c == Choice::out)
            rest[s] += limit;
        else
            rest[s] -= limit;
    }
    for (std::size_t k = 0; k < rings; ++k) {
        T sum(0.0);
        T pressed(0.0);
        const T& peaks = z[system_.peaks(k)];
        for (std::size_t s = points_->seat_begin[k]; s < points_->seat_begin[k + 1]; ++s)
            sum += z[s];
        for (std::size_t f = points_->face_begin[k]; f < points_->face_begin[k + 1]; ++f) {
            const std::size_t u = system_.unknown(points_->face(f));
            pressed += z[u];
            rest[u] = now_.face[f] != 0 ? -(out[points_->face(f)] + peaks) : -z[u];
        }
        sum += pressed;
        if (k + 1 < rings && points_->on_shaft[k + 1] == 0)
            for (std::size_t f = points_->face_begin[k + 1]; f < points_->face_begin[k + 2]; ++f)
                sum -= z[system_.unknown(points_->face(f))];
        const std::size_t end = points_->end(k);
        const std::size_t u = system_.unknown(end);
        sum -= z[u];
        const bool this_one = static_cast<int>(k) == held_->end;
        if (this_one && held_->given)
            rest[u] = acts.end_target - z[u];
        else if (this_one && now_.end)
            rest[u] = acts.end_target - (out[end] + z[u] * held_->end_spring);
        else
            rest[u] = -z[u];
        if (this_one && k + 1 == rings && now_.end && !held_->given)
            rest[u] -= z[system_.peaks(rings)];
        rest[system_.shift(k)] = held_->on[k] != 0 ? acts.balance[k] - sum : T(0.0);
        rest[system_.peaks(k)] = peaks_of(acts, k, pressed) - peaks;
    }
    rest[system_.peaks(rings)] =
        peaks_of(acts, rings, z[system_.unknown(points_->end(rings - 1))]) -
        z[system_.peaks(rings)];
}

} // namespace fitwright::stack
