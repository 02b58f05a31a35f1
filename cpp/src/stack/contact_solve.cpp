#include "detail/contact_solve.hpp"

namespace fitwright::stack {

namespace {
constexpr double still_share =
    1e-3; // of a contact's stiffness: holds a ring from one solve to the next
constexpr double longest = 50e-6; // a ring shifts by no more in one solve
constexpr int refinements = 4;
constexpr int newton_passes = 16;
} // namespace

void ContactSolver::begin(const bodies::ContactPoints& points,
                          const std::vector<double>& friction) {
    points_ = &points;
    const std::size_t n = points.size();
    softness_.resize(n);
    double sum = 0.0;
    for (std::size_t i = 0; i < n; ++i) {
        softness_[i] = points.compliance[i * n + i];
        sum += softness_[i];
    }
    stiffness_ = static_cast<double>(n) / sum;
    tight_ = contact_tight * stiffness_;
    own_ = points.own;
    for (std::size_t i = 0; i < n; ++i) {
        softness_[i] *= stiffness_;
        own_[i] *= stiffness_;
    }
    ring_of_seat_.clear();
    ring_of_face_.clear();
    for (std::size_t k = 0; k < points.rings; ++k) {
        ring_of_seat_.resize(points.seat_begin[k + 1], k);
        ring_of_face_.resize(points.face_begin[k + 1], k);
    }
    system_.begin(points, friction, stiffness_, still_share);
    accepted_.z.assign(system_.unknowns(), 0.0);
    accepted_.seat.assign(points.seats(), Choice::open);
    accepted_.face.assign(points.faces(), 0);
    accepted_.end = false;
    swept_.assign(n, 0.0);
    out_.assign(n, 0.0);
    rest_.assign(system_.unknowns(), 0.0);
    more_ = rest_;
    limit_.assign(points.seats(), 0.0);
    straight_.clear();
    iterations = searches = 0;
}

void ContactSolver::drop(std::size_t ring) {
    for (std::size_t s = points_->seat_begin[ring]; s < points_->seat_begin[ring + 1]; ++s) {
        accepted_.seat[s] = Choice::open;
        accepted_.z[s] = 0.0;
    }
    for (std::size_t f = points_->face_begin[ring]; f < points_->face_begin[ring + 1]; ++f) {
        accepted_.face[f] = 0;
        accepted_.z[system_.unknown(points_->face(f))] = 0.0;
    }
    accepted_.z[system_.unknown(points_->end(ring))] = 0.0;
}

bool ContactSolver::advance(const ContactActs<double>& acts, const ContactHeld& held) {
    acts_ = &acts;
    held_ = &held;
    for (std::size_t k = 0; k < points_->rings; ++k) {
        system_.part_on(k, held.on[k] != 0);
        const bool this_one = static_cast<int>(k) == held.end;
        system_.spring(k, this_one ? held.end_spring : 0.0);
        if (!this_one)
            system_.choose(system_.unknown(points_->end(k)), Row::given);
    }
    straight_.clear();
    coupled_ = true;
    now_ = accepted_;
    if (stands() && held.both_ways)
        now_.end = true;
    if (held.end < 0)
        now_.end = false;
    fresh_ = true;
    soften(0.0);
    return newton(newton_passes) || search();
}

double ContactSolver::face_force(std::size_t face, const double* z) const {
    if (face == points_->rings)
        return z[system_.unknown(points_->end(face - 1))];
    double sum = 0.0;
    for (std::size_t f = points_->face_begin[face]; f < points_->face_begin[face + 1]; ++f)
        sum += z[system_.unknown(points_->face(f))];
    return sum;
}
// Slopes of the peaks of all faces at the forces of the moment; a slope that is a little old only costs a
// pass.
void ContactSolver::soften(double tolerance) {
    for (std::size_t k = 0; k <= points_->rings; ++k) {
        const double n = positive(face_force(k, now_.z.data()));
        const double slope = acts_->linear[k] + acts_->softness[k] / (n + acts_->touch);
        if (abs(slope - system_.softness(k)) > tolerance * slope)
            system_.soften(k, slope);
    }
}

// The choice as rows of the system.
void ContactSolver::impose(bool coupled) {
    coupled_ = coupled;
    for (std::size_t s = 0; s < now_.seat.size(); ++s) {
        const Choice c = now_.seat[s];
        system_.close(s, c != Choice::open);
        system_.choose(s, c == Choice::holds              ? Row::held
                          : !coupled || c == Choice::open ? Row::given
                          : c == Choice::out              ? Row::slides_out
                                                          : Row::slides_in);
    }
    for (std::size_t f = 0; f < now_.face.size(); ++f)
        system_.choose(system_.unknown(points_->face(f)),
                       now_.face[f] != 0 ? Row::held : Row::given);
    if (held_->end >= 0)
        system_.choose(system_.unknown(points_->end(static_cast<std::size_t>(held_->end))),
                       now_.end && !held_->given ? Row::held : Row::given);
}

// One step of Newton's method for the choice of the moment. The inverse has been carried through many
// changes: what it leaves over of the straight rows is solved for again, and where that does not help it
// is made anew.
bool ContactSolver::solve(bool coupled) {
    ++iterations;
    impose(coupled);
    if (!system_.settle())
        return false;
    if (fresh_ || system_.changed()) {
        system_.sweep(acts_->moved.data(), swept_.data());
        system_.evaluate(swept_.data(), now_.z.data(), out_.data());
    }
    fresh_ = false;
    for (int again = 0; again < refinements; ++again) {
        rest(*acts_, out_.data(), now_.z.data(), rest_.data());
        system_.solve(rest_.data(), more_.data());
        for (std::size_t u = 0; u < more_.size(); ++u)
            now_.z[u] += more_[u];
        // Downhill it is the search that shortens the way.
        const bool cut = coupled && keep_near();
        system_.evaluate(swept_.data(), now_.z.data(), out_.data());
        rest(*acts_, out_.data(), now_.z.data(), rest_.data());
        double movement = 0.0;
        double force = 0.0;
        largest_ = 1.0;
        for (std::size_t u = 0; u < system_.shift(0); ++u) {
            double& worst = system_.row(u) == Row::held ? movement : force;
            worst = larger(worst, abs(rest_[u]));
            largest_ = larger(largest_, abs(now_.z[u]));
        }
        if (!(movement == movement) || !(force == force))
            return false;
        if (cut || (movement <= 0.1 * tight_ && force <= 1e-9 * largest_))
            break;
        if (again == 1) {
            if (!system_.refresh())
                return false;
            system_.sweep(acts_->moved.data(), swept_.data());
            system_.evaluate(swept_.data(), now_.z.data(), out_.data());
        }
    }
    return true;
}

// A ring that nothing holds must not fly off.
bool ContactSolver::keep_near() {
    const double most = longest * stiffness_;
    bool cut = false;
    for (std::size_t k = 0; k < points_->rings; ++k) {
        const std::size_t u = system_.shift(k);
        const double kept = smaller(larger(more_[u], -most), most);
        cut = cut || kept != more_[u];
        now_.z[u] += kept - more_[u];
    }
    return cut;
}

} // namespace fitwright::stack
