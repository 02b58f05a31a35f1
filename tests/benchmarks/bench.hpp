// Timing and reporting for the benchmarks.
#pragma once

#include <chrono>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <string>
#include <vector>

namespace fitwright::bench {

// An answer is checked before it is timed; a wrong one ends the run.
inline void check(bool right, const std::string& what) {
    if (right)
        return;
    std::fprintf(stderr, "WRONG ANSWER: %s\n", what.c_str());
    std::exit(1);
}
inline bool close(double a, double b, double relative) {
    return std::fabs(a - b) <= relative * std::fmax(std::fabs(a), std::fabs(b));
}

// Least time of several runs, in nanoseconds per item. The least is the one others disturbed least.
template <class Run>
double best_ns(int repeats, double items, const Run& run) {
    double best = 1e300;
    for (int k = 0; k < repeats; ++k) {
        const auto start = std::chrono::steady_clock::now();
        run();
        const std::chrono::duration<double, std::nano> time =
            std::chrono::steady_clock::now() - start;
        best = std::fmin(best, time.count() / items);
    }
    return best;
}

inline void row(const std::string& what, double value, const char* unit) {
    std::printf("  %-58s %10.*f %s\n", what.c_str(),
                value < 10.0    ? 2
                : value < 100.0 ? 1
                                : 0,
                value, unit);
}
inline void row(const std::string& what, double value, const char* unit, double at_most) {
    std::printf("  %-58s %10.2f %-9s wanted <= %.2f  %s\n", what.c_str(), value, unit, at_most,
                value <= at_most ? "ok" : "MISSED");
}

// Sections, each at the level that is active.
void bench_fit(int level);
void bench_nest(int level);
void bench_job(int level);
void bench_contacts(int level);
void bench_history(); // baseline: once
void bench_heat(int level);
// The demo job in doubles, the same whatever the level; nanoseconds per sample.
struct Yardstick {
    struct Study {
        static constexpr int samples = 16384;
        double whole;              // draws, evaluation and statistics
        double draws;              // of the inputs, by Boost quantiles
        std::vector<double> means; // of the tracked outputs
    };
    double evaluation;
    Study as_it_comes; // Boost works in long double inside
    Study in_double;   // Boost told not to
};
const Yardstick& yardstick();

} // namespace fitwright::bench
