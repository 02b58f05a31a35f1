// A column that a user's own function made: numbers one can work out by hand.
#include "catch.hpp"

#include <cmath>
#include <fitwright/study/column.hpp>
#include <limits>

using namespace fitwright::study;

TEST_CASE("statistics of a column leave out what is no number", "[study]") {
    const double none = std::numeric_limits<double>::quiet_NaN();
    const double column[] = {2.0, 4.0, none, 4.0, 4.0, 5.0, 5.0, 7.0, 9.0};
    const Statistics s = statistics_of(column, 4.0, 7.0);
    CHECK(s.count == 8);
    CHECK(s.mean == 5.0);
    CHECK(s.deviation == std::sqrt(32.0 / 7.0));
    // Sum of cubes about the mean: -27 - 3 + 8 + 64 = 42.
    CHECK(std::abs(s.skewness - 42.0 / 8.0 / 8.0) < 1e-15);
    CHECK((s.least == 2.0 && s.least_at == 0 && s.greatest == 9.0 && s.greatest_at == 8));
    CHECK(s.passed == 6);
    CHECK(std::abs(quantile_of(s, 0.5).value - 4.0) < 0.01);
    CHECK(statistics_of({}, 0.0, 1.0).count == 0);
    const double same[] = {3.0, 3.0, 3.0};
    CHECK(quantile_of(statistics_of(same, 0.0, 9.0), 0.2).value == 3.0);
}

TEST_CASE("correlation of a column with its inputs", "[study]") {
    const double none = std::numeric_limits<double>::infinity();
    // The column is twice the first input; the second is even about it, the third stands still.
    const double inputs[] = {1.0, 1.0, 5.0, 2.0, 0.0, 5.0, 8.0, 7.0, 5.0, 3.0, 1.0, 5.0};
    const double column[] = {2.0, 4.0, none, 6.0};
    const std::vector<double> squares = correlation_squares(column, inputs, 3);
    CHECK(std::abs(squares[0] - 1.0) < 1e-15);
    CHECK(squares[1] == 0.0);
    CHECK(squares[2] == 0.0);
}
