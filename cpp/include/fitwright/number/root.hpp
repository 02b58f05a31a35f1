// Newton's method inside a bracket, for every number type.
//  - A lane that has converged is frozen: its bits do not depend on its neighbours.
//  - With duals the equation is solved in values, then one more Newton step on duals carries the
//    exact derivative (implicit function theorem: dx = -df/f').
//
// An equation E<T> offers `Residual<T> operator()(const T& x) const` (value and slope) and
// `values()`, itself with the derivatives left out.
#pragma once

#include <fitwright/number/basic.hpp>

namespace fitwright::number {

template <class T>
struct Residual {
    T value;
    T slope;
};
template <class T>
struct Root {
    T x;
    Truth<T> converged;
};

inline constexpr int root_iterations = 80;
inline constexpr int patient_iterations = 12;
// Newton is quadratic: a step of this size leaves an error near the last bit.
inline constexpr double root_tolerance = 1e-12;

// The residual must grow with x and change sign between lower and upper; start lies between.
// `scale` is the size of x below which a step counts as nothing.
// Out of line, once for each equation. Tag: the number type the root is for; a level file that solves for
// duals in doubles has its own code, and the gate sees whose it is.
template <class Tag, class E, class T>
Root<T> root_of_values(const E& equation, T lower, T upper, T start, T scale) {
    T x = start;
    Truth<T> done = !(T(0.0) == T(0.0));
    T last_step = upper - lower;
    for (int i = 0; i < root_iterations; ++i) {
        const Residual<T> f = equation(x);
        const auto above = f.value > T(0.0);
        upper = select(above, smaller(upper, x), upper);
        lower = select(above, lower, larger(lower, x));
        const auto usable = f.slope > T(0.0);
        const T newton = x - f.value / select(usable, f.slope, T(1.0));
        auto inside = usable & (newton >= lower) & (newton <= upper);
        // Between the two slopes of a kink Newton's steps go back and forth and hardly shrink.
        if (i >= patient_iterations)
            inside = inside & (abs(newton - x) <= last_step * 0.5);
        const T next = select(inside, newton, (lower + upper) * 0.5);
        const T step = abs(next - x);
        last_step = step;
        const auto near = step <= larger(abs(x), scale) * root_tolerance;
        // A root met exactly stays, also where there is no slope to step by.
        const auto met = f.value == T(0.0);
        x = select(done | met, x, next);
        done = done | near | met;
        if (!any(!done))
            break;
    }
    return {x, done};
}

template <class E, class T>
Root<T> root(const E& equation, const T& lower, const T& upper, const T& start, const T& scale) {
    if constexpr (has_derivatives<T>) {
        const auto r = root_of_values<T>(equation.values(), value_of(lower), value_of(upper),
                                         value_of(start), value_of(scale));
        const Residual<T> f = equation(T(r.x));
        const double slope = f.slope.value;
        // Where the slope vanishes the root has no derivative; the value stands.
        const double inverse = slope > 0.0 ? 1.0 / slope : 0.0;
        return {T(r.x, f.value.d * -inverse), r.converged};
    } else {
        return root_of_values<T>(equation, lower, upper, start, scale);
    }
}

} // namespace fitwright::number
