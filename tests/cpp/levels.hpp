// What the tests run on lanes and duals of a vector level: declared here, compiled once per level in
// levels.level.cpp. Numbers and pointers only.
#pragma once

#include "number_functions_levels.hpp"

namespace fitwright::level_test {

// x - e sin x = m (Kepler's equation): near e = 1 and m = 0 Newton takes many more steps than
// elsewhere. `count` is a whole number of packs.
struct KeplerRun {
    int count;
    const double* eccentricity;
    const double* anomaly;
    double* x;
    double* converged; // 1 or 0
};
template <class Level>
void solve_kepler(const KeplerRun&);
// dx/de and dx/dm, by duals.
template <class Level>
void kepler_slopes(double eccentricity, double anomaly, double* by_eccentricity,
                   double* by_anomaly);

// Rule 3 wants x > 0, then, in another place, rule 5 wants x < 10 and rule 7 wants y > 0.
inline constexpr int rule_a = 3, rule_b = 5, rule_c = 7, place_a = 2, place_b = 1041;
struct RulesRun {
    int count;
    const double* x;
    const double* y;
    double* code;
};
template <class Level>
void check_rules(const RulesRun&);

// A model of two inputs and two outputs that only knows double, one pack of samples: input i of
// sample k is inputs[i * width + k].
struct PerLaneRun {
    number::ScalarModel model;
    const void* context;
    const double* inputs;
    double* outputs;
    double* ok; // 1 or 0
};
template <class Level>
void run_per_lane(const PerLaneRun&);

template <class Level>
void run_functions(const number_test::FunctionRun&);

// Calls f with the type of the level. Baseline code passes pointers on and nothing else.
template <class F>
void on_level(int level, F f) {
#ifdef FITWRIGHT_HAS_LEVELS
    switch (level) {
    case 2:
        return f(number::Isa<2>{});
    case 3:
        return f(number::Isa<3>{});
    default:
        return f(number::Isa<4>{});
    }
#else
    static_cast<void>(level);
    f(number::Isa<0>{});
#endif
}

} // namespace fitwright::level_test
