// Threads by form, from the fundamental triangle or the basic profile.
//   60 deg   ISO 68-1, ISO 724: d2 = d - 3 sqrt(3)/8 P, D1 = d - 5 sqrt(3)/8 P; root of the shaft's
//            thread d3 = d - 17 sqrt(3)/24 P; stress area at (d2 + d3)/2 (ISO 898-1)
//   unified  ASME B1.1, the same triangle; root d - 11 sqrt(3)/16 P of the rounded root (UNR),
//            stress area at d - 9 sqrt(3)/16 P = d - 0.9743 P
//   30 deg   trapezoidal, ISO 2904: d2 = d - P/2, d3 = d - P - 2 ac, ac by pitch
//   29 deg   ACME, ASME B1.5: d2 = d - P/2, root with 0.02 in of play (0.01 in below P = 0.1 in)
//   square   d2 = d - P/2, d3 = d - P, no flank angle (no standard)
// Clearances of the 30 and 29 deg forms are from memory.
#pragma once

#include <fitwright/fields/formula.hpp>
#include <fitwright/number/number.hpp>
#include <fitwright/threads/parts.hpp>

namespace fitwright::rules {
extern const number::Rule ends_in_order, face_diameters, nut_outside, thread_hollow, thread_lead,
    thread_not_self_consistent, thread_pitch;
} // namespace fitwright::rules

