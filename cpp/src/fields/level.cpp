#include <algorithm>
#include <atomic>
#include <cstdlib>
#include <fitwright/fields/level.hpp>
#include <stdexcept>

namespace fitwright::fields {

std::vector<int> usable_levels() {
#ifdef FITWRIGHT_HAS_LEVELS
    std::vector<int> levels;
    __builtin_cpu_init();
    // By features: clang 14 does not know __builtin_cpu_supports("x86-64-v3").
    if (__builtin_cpu_supports("sse4.2") && __builtin_cpu_supports("popcnt"))
        levels.push_back(2);
    if (__builtin_cpu_supports("avx2") && __builtin_cpu_supports("fma") &&
        __builtin_cpu_supports("bmi2"))
        levels.push_back(3);
    if (__builtin_cpu_supports("avx512f") && __builtin_cpu_supports("avx512bw") &&
        __builtin_cpu_supports("avx512cd") && __builtin_cpu_supports("avx512dq") &&
        __builtin_cpu_supports("avx512vl"))
        levels.push_back(4);
    return levels;
#else
    return {0};
#endif
}

namespace {

int level_from_environment() {
    const std::vector<int> usable = usable_levels();
    if (usable.empty())
        throw std::runtime_error(
            "fitwright needs an x86-64-v2 processor (SSE4.2), which this machine is not");
    const char* forced = std::getenv("FITWRIGHT_LEVEL");
    if (forced == nullptr || *forced == '\0' || usable.front() == 0)
        return usable.back();
    const std::string name = forced;
    for (const int level : usable)
        if (name == "v" + std::to_string(level))
            return level;
    throw std::runtime_error("FITWRIGHT_LEVEL=" + name +
                             ": must be v2, v3 or v4, and within what this processor can run");
}

// The one piece of state in the library: which kernels run. Results do not depend on it.
std::atomic<int>& chosen() {
    static std::atomic<int> level{level_from_environment()};
    return level;
}

} // namespace

int active_level() { return chosen(); }

void force_level(int level) {
    const std::vector<int> usable = usable_levels();
    if (std::find(usable.begin(), usable.end(), level) == usable.end())
        throw std::invalid_argument("level v" + std::to_string(level) + " cannot run here");
    chosen() = level;
}

} // namespace fitwright::fields
