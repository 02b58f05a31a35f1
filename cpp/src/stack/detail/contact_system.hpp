// The linear system of a stack's contacts for one choice of what sticks, slides, touches and is open,
// and how it follows when that choice changes: by rank-one updates, so that a change costs no more than
// a product with the matrix (docs/theory-bodies.md, "The contact solver").
//
// Normal forces of closed seats are eliminated first (`swept`): they hardly ever change their choice.
// What is left to solve for, in this order:
//   friction of each seat, force of each face point, of each end; shift of each ring along z; how far
//   the peaks of each face and of the nut's have closed
#pragma once

#include "bodies/detail/dense.hpp"
#include <cstddef>
#include <fitwright/bodies/contacts.hpp>
#include <vector>

namespace fitwright::stack {

class ContactSystem {
public:
    // What a row says.
    enum class Row : signed char {
        given,      // the unknown is told: open, off, a force, or a slide of known friction
        held,       // the movement is told: sticks, touches, stands
        slides_out, // friction is +mu times the normal force (the ring slides towards the shoulder)
        slides_in   // -mu
    };

    // Movements here are told as forces: times `stiffness`, so that all numbers are of one size. `still`:
    // what share of it holds a ring against shifting from where it was a solve ago.
    void begin(const bodies::ContactPoints& points, const std::vector<double>& friction,
               double stiffness, double still);

    std::size_t unknowns() const { return size_; }
    std::size_t shift(std::size_t ring) const { return contacts_ - seats_ + ring; }
    std::size_t peaks(std::size_t face) const { return contacts_ - seats_ + rings_ + face; }
    // The unknown of a friction, face or end force: its place among contacts, less the seats' normals.
    std::size_t unknown(std::size_t contact) const { return contact - seats_; }

    bool closed(std::size_t seat) const { return closed_[seat] != 0; }
    Row row(std::size_t unknown) const { return row_[unknown]; }
    double softness(std::size_t face) const { return softness_[face]; }

    // The choice. Cheap where little changes; all takes effect at the next `settle`.
    void close(std::size_t seat, bool closed);
    void choose(std::size_t unknown, Row row);
    void soften(std::size_t face, double softness); // movement per force of its peaks
    void spring(std::size_t end, double softness);  // in series with an end force
    void part_on(std::size_t ring, bool on);
    bool settle();  // false: singular
    bool refresh(); // from nothing

    // Right-hand sides made of the movements `g` that loads alone would make at every contact: swept.
    template <class T>
    void sweep(const T* g, T* swept) const;
    // Normal forces of closed seats and movements of all else under unknowns z.
    template <class T>
    void evaluate(const T* swept, const T* z, T* out) const;
    // z = inverse times b.
    template <class T>
    void solve(const T* b, T* z) const;

    // Whether the last `settle` closed or opened a seat, so that what is swept is out of date.
    bool changed() const { return changed_; }

private:
    void write_row(std::size_t unknown, double* out) const;
    void exchange(std::size_t seat);
    bool exchange_within(std::size_t seat);
    bool put_stale();
    bool rank_one(const double* a, const double* b);
    const double* swept_row(std::size_t contact) const {
        return swept_.data() + contact * contacts_;
    }

    const bodies::ContactPoints* points_ = nullptr;
    std::vector<double> friction_;
    double still_ = 0.0;
    std::size_t seats_ = 0, contacts_ = 0, rings_ = 0, size_ = 0;
    std::vector<int> ring_of_seat_, ring_of_face_;
    std::vector<char> closed_, close_wanted_, on_;
    std::vector<Row> row_, is_; // chosen, and in the matrix
    std::vector<double> softness_, spring_;
    std::vector<char> stale_; // rows to be written anew
    std::vector<double> swept_, matrix_, inverse_;
    std::vector<double> new_row_, seat_row_, work_, work2_;
    std::vector<std::size_t> put_;
    std::vector<double> change_;
    int updates_ = 0;
    bool changed_ = false;
};

template <class T>
void ContactSystem::sweep(const T* g, T* swept) const {
    std::vector<T> closed(seats_, T(0.0));
    for (std::size_t j = 0; j < seats_; ++j)
        if (closed_[j] != 0)
            closed[j] = g[j];
    for (std::size_t i = 0; i < contacts_; ++i) {
        const T sum = bodies::dot(swept_row(i), closed.data(), seats_);
        swept[i] = i < seats_ && closed_[i] != 0 ? -sum : g[i] - sum;
    }
}

template <class T>
void ContactSystem::evaluate(const T* swept, const T* z, T* out) const {
    const std::size_t forces = contacts_ - seats_;
    for (std::size_t i = 0; i < contacts_; ++i) {
        out[i] = swept[i] + bodies::dot(swept_row(i) + seats_, z, forces);
    }
    for (std::size_t s = 0; s < seats_; ++s)
        out[seats_ + s] += z[shift(static_cast<std::size_t>(ring_of_seat_[s]))];
    for (std::size_t f = 0; f < points_->faces(); ++f) {
        const auto k = static_cast<std::size_t>(ring_of_face_[f]);
        out[points_->face(f)] += z[shift(k)];
        if (points_->on_shaft[k] == 0)
            out[points_->face(f)] -= z[shift(k - 1)];
    }
    for (std::size_t k = 0; k < rings_; ++k)
        out[points_->end(k)] -= z[shift(k)];
}

template <class T>
void ContactSystem::solve(const T* b, T* z) const {
    for (std::size_t i = 0; i < size_; ++i) {
        const double* w = inverse_.data() + i * size_;
        z[i] = bodies::dot(w, b, size_);
    }
}

} // namespace fitwright::stack