namespace fitwright::threads {

using namespace number;

template <class T>
struct ThreadGeometry {
    double tan_flank; // of the half angle
    double thickness; // of a ridge at the pitch diameter, over the pitch
    T pitch_diameter; // d2
    T root_diameter;  // d3 of the shaft's thread
    T minor_diameter; // D1 of the nut's thread
    T stress_diameter;
    T stress_area;
    T lead;    // tangent of the lead angle
    T advance; // in one turn
    T friction_diameter;
};

FITWRIGHT_INLINE NutKind nut_kind(const int* choices) {
    return {choices[0], choices[1], choices[2]};
}

// The nearest whole number, for |x| below 2^51; its derivative is 0.
template <class T>
FITWRIGHT_INLINE T nearest_whole(const T& x) {
    const auto v = value_of(x);
    return T((v + 6755399441055744.0) - 6755399441055744.0);
}
template <class T>
FITWRIGHT_INLINE Truth<T> is_whole(const T& x) {
    return abs(x - nearest_whole(x)) < T(1e-3);
}

// Diameters of the basic profile.
template <class T>
void thread_profile(ThreadGeometry<T>& g, const T& d, const T& pitch, int form) {
    g.thickness = 0.5;
    switch (form) {
    case trapezoidal: {
        const T play = select(
            pitch < T(1.75e-3), T(0.15e-3),
            select(pitch < T(5.5e-3), T(0.25e-3), select(pitch < T(13e-3), T(0.5e-3), T(1e-3))));
        g.tan_flank = 0.26794919243112270; // tan 15 deg
        g.pitch_diameter = d - pitch * 0.5;
        g.minor_diameter = d - pitch;
        g.root_diameter = g.minor_diameter - play * 2.0;
        break;
    }
    case acme:
        g.tan_flank = 0.25861758435589029; // tan 14.5 deg
        g.pitch_diameter = d - pitch * 0.5;
        g.minor_diameter = d - pitch;
        g.root_diameter = g.minor_diameter - select(pitch < T(2.5e-3), T(0.254e-3), T(0.508e-3));
        break;
    case square_thread:
        g.tan_flank = 0.0;
        g.pitch_diameter = d - pitch * 0.5;
        g.minor_diameter = d - pitch;
        g.root_diameter = g.minor_diameter;
        break;
    default: {
        const bool inch = form == unified;
        g.tan_flank = 0.57735026918962576;                          // tan 30 deg
        g.pitch_diameter = d - pitch * 0.64951905283832899;         // 3 sqrt(3)/8
        g.minor_diameter = d - pitch * 1.08253175473054830;         // 5 sqrt(3)/8
        g.root_diameter = d - pitch * (inch ? 1.19078493020360313   // 11 sqrt(3)/16
                                            : 1.22686932202795475); // 17 sqrt(3)/24
        if (inch) {
            g.stress_diameter = d - pitch * 0.97427857925749348; // 9 sqrt(3)/16
            return;
        }
    }
    }
    g.stress_diameter = (g.pitch_diameter + g.root_diameter) * 0.5;
}

// Tables of unified threads print the area at d - 3 sqrt(3)/4 P, the flat root of the older form
// (Mechanical Engineer's Data Handbook, sect. 0.2.7); the rounded root of UNR leaves 2 to 6 % more.
template <class T>
T printed_root_area(const ThreadGeometry<T>& g, const T& d, const T& pitch, const T& bore,
                    int form) {
    const T root = form == unified ? T(d - pitch * 1.29903810567665797) : g.root_diameter;
    return (square(root) - square(bore)) * (fields::pi / 4.0);
}

template <class T>
T face_friction_diameter(const Nut<T>& nut, int face_law) {
    const T in = nut.face_inside;
    const T out = nut.face_outside;
    // (D^3 - d^3)/(D^2 - d^2) without the difference of near-equal cubes
    return face_law == mean ? (out + in) * 0.5
                            : (out * out + out * in + in * in) / (out + in) * (2.0 / 3.0);
}

template <class T>
ThreadGeometry<T> thread_geometry(const Nut<T>& nut, const T& bore, Faults<T>& faults,
                                  NutKind kind = {}) {
    faults.require(nut.pitch * 3.0 < nut.diameter, rules::thread_pitch, nut.pitch);
    faults.require(nut.face_outside > nut.face_inside, rules::face_diameters, nut.face_outside);
    faults.require(nut.outside > nut.diameter, rules::nut_outside, nut.outside);
    ThreadGeometry<T> g;
    thread_profile(g, nut.diameter, nut.pitch, kind.form);
    g.pitch_diameter = named("pitch diameter", g.pitch_diameter);
    g.root_diameter = named("root diameter", g.root_diameter);
    g.stress_diameter = named("stress diameter", g.stress_diameter);
    faults.require(bore < g.root_diameter, rules::thread_hollow, bore);
    g.stress_area =
        named("stress area", (square(g.stress_diameter) - square(bore)) * (fields::pi / 4.0));
    g.advance = named("advance per turn", fields::given(nut.lead, nut.pitch));
    const T starts = g.advance / nut.pitch;
    faults.require(is_whole(starts) & (starts > T(0.5)), rules::thread_lead, g.advance);
    g.lead = named("tangent of the lead angle", g.advance / (g.pitch_diameter * fields::pi));
    g.friction_diameter = named("friction diameter", face_friction_diameter(nut, kind.face_law));
    return g;
}

// mu_n/mu: the flank presses by more than the axial force. tan alpha_n = tan alpha cos l.
template <class T>
FITWRIGHT_INLINE T flank_factor(const ThreadGeometry<T>& g) {
    return named("flank factor",
                 sqrt(T(g.tan_flank * g.tan_flank) / (g.lead * g.lead + 1.0) + 1.0));
}

// Torque per force. Tightening climbs the lead, loosening runs down it.
template <class T>
T thread_part(const ThreadGeometry<T>& g, const T& friction, bool tightening, Faults<T>& faults) {
    const T normal = friction * flank_factor(g);
    faults.require(normal * g.lead < T(1.0), rules::thread_not_self_consistent, friction);
    return tightening ? g.pitch_diameter * 0.5 * (g.lead + normal) / (T(1.0) - normal * g.lead)
                      : g.pitch_diameter * 0.5 * (normal - g.lead) / (normal * g.lead + 1.0);
}
template <class T>
FITWRIGHT_INLINE T face_part(const ThreadGeometry<T>& g, const T& friction) {
    return friction * g.friction_diameter * 0.5;
}
// Both together, tightening.
template <class T>
FITWRIGHT_INLINE T torque_per_force(const ThreadGeometry<T>& g, const T& thread_friction,
                                    const T& face_friction, Faults<T>& faults) {
    return thread_part(g, thread_friction, true, faults) + face_part(g, face_friction);
}

template <class T>
void require_frictions(const Nut<T>& nut, Faults<T>& faults) {
    faults.require((nut.thread_friction_low <= nut.thread_friction) &
                       (nut.thread_friction <= nut.thread_friction_high) &
                       (nut.face_friction_low <= nut.face_friction) &
                       (nut.face_friction <= nut.face_friction_high),
                   rules::ends_in_order, nut.thread_friction);
}

// Advance per radian of turning.
template <class T>
FITWRIGHT_INLINE T per_radian(const ThreadGeometry<T>& g) {
    return g.advance * (0.5 / fields::pi);
}

} // namespace fitwright::threads
