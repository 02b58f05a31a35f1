// Accuracy, bits and derivatives of the functions in number/.
// References: the long double functions of the standard library (64 bits of mantissa on x86), and
// for what they lack numbers computed with mpmath 1.3.0 at 40 digits.
#include "catch.hpp"
#include "number_functions_levels.hpp"

#include <cmath>
#include <limits>
#include <vector>

namespace fn = fitwright::number;
namespace ft = fitwright::number_test;

namespace {

enum class Spacing { even, logarithmic, both_signs, toward_one };

struct Row {
    const char* name;
    int function; // as in ft::apply
    double low, high;
    Spacing spacing;
    double bound; // of the worst error, ulp
    double rms;   // of the root mean square, ulp
    long double (*reference)(long double);
};

using L = long double;
L expm1_over_reference(L x) { return std::expm1(x) / x; }
L probability_reference(L x) { return std::erfc(-x / std::sqrt(2.0L)) / 2; }
L density_reference(L x) { return std::exp(-x * x / 2) / std::sqrt(2 * std::acos(-1.0L)); }
// Newton from the function's own value on the exact distribution: what is left is the error of
// long double. In the middle erf is used, where u - 1/2 is exact and the quantile small.
L quantile_reference(L u) {
    L x = fn::normal_quantile(static_cast<double>(u));
    const L root2 = std::sqrt(2.0L);
    for (int i = 0; i < 2; ++i) {
        const L off = std::fabs(u - 0.5L) < 0.3L ? std::erf(x / root2) / 2 - (u - 0.5L)
                      : u < 0.5L                 ? std::erfc(-x / root2) / 2 - u
                                                 : (1 - u) - std::erfc(x / root2) / 2;
        x -= off / density_reference(x);
    }
    return x;
}

const Row rows[] = {
    {"exp", 0, -1, 1, Spacing::even, 1, 0.35, [](L x) { return std::exp(x); }},
    {"exp", 0, -708.396, 709.782, Spacing::even, 1, 0.35, [](L x) { return std::exp(x); }},
    {"log", 1, 0.5, 2, Spacing::even, 0.9, 0.35, [](L x) { return std::log(x); }},
    {"log", 1, 2.3e-308, 1.7e308, Spacing::logarithmic, 0.9, 0.35, [](L x) { return std::log(x); }},
    {"expm1_over", 2, -1, 1, Spacing::even, 2, 0.5, expm1_over_reference},
    {"expm1_over", 2, -50, 50, Spacing::even, 2, 0.5, expm1_over_reference},
    {"expm1_over", 2, 1e-300, 50, Spacing::both_signs, 2, 0.5, expm1_over_reference},
    {"cbrt", 3, 2.3e-308, 1.7e308, Spacing::both_signs, 0.7, 0.35,
     [](L x) { return std::cbrt(x); }},
    {"sin", 4, -3.2, 3.2, Spacing::even, 0.9, 0.35, [](L x) { return std::sin(x); }},
    {"sin", 4, -1000, 1000, Spacing::even, 0.9, 0.35, [](L x) { return std::sin(x); }},
    {"cos", 5, -3.2, 3.2, Spacing::even, 0.9, 0.35, [](L x) { return std::cos(x); }},
    {"cos", 5, -1000, 1000, Spacing::even, 0.9, 0.35, [](L x) { return std::cos(x); }},
    {"tan", 6, -3.2, 3.2, Spacing::even, 2.5, 0.6, [](L x) { return std::tan(x); }},
    {"tan", 6, -1000, 1000, Spacing::even, 2.5, 0.6, [](L x) { return std::tan(x); }},
    {"atan", 7, -4, 4, Spacing::even, 1.5, 0.35, [](L x) { return std::atan(x); }},
    {"atan", 7, 1e-300, 1e300, Spacing::both_signs, 1.5, 0.35, [](L x) { return std::atan(x); }},
    {"asin", 8, -1, 1, Spacing::even, 0.9, 0.35, [](L x) { return std::asin(x); }},
    {"asin", 8, 1e-300, 1, Spacing::both_signs, 0.9, 0.35, [](L x) { return std::asin(x); }},
    {"asin", 8, 0x1p-53, 0.5, Spacing::toward_one, 0.9, 0.4, [](L x) { return std::asin(x); }},
    {"acos", 9, -1, 1, Spacing::even, 0.9, 0.35, [](L x) { return std::acos(x); }},
    {"acos", 9, 0x1p-53, 0.5, Spacing::toward_one, 0.9, 0.35, [](L x) { return std::acos(x); }},
    {"normal_quantile", 12, 0, 1, Spacing::even, 7.5, 1.3, quantile_reference},
    {"normal_quantile", 12, 1e-300, 0.5, Spacing::logarithmic, 7.5, 1.3, quantile_reference},
    {"normal_quantile", 12, 0x1p-53, 0.5, Spacing::toward_one, 7.5, 1.3, quantile_reference},
    {"normal_probability", 13, -5, 5, Spacing::even, 7.5, 0.9, probability_reference},
    {"normal_probability", 13, -37.5, 37.5, Spacing::even, 7.5, 0.9, probability_reference},
    {"normal_density", 14, -37.5, 37.5, Spacing::even, 3.5, 0.8, density_reference},
};

double argument(const Row& row, std::uint64_t i) {
    const auto block = fn::philox({{i, 0, 0, 0}}, {7, 11});
    const double u = fn::uniform_open(block.word[0]);
    if (row.spacing == Spacing::even)
        return row.low + (row.high - row.low) * u;
    const double size = std::exp(std::log(row.low) + (std::log(row.high) - std::log(row.low)) * u);
    const bool negative = (block.word[1] & 1) != 0;
    if (row.spacing == Spacing::toward_one)
        return negative && row.function != 12 ? size - 1.0 : 1.0 - size;
    return row.spacing == Spacing::both_signs && negative ? -size : size;
}

double ulp_error(double got, L wanted) {
    int exponent = 0;
    std::frexp(static_cast<double>(wanted), &exponent);
    return static_cast<double>(std::fabs(static_cast<L>(got) - wanted) /
                               std::ldexp(1.0L, exponent - 53));
}

std::int64_t bits(double x) { return fn::to_bits(x); }

constexpr int group = 4096;
constexpr int groups = 16;

// Arguments for the functions that have no row above.
std::vector<double> arguments_of(int function) {
    std::vector<double> x;
    for (const Row& row : rows)
        if (row.function == function)
            for (std::uint64_t i = 0; i < 512; ++i)
                x.push_back(argument(row, i));
    if (x.empty())
        for (std::uint64_t i = 0; i < 512; ++i)
            x.push_back(fn::uniform_open(fn::philox({{i, 0, 0, 0}}, {1, 2}).word[0]));
    return x;
}

struct Spot {
    double x;
    L first, second;
};
// ellipk(m), ellipe(m): mpmath 1.3.0, 40 digits.
const Spot elliptic_spots[] = {
    {0, 1.570796326794896619231L, 1.570796326794896619231L},
    {1e-12, 1.570796326795289318313L, 1.57079632679450392015L},
    {0.01, 1.574745561517355952752L, 1.566861942021668291138L},
    {0.1, 1.612441348720219400684L, 1.530757636897763200202L},
    {0.25, 1.685750354812596042871L, 1.46746220933942715546L},
    {0.5, 1.854074677301371918434L, 1.35064388104767550252L},
    {0.75, 2.156515647499643235439L, 1.211056027568459524804L},
    {0.9, 2.578092113348173292683L, 1.104774732704073307916L},
    {0.99, 3.695637362989874238638L, 1.01599354502522394766L},
    {0.999, 4.841132560550296586992L, 1.002170790834445167577L},
    {0.999999, 8.2940514636010622019L, 1.000003897026172166025L},
    {0.999999999, 11.74792729642104387752L, 1.00000000562396348981L},
};
// The x with ncdf(x) = u for the double u: findroot of mpmath 1.3.0, 40 digits.
const Spot quantile_spots[] = {
    {1e-300, -37.04709629936119923655L, 0},
    {1e-100, -21.27345356096532429418L, 0},
    {1e-20, -9.262340089798407579572L, 0},
    {1.1102230246251565e-16, -8.209536151601386855631L, 0},
    {1e-12, -7.034483825301131932614L, 0},
    {1.3e-11, -6.667611456510740834662L, 0},
    {1.5e-11, -6.646570887477112861428L, 0},
    {1e-06, -4.753424308822898957339L, 0},
    {0.001, -3.090232306167813535358L, 0},
    {0.01, -2.326347874040841093075L, 0},
    {0.05, -1.644853626951472687952L, 0},
    {0.07499999999, -1.439531471009099649341L, 0},
    {0.075, -1.43953147093845593495L, 0},
    {0.1, -1.281551565544600435335L, 0},
    {0.25, -0.6744897501960817432022L, 0},
    {0.4, -0.2533471031357997413247L, 0},
    {0.499, -0.002506630899571766231699L, 0},
    {0.5000000001, 2.506628482030353902221e-10L, 0},
    {0.6, 0.2533471031357997413247L, 0},
    {0.925, 1.439531470938456229063L, 0},
    {0.9250000001, 1.439531471644893373303L, 0},
    {0.975, 1.959963984540053855604L, 0},
    {0.999999, 4.753424308817087765688L, 0},
};
// ncdf(x): mpmath 1.3.0, 40 digits.
const Spot probability_spots[] = {
    {-37, 5.725571222524576822683e-300L, 0},
    {-20.5, 1.076467325879096033531e-93L, 0},
    {-8.25, 7.919726314642477340961e-17L, 0},
    {-3, 0.001349898031630094526652L, 0},
    {-1, 0.1586552539314570514148L, 0},
    {-0.0625, 0.4750823309707527788047L, 0},
    {0, 0.5L, 0},
    {1, 0.8413447460685429485852L, 0},
    {2.5, 0.993790334674223864833L, 0},
    {6, 0.9999999990134123549623L, 0},
};

} // namespace

