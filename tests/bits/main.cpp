// fitwright_bits [--brief] [--cases] [LEVEL]: one line with what this is, its seconds and one hash over all
// answers; --cases: a line for each case before it.
#include "bits.hpp"

#include <algorithm>
#include <chrono>
#include <cinttypes>
#include <cstdio>
#include <fitwright/fields/level.hpp>

int main(int count, char** words) {
    using namespace fitwright;
    bool brief = false;
    bool cases = false;
    int level = fields::active_level();
    for (int i = 1; i < count; ++i) {
        const std::string word = words[i];
        brief = brief || word == "--brief";
        cases = cases || word == "--cases";
        if (word.size() == 2 && word[0] == 'v')
            level = word[1] - '0';
    }
    const std::vector<int> usable = fields::usable_levels();
    if (std::find(usable.begin(), usable.end(), level) == usable.end())
        return 77;
    fields::force_level(level);
    bits::Hash all;
    double seconds = 0.0;
    bool failed = false;
    const auto tell = [&](const std::string& name, const bits::Case& run) {
        bits::Hash hash;
        const auto start = std::chrono::steady_clock::now();
        try {
            run(hash);
        } catch (const std::exception& e) {
            std::fprintf(stderr, "%s: %s\n", name.c_str(), e.what());
            failed = true;
        }
        const std::chrono::duration<double> time = std::chrono::steady_clock::now() - start;
        seconds += time.count();
        all.add(hash.value());
        if (cases)
            std::printf("%016" PRIx64 " %8" PRId64 " numbers %7.3f s  %s\n", hash.value(),
                        hash.numbers(), time.count(), name.c_str());
    };
    bits::models(tell);
    bits::jobs(tell, brief);
    std::printf("%016" PRIx64 " %s v%d %.1f s %s\n", all.value(), brief ? "brief" : "whole", level,
                seconds, __VERSION__);
    return failed ? 1 : 0;
}
