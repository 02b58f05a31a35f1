// What a formula does when its input is outside what it is valid for.
// One call, `faults.require(ok, rule, value)`, serves every number type: for a double it throws
// with path, value and rule; for lanes it keeps the first broken rule of each lane; for a dual it
// keeps the first broken rule and whether a derivative exists only on one side.
#pragma once

#include <fitwright/number/basic.hpp>

namespace fitwright::number {

// A rule is a number here; its field, sentence and unit stand in the rule table (fields/rules).
using Rule = int;
inline constexpr Rule no_rule = 0;

// Throws fitwright::Fault, or adds it to `collected` (a std::vector<Fault>*) when that is given.
// Lives in the baseline (fields/error.cpp).
void report_fault(Rule rule, int place, double value, void* collected);

template <class T>
class Faults;

template <>
class Faults<double> {
public:
    // Which part of the job the following checks speak of (an index the caller can name).
    int place = 0;
    // Where a report of every broken rule is wanted, instead of the first alone.
    void* collected = nullptr;
    FITWRIGHT_INLINE void require(bool ok, Rule rule, double value) {
        if (!ok) [[unlikely]]
            report_fault(rule, place, value, collected);
    }
    FITWRIGHT_INLINE void kink(bool) {}
    FITWRIGHT_INLINE void stage(int) {}
};

template <int W, class Level>
class Faults<Lanes<W, Level>> {
    using T = Lanes<W, Level>;

public:
    int place = 0;
    T code = 0.0; // rule + place * 4096 of the first rule broken in each lane, 0 when none
    T* stages =
        nullptr; // `code` as it stood after each part of a formula in parts; null: not asked

    FITWRIGHT_INLINE void require(const Mask<W, Level>& ok, Rule rule, const T&) {
        code = select(ok | !(code == T(0.0)), code, T(double(rule) + 4096.0 * double(place)));
    }
    FITWRIGHT_INLINE void kink(const Mask<W, Level>&) {}
    FITWRIGHT_INLINE void stage(int number) {
        if (stages != nullptr)
            stages[number] = code;
    }
};

template <int N, class Level>
class Faults<Dual<N, Level>> {
public:
    int place = 0;
    double code = 0.0;
    bool one_sided = false; // some derivative holds on one side only (contact opening, slip)

    FITWRIGHT_INLINE void require(bool ok, Rule rule, const Dual<N, Level>&) {
        if (!ok && code == 0.0)
            code = double(rule) + 4096.0 * double(place);
    }
    FITWRIGHT_INLINE void kink(bool at) { one_sided = one_sided || at; }
    FITWRIGHT_INLINE void stage(int) {}
};

FITWRIGHT_INLINE constexpr Rule rule_of(double code) {
    return static_cast<Rule>(static_cast<long>(code) % 4096);
}
FITWRIGHT_INLINE constexpr int place_of(double code) {
    return static_cast<int>(static_cast<long>(code) / 4096);
}

} // namespace fitwright::number
