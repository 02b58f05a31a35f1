// How the baseline reaches the formulas of the active level. Only pointers are passed on here:
// nothing of a wider level is compiled in the baseline.
#pragma once

#include "kernels.hpp"
#include <fitwright/fields/model.hpp>

namespace fitwright::fields {

inline unsigned char range_flags(const Field& f) {
    return static_cast<unsigned char>((f.range.low_excluded ? low_excluded : 0) |
                                      (f.standard == worked_out ? or_worked_out : 0));
}

// Calls f(Formulas of the active level); baseline code only passes pointers on, so nothing of a
// wider level is compiled here.
template <class F>
decltype(auto) at_level(const AllFormulas& all, int level, F&& f) {
#ifdef FITWRIGHT_HAS_LEVELS
    switch (level) {
    case 2:
        return f(all.v2);
    case 3:
        return f(all.v3);
    default:
        return f(all.v4);
    }
#else
    static_cast<void>(level);
    return f(all.baseline);
#endif
}

// The formulas of a model as the baseline sees them.
template <class Model>
AllFormulas all_formulas(Formula<double> scalar) {
#ifdef FITWRIGHT_HAS_LEVELS
    return {scalar,
            {},
            formulas<Model, number::Isa<2>>(),
            formulas<Model, number::Isa<3>>(),
            formulas<Model, number::Isa<4>>()};
#else
    return {scalar, formulas<Model, number::Isa<0>>(), {}, {}, {}};
#endif
}

} // namespace fitwright::fields
