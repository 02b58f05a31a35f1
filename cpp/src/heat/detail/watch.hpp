// Until something happens: what a march is watched for, and the moment found exactly, by steps that
// end there. With duals the moment carries its derivative, -(d what/d input)/(d what/d time).
#pragma once

#include "march.hpp"

namespace fitwright::heat {

enum class Event : int {
    time_out,     // only the horizon
    interference, // reaches `level`
    near,         // every cell within `level` of `about`
    mean,         // of the outer body reaches `level`
};

template <class T>
struct Watch {
    Event event;
    T level, about;
};

template <class T>
T mean_of_body(const Chain<T>& c, int which, const T* t) {
    T sum(0.0);
    for (int i = 0; i < c.nodes; ++i)
        if (c.body[i] == which && c.is_cell(i))
            sum += t[i] * c.volume[i];
    return sum / c.body_volume[which];
}

template <class T>
int farthest_cell(const Chain<T>& c, const T* t, const T& about) {
    int at = -1;
    for (int i = 0; i < c.nodes; ++i)
        if (c.is_cell(i) && (at < 0 || abs(value_of(t[i]) - value_of(about)) >
                                           abs(value_of(t[at]) - value_of(about))))
            at = i;
    return at;
}

template <class T>
T look(const March<T>& m, const Watch<T>& w, const T* t) {
    switch (w.event) {
    case Event::interference:
        return m.chain.template interference<T>(t) - w.level;
    case Event::near:
        return abs(t[farthest_cell(m.chain, t, w.about)] - w.about) - w.level;
    case Event::mean:
        return mean_of_body(m.chain, m.chain.body[m.chain.nodes - 1], t) - w.level;
    default:
        return T(1.0);
    }
}

// How fast what is watched changes, now.
template <class T>
double look_rate(const March<T>& m, const Watch<T>& w) {
    if (w.event == Event::interference)
        return value_of(m.interference_rate());
    if (w.event == Event::near) {
        const int i = farthest_cell(m.chain, m.now, w.about);
        const double rate = value_of(m.rate(i));
        return value_of(m.now[i]) < value_of(w.about) ? -rate : rate;
    }
    const int which = m.chain.body[m.chain.nodes - 1];
    double sum = 0.0;
    for (int i = 0; i < m.chain.nodes; ++i)
        if (m.chain.body[i] == which && m.chain.is_cell(i))
            sum += value_of(m.rate(i)) * value_of(m.chain.volume[i]);
    return sum / value_of(m.chain.body_volume[which]);
}

template <class T>
struct Reached {
    bool happened;
    T time;     // of the event, or of the end
    T lateness; // 0 with the derivatives of the moment: state at the event = now + rate lateness
};

inline constexpr int step_limit = 20000;
inline constexpr double long_enough = 1e9; // s

struct NoRecord {
    template <class M>
    FITWRIGHT_INLINE void operator()(const M&) const {}
};

// Goes on until the event, the horizon [s since the march began], or the limit of steps (then
// `converged` is false). `record` is called after every step.
template <class T, class Record>
Reached<T> march_to(March<T>& m, const Watch<T>& watch, double horizon, Record&& record) {
    double before = value_of(look(m, watch, m.now));
    if (watch.event == Event::near && before <= 0.0)
        return {true, m.time, T(0.0)}; // it has been all along
    int tries = 0;
    while (value_of(m.time) < horizon) {
        if (++tries > step_limit) {
            m.converged = false;
            break;
        }
        const double left = horizon - value_of(m.time);
        const bool last = m.step >= left * (1.0 - 1e-9);
        const double h = last ? left : m.step;
        const double error = m.attempt(h);
        const double step = March<T>::better(h, error, m.tolerance);
        if (error < 0.0 || error > m.tolerance) {
            ++m.refused;
            m.step = step;
            if (step < 1e-12) {
                m.converged = false;
                break;
            }
            continue;
        }
        const double after = value_of(look(m, watch, m.next));
        if (before * after <= 0.0 && before != after) {
            // Illinois' method on the length of the step.
            double low = 0.0, high = h, f_low = before, f_high = after, at = h, f = after;
            for (int k = 0; k < 40 && high - low > 1e-13 * (high + value_of(m.time)); ++k) {
                const double usual = (low * f_high - high * f_low) / (f_high - f_low);
                at = usual > low && usual < high ? usual : 0.5 * (low + high);
                if (m.attempt(at) < 0.0) {
                    f = after;
                    break;
                }
                f = value_of(look(m, watch, m.next));
                if (abs(f) <= 1e-12 * abs(before))
                    break;
                if (f * f_high < 0.0) {
                    low = high;
                    f_low = f_high;
                } else {
                    f_low *= 0.5;
                }
                high = at;
                f_high = f;
                if (low > high) {
                    const double t = low;
                    low = high;
                    high = t;
                    const double g = f_low;
                    f_low = f_high;
                    f_high = g;
                }
            }
            // Contact that sets in helps itself: a long step may jump over the moment. Shorter ones
            // do not.
            if (abs(f) > 1e-6 * larger(abs(before), abs(after)) && h > 1e-9) {
                ++m.refused;
                m.step = 0.25 * h;
                continue;
            }
            m.accept(at);
            record(m);
            Reached<T> r{true, m.time, T(0.0)};
            if constexpr (has_derivatives<T>) {
                const double rate = look_rate(m, watch);
                const T miss = look(m, watch, m.now);
                r.lateness = T(0.0, miss.d * (rate != 0.0 ? -1.0 / rate : 0.0));
                r.time = m.time + r.lateness;
            }
            return r;
        }
        before = after;
        m.accept(h);
        record(m);
        if (!last || step < m.step)
            m.step = step;
    }
    return {false, m.time, T(0.0)};
}

} // namespace fitwright::heat
