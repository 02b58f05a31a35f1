// A second model of bars with Coulomb friction, written apart from the library's: points with masses that are
// let swing until nothing moves (dynamic relaxation with kinetic damping), every contact a spring that slips,
// fits by Lame's equations as they stand in a textbook. Slow and plain; for a handful of cases.
#pragma once

#include <algorithm>
#include <cmath>
#include <vector>

namespace bar_model {

inline constexpr double pi = 3.14159265358979323846;

struct Metal {
    double modulus, poisson, expansion, density;
};
struct Ring {
    double interference, outside, length, contact, friction;
    double face_rms; // u0 of its face towards the shoulder
    double settling;
    Metal metal;
    bool has_seat = true;
    double press = 0.0; // while it cools, held by the shaft's nut end
};
struct Stack {
    double bore, seat;
    Metal shaft;
    std::vector<Ring> rings;
    double nut_compliance, nut_face_rms, nut_settling;
    double touch; // force at which rough faces have just met
    double tightened;
    int thrust_ring_in = -1, thrust_ring_out = -1; // towards the shoulder; away from it
};
struct State {
    double shaft_hotter = 0.0; // over 20 degC
    std::vector<double> ring_hotter;
    double speed = 0.0, thrust = 0.0;
    double nut_moves = 0.0; // towards the rings, by its own growth and opening
};
struct Answer {
    double shoulder, nut, shoulder_gap;
};

class Model {
public:
    Model(const Stack& stack, int cells)
        : s_(stack)
        , cells_(cells) {
        const auto rings = s_.rings.size();
        u_.assign(rings * static_cast<std::size_t>(cells_ + 1), 0.0);
        v_.assign(rings * static_cast<std::size_t>(cells_) + 1, 0.0);
        slip_.assign(rings * static_cast<std::size_t>(cells_), 0.0);
        pressure_ = slip_;
        on_ = 0;
        share_.assign(rings, 0.0);
    }

    // Rings one after another: each goes on open, is pressed, cools in steps, and is let go.
    void assemble() {
        State cold;
        cold.ring_hotter.assign(s_.rings.size(), 0.0);
        for (std::size_t i = 0; i < s_.rings.size(); ++i) {
            const double at = i == 0 ? 0.0 : u(i - 1, cells_);
            on_ = i + 1;
            const bool hot = s_.rings[i].has_seat && s_.rings[i].interference > 0.0;
            share_[i] = hot ? 0.0 : 1.0;
            const double opened =
                hot ? s_.rings[i].interference / s_.seat : 0.0; // length it still has too much
            for (int k = 0; k <= cells_; ++k)
                u(i, k) = at + opened * s_.rings[i].length * k / cells_;
            for (int k = 0; k < cells_; ++k)
                slip_[cell(i, k)] = moved(i, k);
            press_ = s_.rings[i].press;
            settle(cold);
            for (int step = 1; hot && step <= 24; ++step) {
                const double x = step / 24.0;
                share_[i] = x * std::sqrt(x); // it sticks quickest just after it grips
                settle(cold);
            }
            for (int step = 3; press_ > 0.0 && step >= 0; --step) {
                press_ = s_.rings[i].press * step / 4.0;
                settle(cold);
            }
            press_ = 0.0;
        }
    }
    void tighten() {
        State cold;
        cold.ring_hotter.assign(s_.rings.size(), 0.0);
        turning_ = true;
        for (int step = 1; step <= 16; ++step) {
            nut_force_ = s_.tightened * step / 16.0;
            settle(cold);
        }
        turning_ = false;
        // Where the nut stands: what it has come nearer by is what that force closes.
        const double closing = s_.nut_compliance * s_.tightened +
                               s_.nut_face_rms * std::log(1.0 + s_.tightened / s_.touch);
        travel_ = closing - (u(s_.rings.size() - 1, cells_) - v_.back());
        locked_ = true;
        now_ = cold;
    }
    Answer go_to(const State& to) {
        const State from = now_;
        const bool first = settled_ == 0.0;
        for (int step = 1; step <= 10; ++step) {
            const double x = step / 10.0;
            State between = to;
            between.shaft_hotter = from.shaft_hotter + (to.shaft_hotter - from.shaft_hotter) * x;
            for (std::size_t i = 0; i < s_.rings.size(); ++i)
                between.ring_hotter[i] =
                    from.ring_hotter[i] + (to.ring_hotter[i] - from.ring_hotter[i]) * x;
            between.speed = std::sqrt(from.speed * from.speed +
                                      (to.speed * to.speed - from.speed * from.speed) * x);
            between.thrust = from.thrust + (to.thrust - from.thrust) * x;
            between.nut_moves = from.nut_moves + (to.nut_moves - from.nut_moves) * x;
            if (first)
                settled_ = x;
            settle(between);
        }
        now_ = to;
        return answer();
    }
    Answer answer() const { return {face_force(0), nut(), std::max(0.0, u(0, 0) - settling(0))}; }
    double largest_left = 0.0; // force that no point balances, at the worst so far

private:
    std::size_t cell(std::size_t ring, int k) const {
        return ring * static_cast<std::size_t>(cells_) + static_cast<std::size_t>(k);
    }
    double& u(std::size_t ring, int k) {
        return u_[ring * static_cast<std::size_t>(cells_ + 1) + static_cast<std::size_t>(k)];
    }
    double u(std::size_t ring, int k) const {
        return u_[ring * static_cast<std::size_t>(cells_ + 1) + static_cast<std::size_t>(k)];
    }
    double moved(std::size_t i, int k) const {
        return 0.5 * (u(i, k) + u(i, k + 1) - v_[cell(i, k)] - v_[cell(i, k) + 1]);
    }
    double settling(std::size_t face) const { return settled_ * s_.rings[face].settling; }

