// The uniform numbers of one input: sample i of a design is a function of key, seed and i alone.
#pragma once

#include "study/chunk.hpp"
#include "study/design.hpp"
#include <fitwright/number/number.hpp>
#include <fitwright/study/study.hpp>

namespace fitwright::study {

using namespace number;

// Samples first, first + 1, ... of a plain design: one Philox block serves four of them.
template <class L>
FITWRIGHT_INLINE L plain_uniforms(const Stream& s, std::uint64_t seed, std::int64_t first) {
    L u(0.0);
    PhiloxBlock block{};
    std::int64_t have = -1;
    for (int w = 0; w < L::width; ++w) {
        const std::int64_t index = (first + w) / 4;
        if (index != have) {
            block = philox({{static_cast<std::uint64_t>(index), 0, 0, 0}}, {s.key, seed});
            have = index;
        }
        u.set_lane(w, uniform_open(block.word[(first + w) % 4]));
    }
    return u;
}

// The same for all streams. With eight lanes to a register four streams at once, from two blocks each;
// narrower ones are slower than scalar products (measured: 1.9 against 1.6 ns a number at v3, 3.5
// against 1.75 at v2).
template <class Level>
FITWRIGHT_INLINE void all_plain_uniforms(const Stream* streams, int count, std::uint64_t seed,
                                         std::int64_t first, Lanes<8, Level>* values) {
    if constexpr (Pack<8, Level>::registers > 1) {
        for (int j = 0; j < count; ++j) {
            double u[8];
            philox_uniforms(streams[j].key, seed, static_cast<std::uint64_t>(first / 4), u);
            values[j] = Lanes<8, Level>::load(u);
        }
    } else {
        for (int j = 0; j < count; j += 4) {
            std::uint64_t keys[4];
            for (int k = 0; k < 4; ++k)
                keys[k] = streams[j + k < count ? j + k : count - 1].key;
            Lanes<8, Level> u[4];
            philox_uniforms(keys, seed, static_cast<std::uint64_t>(first / 4), u);
            for (int k = 0; k < 4 && j + k < count; ++k)
                values[j + k] = u[k];
        }
    }
}
template <class L>
FITWRIGHT_INLINE void all_plain_uniforms(const Stream* streams, int count, std::uint64_t seed,
                                         std::int64_t first, L* values) {
    for (int j = 0; j < count; ++j)
        values[j] = plain_uniforms<L>(streams[j], seed, first);
}

// Bits of the least power of four that is at least n: the domain of the permutation.
FITWRIGHT_INLINE int even_bits(std::uint64_t n) {
    int bits = 2;
    while (bits < 62 && (std::uint64_t{1} << bits) < n)
        bits += 2;
    return bits;
}

// Place of sample i in a random order of n: four rounds of a Feistel network on an even number of
// bits, walked until it falls inside n (a permutation of a larger domain, restricted).
FITWRIGHT_INLINE std::uint64_t permuted(std::uint64_t i, std::uint64_t n, std::uint64_t key,
                                        std::uint64_t seed) {
    const int half = even_bits(n) / 2;
    const std::uint64_t mask = (std::uint64_t{1} << half) - 1;
    std::uint64_t x = i;
    do {
        std::uint64_t left = x >> half;
        std::uint64_t right = x & mask;
        for (std::uint64_t round = 0; round < 4; ++round) {
            // One multiply-xor-shift mix in the manner of SplitMix64 (Steele, Lea, Flood 2014).
            std::uint64_t m =
                right + key + (seed ^ n) * 0x9e3779b97f4a7c15 + round * 0xbf58476d1ce4e5b9;
            m = (m ^ (m >> 30)) * 0xbf58476d1ce4e5b9;
            m = (m ^ (m >> 27)) * 0x94d049bb133111eb;
            m ^= m >> 31;
            const std::uint64_t next = left ^ (m & mask);
            left = right;
            right = next;
        }
        x = (left << half) | right;
    } while (x >= n);
    return x;
}

// What a design other than plain makes of a plain number.
template <class L>
FITWRIGHT_INLINE L uniforms(const Stream& s, const ChunkWork& work, std::int64_t first,
                            const L& inside) {
    L u(0.0);
    if (static_cast<Design>(work.design) == Design::latin_hypercube) {
        const auto n = static_cast<std::uint64_t>(work.total);
        for (int w = 0; w < L::width; ++w) {
            const std::int64_t last = work.total - 1; // what lies beyond is not counted
            const std::int64_t i = first + w < last ? first + w : last;
            const std::uint64_t stratum =
                permuted(static_cast<std::uint64_t>(i), n, s.key, work.seed);
            u.set_lane(w, (static_cast<double>(stratum) + inside.lane(w)) /
                              static_cast<double>(work.total));
        }
        return u;
    }
    for (int w = 0; w < L::width; ++w) {
        auto rest = static_cast<std::uint64_t>(first + w);
        std::uint64_t x = s.directions[sobol_bits];
        for (int b = 0; rest != 0; ++b, rest >>= 1)
            x ^= (rest & 1) != 0 ? s.directions[b] : 0;
        u.set_lane(w, uniform_open(x << (64 - sobol_bits)));
    }
    return u;
}

} // namespace fitwright::study
