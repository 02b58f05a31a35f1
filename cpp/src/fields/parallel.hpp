// A fixed number of tasks over a few threads. This is the only place that starts threads.
#pragma once

#include "pause.hpp"
#include <algorithm>
#include <atomic>
#include <cstdint>
#include <new>
#include <system_error>
#include <thread>
#include <type_traits>
#include <vector>

namespace fitwright::fields {

// More threads than this are a slip of the pen.
inline constexpr int thread_limit = 1024;

// How many threads so many tasks get.
inline int thread_count(int asked, std::int64_t tasks) {
    const std::int64_t most = std::min<std::int64_t>(tasks, thread_limit);
    return static_cast<int>(std::clamp<std::int64_t>(asked, 1, std::max<std::int64_t>(most, 1)));
}

// Calls task(k, thread, stop) or task(k, thread) for each k once, thread below thread_count(threads,
// tasks). Where the system starts no more threads, those there are do all the work: numbers never
// depend on how many there are. The first exception of a task or of `between` ends all and comes out
// here; a task that asks `stop` ends sooner.
template <class Task>
void run_parallel(std::int64_t tasks, int threads, const Task& task, const Between& between = {}) {
    Pause pause(between);
    std::atomic<std::int64_t> next{0};
    const auto work = [&](int thread, const Stop& stop) {
        try {
            for (std::int64_t k = next++; k < tasks && !asked_to_stop(&stop); k = next++)
                if constexpr (std::is_invocable_v<const Task&, std::int64_t, int, const Stop&>)
                    task(k, thread, stop);
                else
                    task(k, thread);
        } catch (...) {
            pause.fail(std::current_exception());
        }
    };
    const int count = thread_count(threads, tasks);
    std::vector<std::thread> others;
    others.reserve(static_cast<std::size_t>(count - 1));
    try {
        for (int t = 1; t < count; ++t)
            others.emplace_back(work, t, pause.elsewhere());
    } catch (const std::system_error&) { // a limit on processes
    } catch (const std::bad_alloc&) {    // or on memory
    }
    work(0, pause.here());
    for (std::thread& t : others)
        t.join();
    pause.rethrow();
}

// 64-byte aligned doubles, as the packs need them.
class AlignedDoubles {
public:
    explicit AlignedDoubles(std::size_t count)
        : storage_(count + 8) {}
    double* data() {
        const auto doubles = reinterpret_cast<std::uintptr_t>(storage_.data()) / sizeof(double);
        return storage_.data() + (8 - doubles % 8) % 8;
    }

private:
    std::vector<double> storage_;
};

} // namespace fitwright::fields