TEST_CASE("the functions keep their stated error", "[number]") {
    for (const Row& row : rows) {
        double worst = 0, at = 0, sum = 0;
        for (std::uint64_t i = 0; i < group * groups; ++i) {
            const double x = argument(row, i);
            const double error = ulp_error(ft::apply(row.function, x), row.reference(x));
            if (!(error <= worst)) {
                worst = error;
                at = x;
            }
            sum += error * error;
        }
        const double rms = std::sqrt(sum / (group * groups));
        INFO(row.name << " on " << row.low << " .. " << row.high << ": worst " << worst
                      << " ulp at " << at << ", rms " << rms);
        CHECK(worst <= row.bound);
        CHECK(rms <= row.rms);
    }
}

TEST_CASE("elliptic integrals and the normal distribution against mpmath", "[number]") {
    for (const Spot& s : elliptic_spots) {
        const auto e = fn::complete_elliptic(s.x);
        CAPTURE(s.x, e.first, e.second);
        CHECK(ulp_error(e.first, s.first) <= 4.5);
        CHECK(ulp_error(e.second, s.second) <= 5.5);
    }
    for (const Spot& s : quantile_spots) {
        CAPTURE(s.x);
        CHECK(ulp_error(fn::normal_quantile(s.x), s.first) <= 7.5);
    }
    for (const Spot& s : probability_spots) {
        CAPTURE(s.x);
        CHECK(ulp_error(fn::normal_probability(s.x), s.first) <= 7.5);
    }
}

