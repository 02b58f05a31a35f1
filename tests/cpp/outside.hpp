// Formulas of other books, to check the study on answers that are known from outside. Declared here,
// served on lanes in outside.level.cpp.
#pragma once

#include <fitwright/fields/formula.hpp>
#include <fitwright/number/number.hpp>

namespace fitwright::outside {

using namespace number;

// Ishigami and Homma (1990): sin x1 + a sin^2 x2 + b x3^4 sin x1.
inline constexpr double ishigami_a = 7.0, ishigami_b = 0.1;
struct Ishigami {
    template <class T>
    static void run(const T* in, T* out, const fields::Context&, Faults<T>&) {
        const T s = sin(in[1]);
        const T square = in[2] * in[2];
        out[0] = sin(in[0]) * (1.0 + square * square * ishigami_b) + s * s * ishigami_a;
    }
};

// Sobol's g: the product of (|4 x - 2| + a)/(1 + a).
inline constexpr int g_inputs = 6;
constexpr double g_weight(int i) {
    return i == 0 ? 0.0 : i == 1 ? 0.5 : i == 2 ? 3.0 : i == 3 ? 9.0 : 99.0;
}
struct SobolG {
    template <class T>
    static void run(const T* in, T* out, const fields::Context&, Faults<T>&) {
        T product(1.0);
        for (int i = 0; i < g_inputs; ++i)
            product =
                product * ((abs(in[i] * 4.0 - 2.0) + g_weight(i)) * (1.0 / (1.0 + g_weight(i))));
        out[0] = product;
    }
};

// A sum of four, the same with weights, a constant, and the first where it is defined: above -1.
constexpr double weight(int i) { return i == 0 ? 4.0 : i == 1 ? -2.0 : i == 2 ? 1.0 : 0.5; }
inline constexpr int not_below_minus_one = 7;
struct Sum {
    template <class T>
    static void run(const T* in, T* out, const fields::Context&, Faults<T>&) {
        out[0] = in[0] + in[1] + in[2] + in[3];
        out[1] = in[0] * weight(0) + in[1] * weight(1) + in[2] * weight(2) + in[3] * weight(3);
        out[2] = T(17.0);
    }
};
struct SumAboveMinusOne {
    template <class T>
    static void run(const T* in, T* out, const fields::Context& context, Faults<T>& faults) {
        faults.require(in[0] > T(-1.0), not_below_minus_one, in[0]);
        Sum::run(in, out, context, faults);
    }
};

// Calibration of a mass in air, JCGM 101:2008, 9.3: inputs mass of the reference, added mass [mg],
// density of air, of the weight, of the reference [kg/m3]; the output is the deviation from 100 g.
struct MassInAir {
    template <class T>
    static void run(const T* in, T* out, const fields::Context&, Faults<T>&) {
        out[0] = (in[0] + in[1]) * (1.0 + (in[2] - 1.2) * (1.0 / in[3] - 1.0 / in[4])) - 100000.0;
    }
};

} // namespace fitwright::outside
