// The demo job "blower" as C++ values: same parts, states, scatter and limits as
// python/fitwright/demos/blower.toml (bench.py checks that the two give the same numbers).
#pragma once

#include <fitwright/job/job.hpp>
#include <fitwright/study/study.hpp>

namespace fitwright::bench {

struct DemoJob {
    job::Job job;
    std::vector<study::Spread> spreads;
    std::vector<study::Tracked> tracked; // every output with a limit
    study::Subject subject() const;
};
const DemoJob& demo_job();

} // namespace fitwright::bench