// K E' + E K' - K K' = pi/2 (Legendre's relation, common knowledge) ties both over the whole range.
TEST_CASE("elliptic integrals fulfil Legendre's relation", "[number]") {
    for (double m = 1e-9; m < 0.9999; m += 0.00037) {
        const auto e = fn::complete_elliptic(m);
        const auto c = fn::complete_elliptic(1.0 - m);
        CAPTURE(m);
        CHECK(std::fabs(e.first * c.second + e.second * c.first - e.first * c.first -
                        1.5707963267948966) <= 2e-14);
    }
}

TEST_CASE("values at the ends", "[number]") {
    const double infinity = std::numeric_limits<double>::infinity();
    const double nan = std::numeric_limits<double>::quiet_NaN();
    CHECK(fn::exp(0.0) == 1.0);
    CHECK(fn::exp(-1e9) > 0.0);
    CHECK(fn::exp(-1e9) < 3e-308);
    CHECK(fn::exp(1e9) < infinity);
    CHECK(fn::exp(1e9) > 1.7e308);
    CHECK(std::isnan(fn::exp(nan)));
    CHECK(fn::log(1.0) == 0.0);
    CHECK(fn::expm1_over(0.0) == 1.0);
    CHECK(fn::expm1_over(-0.0) == 1.0);
    CHECK(fn::cbrt(0.0) == 0.0);
    for (double n = 1; n < 200; ++n)
        CHECK(fn::cbrt(-n * n * n) == -n);
    CHECK(fn::sin(0.0) == 0.0);
    CHECK(fn::cos(0.0) == 1.0);
    // tan of the double nearest pi/2, from memory 1.633123935319537e16
    CHECK(std::fabs(fn::tan(1.5707963267948966) / 1.633123935319537e16 - 1) < 1e-14);
    CHECK(fn::atan(infinity) == 1.5707963267948966);
    CHECK(fn::atan(-infinity) == -1.5707963267948966);
    CHECK(fn::acos(1.0) == 0.0);
    CHECK(fn::acos(-1.0) == 3.141592653589793);
    CHECK(fn::acos(1.5) == 0.0);
    CHECK(fn::asin(-1.0) == -1.5707963267948966);
    CHECK(fn::normal_quantile(0.5) == 0.0);
    CHECK(std::isfinite(fn::normal_quantile(0.0)));
    CHECK(std::isfinite(fn::normal_quantile(1.0)));
    CHECK(fn::normal_quantile(0.25) == -fn::normal_quantile(0.75));
    CHECK(fn::normal_probability(-1e9) > 0.0);
    CHECK(fn::normal_probability(1e9) == 1.0);
}

