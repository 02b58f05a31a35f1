// The demo job that ships, in C++: its data come from blower.toml (demo_to_cpp.py).
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
