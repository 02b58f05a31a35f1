// Units of intermediate values: formulas carry plain SI numbers, so the dimension of a line follows from
// what it is made of.
#pragma once

#include <array>
#include <fitwright/fields/quantity.hpp>
#include <string>

namespace fitwright::explain {

// Exponents of m, kg, s and K in twelfths, so that roots of them are whole numbers too. Angles have none.
struct Dimension {
    enum class Known {
        constant,
        told,
        mixed
    }; // a bare number goes with any; sums of unlike are mixed
    Known known = Known::constant;
    std::array<int, 4> twelfths{};

    static Dimension of(fields::Quantity quantity);
    static Dimension none() { return {Known::told, {}}; }
    static Dimension mixed() { return {Known::mixed, {}}; }
    bool pure() const { return known != Known::mixed && twelfths == std::array<int, 4>{}; }
    Dimension times(const Dimension& other, int sign = 1) const;
    Dimension to_the(double exponent) const;
    Dimension with(const Dimension& other) const; // of a sum
};

// shown = value * factor
struct ShownUnit {
    std::string label;
    double factor = 1.0;
};
ShownUnit unit_of(fields::Quantity quantity);
// One that suits the size of the value.
ShownUnit unit_of(const Dimension& dimension, double value);

// Rounded to seven digits, trailing zeros left out; more, up to `most`, only where they are all of it.
std::string number_text(double value, int most = 7);
// "80.02 mm"
std::string with_unit(const std::string& number, const std::string& unit);
std::string latex_number(const std::string& number, const std::string& unit);
std::string latex_words(const std::string& words);

} // namespace fitwright::explain
