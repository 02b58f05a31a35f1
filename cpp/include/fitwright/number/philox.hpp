// Counter-based random numbers: Philox 4x64 with 10 rounds (Salmon, Moraes, Dror and Shaw,
// "Parallel random numbers: as easy as 1, 2, 3", SC'11). A number is a function of key and
// counter alone, so any part of a stream can be had in any order on any thread.
#pragma once

#include <cstdint>
#include <fitwright/number/scalar.hpp>

namespace fitwright::number {

struct PhiloxKey {
    std::uint64_t low, high;
};
// Four words: the counter going in, the random words coming out.
struct PhiloxBlock {
    std::uint64_t word[4];
};

FITWRIGHT_INLINE constexpr PhiloxBlock philox(const PhiloxBlock& counter, PhiloxKey key) {
    __extension__ using Wide = unsigned __int128;
    std::uint64_t a = counter.word[0];
    std::uint64_t b = counter.word[1];
    std::uint64_t c = counter.word[2];
    std::uint64_t d = counter.word[3];
    for (int i = 0; i < 10; ++i) {
        const Wide first = Wide{a} * 0xd2e7470ee14c6c93;
        const Wide second = Wide{c} * 0xca5a826395121157;
        a = static_cast<std::uint64_t>(second >> 64) ^ b ^ key.low;
        c = static_cast<std::uint64_t>(first >> 64) ^ d ^ key.high;
        b = static_cast<std::uint64_t>(second);
        d = static_cast<std::uint64_t>(first);
        key.low += 0x9e3779b97f4a7c15;  // golden ratio
        key.high += 0xbb67ae8584caa73b; // sqrt(3) - 1
    }
    return {{a, b, c, d}};
}

// A number inside (0, 1): the middle of one of 2^52 equal intervals. With 2^53 of them the last
// middle would round to 1.
FITWRIGHT_INLINE double uniform_open(std::uint64_t word) {
    const auto bits = static_cast<std::int64_t>((word >> 12) | 0x3ff0000000000000);
    return from_bits(bits) - (1.0 - 0x1p-53);
}

// The key of an input's stream: a hash of its path (FNV-1a, 64 bits), the same in every build.
FITWRIGHT_INLINE constexpr std::uint64_t stream_key(const char* path, std::uint64_t size) {
    std::uint64_t h = 0xcbf29ce484222325;
    for (std::uint64_t i = 0; i < size; ++i) {
        h ^= static_cast<unsigned char>(path[i]);
        h *= 0x100000001b3;
    }
    return h;
}

} // namespace fitwright::number
