// What every run of chunks tells its work first: the subject, what scatters, what is looked at.
#pragma once

#include "chunk.hpp"
#include <vector>

namespace fitwright::study {

inline ChunkWork work_on(const Subject& subject, const std::vector<Stream>& streams,
                         const std::vector<Watch>& watches) {
    ChunkWork w{};
    w.streams = streams.data();
    w.stream_count = static_cast<int>(streams.size());
    w.nominal = subject.nominal.data();
    w.low = subject.low.data();
    w.high = subject.high.data();
    w.input_count = static_cast<int>(subject.nominal.size());
    w.output_count = subject.output_count;
    w.watches = watches.data();
    w.watch_count = static_cast<int>(watches.size());
    return w;
}

} // namespace fitwright::study
