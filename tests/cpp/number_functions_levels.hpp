// The functions of number/ run on lanes and duals of one level, for the test that every level
// gives the bits of double. Included by the level files: numbers and pointers only.
#pragma once

#include <fitwright/number/number.hpp>

namespace fitwright::number_test {

inline constexpr int function_count = 15;

// Whole groups of eight arguments of one function, and room for what comes out.
struct FunctionRun {
    int function;
    int count;
    const double* arguments;
    double* lanes;       // on Lanes<8, Level>
    double* dual_values; // on Dual
    double* dual_slopes; // in the last direction, the argument having derivative 1
};

template <class T>
FITWRIGHT_INLINE T apply(int function, const T& x) {
    using namespace number;
    switch (function) {
    case 0:
        return number::exp(x);
    case 1:
        return number::log(x);
    case 2:
        return number::expm1_over(x);
    case 3:
        return number::cbrt(x);
    case 4:
        return number::sin(x);
    case 5:
        return number::cos(x);
    case 6:
        return number::tan(x);
    case 7:
        return number::atan(x);
    case 8:
        return number::asin(x);
    case 9:
        return number::acos(x);
    case 10:
        return number::complete_elliptic(x).first;
    case 11:
        return number::complete_elliptic(x).second;
    case 12:
        return number::normal_quantile(x);
    case 13:
        return number::normal_probability(x);
    default:
        return number::normal_density(x);
    }
}

template <class Level>
void run_at_level(const FunctionRun& run) {
    using Lanes = number::Lanes<8, Level>;
    using Dual = number::Dual<number::direction_count<Level>, Level>;
    for (int i = 0; i < run.count; i += Lanes::width)
        apply(run.function, Lanes::load(run.arguments + i)).store(run.lanes + i);
    for (int i = 0; i < run.count; ++i) {
        Dual x(run.arguments[i]);
        x.d.set_lane(Dual::directions - 1, 1.0);
        const Dual y = apply(run.function, x);
        run.dual_values[i] = y.value;
        run.dual_slopes[i] = y.d.lane(Dual::directions - 1);
    }
}

} // namespace fitwright::number_test