TEST_CASE("lanes and duals give the bits of double", "[number]") {
    using Baseline = fn::Isa<0>;
    for (int f = 0; f < ft::function_count; ++f) {
        const auto x = arguments_of(f);
        const int n = static_cast<int>(x.size());
        std::vector<double> lanes(x.size()), values(x.size()), slopes(x.size());
        ft::run_at_level<Baseline>({f, n, x.data(), lanes.data(), values.data(), slopes.data()});
        int different = 0;
        for (std::size_t i = 0; i < x.size(); ++i) {
            const auto expected = bits(ft::apply(f, x[i]));
            different += bits(lanes[i]) != expected || bits(values[i]) != expected;
        }
        CAPTURE(f);
        CHECK(different == 0);
    }
}

TEST_CASE("derivatives agree with central differences", "[number]") {
    struct Points {
        int function;
        double low, high;
    };
    const Points all[] = {{0, -5, 5},       {1, 0.1, 9},      {2, -20, 20},     {2, -0.01, 0.01},
                          {3, -9, -0.1},    {4, -9, 9},       {5, -9, 9},       {6, -1.2, 1.2},
                          {7, -9, 9},       {8, -0.95, 0.95}, {9, -0.95, 0.95}, {10, 0.01, 0.95},
                          {11, 0.01, 0.95}, {12, 0.02, 0.98}, {13, -4, 4},      {14, -4, 4}};
    for (const Points& p : all) {
        double x[64], lanes[64], values[64], slopes[64];
        for (int i = 0; i < 64; ++i)
            x[i] = p.low + (p.high - p.low) * (i + 0.5) / 64;
        ft::run_at_level<fn::Isa<0>>({p.function, 64, x, lanes, values, slopes});
        for (int i = 0; i < 64; ++i) {
            // Fourth order: truncation h^4 and rounding 1e-16/h are both below 1e-9 here.
            const double h = 2e-4;
            const auto f = [&](double s) { return ft::apply(p.function, x[i] + s * h); };
            const double slope = (8 * (f(1) - f(-1)) - (f(2) - f(-2))) / (12 * h);
            CAPTURE(p.function, x[i], slope, slopes[i]);
            CHECK(std::fabs(slopes[i] - slope) <= 1e-7 * (1 + std::fabs(slope)));
        }
    }
}

TEST_CASE("derivatives exist where the formulas need them", "[number]") {
    const auto slope = [](int function, double at) {
        double x[8], lanes[8], values[8], slopes[8];
        for (double& v : x)
            v = at;
        ft::run_at_level<fn::Isa<0>>({function, 8, x, lanes, values, slopes});
        return slopes[0];
    };
    CHECK(slope(0, 0.0) == 1.0);
    CHECK(slope(2, 0.0) == 0.5); // (e^x - 1)/x = 1 + x/2 + ...
    CHECK(slope(3, 0.0) == 0.0);
    CHECK(slope(4, 0.0) == 1.0);
    CHECK(slope(5, 0.0) == 0.0);
    CHECK(slope(6, 0.0) == 1.0);
    CHECK(slope(7, 0.0) == 1.0);
    CHECK(slope(8, 0.0) == 1.0);
    CHECK(slope(9, 0.0) == -1.0);
    for (const double end : {-1.0, 1.0}) {
        CHECK(slope(8, end) == 0.0);
        CHECK(slope(9, end) == 0.0);
    }
    // K = pi/2 (1 + m/4 + ...), E = pi/2 (1 - m/4 - ...)
    CHECK(std::fabs(slope(10, 0.0) - 0.39269908169872414) <= 1e-15);
    CHECK(std::fabs(slope(11, 0.0) + 0.39269908169872414) <= 1e-15);
    CHECK(std::isfinite(slope(10, 1.0)));
    CHECK(std::fabs(slope(12, 0.5) - 2.5066282746310002) <= 1e-14); // sqrt(2 pi)
    CHECK(std::isfinite(slope(12, 0.0)));
    CHECK(slope(14, 0.0) == 0.0);
}
