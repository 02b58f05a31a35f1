// The cheap bodies: bars along z for the shaft and every part, joined by the fit. Two-point elements;
// an element of a part and the shaft under it carry
//   eps_r = free_r - softness_r N_r - g_r p,   eps_s = free_s + softness_s N_s + g_s p
//   p = (interference - loss_r N_r - loss_s N_s)/flexibility where that is above 0,  g = loss pi d/2
// with N_r compression of the part and N_s tension of the shaft: fit and clamp in one, and symmetric
// because pressure and force are reciprocal (docs/theory-history.md).
#pragma once

#include "band.hpp"
#include "points.hpp"
#include <fitwright/bodies/strip.hpp>
#include <fitwright/fields/quantity.hpp>

namespace fitwright::bodies {

using namespace number;

// Forces and pressure of an element as linear functions of its two strains.
template <class T>
struct ElementLaw {
    T ring_free, ring_by_ring, ring_by_shaft;
    T shaft_free, shaft_by_ring, shaft_by_shaft;
    T pressure_free, pressure_by_ring, pressure_by_shaft;
};

template <class T>
FITWRIGHT_INLINE ElementLaw<T> open_law(const Strip<T>& s) {
    const T r = 1.0 / s.ring_softness;
    const T h = 1.0 / s.shaft_softness;
    return {s.ring_free * r, -r, T(0.0), -(s.shaft_free * h), T(0.0), h, T(0.0), T(0.0), T(0.0)};
}

// `contact`: share of the length that is in contact.
template <class T>
ElementLaw<T> closed_law(const Strip<T>& s, const T& contact) {
    const T per = 1.0 / s.flexibility;
    const T half = s.diameter * contact * (0.5 * fields::pi) * per;
    const T g_r = s.ring_loss * half; // strain per interference
    const T g_s = s.shaft_loss * half;
    const T a11 = s.ring_softness - g_r * s.ring_loss;
    const T a22 = s.shaft_softness - g_s * s.shaft_loss;
    const T a12 = -(g_r * s.shaft_loss);
    const T det = 1.0 / (a11 * a22 - a12 * a12);
    const T b11 = a22 * det;
    const T b22 = a11 * det;
    const T b12 = -(a12 * det);
    // Right-hand sides without strain: the free strains and the interference.
    const T r0 = s.ring_free - g_r * s.interference;
    const T s0 = -(s.shaft_free + g_s * s.interference);
    ElementLaw<T> e{
        b11 * r0 + b12 * s0, -b11, b12, b12 * r0 + b22 * s0, -b12, b22, T(0.0), T(0.0), T(0.0)};
    const auto pressure = [&](const T& n_r, const T& n_s) {
        return -(s.ring_loss * n_r + s.shaft_loss * n_s) * per;
    };
    e.pressure_free = s.interference * per + pressure(e.ring_free, e.shaft_free);
    e.pressure_by_ring = pressure(e.ring_by_ring, e.shaft_by_ring);
    e.pressure_by_shaft = pressure(e.ring_by_shaft, e.shaft_by_shaft);
    return e;
}

template <class T>
FITWRIGHT_INLINE ElementLaw<double> values_of(const ElementLaw<T>& e) {
    return {value_of(e.ring_free),     value_of(e.ring_by_ring),     value_of(e.ring_by_shaft),
            value_of(e.shaft_free),    value_of(e.shaft_by_ring),    value_of(e.shaft_by_shaft),
            value_of(e.pressure_free), value_of(e.pressure_by_ring), value_of(e.pressure_by_shaft)};
}

template <class T>
class Bars {
public:
    using Load = std::vector<Strip<T>>;

