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
#if defined(__x86_64__) && !defined(__clang__)
    if constexpr (sizeof(Bits) == 16) {
        using V [[gnu::vector_size(16)]] = int;
        return (Bits)__builtin_ia32_pmuludq128((V)x, (V)y);
    }
#ifdef __AVX2__
    if constexpr (sizeof(Bits) == 32) {
        using V [[gnu::vector_size(32)]] = int;
        return (Bits)__builtin_ia32_pmuludq256((V)x, (V)y);
    }
#endif
#ifdef __AVX512F__
    if constexpr (sizeof(Bits) == 64) {
        using V [[gnu::vector_size(64)]] = int;
        using Q [[gnu::vector_size(64)]] = long long;
        return (Bits)__builtin_ia32_pmuludq512_mask((V)x, (V)y, Q{}, static_cast<unsigned char>(-1));
    }
#endif
#endif
    return (x & 0xffffffff) * (y & 0xffffffff);
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

// Eight blocks side by side: for four keys (`key_low`, the high half is the same) those of counter
// `first` and of the one after it. The uniform numbers of key k come out as lanes of u[k], word after
// word, the same bits as from `philox`.
template <class Level>
FITWRIGHT_INLINE void philox_uniforms(const std::uint64_t* key_low, std::uint64_t key_high,
                                      std::uint64_t first, Lanes<8, Level>* u) {
    constexpr int n = Pack<8, Level>::per_register;
    constexpr int registers = Pack<8, Level>::registers;
    using Bits [[gnu::vector_size(n * sizeof(double))]] = std::uint64_t;
    using Vector = typename Pack<8, Level>::Vector;
    Bits a[registers] = {}, b[registers] = {}, c[registers] = {}, d[registers] = {};
    Bits low[registers] = {};
    for (int i = 0; i < registers; ++i)
        for (int k = 0; k < n; ++k) {
            const int lane = i * n + k;
            a[i][k] = first + static_cast<std::uint64_t>(lane / 4);
            low[i][k] = key_low[lane % 4];
        }
    for (int round = 0; round < 10; ++round) {
        for (int i = 0; i < registers; ++i) {
            const auto one = detail::product(a[i], 0xd2e7470ee14c6c93);
            const auto two = detail::product(c[i], 0xca5a826395121157);
            a[i] = two.high ^ b[i] ^ low[i];
            c[i] = one.high ^ d[i] ^ key_high;
            b[i] = two.low;
            d[i] = one.low;
            low[i] += 0x9e3779b97f4a7c15;
        }
        key_high += 0xbb67ae8584caa73b;
    }
    const auto uniform = [](const Bits& word) {
        const Bits bits = (word >> 12) | 0x3ff0000000000000;
        return reinterpret_cast<Vector>(bits) - (1.0 - 0x1p-53);
    };
    // Four by four turned over, in each half of the lanes.
    if constexpr (n == 8) {
        const Vector va = uniform(a[0]), vb = uniform(b[0]), vc = uniform(c[0]), vd = uniform(d[0]);
        const Vector even = __builtin_shufflevector(va, vb, 0, 8, 2, 10, 4, 12, 6, 14);
        const Vector odd = __builtin_shufflevector(va, vb, 1, 9, 3, 11, 5, 13, 7, 15);
        const Vector even2 = __builtin_shufflevector(vc, vd, 0, 8, 2, 10, 4, 12, 6, 14);
        const Vector odd2 = __builtin_shufflevector(vc, vd, 1, 9, 3, 11, 5, 13, 7, 15);
        u[0].v[0] = __builtin_shufflevector(even, even2, 0, 1, 8, 9, 4, 5, 12, 13);
        u[1].v[0] = __builtin_shufflevector(odd, odd2, 0, 1, 8, 9, 4, 5, 12, 13);
        u[2].v[0] = __builtin_shufflevector(even, even2, 2, 3, 10, 11, 6, 7, 14, 15);
        u[3].v[0] = __builtin_shufflevector(odd, odd2, 2, 3, 10, 11, 6, 7, 14, 15);
    } else if constexpr (n == 4) {
        for (int i = 0; i < 2; ++i) {
            const Vector va = uniform(a[i]), vb = uniform(b[i]), vc = uniform(c[i]),
                         vd = uniform(d[i]);
            const Vector even = __builtin_shufflevector(va, vb, 0, 4, 2, 6);
            const Vector odd = __builtin_shufflevector(va, vb, 1, 5, 3, 7);
            const Vector even2 = __builtin_shufflevector(vc, vd, 0, 4, 2, 6);
            const Vector odd2 = __builtin_shufflevector(vc, vd, 1, 5, 3, 7);
            u[0].v[i] = __builtin_shufflevector(even, even2, 0, 1, 4, 5);
            u[1].v[i] = __builtin_shufflevector(odd, odd2, 0, 1, 4, 5);
            u[2].v[i] = __builtin_shufflevector(even, even2, 2, 3, 6, 7);
            u[3].v[i] = __builtin_shufflevector(odd, odd2, 2, 3, 6, 7);
        }
    } else {
        for (int i = 0; i < 4; ++i) { // registers: keys 0 and 1, 2 and 3, of each counter
            const Vector va = uniform(a[i]), vb = uniform(b[i]), vc = uniform(c[i]),
                         vd = uniform(d[i]);
            const int key = 2 * (i % 2);
            const int at = 2 * (i / 2);
            u[key].v[at] = __builtin_shufflevector(va, vb, 0, 2);
            u[key].v[at + 1] = __builtin_shufflevector(vc, vd, 0, 2);
            u[key + 1].v[at] = __builtin_shufflevector(va, vb, 1, 3);
            u[key + 1].v[at + 1] = __builtin_shufflevector(vc, vd, 1, 3);
        }
    }
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
