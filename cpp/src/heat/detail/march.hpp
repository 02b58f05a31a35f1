// Through time: TR-BDF2, an implicit method of second order with an error estimate of third order.
//
//   u1 = u0 + d h (Q0 + Q1)                    at t + 2 d h,  d = 1 - 1/sqrt(2)
//   u2 = u0 + w h (Q0 + Q1) + d h Q2,          w = sqrt(2)/4
//
// u is the heat content of a cell, so that what the cells lose is what the films give off, whatever
// the step. A surface has no content: Q = 0 there. Hosea and Shampine, Analysis and implementation of
// TR-BDF2, Applied Numerical Mathematics 20 (1996), from memory.
//
// The steps are chosen by values alone. With duals the equations are solved in values, then one Newton
// step carries the derivatives: exact ones of the same sequence of steps.
#pragma once

#include "chain.hpp"

namespace fitwright::heat {

inline constexpr double tr_d = 0.2928932188134524756;
inline constexpr double tr_w = 0.3535533905932737622;

template <class T>
struct March {
    const Chain<T>& chain;
    double tolerance; // K a step may be wrong by
    double step;      // s, the next one
    T time = T(0.0);  // since the march began
    T given_off = T(0.0);
    int steps = 0, refused = 0;
    bool converged = true;
    T now[node_limit] = {};  // temperatures
    T flow[node_limit] = {}; // heat into each node
    T next[node_limit] = {};
    T next_flow[node_limit] = {};
    T next_given = T(0.0);

    March(const Chain<T>& along, double allowed, double first)
        : chain(along)
        , tolerance(allowed)
        , step(first) {}

    // After the temperatures or the films were set: the surfaces find theirs.
    void settle();
    // One step of h into `next`; the error estimate [K]; negative where it could not be solved.
    double attempt(double h);
    void accept(double h);
    // The step after one of h with this error.
    static double better(double h, double error, double allowed);
    // Rate of a cell's temperature.
    FITWRIGHT_INLINE T rate(int i) const {
        return flow[i] / (on_curve(chain.metal[chain.body[i]].capacity, now[i]).value *
                          chain.volume[i] * chain.metal[chain.body[i]].density);
    }
    T interference_rate() const;

private:
    struct Matrix {
        double lower[node_limit], diagonal[node_limit], upper[node_limit];
        double column[node_limit], row[node_limit]; // the joint reaches everywhere: column x row
        double solved_column[node_limit];
        double row_solved;
    };
    T middle_[node_limit] = {};
    T middle_flow_[node_limit] = {};
    T known_[node_limit] = {};
    Matrix matrix_ = {};
    double factor_[node_limit] = {};