    // One part after another from the shoulder; a part without contact has one element, no seat.
    void begin() {
        parts_.clear();
        points_.ends.clear();
        points_.seats.clear();
        points_.count = 1;
        points_.reach = 3;
        end_ = T(0.0);
    }
    // `apart`: its seat is not expected to touch, so that it is one bar; see `astray`.
    void add(const T& length, const T& contact_length, const T& diameter, int elements,
             bool apart = false) {
        const bool seated = contact_length > T(0.0);
        const int n = seated && !apart ? elements : 1;
        if (n > 1 && static_cast<int>(shares_.size()) != n)
            share_out(n);
        Part p{points_.count, n, length, 1.0 / length, contact_length / length};
        p.half_area = contact_length * diameter * (0.5 * fields::pi);
        p.shares = n > 1 ? shares_.data() : &undivided;
        p.per_share = n > 1 ? per_share_.data() : &undivided;
        p.scale = seated ? elements : 1;
        p.apart = seated && apart;
        const int i = static_cast<int>(parts_.size());
        Ends e{p.first,
               p.first + 2 * n - 1,
               p.first - 1,
               p.first + 2 * n,
               part_point(p, n / 2),
               static_cast<int>(points_.seats.size()),
               0};
        // Two places in every element, where Gauss would integrate.
        double along = 0.0;
        for (int k = 0; seated && k < n; ++k) {
            const bool first = k == 0;
            const int window = first ? p.first - 1 : part_point(p, k);
            for (const double x : {gauss, 1.0 - gauss}) {
                const double w0 = first ? x - 1.0 : 1.0 - x;
                points_.seats.push_back({i,
                                         {window, window + 1, window + 2, window + 3},
                                         {w0, -w0, x, -x},
                                         end_ + length * (along + x * p.shares[k]),
                                         p.half_area * p.shares[k]});
            }
            along += p.shares[k];
        }
        e.seat_end = static_cast<int>(points_.seats.size());
        points_.ends.push_back(e);
        points_.count = p.first + 2 * n + 1;
        points_.nut_end = points_.count - 1;
        end_ += length;
        parts_.push_back(p);
    }
    const Points<T>& points() const { return points_; }

    void at(const Load& load, const std::vector<char>& on, bool whole) {
        loaded_parts_ = whole ? parts_.size() : 0;
        for (std::size_t i = 0; i < parts_.size(); ++i) {
            if (on[i] != 0 && i >= loaded_parts_)
                loaded_parts_ = i + 1;
            Part& p = parts_[i];
            p.on = on[i] != 0;
            if constexpr (!has_derivatives<T>)
                if (p.has_law && same(p.strip, load[i]))
                    continue; // most parts stand still in most steps
            p.has_law = true;
            p.strip = load[i];
            p.open = open_law(p.strip);
            if (p.contact > T(0.0))
                p.closed = closed_law(p.strip, p.contact);
            if constexpr (has_derivatives<T>) {
                p.open_values = values_of(p.open);
                p.closed_values = values_of(p.closed);
            }
        }
        touching_.resize(static_cast<std::size_t>(points_.count));
    }

    int loaded() const {
        return loaded_parts_ == 0 ? 1 : points_.ends[loaded_parts_ - 1].shaft_last + 1;
    }
    // The bare shaft beyond has its free strain.
    template <class S>
    void follow(S* u) const {
        for (std::size_t i = loaded_parts_; i < parts_.size(); ++i) {
            const Part& p = parts_[i];
            for (int e = 0; e < p.elements; ++e) {
                const T longer = p.strip.shaft_free * p.length * p.shares[e];
                if constexpr (std::is_same_v<S, T>)
                    u[shaft_point(p, e + 1)] = u[shaft_point(p, e)] + longer;
                else
                    u[shaft_point(p, e + 1)] = u[shaft_point(p, e)] + value_of(longer);
            }
        }
    }

    // Forces, seats and slopes at u; what has opened is chosen here.
    template <class Friction>
    void respond(const double* u, double* force, double* normal, Band& k, Friction& on_seats) {
        Friction friction = on_seats;
        std::size_t seat = 0;
        for (std::size_t i = 0; i < loaded_parts_; ++i) {
            const Part& p = parts_[i];
            const Now now = now_of(p);
            char* touching = touching_.data() + p.first;
            Window w{u + p.first - 1, force + p.first - 1, k.row(p.first - 1), normal + seat, seat};
            element<1>(now, p.shares[0], p.per_share[0], w, touching[0], friction);
            for (int e = 1; e < p.elements; ++e) {
                w.next(now.seated);
                element<0>(now, p.shares[e], p.per_share[e], w, touching[2 * e - 1], friction);
            }
            w.next(now.seated);
            seat = w.seat;
        }
        on_seats = friction;
    }

