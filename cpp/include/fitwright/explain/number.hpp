// A number that records what is done with it: a formula written for numbers runs on it unchanged and to the
// same bits, and its calculation can be shown line by line. It offers what every number of a formula offers
// (tests/cpp/archetype.hpp) and nothing else, but for functions that read better in one piece.
//
// Include before the formulas: some helpers are called by their full name.
#pragma once

#include <concepts>
#include <fitwright/explain/recording.hpp>
#include <fitwright/fields/formula.hpp>
#include <fitwright/number/number.hpp>

namespace fitwright::explain {

// The truth of a comparison: no conversion to bool, so that no formula can branch on it.
class Truth {
public:
    Truth() = default;
    explicit Truth(bool told, int node = -1)
        : told_(told)
        , node_(node) {}
    bool told() const { return told_; }
    int node() const {
        Recording* r = Recording::now();
        return node_ >= 0 || r == nullptr ? node_ : r->add(Operation::constant, told_ ? 1.0 : 0.0);
    }
    friend Truth operator&(Truth x, Truth y) {
        return of(x.told_ && y.told_, Operation::both, x, y);
    }
    friend Truth operator|(Truth x, Truth y) {
        return of(x.told_ || y.told_, Operation::either, x, y);
    }
    friend Truth operator!(Truth x) {
        Recording* r = Recording::now();
        return Truth(!x.told_, r ? r->add(Operation::not_so, x.told_ ? 0.0 : 1.0, x.node()) : -1);
    }
    friend bool any(Truth x) { return x.told_; }

private:
    static Truth of(bool told, Operation operation, Truth x, Truth y) {
        Recording* r = Recording::now();
        return Truth(told, r ? r->add(operation, told ? 1.0 : 0.0, x.node(), y.node()) : -1);
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
    // Where it stands in the recording; what has no place yet is a constant.
    int node() const {
        Recording* r = Recording::now();
        return node_ >= 0 || r == nullptr ? node_ : r->add(Operation::constant, x_);
    }
    static Number at(double x, int node) {
        Number n(x);
        n.node_ = node;
        return n;
    }
    template <class... Arguments>
    static Number of(Operation operation, double value, const Arguments&... arguments) {
        Recording* r = Recording::now();
        return r ? at(value, r->add(operation, value, arguments.node()...)) : Number(value);
    }

    friend Number operator+(const Number& x, const Number& y) {
        return of(Operation::add, x.x_ + y.x_, x, y);
    }
    friend Number operator-(const Number& x, const Number& y) {
        return of(Operation::subtract, x.x_ - y.x_, x, y);
    }
    friend Number operator*(const Number& x, const Number& y) {
        return of(Operation::multiply, x.x_ * y.x_, x, y);
    }
    friend Number operator/(const Number& x, const Number& y) {
        return of(Operation::divide, x.x_ / y.x_, x, y);
    }
    friend Number operator-(const Number& x) { return of(Operation::negative, -x.x_, x); }
    Number& operator+=(const Number& y) { return *this = *this + y; }
    Number& operator-=(const Number& y) { return *this = *this - y; }
    Number& operator*=(const Number& y) { return *this = *this * y; }
    Number& operator/=(const Number& y) { return *this = *this / y; }

    friend Truth operator<(const Number& x, const Number& y) {
        return is(Operation::less, x.x_ < y.x_, x, y);
    }
    friend Truth operator<=(const Number& x, const Number& y) {
        return is(Operation::less_equal, x.x_ <= y.x_, x, y);
    }
    friend Truth operator>(const Number& x, const Number& y) {
        return is(Operation::greater_than, x.x_ > y.x_, x, y);
    }
    friend Truth operator>=(const Number& x, const Number& y) {
        return is(Operation::greater_equal, x.x_ >= y.x_, x, y);
    }
    friend Truth operator==(const Number& x, const Number& y) {
        return is(Operation::equal, x.x_ == y.x_, x, y);
    }

    friend Number select(Truth m, const Number& x, const Number& y) {
        Recording* r = Recording::now();
        const double value = m.told() ? x.x_ : y.x_;
        if (r == nullptr)
            return Number(value);
        return at(value, r->add(Operation::select, value, m.node(), x.node(), y.node()));
    }
    template <class F>
    friend Number each_lane(const Number& x, const F& f) {
        return of(Operation::stepped, double(f(x.x_)), x);
    }

private:
    static Truth is(Operation operation, bool told, const Number& x, const Number& y) {
        Recording* r = Recording::now();
        return Truth(told, r ? r->add(operation, told ? 1.0 : 0.0, x.node(), y.node()) : -1);
    }
    double x_;
    int node_ = -1;
};

#define FITWRIGHT_RECORDED(function, operation)                                                    \
    inline Number function(const Number& x) {                                                      \
        return Number::of(Operation::operation, number::function(x.told()), x);                    \
    }
FITWRIGHT_RECORDED(sqrt, square_root)
FITWRIGHT_RECORDED(abs, absolute)
FITWRIGHT_RECORDED(exp, exponential)
FITWRIGHT_RECORDED(log, logarithm)
FITWRIGHT_RECORDED(expm1_over, expm1_over)
FITWRIGHT_RECORDED(cbrt, cube_root)
FITWRIGHT_RECORDED(sin, sine)
FITWRIGHT_RECORDED(cos, cosine)
FITWRIGHT_RECORDED(atan, arc_tangent)
FITWRIGHT_RECORDED(square, square)
FITWRIGHT_RECORDED(cube, cube)
FITWRIGHT_RECORDED(positive, positive)
FITWRIGHT_RECORDED(normal_quantile, normal_quantile)
#undef FITWRIGHT_RECORDED
inline Number larger(const Number& x, const Number& y) {
    return Number::of(Operation::greater, number::larger(x.told(), y.told()), x, y);
}
inline Number smaller(const Number& x, const Number& y) {
    return Number::of(Operation::lesser, number::smaller(x.told(), y.told()), x, y);
}
inline Number norm2(const Number& x, const Number& y) {
    return Number::of(Operation::length, number::norm2(x.told(), y.told()), x, y);
}
inline Number root0(const Number& x) {
    return Number::of(Operation::square_root, number::root0(x.told()),
                      x.told() < 0.0 ? positive(x) : x);
}
inline Number power(const Number& given, double exponent) {
    const Number x = given.told() < 0.0 ? positive(given) : given;
    const double value = number::power(x.told(), exponent);
    Recording* r = Recording::now();
    return r ? Number::at(value, r->add(Operation::power, value, x.node(), -1, -1, exponent))
             : Number(value);
}
inline Number value_of(const Number& x) { return x; }

// What it is called from here on; an input or a constant keeps its own name beside.
Number named(const char* words, const Number& x);
Number searched(const char* words, const Number& x);
Number density_in(double constant, const Number& like);
Number modulus_in(double constant, const Number& like);
void speaks_of(int part, const Number& like);
Number looked_up(const materials::Table& table, const Number& t, const Number& value);
number::CompleteElliptic<Number> complete_elliptic(const Number& m);

// The steps to a root are not recorded: what is, is the equation that holds at it.
// `like`: of the same dimension.
template <class Equation>
number::Root<Number> recorded_root(const Equation& equation, const number::Root<Number>& found,
                                   const Number& like) {
    Recording* r = Recording::now();
    if (r == nullptr)
        return found;
    const int alike = like.node();
    const int node = r->add(Operation::root, found.x.told());
    const Number x = Number::at(found.x.told(), node);
    const int left_side = equation(x).value.node();
    r->at(node).arguments[0] = left_side; // after it, and made of it
    r->at(node).arguments[1] = alike;
    return {x, Truth(found.converged.told())};
}
template <template <class> class E>
number::Root<Number> root(const E<Number>& equation, const Number& lower, const Number& upper,
                          const Number& start, const Number& scale) {
    const auto found = [&] {
        const Recording::Open silent(nullptr);
        return number::root_of_values<Number>(equation, lower, upper, start, scale);
    }();
    return recorded_root(equation, found, upper);
}

} // namespace fitwright::explain

namespace fitwright::number {

template <>
inline constexpr bool is_plain<explain::Number> = true;

namespace detail {
EllipticParts<explain::Number> elliptic_parts(const explain::Number& m);
}

// Rules are noted, broken or not: a limit of validity that applies is part of what is shown.
template <>
class Faults<explain::Number> {
public:
    // Every operation notes of whom the formula spoke.
    class Place {
    public:
        Place& operator=(int told) {
            told_ = told;
            if (explain::Recording* r = explain::Recording::now()) {
                r->place = told + r->places_from;
                r->member = -1;
            }
            return *this;
        }
        operator int() const { return told_; }

    private:
        int told_ = 0;
    };
    Place place;
    void require(explain::Truth ok, Rule rule, const explain::Number& x) {
        if (explain::Recording* r = explain::Recording::now())
            r->checks.push_back({rule, r->place, ok.node(), x.told()});
    }
    void kink(explain::Truth) {}
    void stage(int) {}
};

} // namespace fitwright::number
