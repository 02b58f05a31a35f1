// What a consumer of the installed package asks, and the bits it gets: one line and one hash per
// answer. The tests ask the same and compare (tests/cpp/levels.test.cpp).
#pragma once

#include "../cases.hpp"
#include <cstdint>
#include <cstring>

// FNV-1a over the bits of the numbers.
inline std::string line_of(const char* name, const std::vector<double>& numbers) {
    std::uint64_t hash = 0xcbf29ce484222325;
    for (const double x : numbers) {
        std::uint64_t bits = 0;
        std::memcpy(&bits, &x, sizeof bits);
        for (int i = 0; i < 8; ++i) {
            hash ^= (bits >> (8 * i)) & 0xff;
            hash *= 0x100000001b3;
        }
    }
    std::string text = std::string(name) + " ";
    for (int i = 60; i >= 0; i -= 4)
        text += "0123456789abcdef"[(hash >> i) & 15];
    return text + "\n";
}

inline std::string answers() {
    using namespace fitwright;
    const job::Job job = cases::blower();
    const job::Job::Jacobian derivatives = job.jacobian();
    study::Study study(cases::subject(job), cases::spreads(job), cases::tracked(job), 1, 20000);
    while (study.done() < study.count())
        study.advance(10000, 2);
    std::vector<double> statistics;
    for (std::size_t t = 0; t < cases::tracked(job).size(); ++t) {
        const study::Statistics s = study.statistics(t);
        for (const double x : {s.mean, s.deviation, s.skewness, s.least, s.greatest, s.bins_from})
            statistics.push_back(x);
        statistics.push_back(static_cast<double>(s.passed));
    }
    return line_of("fit", cases::numbers(rings::fit(cases::fit(), cases::metal("4340"),
                                                    cases::metal("52100")))) +
           line_of("bearing",
                   cases::numbers(bearings::mounted(cases::bearing(), cases::metal("52100"),
                                                    cases::metal("52100")))) +
           line_of("job", job.evaluate()) + line_of("derivatives", derivatives.derivatives) +
           line_of("study", statistics);
}
