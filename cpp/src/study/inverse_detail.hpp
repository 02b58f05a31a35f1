// What the questions turned round share.
#pragma once

#include <fitwright/study/inverse.hpp>

namespace fitwright::study {

inline std::size_t at(int i) { return static_cast<std::size_t>(i); }

// False, with "path: rule", where the job cannot be evaluated or an output is not finite.
bool try_evaluate(const System&, std::vector<double>& outputs, std::string* problem,
                  const fields::Between& between);

inline void put(System& system, const Edge& e, double value) {
    for (const int leaf : {e.leaf, e.low_leaf, e.high_leaf})
        if (leaf >= 0)
            system.set(leaf, value);
}
inline double slope_of(const double* row, const Edge& e) {
    double slope = row[e.leaf];
    if (e.low_leaf >= 0)
        slope += row[e.low_leaf] + row[e.high_leaf];
    return slope;
}
System in_the_middle(const System&, const std::vector<Edge>&);

} // namespace fitwright::study
