// A vector as the compiler knows it, one to a register of the processor; and the same operations one number
// after the other where it knows none (FITWRIGHT_PLAIN_PACKS), with the same bits.
#pragma once

#include <cstdint>
#include <fitwright/number/isa.hpp>

namespace fitwright::number {

#ifndef FITWRIGHT_PLAIN_PACKS

template <class T, int N>
struct NativeVectorOf {
    using Type [[gnu::vector_size(N * sizeof(T))]] = T;
};
template <class T, int N>
using NativeVector = typename NativeVectorOf<T, N>::Type;

template <class Bits, class Vector>
FITWRIGHT_INLINE Vector blend(const Bits& m, const Vector& x, const Vector& y) {
    return m ? x : y;
}

#else

template <class T, int N>
struct NativeVector {
    T e[N];
    FITWRIGHT_INLINE T operator[](int k) const { return e[k]; }
    FITWRIGHT_INLINE T& operator[](int k) { return e[k]; }

#define FITWRIGHT_OF_EACH(Type, expression)                                                        \
    Type r{};                                                                                      \
    for (int k = 0; k < N; ++k)                                                                    \
        r.e[k] = expression;                                                                       \
    return r
#define FITWRIGHT_PLAIN_OPERATOR(op)                                                               \
    FITWRIGHT_INLINE friend NativeVector operator op(const NativeVector& x,                        \
                                                     const NativeVector& y) {                      \
        FITWRIGHT_OF_EACH(NativeVector, x.e[k] op y.e[k]);                                         \
    }                                                                                              \
    FITWRIGHT_INLINE friend NativeVector operator op(const NativeVector& x, T y) {                 \
        FITWRIGHT_OF_EACH(NativeVector, x.e[k] op y);                                              \
    }                                                                                              \
    FITWRIGHT_INLINE friend NativeVector operator op(T x, const NativeVector& y) {                 \
        FITWRIGHT_OF_EACH(NativeVector, x op y.e[k]);                                              \
    }
    FITWRIGHT_PLAIN_OPERATOR(+)
    FITWRIGHT_PLAIN_OPERATOR(-)
    FITWRIGHT_PLAIN_OPERATOR(*)
    FITWRIGHT_PLAIN_OPERATOR(/)
    FITWRIGHT_PLAIN_OPERATOR(&)
    FITWRIGHT_PLAIN_OPERATOR(|)
#undef FITWRIGHT_PLAIN_OPERATOR
    FITWRIGHT_INLINE friend NativeVector operator-(const NativeVector& x) {
        FITWRIGHT_OF_EACH(NativeVector, -x.e[k]);
    }
    FITWRIGHT_INLINE friend NativeVector operator~(const NativeVector& x) {
        FITWRIGHT_OF_EACH(NativeVector, ~x.e[k]);
    }
    FITWRIGHT_INLINE NativeVector& operator|=(const NativeVector& y) { return *this = *this | y; }
    // Through unsigned, as registers wrap around.
    FITWRIGHT_INLINE friend NativeVector operator<<(const NativeVector& x, int n) {
        FITWRIGHT_OF_EACH(NativeVector, static_cast<T>(static_cast<std::uint64_t>(x.e[k]) << n));
    }
    FITWRIGHT_INLINE friend NativeVector operator>>(const NativeVector& x, int n) {
        FITWRIGHT_OF_EACH(NativeVector, x.e[k] >> n);
    }

    using Truth = NativeVector<std::int64_t, N>; // all bits set or none
    FITWRIGHT_INLINE friend Truth operator<(const NativeVector& x, const NativeVector& y) {
        FITWRIGHT_OF_EACH(Truth, -std::int64_t{x.e[k] < y.e[k]});
    }
    FITWRIGHT_INLINE friend Truth operator<(const NativeVector& x, T y) {
        FITWRIGHT_OF_EACH(Truth, -std::int64_t{x.e[k] < y});
    }
    FITWRIGHT_INLINE friend Truth operator<=(const NativeVector& x, const NativeVector& y) {
        FITWRIGHT_OF_EACH(Truth, -std::int64_t{x.e[k] <= y.e[k]});
    }
    FITWRIGHT_INLINE friend Truth operator==(const NativeVector& x, const NativeVector& y) {
        FITWRIGHT_OF_EACH(Truth, -std::int64_t{x.e[k] == y.e[k]});
    }
#undef FITWRIGHT_OF_EACH
};

template <class T, int N>
FITWRIGHT_INLINE NativeVector<T, N> blend(const NativeVector<std::int64_t, N>& m,
                                          const NativeVector<T, N>& x,
                                          const NativeVector<T, N>& y) {
    NativeVector<T, N> r{};
    for (int k = 0; k < N; ++k)
        r.e[k] = m.e[k] != 0 ? x.e[k] : y.e[k];
    return r;
}

#endif

} // namespace fitwright::number
