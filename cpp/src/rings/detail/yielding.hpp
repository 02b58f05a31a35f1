// Ring and shaft as they yield: pressure and movement against one parameter each, which grows from 0
// (free) over 1 (first yield at the bore) on.
//   ring   1 to 2: the plastic radius goes from the bore to the outside
//   shaft  above 1: plastic strain at its bore, in yield strains
// The parameter makes everything explicit, also where the pressure hardly grows any more.
#pragma once

#include "plastic_zone.hpp"
#include "thick_ring.hpp"

namespace fitwright::rings {

// Equivalent stress at first yield over the difference of hoop and radial stress, and so on, differ
// by criterion; both forms below come from Lame's annulus outside (ring) or around (shaft) the zone.
template <class T, class Tag = T>
struct YieldingRing {
    T bore, outside; // radii
    PlasticMetal<T, Tag> metal;

    // Lame's annulus from radius r on, yielding at r: stresses over E.
    struct Edge {
        T pressure, hoop, outside_hoop;
    };
    Edge edge(const T& r) const {
        const T r2 = r * r;
        const T b2 = outside * outside;
        if (metal.von_mises) {
            const T per = metal.yield / sqrt(b2 * b2 * 3.0 + r2 * r2);
            return {per * (b2 - r2), per * (b2 + r2), per * 2.0 * r2};
        }
        const T per = metal.yield * over_root3 / b2;
        return {per * (b2 - r2), per * (b2 + r2), per * 2.0 * r2};
    }
};

template <class T>
struct RingAnswer {
    T pressure;    // over E
    T bore_strain; // hoop strain at the bore and at the outside
    T outside_strain;
    T radial, hoop; // at the bore, over E
    T plastic;      // equivalent plastic strain at the bore
    T plastic_radius;
    Truth<T> limit; // the metal cannot carry this
};

template <class T, class Tag>
RingAnswer<T> ring_at(const YieldingRing<T, Tag>& ring, const T& parameter) {
    const T a = ring.bore;
    const T b = ring.outside;
    const double nu = ring.metal.poisson;
    const auto yields = parameter > T(1.0);
    // Elastic: everything grows with the parameter.
    const auto first = ring.edge(a);
    const T share = smaller(parameter, T(1.0));
    // Yielding: from the edge of the zone inwards to the bore.
    const T r = select(yields, a + (parameter - 1.0) * (b - a), a);
    const auto edge = ring.edge(r);
    PlasticState<T> start{-edge.pressure, T(0.0)};
    if (ring.metal.von_mises) // cot f = (hoop + radial)/(sqrt(3) (hoop - radial))
        start.stress = fields::pi / 2.0 -
                       atan((edge.hoop - edge.pressure) / (edge.hoop + edge.pressure) * over_root3);
    const PlasticEnd<T> end = integrate_plastic(ring.metal, start, log(a / r));
    const PlasticPoint<T> bore = plastic_point(ring.metal, end.state);

    RingAnswer<T> out;
    out.pressure = select(yields, -bore.radial, first.pressure * share);
    out.radial = -out.pressure;
    out.hoop = select(yields, bore.hoop, first.hoop * share);
    out.bore_strain = select(yields, bore.hoop_strain, (first.hoop + first.pressure * nu) * share);
    out.outside_strain = select(yields, edge.outside_hoop, first.outside_hoop * share);
    out.plastic = select(yields, end.state.plastic, T(0.0));
    out.plastic_radius = r;
    out.limit = yields & end.limit;
    return out;
}

template <class T, class Tag = T>
struct YieldingShaft {
    T bore, seat; // radii
    PlasticMetal<T, Tag> metal;
    // Pressure at first yield, over E. Solid: every point feels the pressure, and all yield at once.
    T first_pressure() const {
        const T q = bore / seat;
        const double share = metal.von_mises ? 0.5 : over_root3;
        return metal.yield * select(bore > T(0.0), (1.0 - q * q) * share, T(1.0));
    }
};

template <class T>
struct ShaftAnswer {
    T pressure; // over E
    T shrink;   // hoop strain at the seat, positive smaller
    T plastic;  // equivalent plastic strain at the bore
    Truth<T> limit;
};

template <class T, class Tag>
ShaftAnswer<T> shaft_at(const YieldingShaft<T, Tag>& shaft, const T& parameter) {
    const T c = shaft.bore;
    const T d = shaft.seat;
    const double nu = shaft.metal.poisson;
    const auto hollow = c > T(0.0);
    const auto yields = hollow & (parameter > T(1.0));
    const T share = select(yields, T(1.0), parameter);
    const T p = shaft.first_pressure() * share;
    const T q2 = square(c / d);
    const T shrink = p * ((1.0 + q2) / (1.0 - q2) - nu);

    // Everything mirrored: pressure counts as tension. At the bore no radial stress.
    const T bore = select(hollow, c, d * 0.5);
    PlasticState<T> start{T(0.0), select(yields, (parameter - 1.0) * shaft.metal.yield, T(0.0))};
    if (shaft.metal.von_mises)
        start.stress = T(1.04719755119659774615); // 60 deg
    const PlasticReach<T> reach = reach_of_plastic(shaft.metal, start);
    // exp of no more than the way to the seat: beyond, the whole wall yields.
    const T way = log(d / bore);
    const auto whole = reach.length > way;
    const T edge = bore * exp(select(whole, way, reach.length));
    const PlasticPoint<T> at_edge =
        plastic_point(shaft.metal, PlasticState<T>{reach.state.stress, T(0.0)});
    const T even = (at_edge.hoop + at_edge.radial) * 0.5;
    const T uneven = (at_edge.hoop - at_edge.radial) * 0.5 * square(edge / d);
    const auto solid = !hollow;
    const Truth<T> limit = (yields & whole) | (solid & (parameter > T(1.0)));
    return {select(yields, even - uneven, p),
            select(yields, even * (1.0 - nu) + uneven * (1.0 + nu), shrink), start.plastic, limit};
}

// Root of an increasing function between two ends, by halving and regula falsi (Illinois); a value
// within `tolerance` of 0 is met. Lanes that have it are frozen. Where it has no value f answers
// `none`, something positive; the upper end is halved until it has one.
template <class T, class F>
T root_between(const F& f, T low, T high, double tolerance, double none) {
    T f_low = f(low);
    T f_high = f(high);
    T x = select(f_low >= T(0.0), low, high);
    T side(0.0);
    Truth<T> done = (f_low >= T(0.0)) | (f_high <= T(0.0));
    for (int k = 0; k < 120; ++k) {
        if (!any(!done))
            break;
        const T span = f_high - f_low;
        const auto usable = span > T(0.0);
        const T secant = low - f_low * (high - low) / select(usable, span, T(1.0));
        const auto inside = usable & (secant > low) & (secant < high);
        T next = select(inside & (f_high < T(none)), secant, (low + high) * 0.5);
        if (k % 8 == 7)
            next = (low + high) * 0.5;
        const T value = f(next);
        const auto above = value > T(0.0);
        x = select(done, x, next);
        done = done | (abs(value) <= T(tolerance)) | (high - low <= abs(next) * 4e-16);
        // An end that stays twice counts half: so the other one moves too.
        const auto again_above = above & (side > T(0.0));
        const auto again_below = (value <= T(0.0)) & (side < T(0.0));
        f_low = select(above, select(again_above, f_low * 0.5, f_low), value);
        const auto weigh = again_below & (f_high < T(none));
        f_high = select(above, value, select(weigh, f_high * 0.5, f_high));
        high = select(above, next, high);
        low = select(above, low, next);
        side = select(above, T(1.0), T(-1.0));
    }
    return x;
}

} // namespace fitwright::rings
