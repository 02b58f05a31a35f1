// Derivatives by the rules of calculus, at the places the engineering checks look at.
#include "catch.hpp"

#include <cmath>
#include <fitwright/number/number.hpp>
#include <type_traits>

using namespace fitwright::number;

namespace {

using D2 = Dual<2, Isa<0>>;

D2 variable(double value, int direction) {
    D2 x(value);
    x.d.set_lane(direction, 1.0);
    return x;
}
void is(const D2& x, double value, double first, double second) {
    CHECK(x.value == Approx(value).margin(1e-15));
    CHECK(x.d.lane(0) == Approx(first).margin(1e-15));
    CHECK(x.d.lane(1) == Approx(second).margin(1e-15));
}

} // namespace

TEST_CASE("sum, product and quotient rules, with constants on either side", "[dual]") {
    const D2 x = variable(3.0, 0);
    const D2 y = variable(-2.0, 1);
    is(x + y, 1.0, 1.0, 1.0);
    is(x - y, 5.0, 1.0, -1.0);
    is(x * y, -6.0, -2.0, 3.0);
    is(x / y, -1.5, -0.5, -0.75); // -x/y^2
    is(-x, -3.0, -1.0, 0.0);
    is(x + 2.0, 5.0, 1.0, 0.0);
    is(2.0 + x, 5.0, 1.0, 0.0);
    is(x - 2.0, 1.0, 1.0, 0.0);
    is(2.0 - x, -1.0, -1.0, 0.0);
    is(x * 2.0, 6.0, 2.0, 0.0);
    is(2.0 * x, 6.0, 2.0, 0.0);
    is(x / 2.0, 1.5, 0.5, 0.0);
    is(2.0 / x, 2.0 / 3.0, -2.0 / 9.0, 0.0);
    is(sqrt(x), std::sqrt(3.0), 0.5 / std::sqrt(3.0), 0.0);
    is(abs(y), 2.0, 0.0, -1.0);
    D2 z = x;
    z += y;
    z *= x;
    z -= 1.0;
    z /= y;
    // ((x + y) x - 1)/y: d/dx = (2 x + y)/y, d/dy = x/y - (x^2 + x y - 1)/y^2
    is(z, -1.0, -2.0, -2.0);
}

TEST_CASE("a branch follows the value", "[dual]") {
    const D2 x = variable(3.0, 0);
    const D2 y = variable(3.5, 1);
    is(smaller(x, y), 3.0, 1.0, 0.0);
    is(larger(x, y), 3.5, 0.0, 1.0);
    is(positive(-x), 0.0, 0.0, 0.0);
    is(select(x < y, x * x, y), 9.0, 6.0, 0.0);
}

TEST_CASE("zero interference and no friction have finite derivatives", "[dual]") {
    // Von Mises at no stress, and (e^x - 1)/x at mu = 0, are the limits the checks ask for.
    const D2 zero = variable(0.0, 0);
    is(root0(zero), 0.0, 0.0, 0.0);
    is(root0(-variable(4.0, 0)), 0.0, 0.0, 0.0);
    is(root0(variable(4.0, 0)), 2.0, 0.25, 0.0);
    is(norm2(zero, variable(0.0, 1)), 0.0, 0.0, 0.0);
    is(norm2(variable(3.0, 0), variable(-4.0, 1)), 5.0, 0.6, -0.8);
    is(expm1_over(zero), 1.0, 0.5, 0.0);
    is(cbrt(zero), 0.0, 0.0, 0.0);
}

TEST_CASE("traits tell number types apart", "[dual]") {
    STATIC_REQUIRE(has_derivatives<D2>);
    STATIC_REQUIRE_FALSE(has_derivatives<double>);
    STATIC_REQUIRE_FALSE(has_derivatives<Lanes<8, Isa<0>>>);
    STATIC_REQUIRE(std::is_same_v<Value<D2>, double>);
    STATIC_REQUIRE(std::is_same_v<Value<Lanes<8, Isa<0>>>, Lanes<8, Isa<0>>>);
    STATIC_REQUIRE(std::is_same_v<Truth<D2>, bool>);
    STATIC_REQUIRE(std::is_same_v<Truth<Lanes<8, Isa<0>>>, Mask<8, Isa<0>>>);
}
