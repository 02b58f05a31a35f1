// A number with the allowed operations and nothing else. Every formula is instantiated with it, so
// that a formula which needs more than a number type has to offer does not compile.
#pragma once

#include <concepts>
#include <fitwright/number/number.hpp>

namespace archetype {

// The truth of a comparison: no conversion to bool, so that no formula can branch on it.
class Truth {
public:
    Truth() = default;
    explicit Truth(bool told)
        : told_(told) {}
    bool told() const { return told_; }
    friend Truth operator&(Truth x, Truth y) { return Truth(x.told_ && y.told_); }
    friend Truth operator|(Truth x, Truth y) { return Truth(x.told_ || y.told_); }
    friend Truth operator!(Truth x) { return Truth(!x.told_); }
    friend bool any(Truth x) { return x.told_; }

private:
    bool told_;
};

class Number {
public:
    Number() = default;
    Number(double x)
        : x_(x) {}
    // From double alone: an int or a float in a formula is a slip.
    template <class U>
        requires(!std::same_as<U, double> && !std::same_as<U, Number>)
    Number(U) = delete;
    double told() const { return x_; }

    friend Number operator+(const Number& x, const Number& y) { return x.x_ + y.x_; }
    friend Number operator-(const Number& x, const Number& y) { return x.x_ - y.x_; }
    friend Number operator*(const Number& x, const Number& y) { return x.x_ * y.x_; }
    friend Number operator/(const Number& x, const Number& y) { return x.x_ / y.x_; }
    friend Number operator-(const Number& x) { return -x.x_; }
    Number& operator+=(const Number& y) { return *this = *this + y; }
    Number& operator-=(const Number& y) { return *this = *this - y; }
    Number& operator*=(const Number& y) { return *this = *this * y; }
    Number& operator/=(const Number& y) { return *this = *this / y; }

    friend Truth operator<(const Number& x, const Number& y) { return Truth(x.x_ < y.x_); }
    friend Truth operator<=(const Number& x, const Number& y) { return Truth(x.x_ <= y.x_); }
    friend Truth operator>(const Number& x, const Number& y) { return Truth(x.x_ > y.x_); }
    friend Truth operator>=(const Number& x, const Number& y) { return Truth(x.x_ >= y.x_); }
    friend Truth operator==(const Number& x, const Number& y) { return Truth(x.x_ == y.x_); }

    friend Number select(Truth m, const Number& x, const Number& y) { return m.told() ? x : y; }
    friend Number sqrt(const Number& x) { return fitwright::number::sqrt(x.x_); }
    friend Number abs(const Number& x) { return fitwright::number::abs(x.x_); }
    friend Number exp(const Number& x) { return fitwright::number::exp(x.x_); }
    friend Number log(const Number& x) { return fitwright::number::log(x.x_); }
    friend Number expm1_over(const Number& x) { return fitwright::number::expm1_over(x.x_); }
    friend Number cbrt(const Number& x) { return fitwright::number::cbrt(x.x_); }
    friend Number sin(const Number& x) { return fitwright::number::sin(x.x_); }
    friend Number cos(const Number& x) { return fitwright::number::cos(x.x_); }
    friend Number atan(const Number& x) { return fitwright::number::atan(x.x_); }
    friend Number value_of(const Number& x) { return x; }
    template <class F>
    friend Number each_lane(const Number& x, const F& f) {
        return Number(double(f(x.x_)));
    }

private:
    double x_;
};

} // namespace archetype

namespace fitwright::number {

template <>
inline constexpr bool is_plain<archetype::Number> = true;

template <>
class Faults<archetype::Number> {
public:
    int place = 0;
    Rule first = no_rule;
    void require(archetype::Truth ok, Rule rule, const archetype::Number&) {
        if (!ok.told() && first == no_rule)
            first = rule;
    }
    void kink(archetype::Truth) {}
};

} // namespace fitwright::number
