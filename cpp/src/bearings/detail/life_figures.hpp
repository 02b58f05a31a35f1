// What every life has in common: reliability, revolutions, running time, states in turn.
#pragma once

#include <fitwright/bearings/life.hpp>
#include <fitwright/number/number.hpp>

namespace fitwright::bearings {

using namespace number;

inline constexpr double million = 1e6;
// A life grows without bound as the load goes; below this share of the rating it is held.
inline constexpr double least_load_ratio = 1e-4;
inline constexpr double longest_time = 1e12; // s
inline constexpr double longest_life = 1e18; // revolutions

template <class T>
FITWRIGHT_INLINE T load_ratio_for_life(const T& equivalent_load, const T& rating) {
    return larger(equivalent_load / rating, T(least_load_ratio));
}
template <class T>
FITWRIGHT_INLINE T running_time(const T& revolutions, const T& speed) {
    const auto turns = speed * longest_time > revolutions * (2.0 * fields::pi);
    return select(turns, revolutions * (2.0 * fields::pi) / select(turns, speed, T(1.0)),
                  T(longest_time));
}

// Weibull: life for the reliability S over L10 is a1 = x0 + scale (ln 1/S)^(1/slope).
// ISO 281:2007 (its table 12 agrees to rounding): x0 = 0.05, slope 1.5, a1 = 1 at S = 0.9.
// Before: two parameters, slope 1.5. Textbook: Budynas & Nisbett, Shigley's Mechanical Engineering
// Design: x0 = 0.02, theta = 4.459, b = 1.483, which makes 0.994 of a1 at S = 0.9.
struct Weibull {
    double least, scale, slope;
};
FITWRIGHT_INLINE Weibull weibull_of(ReliabilityLaw law) {
    constexpr double at_90 = 4.482786702596963; // (1/ln(1/0.9))^(2/3)
    return law == ReliabilityLaw::iso_281        ? Weibull{0.05, 0.95 * at_90, 1.5}
           : law == ReliabilityLaw::iso_281_1990 ? Weibull{0.0, at_90, 1.5}
                                                 : Weibull{0.02, 4.459 - 0.02, 1.483};
}
template <class T>
FITWRIGHT_INLINE T reliability_factor(const T& reliability, const Weibull& w) {
    return power(-log(reliability), 1.0 / w.slope) * w.scale + w.least;
}
// The share that reaches `lives` times L10.
template <class T>
FITWRIGHT_INLINE T reliability_at(const T& lives, const Weibull& w) {
    return exp(-power((lives - w.least) / w.scale, w.slope));
}

// Palmgren and Miner: every state uses up its share. Feed the states one by one; a state at rest or
// without load uses nothing. The life is that of the whole cycle; where no state has a share, that of
// the state with the shortest.
template <class T>
class DutyCycle {
public:
    // share: of the time; speed in rad/s; life in revolutions at this state.
    void add(const T& share, const T& speed, const T& life) {
        const T turned = share * speed;
        time_ += share;
        turned_ += turned;
        used_ += turned / life;
        shortest_life_ = select(speed > T(0.0), smaller(shortest_life_, life), shortest_life_);
        shortest_time_ = smaller(shortest_time_, running_time(life, speed));
    }
    // Used up per second, and the life in revolutions and in running time.
    T life() const {
        const auto any_used = used_ > T(0.0);
        const T cycle =
            select(any_used, turned_ / select(any_used, used_, T(1.0)), T(longest_life));
        return select(time_ > T(0.0), cycle, shortest_life_);
    }
    T time() const {
        const auto wears = used_ * longest_time > time_ * (2.0 * fields::pi);
        const T cycle = select(wears, time_ * (2.0 * fields::pi) / select(wears, used_, T(1.0)),
                               T(longest_time));
        return select(time_ > T(0.0), cycle, shortest_time_);
    }

private:
    T time_ = 0.0;
    T turned_ = 0.0;
    T used_ = 0.0;
    T shortest_life_ = longest_life;
    T shortest_time_ = longest_time;
};

} // namespace fitwright::bearings
