// The choice of what sticks, slides, touches and is open: by Newton's method, and downhill where that
// runs in circles.
#include "detail/contact_solve.hpp"

namespace fitwright::stack {

namespace {
// How much of a contact's own softness an opening or a slip is weighed with against its force: chosen
// over 21 histories of one to five rings for the fewest solves; any from 0.03 to 1 does.
constexpr double weight = 0.1;
constexpr int search_rounds = 60;  // of friction limits
constexpr int search_passes = 200; // in each
constexpr int search_cuts = 60;
constexpr double flat_enough = 0.01;
} // namespace

double ContactSolver::face_gap(std::size_t f) const {
    return out_[points_->face(f)] + now_.z[system_.peaks(ring_of_face_[f])];
}
double ContactSolver::end_gap() const {
    const auto k = static_cast<std::size_t>(held_->end);
    return out_[points_->end(k)] + (k + 1 == points_->rings ? now_.z[system_.peaks(k + 1)] : 0.0) -
           acts_->end_target;
}

// Whether every contact is in the state that it was given.
bool ContactSolver::consistent() {
    const std::size_t seats = points_->seats();
    const double small = 1e-6 * largest_;
    for (std::size_t s = 0; s < seats; ++s) {
        const Choice c = now_.seat[s];
        const double n = c == Choice::open ? 0.0 : out_[s];
        const double t = now_.z[s];
        const double slid = out_[seats + s] - acts_->slip[s];
        const std::size_t k = ring_of_seat_[s];
        const bool right = c == Choice::open    ? held_->on[k] == 0 || out_[s] >= -tight_
                           : n < -small         ? false
                           : c == Choice::holds ? abs(t) <= acts_->friction[k] * n + small
                           : c == Choice::out   ? slid <= tight_
                                                : slid >= -tight_;
        if (!right) {
            culprit = s;
            return false;
        }
    }
    for (std::size_t f = 0; f < now_.face.size(); ++f) {
        const bool right = now_.face[f] != 0
                               ? now_.z[system_.unknown(points_->face(f))] >= -small
                               : held_->on[ring_of_face_[f]] == 0 || face_gap(f) >= -tight_;
        if (!right) {
            culprit = points_->face(f);
            return false;
        }
    }
    if (stands() && !held_->both_ways) {
        culprit = points_->end(static_cast<std::size_t>(held_->end));
        if (now_.end ? now_.z[system_.unknown(culprit)] < -small : end_gap() < -tight_)
            return false;
    }
    // Peaks, and rings that are still on their way.
    imbalance = 0.0;
    for (std::size_t k = 0; k <= points_->rings; ++k) {
        culprit = k < points_->rings ? points_->face(points_->face_begin[k]) : points_->end(k - 1);
        if (k < points_->rings)
            imbalance = larger(imbalance, abs(rest_[system_.shift(k)]));
        if (abs(rest_[system_.peaks(k)]) > 10.0 * tight_ || imbalance > 1e-8 * largest_)
            return false;
    }
    return true;
}

// Each contact takes the state that its force and movement together ask for.
void ContactSolver::choose_next() {
    const std::size_t seats = points_->seats();
    for (std::size_t s = 0; s < seats; ++s) {
        const std::size_t k = ring_of_seat_[s];
        if (held_->on[k] == 0)
            continue;
        const double n = now_.seat[s] == Choice::open ? -weight * out_[s] / softness_[s] : out_[s];
        if (n <= 1e-12 * largest_) {
            now_.seat[s] = Choice::open;
            continue;
        }
        const double t =
            now_.z[s] - weight * (out_[seats + s] - acts_->slip[s]) / softness_[seats + s];
        now_.seat[s] = abs(t) <= acts_->friction[k] * n ? Choice::holds
                       : t > 0.0                        ? Choice::out
                                                        : Choice::in;
    }
    for (std::size_t f = 0; f < now_.face.size(); ++f)
        if (held_->on[ring_of_face_[f]] != 0)
            now_.face[f] = now_.face[f] != 0 ? now_.z[system_.unknown(points_->face(f))] > 0.0
                                             : face_gap(f) < -tight_;
    if (stands() && !held_->both_ways) {
        const std::size_t end = points_->end(static_cast<std::size_t>(held_->end));
        now_.end = now_.end ? now_.z[system_.unknown(end)] > 0.0 : end_gap() < -tight_;
    }
}

bool ContactSolver::newton(int passes) {
    for (int pass = 0; pass < passes; ++pass) {
        if (!solve(true))
            return false;
        if (consistent()) {
            // What is open carries nothing, not even what rounding leaves.
            for (std::size_t s = 0; s < now_.seat.size(); ++s)
                if (now_.seat[s] == Choice::open)
                    now_.z[s] = 0.0;
            for (std::size_t f = 0; f < now_.face.size(); ++f)
                if (now_.face[f] == 0)
                    now_.z[system_.unknown(points_->face(f))] = 0.0;
            accepted_ = now_;
            return true;
        }
        soften(0.02);
        choose_next();
    }
    return false;
}

// With friction limits held, the work stored in bodies and contacts is convex in movements and shifts.
// Forces and movements of bodies belong together all along a straight way, so that its slope along the
// way costs no product with a matrix.
bool ContactSolver::search() {
    ++searches;
    const std::size_t seats = points_->seats();
    now_ = accepted_;
    impose(true);
    if (!system_.settle())
        return false;
    // Forces as they were, movements as the new loads make them.
    system_.sweep(acts_->moved.data(), swept_.data());
    system_.evaluate(swept_.data(), now_.z.data(), out_.data());
    read(at_);
    for (std::size_t s = 0; s < seats; ++s)
        limit_[s] = acts_->friction[ring_of_seat_[s]] * positive(at_.force[s]);
    for (int round = 0; round < search_rounds; ++round) {
        straight_.clear();
        soften(0.0);
        for (std::size_t k = 0; k <= points_->rings; ++k)
            straight_.push_back(positive(face_force(k, at_.z.data())));
        if (!go_downhill())
            return false;
        straight_.clear();
        for (std::size_t s = 0; s < seats; ++s)
            limit_[s] = acts_->friction[ring_of_seat_[s]] * positive(at_.force[s]);
        now_.z = at_.z;
        fresh_ = true;
        choose_by_place();
        if (newton(3))
            return true;
    }
    return false;
}

// Forces and places of the solve of the moment.
void ContactSolver::read(Way& way) const {
    const std::size_t seats = points_->seats();
    way.z = now_.z;
    way.force.resize(out_.size());
    way.place.resize(out_.size());
    for (std::size_t s = 0; s < seats; ++s) {
        const bool open = now_.seat[s] == Choice::open;
        way.force[s] = open ? 0.0 : out_[s];
        way.place[s] = open ? out_[s] : -own_[s] * out_[s];
    }
    for (std::size_t i = seats; i < out_.size(); ++i) {
        way.force[i] = now_.z[system_.unknown(i)];
        way.place[i] = out_[i] - own_[i] * way.force[i];
    }
}

void ContactSolver::choose_by_place() {
    const std::size_t seats = points_->seats();
    for (std::size_t s = 0; s < seats; ++s) {
        if (held_->on[ring_of_seat_[s]] == 0)
            continue;
        const double slid = at_.place[seats + s] - acts_->slip[s];
        const double limit = own_[seats + s] * limit_[s];
        now_.seat[s] = at_.place[s] >= 0.0 ? Choice::open
                       : slid < -limit     ? Choice::out
                       : slid > limit      ? Choice::in
                                           : Choice::holds;
    }
    const auto peaks = [this](std::size_t k) { return at_.z[system_.peaks(k)]; };
    for (std::size_t f = 0; f < now_.face.size(); ++f)
        if (held_->on[ring_of_face_[f]] != 0)
            now_.face[f] = at_.place[points_->face(f)] + peaks(ring_of_face_[f]) < 0.0;
    if (stands() && !held_->both_ways)
        now_.end = end_force(at_.place[points_->end(static_cast<std::size_t>(held_->end))]) > 0.0;
}

// The force of the end that stands, at a place: its peaks and its spring are in series with it.
double ContactSolver::end_force(double place) const {
    const auto k = static_cast<std::size_t>(held_->end);
    double soft = own_[points_->end(k)] + held_->end_spring;
    double free = acts_->end_target - place;
    if (k + 1 == points_->rings) {
        const double slope = system_.softness(k + 1);
        const double n = straight_.empty() ? 0.0 : straight_[k + 1];
        soft += slope;
        free -= peaks_of(*acts_, k + 1, n) - slope * n;
    }
    return held_->both_ways ? free / soft : positive(free / soft);
}

// Slope of the work along the way, at a share of it: by movements, what bodies hold less what contacts
// answer; by shifts and peaks, their own balance.
double ContactSolver::slope(double share) const {
    const std::size_t seats = points_->seats();
    const std::size_t rings = points_->rings;
    const auto between_two = [share](const std::vector<double>& a, const std::vector<double>& b,
                                     std::size_t i) { return a[i] + (b[i] - a[i]) * share; };
    const auto force = [&](std::size_t i) { return between_two(at_.force, to_.force, i); };
    const auto place = [&](std::size_t i) { return between_two(at_.place, to_.place, i); };
    const auto way = [this](std::size_t i) { return to_.place[i] - at_.place[i]; };
    const auto z = [&](std::size_t u) { return between_two(at_.z, to_.z, u); };
    const auto way_z = [this](std::size_t u) { return to_.z[u] - at_.z[u]; };
    double sum = 0.0;
    for (std::size_t s = 0; s < seats; ++s) {
        const bool pressed = held_->on[ring_of_seat_[s]] != 0 && place(s) < 0.0;
        const double normal = pressed ? -place(s) / own_[s] : 0.0;
        const std::size_t t = seats + s;
        const double trial = (acts_->slip[s] - place(t)) / own_[t];
        const double rubs = pressed ? smaller(larger(trial, -limit_[s]), limit_[s]) : 0.0;
        sum += way(s) * (force(s) - normal) + way(t) * (force(t) - rubs);
    }
    for (std::size_t k = 0; k <= rings; ++k) {
        const double peaks = z(system_.peaks(k));
        double pressed = 0.0;
        if (k < rings) {
            for (std::size_t f = points_->face_begin[k]; f < points_->face_begin[k + 1]; ++f) {
                const std::size_t i = points_->face(f);
                const double answer =
                    held_->on[k] != 0 ? positive(-(place(i) + peaks)) / own_[i] : 0.0;
                sum += way(i) * (force(i) - answer);
                pressed += answer;
            }
        } else {
            pressed = force(points_->end(rings - 1));
        }
        const double soft = system_.softness(k);
        if (k < rings && soft > 0.0)
            sum += way_z(system_.peaks(k)) *
                   (straight_[k] + (peaks - peaks_of(*acts_, k, straight_[k])) / soft - pressed);
    }
    for (std::size_t k = 0; k < rings; ++k) {
        const std::size_t i = points_->end(k);
        const bool this_one = static_cast<int>(k) == held_->end;
        double answer = 0.0;
        if (this_one)
            answer = held_->given ? acts_->end_target : end_force(place(i));
        sum += way(i) * (force(i) - answer);
        if (held_->on[k] == 0)
            continue;
        double balance = -force(i) - acts_->balance[k];
        for (std::size_t s = points_->seat_begin[k]; s < points_->seat_begin[k + 1]; ++s)
            balance += force(seats + s);
        for (std::size_t f = points_->face_begin[k]; f < points_->face_begin[k + 1]; ++f)
            balance += force(points_->face(f));
        if (k + 1 < rings && points_->on_shaft[k + 1] == 0)
            for (std::size_t f = points_->face_begin[k + 1]; f < points_->face_begin[k + 2]; ++f)
                balance -= force(points_->face(f));
        sum -= way_z(system_.shift(k)) * balance;
    }
    return sum;
}

bool ContactSolver::go_downhill() {
    double scale = 0.0;
    for (int pass = 0; pass < search_passes; ++pass) {
        now_.z = at_.z;
        fresh_ = true;
        choose_by_place();
        if (!solve(false))
            return false;
        read(to_);
        const double start = slope(0.0);
        scale = larger(scale, abs(start));
        double share = 1.0;
        const double whole = slope(1.0);
        if (whole > 1e-9 * abs(start)) {
            double low = 0.0, high = 1.0, low_slope = start, high_slope = whole;
            for (int cut = 0; cut < search_cuts; ++cut) {
                const double secant = low + (high - low) * (-low_slope / (high_slope - low_slope));
                share =
                    smaller(larger(secant, low + 0.05 * (high - low)), high - 0.05 * (high - low));
                const double here = slope(share);
                if (abs(here) < flat_enough * abs(start))
                    break;
                (here < 0.0 ? low : high) = share;
                (here < 0.0 ? low_slope : high_slope) = here;
            }
        }
        const auto step = [share](std::vector<double>& a, const std::vector<double>& b) {
            for (std::size_t i = 0; i < a.size(); ++i)
                a[i] += (b[i] - a[i]) * share;
        };
        step(at_.z, to_.z);
        step(at_.force, to_.force);
        step(at_.place, to_.place);
        if (abs(start) <= 1e-13 * scale + 1e-18)
            return true;
    }
    return true;
}

} // namespace fitwright::stack
