// Where the threads of one long call look whether to go on.
#pragma once

#include <atomic>
#include <chrono>
#include <exception>
#include <fitwright/fields/between.hpp>
#include <fitwright/fields/stop.hpp>
#include <utility>

namespace fitwright::fields {

class Pause {
public:
    explicit Pause(const Between& between)
        : between_(between ? &between : nullptr) {}

    // For the thread that made the call: it lets `between` have its turn.
    Stop here() {
        return {[](void* of) { return static_cast<Pause*>(of)->turn(); }, this};
    }
    // For the others.
    Stop elsewhere() {
        return {[](void* of) { return static_cast<const Pause*>(of)->stopped(); }, this};
    }
    bool stopped() const { return stop_.load(std::memory_order_relaxed); }

    // Ends the call with the first error, from any thread.
    void fail(std::exception_ptr error) noexcept {
        if (!taken_.exchange(true))
            error_ = std::move(error);
        stop_.store(true, std::memory_order_relaxed);
    }
    // After the threads have ended.
    void rethrow() const {
        if (error_)
            std::rethrow_exception(error_);
    }

private:
    using Clock = std::chrono::steady_clock;
    static constexpr auto patience = std::chrono::milliseconds(50);
    // The clock is not looked at each time where little happens between two looks.
    static constexpr int seldom = 16;
    static constexpr auto quick = std::chrono::milliseconds(1);

    bool turn() {
        if (between_ == nullptr || stopped() || --skip_ > 0)
            return stopped();
        const auto now = Clock::now();
        skip_ = now - looked_ < quick ? seldom : 1;
        looked_ = now;
        if (now - called_ < patience)
            return false;
        try {
            (*between_)();
        } catch (...) {
            fail(std::current_exception());
        }
        called_ = Clock::now();
        return stopped();
    }

    const Between* between_;
    std::atomic<bool> stop_{false};
    std::atomic<bool> taken_{false};
    std::exception_ptr error_;
    Clock::time_point looked_ = Clock::now();
    Clock::time_point called_ = looked_;
    int skip_ = 1;
};

// The same for many short calls in a row: `between` has its turn before one of them now and then.
class Pace {
public:
    explicit Pace(const Between& between)
        : between_(between) {}
    void operator()() {
        if (!between_)
            return;
        const auto now = std::chrono::steady_clock::now();
        if (now - called_ < std::chrono::milliseconds(50))
            return;
        between_();
        called_ = std::chrono::steady_clock::now();
    }

private:
    const Between& between_;
    std::chrono::steady_clock::time_point called_ = std::chrono::steady_clock::now();
};

// One call on the thread it came on: the answer of `work(stop)`. What it throws because it was stopped
// gives way to the reason it was stopped for.
template <class Work>
auto with_pauses(const Between& between, const Work& work) {
    Pause pause(between);
    const Stop stop = pause.here();
    try {
        auto answer = work(stop);
        pause.rethrow();
        return answer;
    } catch (...) {
        pause.rethrow();
        throw;
    }
}

} // namespace fitwright::fields
