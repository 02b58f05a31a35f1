// fitwright_bench: every section at every vector level this processor has, on one thread.
// Ends with 1 when an answer is wrong, never because something was slow.
#include "bench.hpp"
#include "demo_job.hpp"
#include <fitwright/fields/level.hpp>

int main() {
    using namespace fitwright;
    using namespace fitwright::bench;
    std::setvbuf(stdout, nullptr, _IOLBF, 0);
    std::printf("One thread, least time of several runs, per sample; compiler %s\n", __VERSION__);
    std::printf("\nyardstick: the demo job in doubles at the baseline of the processor's family\n");
    row("one evaluation", yardstick().evaluation, "ns");
    const auto study = [](const char* boost, const Yardstick::Study& y) {
        row(std::string("drawing its inputs, ") + boost, y.draws, "ns");
        row(std::string("study: draws, evaluation, statistics, ") + boost, y.whole, "ns");
    };
    study("Boost", yardstick().as_it_comes);
    study("Boost kept in double", yardstick().in_double);
    bench_history();
    for (const int level : fields::usable_levels()) {
        fields::force_level(level);
        std::printf("\nlevel v%d\n", level);
        bench_fit(level);
        bench_nest(level);
        bench_contacts(level);
        bench_heat(level);
        bench_job(level);
    }
    return 0;
}
