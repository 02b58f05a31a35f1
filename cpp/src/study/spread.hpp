// From what a user says of an input's scatter to what the kernel draws from.
#pragma once

#include "chunk.hpp"
#include <fitwright/study/study.hpp>

namespace fitwright::study {

// Numbers a stream points into: they must outlive it and stay where they are.
struct StreamData {
    std::vector<double> table;
    std::vector<std::uint64_t> directions;
};
// `dimension` of a Sobol' sequence, -1 for other designs.
StreamData data_of(const Spread&, int dimension, std::uint64_t seed);
Stream stream_of(const Spread&, const StreamData&);

// Streams that are correlated, those tied to each other side by side, and the lower triangle that mixes
// their normal scores: row i from column from[i], where its group begins, to i.
struct Mixing {
    std::vector<int> streams;
    std::vector<int> from;
    std::vector<double> triangle;
};
Mixing mixing_of(const std::vector<Correlation>&, std::size_t spread_count);

} // namespace fitwright::study
