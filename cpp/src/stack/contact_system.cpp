#include "detail/contact_system.hpp"
#include "bodies/detail/dense.hpp"
#include <algorithm>
#include <cmath>

namespace fitwright::stack {

namespace {
// On the way from one choice to another an update may pass near to a choice without a solution; then
// the inverse is made anew.
constexpr double singular = 1e-8;
} // namespace

void ContactSystem::begin(const bodies::ContactPoints& points, const std::vector<double>& friction,
                          double stiffness, double still) {
    points_ = &points;
    friction_ = friction;
    still_ = still;
    seats_ = points.seats();
    contacts_ = points.size();
    rings_ = points.rings;
    size_ = contacts_ - seats_ + 2 * rings_ + 1;
    ring_of_seat_.resize(seats_);
    ring_of_face_.resize(points.faces());
    for (std::size_t k = 0; k < rings_; ++k) {
        std::fill(ring_of_seat_.begin() + static_cast<std::ptrdiff_t>(points.seat_begin[k]),
                  ring_of_seat_.begin() + static_cast<std::ptrdiff_t>(points.seat_begin[k + 1]),
                  static_cast<int>(k));
        std::fill(ring_of_face_.begin() + static_cast<std::ptrdiff_t>(points.face_begin[k]),
                  ring_of_face_.begin() + static_cast<std::ptrdiff_t>(points.face_begin[k + 1]),
                  static_cast<int>(k));
    }
    closed_.assign(seats_, 0);
    close_wanted_.assign(seats_, 0);
    on_.assign(rings_, 0);
    row_.assign(size_, Row::given);
    softness_.assign(rings_ + 1, 0.0);
    spring_.assign(rings_, 0.0);
    stale_.assign(size_, 0);
    swept_ = points.compliance;
    for (double& x : swept_)
        x *= stiffness;
    new_row_.resize(size_);
    work_.resize(std::max(size_, contacts_));
    work2_.resize(size_);
    refresh();
}

void ContactSystem::close(std::size_t seat, bool closed) { close_wanted_[seat] = closed ? 1 : 0; }
void ContactSystem::choose(std::size_t unknown, Row row) {
    if (row_[unknown] == row)
        return;
    row_[unknown] = row;
    stale_[unknown] = 1;
}
void ContactSystem::soften(std::size_t face, double softness) {
    if (softness_[face] == softness)
        return;
    softness_[face] = softness;
    stale_[peaks(face)] = 1;
}
void ContactSystem::spring(std::size_t end, double softness) {
    if (spring_[end] == softness)
        return;
    spring_[end] = softness;
    stale_[unknown(points_->end(end))] = 1;
}
void ContactSystem::part_on(std::size_t ring, bool on) {
    if ((on_[ring] != 0) == on)
        return;
    on_[ring] = on ? 1 : 0;
    stale_[shift(ring)] = 1;
}

void ContactSystem::write_row(std::size_t u, double* out) const {
    std::fill_n(out, size_, 0.0);
    const std::size_t forces = contacts_ - seats_;
    const std::size_t faces = seats_ + points_->faces(); // unknowns before the ends
    const auto copy = [&](std::size_t contact, double factor) {
        const double* m = swept_row(contact) + seats_;
        for (std::size_t j = 0; j < forces; ++j)
            out[j] = factor * m[j];
    };
    if (u < forces) {
        if (row_[u] == Row::held) {
            copy(u + seats_, 1.0);
            if (u < seats_) {
                out[shift(static_cast<std::size_t>(ring_of_seat_[u]))] = 1.0;
            } else if (u < faces) {
                const auto k = static_cast<std::size_t>(ring_of_face_[u - seats_]);
                out[shift(k)] = 1.0;
                if (points_->on_shaft[k] == 0)
                    out[shift(k - 1)] = -1.0;
                out[peaks(k)] = 1.0;
            } else {
                const std::size_t k = u - faces;
                out[shift(k)] = -1.0;
                out[u] += spring_[k];
                if (k + 1 == rings_)
                    out[peaks(rings_)] = 1.0;
            }
            return;
        }
        if (row_[u] != Row::given) {
            const auto ring = static_cast<std::size_t>(ring_of_seat_[u]);
            copy(u, row_[u] == Row::slides_out ? -friction_[ring] : friction_[ring]);
        }
        out[u] += 1.0;
        return;
    }
    if (u < forces + rings_) { // balance along z of a ring
        const std::size_t k = u - forces;
        if (on_[k] == 0) {
            out[u] = 1.0;
            return;
        }
        for (std::size_t s = points_->seat_begin[k]; s < points_->seat_begin[k + 1]; ++s)
            out[s] = 1.0;
        for (std::size_t f = points_->face_begin[k]; f < points_->face_begin[k + 1]; ++f)
            out[seats_ + f] = 1.0;
        if (k + 1 < rings_ && points_->on_shaft[k + 1] == 0)
            for (std::size_t f = points_->face_begin[k + 1]; f < points_->face_begin[k + 2]; ++f)
                out[seats_ + f] = -1.0;
        out[faces + k] = -1.0;
        out[u] = -still_;
        return;
    }
    const std::size_t k = u - forces - rings_; // peaks of a face
    if (k < rings_)
        for (std::size_t f = points_->face_begin[k]; f < points_->face_begin[k + 1]; ++f)
            out[seats_ + f] = -softness_[k];
    else
        out[faces + rings_ - 1] = -softness_[k];
    out[u] = 1.0;
}

// One seat's normal: force and movement change places.
void ContactSystem::exchange(std::size_t p) {
    const std::size_t n = contacts_;
    double* row = swept_.data() + p * n;
    const double pivot = 1.0 / row[p];
    for (std::size_t i = 0; i < n; ++i) {
        if (i == p)
            continue;
        double* m = swept_.data() + i * n;
        const double factor = m[p] * pivot;
        if (factor == 0.0)
            continue;
        for (std::size_t j = 0; j < n; ++j)
            m[j] -= factor * row[j];
        m[p] = factor;
    }
    for (std::size_t j = 0; j < n; ++j)
        row[j] *= -pivot;
    row[p] = pivot;
    closed_[p] = closed_[p] != 0 ? 0 : 1;
}

// inverse of (matrix - a b'), from that of the matrix.
bool ContactSystem::rank_one(const double* a, const double* b) {
    const std::size_t n = size_;
    double* left = work_.data();   // inverse a
    double* right = work2_.data(); // b' inverse
    std::fill_n(right, n, 0.0);
    for (std::size_t i = 0; i < n; ++i) {
        const double* w = inverse_.data() + i * n;
        left[i] = bodies::dot(w, a, n);
        if (b[i] != 0.0)
            for (std::size_t j = 0; j < n; ++j)
                right[j] += b[i] * w[j];
    }
    double by = 1.0 - bodies::dot(right, a, n);
    if (!(std::abs(by) > singular))
        return false;
    by = 1.0 / by;
    for (std::size_t i = 0; i < n; ++i) {
        const double factor = left[i] * by;
        if (factor == 0.0)
            continue;
        double* w = inverse_.data() + i * n;
        for (std::size_t j = 0; j < n; ++j)
            w[j] += factor * right[j];
    }
    ++updates_;
    return true;
}

// Rows are replaced.
bool ContactSystem::put_stale() {
    put_.clear();
    change_.clear();
    for (std::size_t u = 0; u < size_; ++u) {
        if (stale_[u] == 0)
            continue;
        write_row(u, new_row_.data());
        double* old = matrix_.data() + u * size_;
        bool same = true;
        for (std::size_t j = 0; j < size_; ++j) {
            const double change = new_row_[j] - old[j];
            same = same && change == 0.0;
            old[j] = new_row_[j];
            new_row_[j] = change;
        }
        is_[u] = row_[u];
        stale_[u] = 0;
        if (same)
            continue;
        put_.push_back(u);
        change_.insert(change_.end(), new_row_.begin(), new_row_.end());
    }
    updates_ += static_cast<int>(put_.size());
    return put_.empty() || bodies::change_rows(inverse_, size_, put_, change_);
}

bool ContactSystem::settle() {
    std::size_t seats = 0;
    for (std::size_t s = 0; s < seats_; ++s)
        seats += close_wanted_[s] != closed_[s] ? 1 : 0;
    changed_ = seats > 0;
    // A new inverse costs about as much as a sixth of the seats closing or opening; and rounding adds up.
    if (12 * seats > size_ || updates_ > 5000)
        return refresh();
    for (std::size_t s = 0; seats > 0 && s < seats_; ++s)
        if (close_wanted_[s] != closed_[s] && !exchange_within(s))
            return refresh();
    return put_stale() || refresh();
}

// Every row made of swept ones changes by its own entry for this seat times the seat's row. The seat's own
// friction row is written anew afterwards.
bool ContactSystem::exchange_within(std::size_t s) {
    const std::size_t forces = contacts_ - seats_;
    std::vector<double>& a = new_row_;
    std::fill(a.begin(), a.end(), 0.0);
    const double pivot = 1.0 / swept_row(s)[s];
    for (std::size_t u = 0; u < forces; ++u) {
        if (is_[u] == Row::held)
            a[u] = swept_row(u + seats_)[s] * pivot;
        else if (is_[u] != Row::given && u != s)
            a[u] = (is_[u] == Row::slides_out ? -1.0 : 1.0) * swept_row(u)[s] * pivot *
                   friction_[static_cast<std::size_t>(ring_of_seat_[u])];
    }
    std::vector<double>& b = seat_row_;
    b.assign(size_, 0.0);
    std::copy_n(swept_row(s) + seats_, forces, b.begin());
    for (std::size_t u = 0; u < forces; ++u)
        if (a[u] != 0.0)
            for (std::size_t j = 0; j < forces; ++j)
                matrix_[u * size_ + j] -= a[u] * b[j];
    if (!rank_one(a.data(), b.data()))
        return false;
    exchange(s);
    stale_[s] = 1;
    return true;
}

bool ContactSystem::refresh() {
    changed_ = true;
    for (std::size_t s = 0; s < seats_; ++s)
        if (close_wanted_[s] != closed_[s])
            exchange(s);
    matrix_.resize(size_ * size_);
    for (std::size_t u = 0; u < size_; ++u)
        write_row(u, matrix_.data() + u * size_);
    inverse_ = matrix_;
    is_ = row_;
    std::fill(stale_.begin(), stale_.end(), 0);
    updates_ = 0;
    return bodies::invert(inverse_, size_);
}

} // namespace fitwright::stack
