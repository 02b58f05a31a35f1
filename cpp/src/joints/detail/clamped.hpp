// Clamped parts as cones that spread from the faces of head and nut, layer by layer:
//   1/k = int dz/(E A),  A = pi/4 (D^2 - dh^2),  D = dw + 2 z tan phi, no more than the layer has
//       = [ln((D - dh)/(D + dh))]/(E pi dh tan phi) over the cone, l/(E A) over the cylinder
// The cones of a through bolt meet where they are as wide as each other. VDI 2230-1 (from memory):
//   through  tan phi = 0.362 + 0.032 ln(bL/2) + 0.153 ln y,  tapped  0.348 + 0.013 ln bL + 0.193 ln y
//   bL = grip/dw, y = outside/dw, no more than 1 + bL: with that -11 to +6 % of finite elements
#pragma once

#include "bolt.hpp"

namespace fitwright::rules {
extern const number::Rule layer_around_hole;
} // namespace fitwright::rules

namespace fitwright::joints {

template <class T>
struct Layers {
    T thickness[layer_limit], outside[layer_limit], modulus[layer_limit];
    int count;
    T grip;
};

template <class T>
struct ClampedSpring {
    T compliance, widest;
};

// One layer between the depths `from` and `to` below a face of diameter `face`.
template <class T>
T cone_compliance(const T& from, const T& to, const T& face, const T& hole, const T& slope,
                  const T& outside, const T& modulus) {
    const T high = larger(to, from);
    const T narrow = smaller(face + from * slope * 2.0, outside);
    const T wide = smaller(face + high * slope * 2.0, outside);
    const T spread = (wide - narrow) / (slope * 2.0);
    const T straight = positive(high - from - spread);
    const T cone = log((wide - hole) * (narrow + hole) / ((wide + hole) * (narrow - hole))) /
                   (hole * slope * fields::pi);
    return (cone + straight / ((square(wide) - square(hole)) * (fields::pi / 4.0))) / modulus;
}

template <class T>
T cone_slope(const Layers<T>& layers, const T& face, const T& angle, bool through, bool vdi) {
    if (!vdi)
        return sin(angle) / cos(angle);
    // Mean outside by thickness, so that a washer counts little; what is beyond 45 deg carries nothing.
    const T reached = face + layers.grip;
    T outside(0.0);
    for (int k = 0; k < layers.count; ++k)
        outside += layers.thickness[k] * smaller(layers.outside[k], reached);
    const T y = larger(outside / (layers.grip * face), T(1.0));
    const T length = layers.grip / face;
    const T slope = through ? log(length * 0.5) * 0.032 + log(y) * 0.153 + 0.362
                            : log(length) * 0.013 + log(y) * 0.193 + 0.348;
    return larger(slope, T(0.05));
}

template <class T>
ClampedSpring<T> clamped_spring(const Layers<T>& layers, const T& head, const T& nut, const T& hole,
                                const T& angle, bool through, bool vdi, Faults<T>& faults) {
    const T slope = cone_slope(layers, head, angle, through, vdi);
    // From the head down to where the cone of the nut is as wide.
    const T middle = (layers.grip + (nut - head) / (slope * 2.0)) * 0.5;
    const T meet = through ? smaller(larger(middle, T(0.0)), layers.grip) : layers.grip;
    T sum(0.0);
    T top(0.0);
    T widest(0.0);
    for (int k = 0; k < layers.count; ++k) {
        faults.place = k + 3;
        faults.require(layers.outside[k] > hole, rules::layer_around_hole, layers.outside[k]);
        const T bottom = top + layers.thickness[k];
        const T& outside = layers.outside[k];
        const T first = smaller(top, meet);
        const T last = smaller(bottom, meet);
        sum += cone_compliance(first, last, head, hole, slope, outside, layers.modulus[k]);
        widest = larger(widest, smaller(head + last * slope * 2.0, outside));
        if (through) {
            const T deep = positive(layers.grip - larger(bottom, meet));
            const T high = positive(layers.grip - larger(top, meet));
            sum += cone_compliance(deep, high, nut, hole, slope, outside, layers.modulus[k]);
            widest = larger(widest, smaller(nut + high * slope * 2.0, outside));
        }
        top = bottom;
    }
    faults.place = 0;
    return {sum, widest};
}

} // namespace fitwright::joints
