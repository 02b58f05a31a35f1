// A fixed number of tasks over a few threads. Tasks must not throw.
#pragma once

#include <atomic>
#include <cstdint>
#include <thread>
#include <vector>

namespace fitwright::fields {

template <class Task>
void run_parallel(std::int64_t tasks, int threads, const Task& task) noexcept {
    std::atomic<std::int64_t> next{0};
    const auto work = [&](int thread) {
        for (std::int64_t k = next++; k < tasks; k = next++)
            task(k, thread);
    };
    std::vector<std::thread> others;
    for (int t = 1; t < threads && t < tasks; ++t)
        others.emplace_back(work, t);
    work(0);
    for (std::thread& t : others)
        t.join();
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
