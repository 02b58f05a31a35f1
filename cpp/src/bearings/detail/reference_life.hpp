// Reference rating life from the loads of the balls, inner and outer raceway rated by themselves
// (ISO/TS 16281; from memory). Loads come as plain arrays, one entry a ball, so that they may stem
// from any equilibrium: thrust, combined load, speed.
#pragma once

#include "dynamic_rating.hpp"

namespace fitwright::bearings {

// Ball loads a raceway bears a million times.
template <class T>
struct RaceRatings {
    T inner, outer; // N
};
//   Qci = C/(0.407 Z cos i^0.7) (1 + (1.044 ratio)^(10/3))^0.3
//   Qce = C/(0.389 Z cos i^0.7) (1 + (1.044 ratio)^(-10/3))^0.3
// thrust: C/(Z sin) and 1 for 1.044. The ratio is that of ball_capacity.
template <class T>
RaceRatings<T> race_ratings(const RatedRow<T>& r, BearingKind kind, const T& capacity_ratio,
                            const T& dynamic_rating) {
    const bool radial = kind == BearingKind::radial;
    const T ratio = power(capacity_ratio * (radial ? 1.044 : 1.0), 10.0 / 3.0);
    const T inner = power(ratio + 1.0, 0.3);
    const T outer = power(1.0 / ratio + 1.0, 0.3);
    const T ball = dynamic_rating / (r.balls * (radial ? r.cosine * power(r.rows, 0.7) : r.sine));
    return radial ? RaceRatings<T>{ball * inner / 0.407, ball * outer / 0.389}
                  : RaceRatings<T>{ball * inner, ball * outer};
}

// What is used up by a million revolutions: (Qe/Qc)^(10/3) with the mean of the loads that a
// raceway feels. The ring that turns against the load feels the mean of the cubes, the one that
// stands the mean of the powers 10/3.
template <class T>
FITWRIGHT_INLINE T wear_of(const T* loads, int count, const T& rating, bool turns) {
    T sum = 0.0;
    for (int k = 0; k < count; ++k) {
        const T u = positive(loads[k]) / rating;
        sum += turns ? cube(u) : power(u, 10.0 / 3.0);
    }
    const T mean = sum * (1.0 / count);
    return turns ? power(mean, 10.0 / 9.0) : mean;
}
inline constexpr double least_wear = 4.641588833612779e-14; // life 1e18 revolutions
template <class T>
FITWRIGHT_INLINE T life_of_wear(const T& wear) {
    return power(larger(wear, T(least_wear)), -0.9) * million;
}

template <class T>
struct RaceLives {
    T inner, outer, both; // revolutions
};
// The loads are those of one row; of `rows` like it each must last.
template <class T>
RaceLives<T> race_lives(const T* inner_loads, const T* outer_loads, int count,
                        const RaceRatings<T>& ratings, const T& rows, TurningRing turning) {
    const bool inner_turns = turning == TurningRing::inner;
    const T inner = wear_of(inner_loads, count, ratings.inner, inner_turns) * rows;
    const T outer = wear_of(outer_loads, count, ratings.outer, !inner_turns) * rows;
    return {life_of_wear(inner), life_of_wear(outer), life_of_wear(T(inner + outer))};
}
// The plain load that costs this life.
template <class T>
FITWRIGHT_INLINE T reference_load(const T& dynamic_rating, const T& life) {
    return dynamic_rating * cbrt(million / life);
}

template <class T>
void ReferenceLife::run(const T* inputs, T* outputs, const fields::Context& context,
                        Faults<T>& faults) {
    const auto& in = *reinterpret_cast<const ReferenceLifeInputs<T>*>(inputs);
    auto& out = *reinterpret_cast<ReferenceLifeOutputs<T>*>(outputs);
    const RowChoices choices = row_choices(context.choices);
    const auto turning = static_cast<TurningRing>(context.choices[3]);
    faults.place = 1;
    const RatedRow<T> row = rated_row(in.row, choices, faults);
    faults.place = 0;
    const BallCapacity<T> capacity = ball_capacity(row, choices);
    out.dynamic_rating = fields::given(in.dynamic_rating, T(capacity.dynamic * in.make_factor));
    const auto ratings = race_ratings(row, choices.kind, capacity.ratio, out.dynamic_rating);
    out.inner_rating = ratings.inner;
    out.outer_rating = ratings.outer;
    const T outer_load = fields::given(in.outer_load, in.inner_load);
    const auto lives = race_lives(&in.inner_load, &outer_load, 1, ratings, row.rows, turning);
    out.inner_life = lives.inner;
    out.outer_life = lives.outer;
    out.life = lives.both;
    out.running_time = running_time(out.life, in.speed);
    out.reference_load = reference_load(out.dynamic_rating, out.life);
}

} // namespace fitwright::bearings
