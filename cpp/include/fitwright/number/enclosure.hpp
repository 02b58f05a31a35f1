// Enclosure: what a formula's number may be over a whole box of inputs, and each of its derivatives.
// A formula written for numbers runs on it unchanged, and proves what it finds.
//
//   value   every value over the box
//   centre  the value where all inputs are at their centres, to rounding
//   slopes  every derivative by each input over the box (of both sides, where there is a kink)
//
// The value is the common part of two bounds: natural (the operation on the values) and mean value
// form, centre + sum of slope_i (x_i - c_i) (R. E. Moore, Methods and Applications of Interval
// Analysis, 1979). The second forgets nothing about inputs that come in twice; it is taken after
// every operation, so that it also helps what is built on top.
//
// A quantity that much else comes from (`hub`) is a direction of its own: what it does to a result in
// many ways at once is added up before its own slopes, which may be wide, come in. The slopes by the
// inputs are those with all hubs held, plus those by each hub times the hub's, the latest hub first.
//
// A function with kinks but no jumps keeps the mean value theorem with the hull of both sides'
// derivatives (G. Lebourg 1975). `smaller`, `larger`, `positive`, `abs` and `root0` have no jumps. A
// `select` may have one: where the box does not decide it, its slopes are unbounded.
//
// Baseline only. One box at a time on a thread; its numbers die with it.
#pragma once

#include <fitwright/number/interval.hpp>
#include <memory>
#include <vector>

namespace fitwright::number {

// Where inputs may lie about their centres, and the memory of all slopes. Directions: the inputs,
// then hubs as they come (while there is room), at last the unknown of an equation while it is solved.
class Box {
public:
    Box(int inputs, int hubs);
    ~Box();
    Box(const Box&) = delete;
    Box& operator=(const Box&) = delete;
    static Box& now();
    // The box that numbers of this thread speak of, as long as this lives.
    class Open {
    public:
        explicit Open(Box&);
        ~Open();
        Open(const Open&) = delete;
        Open& operator=(const Open&) = delete;

    private:
        Box* outer_;
    };

    int directions() const { return directions_; }
    int inputs() const { return inputs_; }
    int hubs() const { return static_cast<int>(hubs_.size()); }
    // A new hub with these slopes (by inputs and earlier hubs); -1: no room.
    int add_hub(const Interval& value, const Interval& centre, const double* slopes);
    // The next hub numbered `hub` is looked at in a part of its range alone.
    void restrict_hub(int hub, const Interval& part) {
        restricted_ = hub;
        part_ = part;
    }
    int restricted() const { return restricted_; }
    const Interval& part() const { return part_; }
    const Interval& hub_range(int k) const { return ranges_[static_cast<std::size_t>(k)]; }
    const double* hub(int k) const { return hubs_[static_cast<std::size_t>(k)]; }
    int unknown() const { return directions_ - 1; }
    // x_i - c_i
    void span(int direction, const Interval& deviation) {
        from_[static_cast<std::size_t>(direction)] = deviation.low;
        to_[static_cast<std::size_t>(direction)] = deviation.high;
    }
    const double* from() const { return from_.data(); }
    const double* to() const { return to_.data(); }
    double* take(); // room for the slopes of one number: all low ends, then all high ends

private:
    int inputs_, directions_;
    std::vector<double> from_, to_;
    std::vector<const double*> hubs_;
    std::vector<Interval> ranges_;
    int restricted_ = -1;
    Interval part_{};
    using Block = std::unique_ptr<double[]>;
    static std::vector<Block>& spare(); // of this thread, for the next box
    std::vector<Block> blocks_;
    std::size_t used_;
};

class Enclosure;

// The truth of a comparison over the box, and at its centre.
struct Likelihood {
    bool can_hold, can_fail;
    bool centre_holds, centre_fails; // both: not decided to rounding
    const double* slopes = nullptr;  // what it depends on, where it is open

    static Likelihood of(bool told) { return {told, !told, told, !told, nullptr}; }
    bool open() const { return can_hold && can_fail; }
    friend Likelihood operator!(const Likelihood& x) {
        return {x.can_fail, x.can_hold, x.centre_fails, x.centre_holds, x.slopes};
    }
    friend Likelihood operator&(const Likelihood& x, const Likelihood& y);
    friend Likelihood operator|(const Likelihood& x, const Likelihood& y) { return !((!x) & (!y)); }
    friend bool any(const Likelihood& x) { return x.can_hold; }
};

class Enclosure {
public:
    Interval value, centre;
    const double* slopes; // null: none at all

    Enclosure() = default;
    Enclosure(double x)
        : value(x)
        , centre(x)
        , slopes(nullptr) {}
    Enclosure(const Interval& v, const Interval& c, const double* s)
        : value(v)
        , centre(c)
        , slopes(s) {}
    // The input of a direction.
    static Enclosure input(int direction, const Interval& value, const Interval& centre);
    Interval slope(int direction) const; // as it stands
    // By every input, with all that it does through hubs, and then by hub `held`, which is left out
    // of that (-1: none).
    std::vector<Interval> totals(int held) const;

