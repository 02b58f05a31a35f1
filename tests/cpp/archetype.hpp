// A number with the allowed operations and nothing else. Every formula is instantiated with it, so
// that a formula which needs more than a number type has to offer does not compile.
#pragma once

#include "tape.hpp"
#include <concepts>
#include <fitwright/fields/formula.hpp>
#include <fitwright/number/number.hpp>

namespace archetype {

// The truth of a comparison: no conversion to bool, so that no formula can branch on it.
class Truth {
public:
    Truth() = default;
    explicit Truth(bool told, int node = -1)
        : told_(told)
        , node_(node) {}
    bool told() const { return told_; }
    int node() const {
        return node_ >= 0 || tape == nullptr ? node_ : tape->add("constant", told_ ? 1.0 : 0.0);
    }
    friend Truth operator&(Truth x, Truth y) { return of(x.told_ && y.told_, "and", x, y); }
    friend Truth operator|(Truth x, Truth y) { return of(x.told_ || y.told_, "or", x, y); }
    friend Truth operator!(Truth x) {
        return Truth(!x.told_, tape ? tape->add("not", !x.told_ ? 1.0 : 0.0, x.node()) : -1);
    }
    friend bool any(Truth x) { return x.told_; }

private:
    static Truth of(bool told, const char* operation, Truth x, Truth y) {
        return Truth(told, tape ? tape->add(operation, told ? 1.0 : 0.0, x.node(), y.node()) : -1);
    }
    bool told_;
    int node_ = -1;
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
    // Its place on the tape; what has none yet is a constant.
    int node() const { return node_ >= 0 || !tape ? node_ : tape->add("constant", x_); }
    static Number taped(double x, int node) {
        Number n(x);
        n.node_ = node;
        return n;
    }

    friend Number operator+(const Number& x, const Number& y) { return of("+", x.x_ + y.x_, x, y); }
    friend Number operator-(const Number& x, const Number& y) { return of("-", x.x_ - y.x_, x, y); }
    friend Number operator*(const Number& x, const Number& y) { return of("*", x.x_ * y.x_, x, y); }
    friend Number operator/(const Number& x, const Number& y) { return of("/", x.x_ / y.x_, x, y); }
    friend Number operator-(const Number& x) { return of("negative", -x.x_, x); }
    Number& operator+=(const Number& y) { return *this = *this + y; }
    Number& operator-=(const Number& y) { return *this = *this - y; }
    Number& operator*=(const Number& y) { return *this = *this * y; }
    Number& operator/=(const Number& y) { return *this = *this / y; }

    friend Truth operator<(const Number& x, const Number& y) { return is("<", x.x_ < y.x_, x, y); }
    friend Truth operator<=(const Number& x, const Number& y) {
        return is("<=", x.x_ <= y.x_, x, y);
    }
    friend Truth operator>(const Number& x, const Number& y) { return is(">", x.x_ > y.x_, x, y); }
    friend Truth operator>=(const Number& x, const Number& y) {
        return is(">=", x.x_ >= y.x_, x, y);
    }
    friend Truth operator==(const Number& x, const Number& y) {
        return is("==", x.x_ == y.x_, x, y);
    }

    friend Number select(Truth m, const Number& x, const Number& y) {
        if (!tape)
            return m.told() ? x : y;
        return taped(m.told() ? x.x_ : y.x_,
                     tape->add("select", m.told() ? x.x_ : y.x_, m.node(), x.node(), y.node()));
    }
    friend Number sqrt(const Number& x) { return of("sqrt", fitwright::number::sqrt(x.x_), x); }
    friend Number abs(const Number& x) { return of("abs", fitwright::number::abs(x.x_), x); }
    friend Number exp(const Number& x) { return of("exp", fitwright::number::exp(x.x_), x); }
    friend Number log(const Number& x) { return of("log", fitwright::number::log(x.x_), x); }
    friend Number expm1_over(const Number& x) {
        return of("expm1_over", fitwright::number::expm1_over(x.x_), x);
    }
    friend Number cbrt(const Number& x) { return of("cbrt", fitwright::number::cbrt(x.x_), x); }
    friend Number sin(const Number& x) { return of("sin", fitwright::number::sin(x.x_), x); }
    friend Number cos(const Number& x) { return of("cos", fitwright::number::cos(x.x_), x); }
    friend Number atan(const Number& x) { return of("atan", fitwright::number::atan(x.x_), x); }
    friend Number value_of(const Number& x) { return x; }
    template <class F>
    friend Number each_lane(const Number& x, const F& f) {
        return of("opaque", double(f(x.x_)), x);
    }

private:
    static Number of(const char* operation, double value, const Number& x) {
        return tape ? taped(value, tape->add(operation, value, x.node())) : Number(value);
    }
    static Number of(const char* operation, double value, const Number& x, const Number& y) {
        return tape ? taped(value, tape->add(operation, value, x.node(), y.node())) : Number(value);
    }
    static Truth is(const char* operation, bool told, const Number& x, const Number& y) {
        return Truth(told, tape ? tape->add(operation, told ? 1.0 : 0.0, x.node(), y.node()) : -1);
    }
    double x_;
    int node_ = -1;
};

// A formula of a model by its name, on this number; null where there is none.
using Formula = void (*)(const Number* inputs, Number* outputs, const fitwright::fields::Context&,
                         fitwright::number::Faults<Number>&);
Formula formula_named(const std::string& name);

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
