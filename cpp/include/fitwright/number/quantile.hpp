// The standard normal distribution: probability from value and value from probability.
// Errors are bounds that tests/cpp/number_functions.test.cpp checks.
#pragma once

#include <fitwright/number/exponential.hpp>

namespace fitwright::number {
namespace detail {

// e^(-x^2/2) for |x| <= 37.6. The part of x whose square is exact goes through exp; what is left
// of x^2/2 is below 4e-5, so that four terms do. The rounding of x^2 would cost up to 700 ulp.
template <Plain T>
FITWRIGHT_INLINE T bell(const T& x) {
    const T upper = from_bits(to_bits(x) & ~std::int64_t{0x7ffffff});
    const T rest = (x - upper) * (x + upper) * 0.5;
    const T e = exp(upper * upper * -0.5);
    return e - e * (rest - rest * rest * (0.5 - rest * 0.16666666666666666));
}

} // namespace detail

// The density e^(-x^2/2) / sqrt(2 pi). |x| is held at 37.5.
template <Plain T>
FITWRIGHT_INLINE T normal_density(const T& x) {
    const T size = abs(x);
    return detail::bell(select(T(37.5) < size, T(37.5), size)) * 0.3989422804014327;
}

// The probability of a value below x. Error <= 7.5 ulp, also in the lower tail; |x| is held
// at 37.5 (probability 4.6e-308). The upper tail is the lower one of -x.
template <Plain T>
FITWRIGHT_INLINE T normal_probability(const T& x) {
    const T size = abs(x);
    const T a = select(T(37.5) < size, T(37.5), size);
    // The Mills ratio times 1 + 1.5 a is smooth in y from 0 to the end: minimax fit.
    const T y = (a - 5.0) / (a + 5.0);
    const T ratio =
        polynomial(y, 0.6538140922875535, -0.06559964511900727, -0.011488853304056251,
                   0.05544546720987605, -0.0635292405915545, 0.04851239511038977,
                   -0.027251308378523163, 0.01097242316481663, -0.0026238838966505477,
                   -5.545090179251069e-05, 0.0003037150679759797, -8.089262796316366e-05,
                   -1.8166977793796e-05, 1.4226594723319285e-05, 2.3419434724338523e-07,
                   -2.086200657950645e-06, 1.4849425918172543e-07, 3.174553310721387e-07,
                   -2.754587374772583e-08, -5.060040017061409e-08, -2.48503532892289e-10,
                   6.2389471865812356e-09, 1.22308257152733e-09) /
        (a * 1.5 + 1.0);
    const T tail = detail::bell(a) * ratio;
    return select(x < T(0.0), tail, 1.0 - tail);
}

// The value below which the probability is u, for u in (0, 1): Wichura's algorithm AS 241,
// PPND16 (Applied Statistics 37 (1988) 477-484). Error <= 7.5 ulp (rms 1). A u outside is taken as
// the nearest end, so that the result stays finite.
template <Plain T>
FITWRIGHT_INLINE T normal_quantile(const T& u) {
    const T q = u - 0.5;
    const auto central = abs(q) <= T(0.425);
    const T c = 0.180625 - q * q;
    const T side = select(q < T(0.0), u, 1.0 - u);
    const T r = sqrt(-log(select(side < T(2.3e-308), T(2.3e-308), side)));
    // Coefficients are chosen lane by lane, so that there is one pair of polynomials for both.
    const T x = select(central, c, r - 1.6);
    const auto either = [&](double inside, double outside) {
        return select(central, T(inside), T(outside));
    };
    T top = polynomial_7(x, either(3.3871328727963666080, 1.42343711074968357734),
                         either(133.14166789178437745, 4.63033784615654529590),
                         either(1971.5909503065514427, 5.76949722146069140550),
                         either(13731.693765509461125, 3.64784832476320460504),
                         either(45921.953931549871457, 1.27045825245236838258),
                         either(67265.770927008700853, 0.241780725177450611770),
                         either(33430.575583588128105, 0.0227238449892691845833),
                         either(2509.0809287301226727, 0.000774545014278341407640)) *
            select(central, q, T(1.0));
    T bottom = polynomial_7(x, T(1.0), either(42.313330701600911252, 2.05319162663775882187),
                            either(687.18700749205790830, 1.67638483018380384940),
                            either(5394.1960214247511077, 0.689767334985100004550),
                            either(21213.794301586595867, 0.148103976427480074590),
                            either(39307.895800092710610, 0.0151986665636164571966),
                            either(28729.085735721942674, 0.000547593808499534494600),
                            either(5226.4952788528545610, 1.05075007164441684324e-9));
    // Only one sample in 4e10 lies here; skipping it changes no lane's bits.
    const auto far = r > T(5.0);
    if (any(far)) {
        const T f = r - 5.0;
        top = select(far,
                     polynomial_7(f, 6.65790464350110377720, 5.46378491116411436990,
                                  1.78482653991729133580, 0.296560571828504891230,
                                  0.0265321895265761230930, 0.00124266094738807843860,
                                  2.71155556874348757815e-5, 2.01033439929228813265e-7),
                     top);
        bottom = select(far,
                        polynomial_7(f, 1.0, 0.599832206555887937690, 0.136929880922735805310,
                                     0.0148753612908506148525, 0.000786869131145613259100,
                                     1.84631831751005468180e-5, 1.42151175831644588870e-7,
                                     2.04426310338993978564e-15),
                        bottom);
    }
    const T deviation = top / bottom;
    return select(central | !(q < T(0.0)), deviation, -deviation);
}

template <int N, class L>
FITWRIGHT_INLINE Dual<N, L> normal_density(const Dual<N, L>& x) {
    const double p = normal_density(x.value);
    return x.chain(p, -x.value * p);
}
template <int N, class L>
FITWRIGHT_INLINE Dual<N, L> normal_probability(const Dual<N, L>& x) {
    return x.chain(normal_probability(x.value), normal_density(x.value));
}
template <int N, class L>
FITWRIGHT_INLINE Dual<N, L> normal_quantile(const Dual<N, L>& u) {
    const double x = normal_quantile(u.value);
    return u.chain(x, 1.0 / normal_density(x));
}

} // namespace fitwright::number