    friend Enclosure operator+(const Enclosure& x, const Enclosure& y);
    friend Enclosure operator-(const Enclosure& x, const Enclosure& y);
    friend Enclosure operator*(const Enclosure& x, const Enclosure& y);
    friend Enclosure operator/(const Enclosure& x, const Enclosure& y);
    friend Enclosure operator-(const Enclosure& x);
    Enclosure& operator+=(const Enclosure& y) { return *this = *this + y; }
    Enclosure& operator-=(const Enclosure& y) { return *this = *this - y; }
    Enclosure& operator*=(const Enclosure& y) { return *this = *this * y; }
    Enclosure& operator/=(const Enclosure& y) { return *this = *this / y; }

    friend Likelihood operator<(const Enclosure& x, const Enclosure& y);
    friend Likelihood operator<=(const Enclosure& x, const Enclosure& y);
    friend Likelihood operator>(const Enclosure& x, const Enclosure& y) { return y < x; }
    friend Likelihood operator>=(const Enclosure& x, const Enclosure& y) { return y <= x; }
    friend Likelihood operator==(const Enclosure& x, const Enclosure& y) {
        return (x <= y) & (y <= x);
    }
    friend Enclosure select(const Likelihood& m, const Enclosure& x, const Enclosure& y);
};

Enclosure hub(const Enclosure& x);
Enclosure larger(const Enclosure& x, const Enclosure& y);
Enclosure smaller(const Enclosure& x, const Enclosure& y);
Enclosure positive(const Enclosure& x);
Enclosure abs(const Enclosure& x);
Enclosure square(const Enclosure& x);
Enclosure sqrt(const Enclosure& x);
Enclosure root0(const Enclosure& x);
Enclosure exp(const Enclosure& x);
Enclosure log(const Enclosure& x);
Enclosure expm1_over(const Enclosure& x);
Enclosure cbrt(const Enclosure& x);
Enclosure sin(const Enclosure& x);
Enclosure cos(const Enclosure& x);
Enclosure atan(const Enclosure& x);
inline Enclosure value_of(const Enclosure& x) { return x; }
template <>
inline constexpr bool is_plain<Enclosure> = true;

// f(x) from its values over the box and at the centre, and every slope it has between.
Enclosure chain(const Enclosure& x, const Interval& value, const Interval& centre,
                const Interval& slope);
// The same for a function of three.
Enclosure composed(const Enclosure* const x[3], const Interval slope[3], const Interval& value,
                   const Interval& centre);
// The common part with the mean value form.
Enclosure tightened(const Interval& value, const Interval& centre, const double* slopes);

namespace detail {
// B, D and K rise with m, and so does C = (D - B)/m = integral of sin^2 cos^2/Delta^3;
// dB/dm = C/2, dD/dm = (B/(1 - m) - C)/2, dK/dm = B/(2 (1 - m)).
EllipticParts<Enclosure> elliptic_parts(const Enclosure& m);
} // namespace detail

// An equation as the solver below sees it.
class Unknown {
public:
    virtual ~Unknown() = default;
    virtual Residual<Enclosure> at(const Enclosure& x) const = 0;
};
// Every root over the box, by the interval Newton method: with X about the centre's root xc,
//   N = xc - f(xc)/f'(X) inside X  proves that each input of the box has its root in N.
// Where that fails (no slope at a root) the ends are found by the sign of f, which grows with x.
// Derivatives by the implicit function theorem over X and the box.
Root<Enclosure> enclosed_root(const Unknown& equation, const Interval& within, double start);

template <template <class> class E>
Root<Enclosure> root(const E<Enclosure>& equation, const Enclosure& lower, const Enclosure& upper,
                     const Enclosure& start, const Enclosure&) {
    struct Seen final : Unknown {
        const E<Enclosure>& e;
        explicit Seen(const E<Enclosure>& told)
            : e(told) {}
        Residual<Enclosure> at(const Enclosure& x) const override { return e(x); }
    };
    return enclosed_root(Seen(equation), {lower.value.low, upper.value.high},
                         start.centre.middle());
}

template <>
class Faults<Enclosure> {
public:
    int place = 0;
    bool can_fail = false;      // a rule may be broken somewhere in the box
    std::vector<int> kinked_at; // places where a formula says that a derivative may not exist
    void require(const Likelihood& ok, Rule, const Enclosure&) {
        can_fail = can_fail || ok.can_fail;
    }
    void kink(const Likelihood& at) {
        if (at.can_hold)
            kinked_at.push_back(place);
    }
};

} // namespace fitwright::number
