// Counter-based random numbers: Philox 4x64 with 10 rounds (Salmon, Moraes, Dror and Shaw,
// "Parallel random numbers: as easy as 1, 2, 3", SC'11). A number is a function of key and
// counter alone, so any part of a stream can be had in any order on any thread.
#pragma once

#include <cstdint>
#include <fitwright/number/lanes.hpp>
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

namespace detail {

// Products of the lower halves of 64-bit elements. Written as a product of masked elements it would
// become the slow 64-bit one (GCC), so the instruction is named; clang finds it by itself.
template <class Bits>
FITWRIGHT_INLINE Bits half_product(const Bits& x, const Bits& y) {
#if defined(__AVX512F__) && !defined(__clang__)
    using V [[gnu::vector_size(64)]] = int;
    using Q [[gnu::vector_size(64)]] = long long;
    return reinterpret_cast<Bits>(__builtin_ia32_pmuludq512_mask(
        reinterpret_cast<V>(x), reinterpret_cast<V>(y), Q{}, static_cast<unsigned char>(-1)));
#else
    return (x & 0xffffffff) * (y & 0xffffffff);
#endif
}

template <class Bits>
struct Product {
    Bits low, high;
};
// 64 x 64 -> 128 bits from four products of halves.
template <class Bits>
FITWRIGHT_INLINE Product<Bits> product(const Bits& x, std::uint64_t factor) {
    const Bits f = factor - Bits{};
    const Bits f_high = (factor >> 32) - Bits{};
    const Bits x_high = x >> 32;
    const Bits ll = half_product(x, f);
    const Bits lh = half_product(x, f_high);
    const Bits hl = half_product(x_high, f);
    const Bits hh = half_product(x_high, f_high);
    const Bits middle = hl + (ll >> 32); // below 2^64
    const Bits cross = lh + (middle & 0xffffffff);
    return {(cross << 32) | (ll & 0xffffffff), hh + (middle >> 32) + (cross >> 32)};
}

} // namespace detail

// The blocks of counter `first` and of the one after it as eight uniform numbers, on scalar
// registers; the two run side by side.
FITWRIGHT_INLINE void philox_uniforms(std::uint64_t key_low, std::uint64_t key_high,
                                      std::uint64_t first, double* u) {
    __extension__ using Wide = unsigned __int128;
    std::uint64_t a[2] = {first, first + 1};
    std::uint64_t b[2] = {0, 0};
    std::uint64_t c[2] = {0, 0};
    std::uint64_t d[2] = {0, 0};
    for (int round = 0; round < 10; ++round) {
        for (int i = 0; i < 2; ++i) {
            const Wide one = Wide{a[i]} * 0xd2e7470ee14c6c93;
            const Wide two = Wide{c[i]} * 0xca5a826395121157;
            a[i] = static_cast<std::uint64_t>(two >> 64) ^ b[i] ^ key_low;
            c[i] = static_cast<std::uint64_t>(one >> 64) ^ d[i] ^ key_high;
            b[i] = static_cast<std::uint64_t>(two);
            d[i] = static_cast<std::uint64_t>(one);
        }
        key_low += 0x9e3779b97f4a7c15;
        key_high += 0xbb67ae8584caa73b;
    }
    for (int i = 0; i < 2; ++i) {
        const std::uint64_t words[4] = {a[i], b[i], c[i], d[i]};
        for (int k = 0; k < 4; ++k)
            u[4 * i + k] =
                from_bits(static_cast<std::int64_t>((words[k] >> 12) | 0x3ff0000000000000)) -
                (1.0 - 0x1p-53);
    }
}

// Eight blocks side by side in wide registers: for four keys (`key_low`, the high half is the same) those of counter
// `first` and of the one after it. The uniform numbers of key k come out as lanes of u[k], word after
// word, the same bits as from `philox`.
template <class Level>
FITWRIGHT_INLINE void philox_uniforms(const std::uint64_t* key_low, std::uint64_t key_high,
                                      std::uint64_t first, Lanes<8, Level>* u) {
    static_assert(Pack<8, Level>::registers == 1);
    using Bits [[gnu::vector_size(8 * sizeof(double))]] = std::uint64_t;
    using Vector = typename Pack<8, Level>::Vector;
    const Bits counter_step = {0, 0, 0, 0, 1, 1, 1, 1};
    Bits a = first + counter_step;
    Bits b = {}, c = {}, d = {};
    Bits low = {key_low[0], key_low[1], key_low[2], key_low[3],
                key_low[0], key_low[1], key_low[2], key_low[3]};
    for (int round = 0; round < 10; ++round) {
        const auto one = detail::product(a, 0xd2e7470ee14c6c93);
        const auto two = detail::product(c, 0xca5a826395121157);
        a = two.high ^ b ^ low;
        c = one.high ^ d ^ key_high;
        b = two.low;
        d = one.low;
        low += 0x9e3779b97f4a7c15;
        key_high += 0xbb67ae8584caa73b;
    }
    const auto uniform = [](const Bits& word) {
        const Bits bits = (word >> 12) | 0x3ff0000000000000;
        return reinterpret_cast<Vector>(bits) - (1.0 - 0x1p-53);
    };
    // Four by four turned over, in each half of the lanes.
    const Vector va = uniform(a);
    const Vector vb = uniform(b);
    const Vector vc = uniform(c);
    const Vector vd = uniform(d);
    const Vector even = __builtin_shufflevector(va, vb, 0, 8, 2, 10, 4, 12, 6, 14);
    const Vector odd = __builtin_shufflevector(va, vb, 1, 9, 3, 11, 5, 13, 7, 15);
    const Vector even2 = __builtin_shufflevector(vc, vd, 0, 8, 2, 10, 4, 12, 6, 14);
    const Vector odd2 = __builtin_shufflevector(vc, vd, 1, 9, 3, 11, 5, 13, 7, 15);
    u[0].v[0] = __builtin_shufflevector(even, even2, 0, 1, 8, 9, 4, 5, 12, 13);
    u[1].v[0] = __builtin_shufflevector(odd, odd2, 0, 1, 8, 9, 4, 5, 12, 13);
    u[2].v[0] = __builtin_shufflevector(even, even2, 2, 3, 10, 11, 6, 7, 14, 15);
    u[3].v[0] = __builtin_shufflevector(odd, odd2, 2, 3, 10, 11, 6, 7, 14, 15);
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