    // The same on T with what the last call on doubles has chosen.
    void respond(const T* u, T* force, T* normal) const {
        std::size_t seat = 0;
        for (std::size_t i = 0; i < loaded_parts_; ++i) {
            const Part& p = parts_[i];
            const bool seated = p.contact > T(0.0);
            for (int e = 0; e < p.elements; ++e, seat += seated ? 2 : 0) {
                const int r0 = part_point(p, e);
                const int s0 = shaft_point(p, e);
                const int r1 = part_point(p, e + 1);
                const int s1 = shaft_point(p, e + 1);
                const T per = p.per_length / p.shares[e];
                const T er = (u[r1] - u[r0]) * per;
                const T es = (u[s1] - u[s0]) * per;
                const bool touching =
                    p.on && seated && touching_[static_cast<std::size_t>(r0)] != 0;
                const ElementLaw<T>& c = touching ? p.closed : p.open;
                const T ns = c.shaft_free + c.shaft_by_ring * er + c.shaft_by_shaft * es;
                force[s0] -= ns;
                force[s1] += ns;
                if (!p.on) {
                    if (seated)
                        normal[seat] = normal[seat + 1] = T(0.0);
                    continue;
                }
                const T nr = c.ring_free + c.ring_by_ring * er + c.ring_by_shaft * es;
                force[r0] += nr;
                force[r1] -= nr;
                if (!touching) {
                    if (seated)
                        normal[seat] = normal[seat + 1] = T(0.0);
                    continue;
                }
                const T on_half =
                    (c.pressure_free + c.pressure_by_ring * er + c.pressure_by_shaft * es) *
                    (p.half_area * p.shares[e]);
                normal[seat] = normal[seat + 1] = on_half;
            }
        }
    }

