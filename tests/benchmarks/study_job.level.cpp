#include "study_job.hpp"
#include "fields/level_file.hpp"

namespace fitwright::bench {

namespace {

constexpr int chains = 12; // enough to hide the latency, few enough for 16 registers

template <class Level>
using Pack [[gnu::vector_size(Level::register_width * sizeof(double))]] = double;

// Every chain starts elsewhere: equal ones would be computed once.
template <class Level>
[[gnu::optimize("fp-contract=fast"), gnu::noinline]] double fused_loop(long rounds, double start) {
    Pack<Level> x[chains] = {};
    for (int c = 0; c < chains; ++c)
        x[c] += start + c;
    Pack<Level> a = {};
    a += 0.999999;
    Pack<Level> b = {};
    b += 1e-6;
    for (long k = 0; k < rounds; ++k) {
#pragma GCC unroll 12
        for (int c = 0; c < chains; ++c)
            x[c] = x[c] * a + b;
    }
    double sum = 0.0;
    for (int c = 0; c < chains; ++c)
        sum += x[c][0];
    return sum;
}

} // namespace

template <class Level>
double multiply_add(long rounds, double start) {
    return fused_loop<Level>(rounds, start);
}
template double multiply_add<AtLevel>(long, double);

} // namespace fitwright::bench

FITWRIGHT_SERVE_AT_LEVEL(fitwright::bench::StudyJob)