    // Into middle_: the temperatures gone on as they go; a surface follows its neighbour.
    void guess(double h);
    // Solves V u(x) = known + a Q(x) for cells and Q(x) = 0 for surfaces, from the guess in x.
    bool solve(T* x, double a);
    template <class X>
    void residual(const X* x, const X* q, double a, X* r) const;
    void build(const double* x, double a);
    template <class X>
    void back_substitute(X* r) const;
};

template <class T>
template <class X>
void March<T>::residual(const X* x, const X* q, double a, X* r) const {
    for (int i = 0; i < chain.nodes; ++i)
        r[i] = chain.is_cell(i)
                   ? chain.template heat_content<X>(i, x[i]) - as<X>(known_[i]) - q[i] * a
                   : -q[i];
}

template <class T>
void March<T>::build(const double* x, double a) {
    const Chain<T>& c = chain;
    Matrix& m = matrix_;
    const int n = c.nodes;
    for (int i = 0; i < n; ++i) {
        m.lower[i] = m.upper[i] = m.column[i] = 0.0;
        m.diagonal[i] =
            c.film[i] >= 0 ? film_slope(c.films[c.film[i]], x[i]) * value_of(c.film_area[i]) : 0.0;
    }
    for (int i = 0; i + 1 < n; ++i) {
        double ahead, behind; // - d flow / d x[i] and d flow / d x[i + 1]
        if (i == c.joint_after) {
            const double left = c.template interference<double>(x);
            ahead = behind = conductance_of<double>(c.joint, left) * value_of(c.joint.area);
            const double pull =
                conductance_slope(c.joint, left) * value_of(c.joint.area) * (x[i + 1] - x[i]);
            m.column[i] = pull;
            m.column[i + 1] = -pull;
        } else {
            const auto k = on_curve(c.metal[c.body[i]].conductivity, 0.5 * (x[i] + x[i + 1]));
            const double g = value_of(c.link[i]);
            const double bend = 0.5 * k.slope * (x[i + 1] - x[i]);
            ahead = g * (k.value - bend);
            behind = g * (k.value + bend);
        }
        m.diagonal[i] += ahead;
        m.upper[i] -= behind;
        m.diagonal[i + 1] += behind;
        m.lower[i + 1] -= ahead;
    }
    for (int i = 0; i < n; ++i) {
        const double scale = c.is_cell(i) ? a : 1.0;
        m.lower[i] *= scale;
        m.upper[i] *= scale;
        m.diagonal[i] *= scale;
        m.column[i] *= -scale;
        if (c.is_cell(i)) {
            const Metal& metal = c.metal[c.body[i]];
            m.diagonal[i] +=
                on_curve(metal.capacity, x[i]).value * value_of(c.volume[i]) * metal.density;
        }
    }
    for (int i = 1; i < n; ++i) {
        factor_[i] = m.lower[i] / m.diagonal[i - 1];
        m.diagonal[i] -= factor_[i] * m.upper[i - 1];
    }
    if (c.joint_after < 0)
        return;
    const double sizes[2] = {value_of(c.joint.seat) * value_of(c.joint.shaft_factor),
                             -value_of(c.joint.bore) * value_of(c.joint.ring_factor)};
    for (int i = 0; i < n; ++i) {
        m.row[i] = 0.0;
        if (!c.is_cell(i))
            continue;
        const auto e = on_curve(c.metal[c.body[i]].expansion, x[i]);
        m.row[i] = sizes[c.body[i]] * value_of(c.volume[i]) / value_of(c.body_volume[c.body[i]]) *
                   (e.value + e.slope * (x[i] - materials::reference_temperature));
    }
    double* s = m.solved_column;
    s[0] = m.column[0];
    for (int i = 1; i < n; ++i)
        s[i] = m.column[i] - factor_[i] * s[i - 1];
    s[n - 1] /= m.diagonal[n - 1];
    for (int i = n - 2; i >= 0; --i)
        s[i] = (s[i] - m.upper[i] * s[i + 1]) / m.diagonal[i];
    m.row_solved = 0.0;
    for (int i = 0; i < n; ++i)
        m.row_solved += m.row[i] * s[i];
}

// Thomas' algorithm, and Sherman and Morrison's formula for the joint.
template <class T>
template <class X>
void March<T>::back_substitute(X* r) const {
    const Matrix& m = matrix_;
    const int n = chain.nodes;
    for (int i = 1; i < n; ++i)
        r[i] -= r[i - 1] * factor_[i];
    r[n - 1] = r[n - 1] * (1.0 / m.diagonal[n - 1]);
    for (int i = n - 2; i >= 0; --i)
        r[i] = (r[i] - r[i + 1] * m.upper[i]) * (1.0 / m.diagonal[i]);
    if (chain.joint_after < 0)
        return;
    X along(0.0);
    for (int i = 0; i < n; ++i)
        along += r[i] * m.row[i];
    along = along * (1.0 / (1.0 + m.row_solved));
    for (int i = 0; i < n; ++i)
        r[i] -= along * m.solved_column[i];
}

template <class T>
bool March<T>::solve(T* x, double a) {
    const int n = chain.nodes;
    double t[node_limit] = {}, q[node_limit] = {}, r[node_limit] = {};
    for (int i = 0; i < n; ++i)
        t[i] = value_of(x[i]);
    bool done = false;
    for (int k = 0; k < 40 && !done; ++k) {
        // Across the corner of first touch a full step can go back and forth: then half of it.
        const double share = k < 8 ? 1.0 : 0.5;
        chain.template heat<double>(t, q);
        residual<double>(t, q, a, r);
        build(t, a);
        back_substitute<double>(r);
        double largest = 0.0;
        for (int i = 0; i < n; ++i) {
            t[i] -= r[i] * share;
            largest = larger(largest, abs(r[i]));
            if (!(t[i] > -kelvin && t[i] < 5000.0))
                return false;
        }
        done =
            largest <
            (share < 1.0 ? 1e-9 : 3e-5); // quadratic, and nearly straight: what is left is rounding
    }
    if (!done)
        return false;
    for (int i = 0; i < n; ++i)
        x[i] = T(t[i]);
    if constexpr (has_derivatives<T>) {
        T flows[node_limit] = {}, rest[node_limit] = {};
        chain.template heat<T>(x, flows);
        residual<T>(x, flows, a, rest);
        back_substitute<T>(rest);
        for (int i = 0; i < n; ++i)
            x[i] = T(t[i], -rest[i].d);
    }
    return true;
}

template <class T>
void March<T>::settle() {
    for (int i = 0; i < chain.nodes; ++i)
        known_[i] = chain.is_cell(i) ? chain.template heat_content<T>(i, now[i]) : T(0.0);
    T cells[node_limit] = {};
    for (int i = 0; i < chain.nodes; ++i)
        cells[i] = now[i];
    converged = solve(now, 0.0) && converged;
    // The cells stay as they are, to the bit.
    for (int i = 0; i < chain.nodes; ++i)
        if (chain.is_cell(i))
            now[i] = cells[i];
    chain.template heat<T>(now, flow);
}

template <class T>
void March<T>::guess(double h) {
    const int n = chain.nodes;
    double change[node_limit] = {};
    for (int i = 0; i < n; ++i)
        change[i] = chain.is_cell(i) ? larger(-20.0, smaller(20.0, h * value_of(rate(i)))) : 0.0;
    for (int i = 0; i < n; ++i) {
        const bool before = i > 0 && chain.is_cell(i - 1);
        const bool after = i + 1 < n && chain.is_cell(i + 1);
        const int beside = chain.is_cell(i) ? i : after ? i + 1 : before ? i - 1 : i;
        middle_[i] = T(value_of(now[i]) + change[beside]);
    }
}

template <class T>
double March<T>::attempt(double h) {
    const int n = chain.nodes;
    const double a = tr_d * h;
    guess(2.0 * a);
    for (int i = 0; i < n; ++i) {
        known_[i] =
            chain.is_cell(i) ? chain.template heat_content<T>(i, now[i]) + flow[i] * a : T(0.0);
    }
    if (!solve(middle_, a))
        return -1.0;
    chain.template heat<T>(middle_, middle_flow_);
    for (int i = 0; i < n; ++i) {
        next[i] = now[i] + (middle_[i] - now[i]) * (0.5 / tr_d);
        known_[i] = chain.is_cell(i) ? chain.template heat_content<T>(i, now[i]) +
                                           (flow[i] + middle_flow_[i]) * (tr_w * h)
                                     : T(0.0);
    }
    if (!solve(next, a))
        return -1.0;
    chain.template heat<T>(next, next_flow);
    next_given =
        (chain.template given_off<T>(now) + chain.template given_off<T>(middle_)) * (tr_w * h) +
        chain.template given_off<T>(next) * a;
    // Against the third-order weights (1 - w)/3, (3 w + 1)/3, d/3; damped by the same matrix.
    double error[node_limit];
    for (int i = 0; i < n; ++i)
        error[i] = chain.is_cell(i)
                       ? h * (value_of(flow[i]) * (tr_w - (1.0 - tr_w) / 3.0) +
                              value_of(middle_flow_[i]) * (tr_w - (3.0 * tr_w + 1.0) / 3.0) +
                              value_of(next_flow[i]) * (tr_d * 2.0 / 3.0))
                       : 0.0;
    back_substitute<double>(error);
    double largest = 0.0;
    for (int i = 0; i < n; ++i)
        largest = larger(largest, abs(error[i]));
    return largest;
}

template <class T>
void March<T>::accept(double h) {
    for (int i = 0; i < chain.nodes; ++i) {
        now[i] = next[i];
        flow[i] = next_flow[i];
    }
    given_off += next_given;
    time += T(h);
    ++steps;
}

template <class T>
double March<T>::better(double h, double error, double allowed) {
    if (error <= 0.0)
        return error < 0.0 ? 0.25 * h : 4.0 * h;
    return h * smaller(4.0, larger(0.2, 0.9 * exp(log(allowed / error) * (1.0 / 3.0))));
}

template <class T>
T March<T>::interference_rate() const {
    T sums[2] = {T(0.0), T(0.0)};
    for (int i = 0; i < chain.nodes; ++i) {
        if (!chain.is_cell(i))
            continue;
        const auto e = on_curve(chain.metal[chain.body[i]].expansion, now[i]);
        sums[chain.body[i]] += (e.value + (now[i] - materials::reference_temperature) * e.slope) *
                               chain.volume[i] * rate(i);
    }
    return chain.joint.seat * chain.joint.shaft_factor * sums[0] / chain.body_volume[0] -
           chain.joint.bore * chain.joint.ring_factor * sums[1] / chain.body_volume[1];
}

} // namespace fitwright::heat
