// The history of a stack: five rings, a washer and a nut in fourteen steps; how it grows with elements
// and steps; many of them on two threads. Baseline code, so once and not level by level.
#include "../cpp/history_cases.hpp"
#include "bench.hpp"

#include <ctime>
#include <thread>

namespace fitwright::bench {

namespace {

// Whatever the steps, each part must be in equilibrium, and no face pulls.
void check_answer(const stack::History<double>& h, const stack::HistoryResult<double>& r) {
    check(r.rule == 0 && r.steps.size() == h.steps.size(), "history: a step failed");
    check(close(r.steps[5].nut_force, 60e3, 1e-6), "history: tightened to another force");
    for (const std::size_t k : {5u, 6u, 11u})
        for (std::size_t i = 0; i < h.parts.size(); ++i) {
            const auto& s = r.steps[k];
            check(s.faces[i].force >= 0.0 && s.dissipated >= -1e-9 &&
                      std::fabs(s.faces[i].force - s.faces[i + 1].force - s.seat_force[i]) < 0.1,
                  "history: a part is out of equilibrium");
        }
    check(r.steps[8].faces[0].force < r.steps[7].faces[0].force,
          "history: less heat in the rings should clamp less");
}

// Processor time, so that neighbours on the machine do not count: what grows is compared here.
double processor_ms(clockid_t clock) {
    timespec t{};
    clock_gettime(clock, &t);
    return static_cast<double>(t.tv_sec) * 1e3 + static_cast<double>(t.tv_nsec) * 1e-6;
}
double milliseconds(const stack::History<double>& h, int repeats) {
    stack::HistoryRun<double> run;
    stack::HistoryResult<double> r;
    run.run(h, r);
    double best = 1e300;
    for (int k = 0; k < repeats; ++k) {
        const double start = processor_ms(CLOCK_THREAD_CPUTIME_ID);
        run.run(h, r);
        best = std::fmin(best, processor_ms(CLOCK_THREAD_CPUTIME_ID) - start);
    }
    return best;
}

} // namespace

void bench_history() {
    std::printf("\nhistory of a stack, in doubles at the baseline\n");
    stack::History<double> h = cases::demo_stack();
    h.steps = cases::demo_steps();
    check_answer(h, stack::history(h));
    const double whole = milliseconds(h, 40);
    row("demo stack, 5 rings of 12 elements, 14 steps", whole, "ms", 3.0);
    for (const int elements : {24, 48, 96}) {
        stack::History<double> fine = h;
        fine.elements = elements;
        check_answer(fine, stack::history(fine));
        row("    per element, " + std::to_string(elements) + " elements over 12",
            milliseconds(fine, 10) / whole * 12.0 / elements, "times");
    }
    stack::History<double> longer = h;
    longer.steps.insert(longer.steps.begin() + 12, cases::repeat(7, 11, 20));
    const auto long_result = stack::history(longer);
    check(long_result.cycle_nut_force.size() == 20, "history: cycles are missing");
    stack::History<double> once = h;
    once.steps.insert(once.steps.begin() + 12, cases::repeat(7, 11, 10));
    const double ten = milliseconds(once, 10);
    row("    per cycle of five states, cycles 11 to 20 over 1 to 10",
        (milliseconds(longer, 10) - ten) / (ten - whole), "times");

    using D = number::Dual<FITWRIGHT_DIRECTIONS, number::Isa<0>>;
    stack::History<D> dual = cases::demo_stack<D>();
    dual.steps = cases::steps_as<D>(cases::demo_steps());
    stack::HistoryRun<D> run;
    stack::HistoryResult<D> result;
    check(run.run(dual, result), "history: a step failed on duals");
    double dual_ms = 1e300;
    for (int k = 0; k < 10; ++k) {
        const double begun = processor_ms(CLOCK_THREAD_CPUTIME_ID);
        run.run(dual, result);
        dual_ms = std::fmin(dual_ms, processor_ms(CLOCK_THREAD_CPUTIME_ID) - begun);
    }
    row("    with derivatives in " + std::to_string(FITWRIGHT_DIRECTIONS) +
            " directions, over doubles",
        dual_ms / whole, "times");

    // A study of 100 000, as two threads take it; every sample is another stack.
    constexpr int samples = 1000;
    const auto some = [](int first) {
        stack::HistoryRun<double> one;
        stack::HistoryResult<double> r;
        for (int i = first; i < samples; i += 2) {
            stack::History<double> s = cases::demo_stack(5e-9 * (i % 2000 - 1000), 0.12 + 6e-5 * i);
            s.steps = cases::demo_steps();
            check(one.run(s, r), "history: a sample failed");
        }
    };
    const double start = processor_ms(CLOCK_PROCESS_CPUTIME_ID);
    std::thread other(some, 1);
    some(0);
    other.join();
    const double each = (processor_ms(CLOCK_PROCESS_CPUTIME_ID) - start) / samples;
    row("100 000 histories by two processors, from " + std::to_string(samples),
        each * 1e-3 * 1e5 / 2.0 / 60.0, "minutes", 5.0);
}

} // namespace fitwright::bench