    void place(int part, const Load& load, const T& movement, T* u) const {
        const Part& p = parts_[static_cast<std::size_t>(part)];
        const T stretch = load[static_cast<std::size_t>(part)].ring_free * p.length;
        double along = 0.0;
        for (int e = 0; e <= p.elements; ++e) {
            u[part_point(p, e)] = movement + stretch * along;
            if (e < p.elements)
                along += p.shares[e];
        }
    }
    // Force per movement of an element of the part or shaft, for scales.
    double stiffness(int part) const {
        const Part& p = parts_[static_cast<std::size_t>(part)];
        return p.scale * value_of(p.per_length) / value_of(p.strip.ring_softness);
    }
    // Whether a part touches that was taken to stay apart: then one element does not do.
    bool astray() const {
        for (const Part& p : parts_)
            if (p.apart && p.on && touching_[static_cast<std::size_t>(p.first)] != 0)
                return true;
        return false;
    }
    double length(int part) const {
        const Part& p = parts_[static_cast<std::size_t>(part)];
        return value_of(p.length);
    }

private:
    struct Part {
        int first, elements;
        T length, per_length;
        T contact; // share of the length in contact
        ElementLaw<T> open{}, closed{};
        ElementLaw<double> open_values{}, closed_values{}; // of duals
        const double* shares = nullptr;                    // of the length, element by element
        T half_area = T(0.0);                              // half of the seat
        const double* per_share = nullptr;                 // their reciprocals
        bool has_law = false;                              // of this strip
        int scale = 1;                                     // elements it would have
        bool apart = false;
        Strip<T> strip{};
        bool on = false;
    };
    // What the elements of a part have in common, in values.
    struct Now {
        ElementLaw<double> open, closed;
        bool on, seated;
        double per_length, half_area;
        double left, left_by_ring, left_by_shaft; // of the interference, while open
        double push_by_ring, push_by_shaft;       // slopes of the normal force on half an element
    };
    static Now now_of(const Part& p) {
        Now n{law(p.open, p.open_values),
              law(p.closed, p.closed_values),
              p.on,
              p.contact > T(0.0),
              value_of(p.per_length),
              value_of(p.half_area),
              value_of(p.strip.interference),
              value_of(p.strip.ring_loss),
              value_of(p.strip.shaft_loss),
              0.0,
              0.0};
        n.left -= n.left_by_ring * n.open.ring_free + n.left_by_shaft * n.open.shaft_free;
        n.left_by_ring *= n.open.ring_by_ring;
        n.left_by_shaft *= n.open.shaft_by_shaft;
        n.push_by_ring = n.half_area * n.per_length * n.closed.pressure_by_ring;
        n.push_by_shaft = n.half_area * n.per_length * n.closed.pressure_by_shaft;
        return n;
    }
    // The four points of an element, which follow each other: part and shaft at its near end (in the
    // first element of a part the other way round), part and shaft at its far end.
    struct Window {
        const double* u;
        double* force;
        double* k;
        double* normal;
        std::size_t seat;
        void next(bool seated) {
            u += 2;
            force += 2;
            k += 2 * 7;
            normal += seated ? 2 : 0;
            seat += seated ? 2 : 0;
        }
        // Of a band that reaches three points: a row further is a column back.
        double& slope(int i, int j) const { return k[6 * i + j]; }
        void join(int i, int j, double x) const {
            slope(i, i) += x;
            slope(i, j) -= x;
            slope(j, i) -= x;
            slope(j, j) += x;
        }
    };
    template <int R0, class Friction>
    FITWRIGHT_INLINE static void element(const Now& p, double share, double per_share,
                                         const Window& w, char& touches, Friction& friction) {
        constexpr int S0 = 1 - R0;
        constexpr int R1 = 2;
        constexpr int S1 = 3;
        const double per = p.per_length * per_share;
        const double er = (w.u[R1] - w.u[R0]) * per;
        const double es = (w.u[S1] - w.u[S0]) * per;
        const bool touching =
            p.on && p.seated && p.left - p.left_by_ring * er - p.left_by_shaft * es > 0.0;
        touches = touching ? 1 : 0;
        if (!touching) {
            const double ns = p.open.shaft_free + p.open.shaft_by_shaft * es;
            w.force[S0] -= ns;
            w.force[S1] += ns;
            w.join(S0, S1, p.open.shaft_by_shaft * per);
            if (p.on) {
                const double nr = p.open.ring_free + p.open.ring_by_ring * er;
                w.force[R0] += nr;
                w.force[R1] -= nr;
                w.join(R0, R1, -p.open.ring_by_ring * per);
            }
            if (p.seated) {
                w.normal[0] = w.normal[1] = 0.0;
                friction(w.seat, 0.0, 0.0);
                friction(w.seat + 1, 0.0, 0.0);
            }
            return;
        }
        const ElementLaw<double>& c = p.closed;
        const double ns = c.shaft_free + c.shaft_by_ring * er + c.shaft_by_shaft * es;
        const double nr = c.ring_free + c.ring_by_ring * er + c.ring_by_shaft * es;
        const double kss = c.shaft_by_shaft * per;
        const double krr = -c.ring_by_ring * per;
        const double krs = c.ring_by_shaft * per;
        const double on_half =
            p.half_area * share *
            (c.pressure_free + c.pressure_by_ring * er + c.pressure_by_shaft * es);
        w.normal[0] = w.normal[1] = on_half;
        // Friction at the two places, x and y from the near end; what it does at a point of the part
        // it does to the shaft beside it the other way.
        constexpr double x = gauss;
        constexpr double y = 1.0 - gauss;
        const FrictionAt near =
            friction(w.seat, on_half, (w.u[R0] * y - w.u[S0] * y) + (w.u[R1] * x - w.u[S1] * x));
        const FrictionAt far = friction(w.seat + 1, on_half,
                                        (w.u[R0] * x - w.u[S0] * x) + (w.u[R1] * y - w.u[S1] * y));
        const double from = near.force * y + far.force * x;
        const double to = near.force * x + far.force * y;
        const double across_from = near.by_normal * y + far.by_normal * x;
        const double across_to = near.by_normal * x + far.by_normal * y;
        const double ends = near.by_movement * (y * y) + far.by_movement * (x * x);
        const double mixed = (near.by_movement + far.by_movement) * (x * y);
        const double other = near.by_movement * (x * x) + far.by_movement * (y * y);
        w.force[R0] += nr + from;
        w.force[S0] -= ns + from;
        w.force[R1] += to - nr;
        w.force[S1] += ns - to;
        const double from_r = across_from * p.push_by_ring;
        const double from_s = across_from * p.push_by_shaft;
        const double to_r = across_to * p.push_by_ring;
        const double to_s = across_to * p.push_by_shaft;
        w.slope(R0, R0) += krr + ends - from_r;
        w.slope(R0, S0) -= krs + ends + from_s;
        w.slope(R0, R1) += mixed - krr + from_r;
        w.slope(R0, S1) += krs - mixed + from_s;
        w.slope(S0, R0) -= krs + ends - from_r;
        w.slope(S0, S0) += kss + ends + from_s;
        w.slope(S0, R1) += krs - mixed - from_r;
        w.slope(S0, S1) -= kss - mixed + from_s;
        w.slope(R1, R0) += mixed - krr - to_r;
        w.slope(R1, S0) += krs - mixed - to_s;
        w.slope(R1, R1) += krr + other + to_r;
        w.slope(R1, S1) -= krs + other - to_s;
        w.slope(S1, R0) += krs - mixed + to_r;
        w.slope(S1, S0) -= kss - mixed - to_s;
        w.slope(S1, R1) -= krs + other + to_r;
        w.slope(S1, S1) += kss + other - to_s;
    }

