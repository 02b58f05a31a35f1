// What all tools share: the least of their factors, the one wanted, the screw they turn, the column.
#pragma once

#include "joints/detail/times.hpp"
#include "threads/detail/preload.hpp"
#include "threads/detail/stripping.hpp"
#include <fitwright/tooling/parts.hpp>

namespace fitwright::rules {
extern const number::Rule factor_jerked, factor_steady, factor_suspended;
} // namespace fitwright::rules

namespace fitwright::tooling {

using namespace number;
using joints::times;

// von Mises of one normal and one shear stress.
template <class T>
FITWRIGHT_INLINE T combined(const T& normal, const T& shear) {
    return root0(square(normal) + square(shear) * 3.0);
}

// Steady, jerked, suspended: the order of the choice.
template <class T>
T factor_wanted(const T& told, int loading, Faults<T>& faults) {
    constexpr double least[] = {2.0, 3.0, 5.0};
    const number::Rule rule[] = {rules::factor_steady, rules::factor_jerked,
                                 rules::factor_suspended};
    const T wanted = fields::given(told, T(least[loading]));
    faults.require(wanted >= T(least[loading]), rule[loading], wanted);
    return wanted;
}

// The least of `count` factors, and which it is (from 1).
template <class T>
struct Least {
    T factor, which;
};
template <class T>
Least<T> least_of(const T* factors, int count) {
    Least<T> l{factors[0], T(1.0)};
    for (int k = 1; k < count; ++k) {
        const auto less = factors[k] < l.factor;
        l.factor = select(less, factors[k], l.factor);
        l.which = select(less, T(static_cast<double>(k + 1)), l.which);
    }
    return l;
}
// Into the outputs every tool has (FITWRIGHT_TOOL_VERDICT).
template <class T, class Outputs>
void judge(Outputs& out, const T* factors, int count, const T& load, const T& wanted) {
    const Least<T> l = least_of(factors, count);
    out.design_factor = l.factor;
    out.weakest = l.which;
    out.capacity = load * l.factor;
    out.factor_margin = l.factor - wanted;
}

} // namespace fitwright::tooling
