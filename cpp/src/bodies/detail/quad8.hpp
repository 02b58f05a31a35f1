// The eight-node quadrilateral: shape functions and places of integration on [-1, 1] x [-1, 1].
// Corners (-1,-1), (1,-1), (1,1), (-1,1), then the middles of the sides from the first corner on
// (O. C. Zienkiewicz and R. L. Taylor, The Finite Element Method, serendipity family; from memory,
// held against the patch test).
#pragma once

#include <array>

namespace fitwright::bodies {

struct Shape {
    std::array<double, 8> n, dx, dy;
};

inline Shape shape_at(double x, double y) {
    Shape s;
    constexpr double cx[] = {-1, 1, 1, -1};
    constexpr double cy[] = {-1, -1, 1, 1};
    for (std::size_t i = 0; i < 4; ++i) {
        const double a = 1.0 + cx[i] * x;
        const double b = 1.0 + cy[i] * y;
        const double c = cx[i] * x + cy[i] * y - 1.0;
        s.n[i] = 0.25 * a * b * c;
        s.dx[i] = 0.25 * cx[i] * b * (c + a);
        s.dy[i] = 0.25 * cy[i] * a * (c + b);
    }
    for (const std::size_t i : {std::size_t{4}, std::size_t{6}}) { // middle of a side along x
        const double e = i == 4 ? -1.0 : 1.0;
        s.n[i] = 0.5 * (1.0 - x * x) * (1.0 + e * y);
        s.dx[i] = -x * (1.0 + e * y);
        s.dy[i] = 0.5 * e * (1.0 - x * x);
    }
    for (const std::size_t i : {std::size_t{5}, std::size_t{7}}) {
        const double e = i == 5 ? 1.0 : -1.0;
        s.n[i] = 0.5 * (1.0 - y * y) * (1.0 + e * x);
        s.dx[i] = 0.5 * e * (1.0 - y * y);
        s.dy[i] = -y * (1.0 + e * x);
    }
    return s;
}

// Gauss' places and weights in one direction: three, so that no element has a motion without stiffness.
inline constexpr double gauss_place[] = {-0.7745966692414834, 0.0, 0.7745966692414834};
inline constexpr double gauss_weight[] = {5.0 / 9.0, 8.0 / 9.0, 5.0 / 9.0};

} // namespace fitwright::bodies
