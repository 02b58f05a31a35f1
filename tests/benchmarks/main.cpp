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
    row("drawing its inputs by Boost quantiles", yardstick().draws, "ns");
    row("study: draws, evaluation, statistics", yardstick().study, "ns");
    for (const int level : fields::usable_levels()) {
        fields::force_level(level);
        std::printf("\nlevel v%d\n", level);
        bench_fit(level);
        bench_contacts(level);
        bench_job(level);
    }
    return 0;
}
