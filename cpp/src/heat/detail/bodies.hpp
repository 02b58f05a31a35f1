// Bodies as chains of nodes: plate, cylinder and sphere, cut into cells of equal thickness.
#pragma once

#include "chain.hpp"
#include <fitwright/fields/quantity.hpp>

namespace fitwright::heat {

enum class Shape : int { plate, cylinder, sphere };

// Area of the face at r: per square metre, per metre of length, or whole.
template <class T>
FITWRIGHT_INLINE T face_area(Shape shape, const T& r) {
    return shape == Shape::plate      ? T(1.0)
           : shape == Shape::cylinder ? r * (2.0 * fields::pi)
                                      : r * r * (4.0 * fields::pi);
}
template <class T>
FITWRIGHT_INLINE T volume_between(Shape shape, const T& a, const T& b) {
    return shape == Shape::plate      ? b - a
           : shape == Shape::cylinder ? (b * b - a * a) * fields::pi
                                      : (b * b * b - a * a * a) * (4.0 / 3.0 * fields::pi);
}

FITWRIGHT_INLINE Metal metal_of(const materials::Material& m) {
    return {curve_of(m.conductivity, m.highest), curve_of(m.heat_capacity, m.highest),
            curve_of(m.expansion, m.highest), m.density};
}

// Films by number; -1 where no heat passes.
template <class T>
struct BodyOf {
    Shape shape;
    T inner, outer; // radii; inner 0: solid
    int cells;
    int inner_film, outer_film;
    int end_film = -1; // at the cells themselves: end faces, or what the shaft draws off
    T end_area_per_volume = T(0.0); // 1/m
};

// Adds a body outside what is there already; returns its first cell.
template <class T>
int add_body(Chain<T>& chain, int which, const BodyOf<T>& b) {
    const auto node = [&](const T& volume, int film, const T& area) {
        const int i = chain.nodes++;
        chain.body[i] = which;
        chain.volume[i] = volume;
        chain.film[i] = film;
        chain.film_area[i] = area;
        chain.source[i] = T(0.0);
        chain.link[i] = T(0.0);
        return i;
    };
    const T width = (b.outer - b.inner) * (1.0 / b.cells);
    const bool hollow = b.shape == Shape::plate || value_of(b.inner) > 0.0;
    if (hollow) {
        const T area = face_area(b.shape, b.inner);
        chain.link[node(T(0.0), b.inner_film, area)] = area / width * 2.0;
    }
    const int first = chain.nodes;
    for (int k = 0; k < b.cells; ++k) {
        const T from = b.inner + width * double(k);
        const T to = b.inner + width * double(k + 1);
        const T volume = volume_between(b.shape, from, to);
        const bool last = k + 1 == b.cells;
        chain.link[node(volume, b.end_film, volume * b.end_area_per_volume)] =
            face_area(b.shape, to) / width * (last ? 2.0 : 1.0);
        chain.body_volume[which] += volume;
    }
    node(T(0.0), b.outer_film, face_area(b.shape, b.outer));
    return first;
}

// Heat per area of the face at the last (or first) cell, dying away with depth as
// exp(-2 depth/skin): the square of the current does. All of it lands in the body.
template <class T>
void heat_skin(Chain<T>& chain, int first, int cells, const T& width, bool from_outside,
               const T& per_area, const T& area, const T& skin) {
    T sum(0.0);
    const auto share = [&](int k) {
        const T depth = width * double(from_outside ? cells - 1 - k : k);
        return exp(depth * -2.0 / skin) - exp((depth + width) * -2.0 / skin);
    };
    for (int k = 0; k < cells; ++k)
        sum += share(k);
    for (int k = 0; k < cells; ++k)
        chain.source[first + k] += per_area * area * share(k) / sum;
}

} // namespace fitwright::heat
