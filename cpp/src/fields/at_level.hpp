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
    if (level >= 4 && all.levels >= 4)
        return f(all.v4);
    if (level >= 3 && all.levels >= 3)
        return f(all.v3);
    return f(all.v2);
#else
    static_cast<void>(level);
    return f(all.baseline);
#endif
}

// The formulas of what a study runs, as the baseline sees them: on every level, by a *.level.cpp.
template <class Model>
AllFormulas study_formulas(Formula<double> scalar) {
#ifdef FITWRIGHT_HAS_LEVELS
    return {scalar,
            4,
            {},
            formulas<Model, number::Isa<2>>(),
            formulas<Model, number::Isa<3>>(),
            formulas<Model, number::Isa<4>>()};
#else
    return {scalar, 0, formulas<Model, number::Isa<0>>(), {}, {}, {}};
#endif
}
// Those of any other model: on the lowest level alone, by a *.lowest.cpp. The other levels would take three
// times as long to compile for batches that are two to three times faster.
template <class Model>
AllFormulas all_formulas(Formula<double> scalar) {
#ifdef FITWRIGHT_HAS_LEVELS
    return {scalar, 2, {}, formulas<Model, number::Isa<2>>(), {}, {}};
#else
    return study_formulas<Model>(scalar);
#endif
}

} // namespace fitwright::fields