    // A face that has come together by c: c = f/stiff + u0 ln(1 + f/touch), by halving.
    double push(double c, double soft, double u0) const {
        if (c <= 0.0)
            return 0.0;
        double low = 0.0;
        double high = c / soft;
        for (int k = 0; k < 60; ++k) {
            const double f = 0.5 * (low + high);
            (f * soft + u0 * std::log(1.0 + f / s_.touch) < c ? low : high) = f;
        }
        return 0.5 * (low + high);
    }
    double face_force(std::size_t i) const {
        const double left = i == 0 ? 0.0 : u(i - 1, cells_);
        return push(left - u(i, 0) - settling(i) + 0.0, hard_, s_.rings[i].face_rms);
    }
    double nut() const {
        if (turning_)
            return nut_force_;
        if (!locked_)
            return 0.0;
        const double c = u(s_.rings.size() - 1, cells_) - v_.back() + travel_ + nut_moves_ -
                         settled_ * s_.nut_settling;
        return push(c, s_.nut_compliance, s_.nut_face_rms);
    }

    void settle(const State& state) {
        const double a = s_.bore / 2.0;
        const double r = s_.seat / 2.0;
        const double shaft_area = pi * (r * r - a * a);
        const std::size_t points = u_.size() + v_.size();
        std::vector<double> speed(points, 0.0), force(points), mass(points);
        nut_moves_ = state.nut_moves;
        const double w2 = state.speed * state.speed;
        double stiffest = 0.0;
        for (const Ring& ring : s_.rings)
            stiffest = std::max(stiffest, ring.metal.modulus * pi *
                                              (ring.outside * ring.outside / 4.0 - r * r) * cells_ /
                                              ring.length);
        hard_ = 1.0 / (40.0 * stiffest);
        double energy_before = 0.0;
        double scale = 1.0;
        for (int pass = 0; pass < 400000; ++pass) {
            std::fill(force.begin(), force.end(), 0.0);
            std::fill(mass.begin(), mass.end(), 0.0);
            scale = 1.0;
            double* fu = force.data();
            double* fv = fu + u_.size();
            double* mu = mass.data();
            double* mv = mu + u_.size();
            for (std::size_t i = 0; i < on_; ++i) {
                const Ring& ring = s_.rings[i];
                const double b = ring.outside / 2.0;
                const double area = pi * (b * b - r * r);
                const double l = ring.length / cells_;
                const Metal& m = ring.metal;
                const Metal& h = s_.shaft;
                const double ring_free =
                    m.expansion * state.ring_hotter[i] -
                    m.poisson * m.density * w2 * (r * r + b * b) / (2.0 * m.modulus) +
                    (1.0 - share_[i]) * std::max(0.0, ring.interference) / s_.seat;
                const double shaft_free =
                    h.expansion * state.shaft_hotter -
                    h.poisson * h.density * w2 * (a * a + r * r) / (2.0 * h.modulus);
                // Fit by Lame; growth of bore and seat by speed from the thin ring's stresses.
                const double cs = (r * r + a * a) / (r * r - a * a) - h.poisson;
                const double cr = (b * b + r * r) / (b * b - r * r) + m.poisson;
                const double soft = s_.seat * (cs / h.modulus + cr / m.modulus);
                const auto hoop = [&](double x, double y, const Metal& of) {
                    // hoop strain at radius x of a disc x to y at its own face x
                    return of.density * w2 / 4.0 *
                           ((3.0 + of.poisson) * y * y + (1.0 - of.poisson) * x * x) / of.modulus;
                };
                const double interference =
                    ring.interference * (ring.interference > 0.0 ? share_[i] : 1.0) +
                    s_.seat *
                        (h.expansion * state.shaft_hotter - m.expansion * state.ring_hotter[i]) -
                    s_.seat * (hoop(r, b, m) - hoop(r, a, h));
                const double gr = 2.0 * m.poisson / m.modulus * r * r / (b * b - r * r) *
                                  (ring.contact / ring.length);
                const double gs = 2.0 * h.poisson / h.modulus * r * r / (r * r - a * a) *
                                  (ring.contact / ring.length);
                const double kr = m.modulus * area / l;
                const double ks = h.modulus * shaft_area / l;
                for (int k = 0; k < cells_; ++k) {
                    const std::size_t c = cell(i, k);
                    const double p = ring.has_seat ? pressure_[c] : 0.0;
                    const double n = kr * ((ring_free - gr * p) * l - (u(i, k + 1) - u(i, k)));
                    const double t = ks * ((v_[c + 1] - v_[c]) - (shaft_free + gs * p) * l);
                    const std::size_t q =
                        i * static_cast<std::size_t>(cells_ + 1) + static_cast<std::size_t>(k);
                    fu[q] -= n;
                    fu[q + 1] += n;
                    fv[c] += t;
                    fv[c + 1] -= t;
                    mu[q] += kr;
                    mu[q + 1] += kr;
                    mv[c] += ks;
                    mv[c + 1] += ks;
                    scale = std::max({scale, std::abs(n), std::abs(t)});
                    if (!ring.has_seat)
                        continue;
                    const double left =
                        interference - s_.seat * (m.poisson * n / (m.modulus * area) +
                                                  h.poisson * t / (h.modulus * shaft_area));
                    // The pressure follows a little behind, so that the two do not chase each other.
                    pressure_[c] += 0.2 * (std::max(0.0, left) / soft - pressure_[c]);
                    const double limit =
                        ring.friction * pressure_[c] * pi * s_.seat * ring.contact / cells_;
                    const double stick = 2.0 * std::min(kr, ks);
                    const double trial = stick * (moved(i, k) - slip_[c]);
                    const double f = std::clamp(trial, -limit, limit);
                    fu[q] -= 0.5 * f;
                    fu[q + 1] -= 0.5 * f;
                    fv[c] += 0.5 * f;
                    fv[c + 1] += 0.5 * f;
                    mu[q] += stick;
                    mu[q + 1] += stick;
                    mv[c] += stick;
                    mv[c + 1] += stick;
                }
                const double f = face_force(i);
                const double face_k = 1.0 / (hard_ + s_.rings[i].face_rms / (f + s_.touch));
                const std::size_t first = i * static_cast<std::size_t>(cells_ + 1);
                fu[first] += f;
                mu[first] += 2.0 * face_k;
                if (i > 0) {
                    fu[first - 1] -= f;
                    mu[first - 1] += 2.0 * face_k;
                }
            }
            const std::size_t last = on_ * static_cast<std::size_t>(cells_ + 1) - 1;
            const std::size_t shaft_last = on_ * static_cast<std::size_t>(cells_);
            const double n = press_ > 0.0 ? press_ : on_ == s_.rings.size() ? nut() : 0.0;
            fu[last] -= n;
            fv[shaft_last] += n;
            const double nut_k = 2.0 / (s_.nut_compliance + s_.nut_face_rms / (n + s_.touch));
            mu[last] += nut_k;
            mv[shaft_last] += nut_k;
            const int enters = state.thrust > 0.0 ? s_.thrust_ring_in : s_.thrust_ring_out;
            if (state.thrust != 0.0)
                fu[static_cast<std::size_t>(enters) * static_cast<std::size_t>(cells_ + 1) +
                   static_cast<std::size_t>(cells_ / 2)] -= state.thrust;
            fv[0] = 0.0; // the shoulder stands still

            double energy = 0.0;
            double worst = 0.0;
            for (std::size_t j = 0; j < points; ++j) {
                const bool there = j < u_.size() ? j <= last : j - u_.size() <= shaft_last;
                if (!there || j == u_.size())
                    continue;
                worst = std::max(worst, std::abs(force[j]));
                speed[j] += force[j] / mass[j] * 0.9;
                energy += mass[j] * speed[j] * speed[j];
                (j < u_.size() ? u_[j] : v_[j - u_.size()]) += speed[j];
            }
            for (std::size_t j = shaft_last + 1; j < v_.size(); ++j)
                v_[j] = v_[shaft_last];
            if (energy < energy_before) // just past where it was quickest: let it start anew
                std::fill(speed.begin(), speed.end(), 0.0);
            energy_before = energy;
            if (worst < 1e-5 * scale && pass > 50) {
                largest_left = std::max(largest_left, worst / scale);
                break;
            }
            if (pass + 1 == 400000)
                largest_left = 1.0;
        }
        // What slid stays where it slid to.
        for (std::size_t i = 0; i < on_; ++i) {
            const Ring& ring = s_.rings[i];
            const double b = ring.outside / 2.0;
            const double stick =
                2.0 *
                std::min(ring.metal.modulus * pi * (b * b - r * r), s_.shaft.modulus * shaft_area) *
                cells_ / ring.length;
            for (int k = 0; k < cells_ && ring.has_seat; ++k) {
                const std::size_t c = cell(i, k);
                const double limit =
                    ring.friction * pressure_[c] * pi * s_.seat * ring.contact / cells_;
                const double trial = stick * (moved(i, k) - slip_[c]);
                if (std::abs(trial) > limit)
                    slip_[c] = moved(i, k) - std::copysign(limit, trial) / stick;
            }
        }
    }

    Stack s_;
    int cells_;
    std::vector<double> u_, v_, slip_, pressure_, share_;
    std::size_t on_;
    State now_;
    double press_ = 0.0, nut_force_ = 0.0, travel_ = 0.0, settled_ = 0.0, nut_moves_ = 0.0,
           hard_ = 1e-12;
    bool turning_ = false, locked_ = false;
};

} // namespace bar_model