    static constexpr double undivided = 1.0;
    static bool same(const Strip<double>& x, const Strip<double>& y) {
        return x.ring_softness == y.ring_softness && x.shaft_softness == y.shaft_softness &&
               x.ring_free == y.ring_free && x.shaft_free == y.shaft_free &&
               x.diameter == y.diameter && x.interference == y.interference &&
               x.flexibility == y.flexibility && x.ring_loss == y.ring_loss &&
               x.shaft_loss == y.shaft_loss;
    }
    static constexpr double gauss = 0.21132486540518712; // (1 - 1/sqrt(3))/2
    // Friction and force change most at the ends of a part: elements are shortest there.
    void share_out(int n) {
        shares_.resize(static_cast<std::size_t>(n));
        const auto at = [n](int k) {
            const double x = static_cast<double>(k) / n;
            return x * (1.0 - grading + grading * x * (3.0 - 2.0 * x));
        };
        per_share_.clear();
        for (int k = 0; k < n; ++k) {
            shares_[static_cast<std::size_t>(k)] = at(k + 1) - at(k);
            per_share_.push_back(1.0 / (at(k + 1) - at(k)));
        }
    }
    static constexpr double grading = 0.4;
    // The part's first point, then part and shaft in turn.
    static int part_point(const Part& p, int k) { return k == 0 ? p.first : p.first + 2 * k - 1; }
    static int shaft_point(const Part& p, int k) { return k == 0 ? p.first - 1 : p.first + 2 * k; }
    static const ElementLaw<double>& law(const ElementLaw<T>& e, const ElementLaw<double>& v) {
        if constexpr (has_derivatives<T>)
            return v;
        else
            return e;
    }

    std::vector<Part> parts_;
    std::vector<double> shares_, per_share_;
    Points<T> points_;
    std::vector<char> touching_;
    std::size_t loaded_parts_ = 0;
    T end_ = T(0.0);
};

} // namespace fitwright::bodies
