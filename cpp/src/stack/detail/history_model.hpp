// What the history solver holds between sub-steps, and what acts on it within one.
#pragma once

#include "bodies/detail/points.hpp"
#include <fitwright/number/number.hpp>
#include <fitwright/stack/history.hpp>

namespace fitwright::stack {

using namespace number;

// All that acts, at one moment. A step moves some of it; between two moments it goes along a line.
template <class T, class BodyLoad>
struct Acting {
    BodyLoad body;
    T nut_compliance, nut_free, thrust, settled;
    T press;     // on the free end of the last part
    T nut_force; // while the nut is being turned
    T anchor;    // where a puller has drawn its hook
};

// What has happened.
template <class T>
struct Happened {
    std::vector<char> on; // parts on the shaft
    std::vector<T> movement;
    std::vector<T> slip;       // at each seat
    std::vector<T> friction;   // force on the part at each seat, towards the shoulder
    std::vector<T> normal;     // normal force at each seat
    std::vector<Grip> grip;    // at each seat
    std::vector<T> face_force; // shoulder, between parts, nut
    std::vector<T> face_gap;
    T travel{0.0}; // of the nut
};

// How the ends of the stack are held during a step.
struct Held {
    bool nut = false;     // the nut is on
    bool turning = false; // it is turned to a force; else it stands where it is
    Reaction reaction = Reaction::outside;
    bool pressed = false;
    bool pulled = false;
};

// The closing of a face under force, and its inverse slope: two rough faces close as
// u0 ln(1 + force/touch), the law of the quick level (locked.hpp), beside what is linear.
template <class T>
FITWRIGHT_INLINE T face_closing(const T& force, const T& linear, const T& softness,
                                const T& touch) {
    return linear * force + softness * log(force / touch + 1.0);
}
FITWRIGHT_INLINE double face_stiffness(double force, double linear, double softness, double touch) {
    return 1.0 / (linear + softness / (force + touch));
}

// x + (y - x) share, member by member.
template <class T>
FITWRIGHT_INLINE T between(const T& x, const T& y, double share) {
    return x + (y - x) * share;
}
template <class T>
void blend(std::vector<bodies::Strip<T>>& out, const std::vector<bodies::Strip<T>>& x,
           const std::vector<bodies::Strip<T>>& y, double share) {
    out.resize(x.size());
    for (std::size_t i = 0; i < x.size(); ++i) {
        const bodies::Strip<T>& a = x[i];
        const bodies::Strip<T>& b = y[i];
        out[i] = {between(a.ring_softness, b.ring_softness, share),
                  between(a.shaft_softness, b.shaft_softness, share),
                  between(a.ring_free, b.ring_free, share),
                  between(a.shaft_free, b.shaft_free, share),
                  between(a.diameter, b.diameter, share),
                  between(a.interference, b.interference, share),
                  between(a.flexibility, b.flexibility, share),
                  between(a.ring_loss, b.ring_loss, share),
                  between(a.shaft_loss, b.shaft_loss, share)};
    }
}
// Loads of parts in section: heat, gradient and spin of the shaft, then of each ring.
template <class T>
void blend(std::vector<T>& out, const std::vector<T>& x, const std::vector<T>& y, double share) {
    out.resize(x.size());
    for (std::size_t i = 0; i < x.size(); ++i)
        out[i] = between(x[i], y[i], share);
}
template <class T, class BodyLoad>
void blend(Acting<T, BodyLoad>& out, const Acting<T, BodyLoad>& x, const Acting<T, BodyLoad>& y,
           double share) {
    blend(out.body, x.body, y.body, share);
    out.nut_compliance = between(x.nut_compliance, y.nut_compliance, share);
    out.nut_free = between(x.nut_free, y.nut_free, share);
    out.thrust = between(x.thrust, y.thrust, share);
    out.settled = between(x.settled, y.settled, share);
    out.press = between(x.press, y.press, share);
    out.nut_force = between(x.nut_force, y.nut_force, share);
    out.anchor = between(x.anchor, y.anchor, share);
}

} // namespace fitwright::stack
