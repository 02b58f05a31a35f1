// A double that counts what is done with it: the operations of one evaluation of the formula.
#pragma once

#include <fitwright/number/number.hpp>

namespace fitwright::bench {

// Comparing and selecting count as nothing: a peak is told in additions and multiplications.
struct Counted {
    double value;
    static inline long additions = 0, multiplications = 0, divisions = 0, roots = 0;

    Counted() = default;
    Counted(double x)
        : value(x) {}
    friend Counted operator+(Counted x, Counted y) { return ++additions, x.value + y.value; }
    friend Counted operator-(Counted x, Counted y) { return ++additions, x.value - y.value; }
    friend Counted operator*(Counted x, Counted y) { return ++multiplications, x.value * y.value; }
    friend Counted operator/(Counted x, Counted y) { return ++divisions, x.value / y.value; }
    friend Counted operator-(Counted x) { return -x.value; }
    Counted& operator+=(Counted y) { return *this = *this + y; }
    Counted& operator-=(Counted y) { return *this = *this - y; }
    friend bool operator<(Counted x, Counted y) { return x.value < y.value; }
    friend bool operator<=(Counted x, Counted y) { return x.value <= y.value; }
    friend bool operator>(Counted x, Counted y) { return x.value > y.value; }
    friend bool operator>=(Counted x, Counted y) { return x.value >= y.value; }
    friend bool operator==(Counted x, Counted y) { return x.value == y.value; }
    friend Counted select(bool m, Counted x, Counted y) { return m ? x : y; }
    friend Counted sqrt(Counted x) { return ++roots, __builtin_sqrt(x.value); }
    friend Counted abs(Counted x) { return x.value < 0.0 ? -x.value : x.value; }
    friend Counted value_of(Counted x) { return x; }
    friend std::int64_t to_bits(Counted x) { return number::to_bits(x.value); }
};

} // namespace fitwright::bench

namespace fitwright::number {

template <>
inline constexpr bool is_plain<bench::Counted> = true;

template <>
class Faults<bench::Counted> {
public:
    int place = 0;
    void require(bool, Rule, bench::Counted) {}
    void kink(bool) {}
};

} // namespace fitwright::number
