// The only place that starts threads: all work is done by as many as there are, errors come out, and
// whoever made the call gets a word in.
#include "../../cpp/src/fields/parallel.hpp"
#include "catch.hpp"

#include <limits>
#include <numeric>
#include <stdexcept>

using namespace fitwright::fields;

TEST_CASE("every task is done once, by a thread below the count told", "[parallel]") {
    for (const int threads : {1, 2, 7, 64}) {
        std::vector<int> done(1000, 0);
        std::atomic<int> highest{0};
        run_parallel(1000, threads, [&](std::int64_t k, int thread) {
            done[static_cast<std::size_t>(k)] += 1;
            for (int seen = highest; thread > seen && !highest.compare_exchange_weak(seen, thread);)
                continue;
        });
        CHECK(std::all_of(done.begin(), done.end(), [](int n) { return n == 1; }));
        CHECK(highest < thread_count(threads, 1000));
    }
}

TEST_CASE("threads are as many as asked, as there are tasks, and as make sense", "[parallel]") {
    CHECK(thread_count(4, 100) == 4);
    CHECK(thread_count(4, 3) == 3);
    CHECK(thread_count(0, 3) == 1);
    CHECK(thread_count(-5, 3) == 1);
    CHECK(thread_count(4, 0) == 1);
    CHECK(thread_count(std::numeric_limits<int>::max(), 1'000'000'000) == thread_limit);
}

TEST_CASE("an error of a task ends the others and comes out", "[parallel]") {
    for (const int threads : {1, 4}) {
        std::atomic<std::int64_t> done{0};
        const auto task = [&](std::int64_t k, int) {
            if (k == 100)
                throw std::runtime_error("task 100");
            ++done;
        };
        CHECK_THROWS_WITH(run_parallel(1'000'000, threads, task), "task 100");
        CHECK(done < 1'000'000);
    }
}

TEST_CASE("whoever made the call has a word, and can end it", "[parallel]") {
    for (const int threads : {1, 4}) {
        const auto caller = std::this_thread::get_id();
        int called = 0;
        bool elsewhere = false;
        const Between between = [&] {
            elsewhere = elsewhere || std::this_thread::get_id() != caller;
            if (++called == 3)
                throw std::runtime_error("enough");
        };
        std::atomic<bool> go_on{true};
        // A task that only ends when it is asked to.
        const auto task = [&](std::int64_t, int, const Stop& stop) {
            while (go_on && !asked_to_stop(&stop))
                continue;
        };
        CHECK_THROWS_WITH(run_parallel(threads, threads, task, between), "enough");
        CHECK(called == 3);
        CHECK_FALSE(elsewhere);
    }
}

TEST_CASE("a call on its own thread is ended alike", "[parallel]") {
    const Between between = [] { throw std::runtime_error("stop"); };
    const auto work = [](const Stop& stop) {
        while (!asked_to_stop(&stop))
            continue;
        throw std::logic_error("what came back was worth nothing");
        return 0;
    };
    CHECK_THROWS_WITH(with_pauses(between, work), "stop");
    CHECK(with_pauses({}, [](const Stop& stop) { return asked_to_stop(&stop) ? 1 : 2; }) == 2);
}
