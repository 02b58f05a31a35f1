// Life of a bearing whose ratings are known: basic, modified, and from the loads of its balls.
#pragma once

#include <fitwright/bearings/rating.hpp>
#include <span>
#include <vector>

#define FITWRIGHT_BASIC_LIFE_INPUTS(FIELD, RANGED, PART, CHOICE)                                   \
    CHOICE(elements, "ball|roller", "the life goes with the load as the power 3 or 10/3")          \
    CHOICE(reliability_law, "iso_281|iso_281_1990|textbook",                                       \
           "iso_281: of 2007; 1990: two-parameter Weibull; textbook: Weibull with 0.02, 4.459, "   \
           "1.483")                                                                                \
    FIELD(dynamic_rating, force, above(0.0, 1e9), required, "C, basic dynamic rating")             \
    FIELD(radial_load, force, from_to(0.0, 1e9), 0.0, "steady radial load")                        \
    FIELD(axial_load, force, from_to(0.0, 1e9), 0.0, "steady axial load")                          \
    FIELD(radial_factor, ratio, from_to(0.0, 20.0), 1.0, "X of the catalogue")                     \
    FIELD(axial_factor, ratio, from_to(0.0, 20.0), 0.0, "Y of the catalogue")                      \
    FIELD(rotation_factor, ratio, from_to(1.0, 1.2), 1.0,                                          \
          "V of older practice, 1.2 where the outer ring turns; today 1")                          \
    FIELD(speed, speed, from_to(0.0, 2e5), 0.0, "speed of one ring against the other")             \
    FIELD(wanted_life, revolutions, from_to(0.0, 1e18), 1e6, "life the bearing shall reach")       \
    FIELD(reliability, ratio, from_to(0.5, 0.9999), 0.9, "share of bearings that shall reach it")
FITWRIGHT_DECLARE(bearings, BasicLifeInputs, false, "a rated bearing and its load",
                  FITWRIGHT_BASIC_LIFE_INPUTS)

#define FITWRIGHT_BASIC_LIFE_OUTPUTS(FIELD, RANGED, PART, CHOICE)                                  \
    FIELD(equivalent_load, force, unlimited(), 1e3, "P = X V Fr + Y Fa")                           \
    FIELD(load_ratio, ratio, at_most(0.5), 0.1, "P/C; above 0.5 the rating does not hold")         \
    FIELD(reliability_factor, ratio, unlimited(), 0.1, "a1")                                       \
    FIELD(life, revolutions, unlimited(), 1e6,                                                     \
          "reached by the wanted share of bearings; 1e18 times a1 stands for no load")             \
    FIELD(running_time, lifetime, unlimited(), 3600.0,                                             \
          "the same at the speed; 1e12 s stands for longer, or for rest")                          \
    FIELD(needed_rating, force, unlimited(), 1e3,                                                  \
          "C that reaches the wanted life with the wanted reliability")                            \
    FIELD(reached_reliability, ratio, unlimited(), 0.01, "share that reaches the wanted life")
FITWRIGHT_DECLARE(bearings, BasicLifeOutputs, false, "basic rating life",
                  FITWRIGHT_BASIC_LIFE_OUTPUTS)

#define FITWRIGHT_MODIFIED_LIFE_INPUTS(FIELD, RANGED, PART, CHOICE)                                \
    CHOICE(bearing, "radial_ball|thrust_ball|radial_roller|thrust_roller", "kind of bearing")      \
    CHOICE(lubrication, "oil_filtered|oil_bath|grease",                                            \
           "circulating oil with a filter in line; bath or circulating without; grease")           \
    CHOICE(                                                                                        \
        cleanliness, "normal|high|slight|severe|very_severe",                                      \
        "of the oil, -/15/12, -/13/10, -/17/14, -/19/16, -/21/18 of ISO 4406, or of the grease")   \
    PART(bearings::Lubricant, oil)                                                                 \
    FIELD(temperature, temperature, from_to(-60.0, 300.0), 70.0, "of the oil in the bearing")      \
    FIELD(dynamic_rating, force, above(0.0, 1e9), required, "C, basic dynamic rating")             \
    FIELD(static_rating, force, above(0.0, 1e9), worked_out,                                       \
          "C0, wanted where the fatigue limit is left out")                                        \
    FIELD(fatigue_limit, force, above(0.0, 1e9), worked_out,                                       \
          "Cu; C0/22, rollers C0/8.2, less above 100 mm of pitch diameter, when left out")         \
    FIELD(equivalent_load, force, from_to(0.0, 1e9), required, "P, equivalent load")               \
    FIELD(pitch_diameter, size, from_to(1e-3, 6.3), required, "mean diameter of the bearing")      \
    FIELD(speed, speed, from_to(0.0, 2e5), required, "speed of one ring against the other")        \
    FIELD(contamination_factor, ratio, from_to(0.0, 1.0), worked_out,                              \
          "eC; by lubrication and cleanliness when left out")                                      \
    FIELD(reliability, ratio, from_to(0.5, 0.9999), 0.9, "share of bearings that shall reach it")
FITWRIGHT_DECLARE(bearings, ModifiedLifeInputs, false, "a rated bearing, its load and its oil",
                  FITWRIGHT_MODIFIED_LIFE_INPUTS)

#define FITWRIGHT_MODIFIED_LIFE_OUTPUTS(FIELD, RANGED, PART, CHOICE)                               \
    FIELD(viscosity, viscosity, unlimited(), 1e-6, "of the oil in the bearing")                    \
    FIELD(reference_viscosity, viscosity, unlimited(), 1e-6, "nu1: what the speed asks for")       \
    FIELD(viscosity_ratio, ratio, at_least(1.0), 0.1,                                              \
          "kappa: from 1 on the film parts the surfaces; below 0.1 ISO 281 does not speak, above " \
          "4 it counts as 4")                                                                      \
    FIELD(contamination_factor, ratio, unlimited(), 0.1, "eC: 1 clean, 0 ruinous")                 \
    FIELD(fatigue_limit, force, unlimited(), 1e3, "Cu")                                            \
    FIELD(reliability_factor, ratio, unlimited(), 0.1, "a1")                                       \
    FIELD(modification_factor, ratio, unlimited(), 0.1, "aISO, 0.1 to 50")                         \
    FIELD(life, revolutions, unlimited(), 1e6,                                                     \
          "Lnm, reached by the wanted share of bearings; no load counts as P/C = 1e-4")            \
    FIELD(running_time, lifetime, unlimited(), 3600.0,                                             \
          "the same at the speed; 1e12 s stands for longer, or for rest")
FITWRIGHT_DECLARE(bearings, ModifiedLifeOutputs, false, "modified rating life",
                  FITWRIGHT_MODIFIED_LIFE_OUTPUTS)

#define FITWRIGHT_REFERENCE_LIFE_INPUTS(FIELD, RANGED, PART, CHOICE)                               \
    PART(bearings::BallRow, row)                                                                   \
    CHOICE(turning, "inner|outer", "ring that turns against the load")                             \
    FIELD(make_factor, ratio, from_to(0.3, 1.5), 1.3, "bm, where the rating is left out")          \
    FIELD(dynamic_rating, force, above(0.0, 1e9), worked_out,                                      \
          "C of the maker; from the geometry when left out")                                       \
    FIELD(inner_load, force, from_to(0.0, 1e9), required,                                          \
          "of each ball on the inner raceway, all balls alike")                                    \
    FIELD(outer_load, force, from_to(0.0, 1e9), worked_out,                                        \
          "of each ball on the outer raceway, more at speed; the inner when left out")             \
    FIELD(speed, speed, from_to(0.0, 2e5), 0.0, "speed of one ring against the other")
FITWRIGHT_DECLARE(bearings, ReferenceLifeInputs, false, "a ball bearing and the loads of its balls",
                  FITWRIGHT_REFERENCE_LIFE_INPUTS)

#define FITWRIGHT_REFERENCE_LIFE_OUTPUTS(FIELD, RANGED, PART, CHOICE)                              \
    FIELD(dynamic_rating, force, unlimited(), 1e3, "C, basic dynamic rating")                      \
    FIELD(inner_rating, force, unlimited(), 1e3,                                                   \
          "Qci: ball load the inner raceway bears 1e6 times")                                      \
    FIELD(outer_rating, force, unlimited(), 1e3, "Qce: the same of the outer raceway")             \
    FIELD(inner_life, revolutions, unlimited(), 1e6, "of the inner raceway alone")                 \
    FIELD(outer_life, revolutions, unlimited(), 1e6, "of the outer raceway alone")                 \
    FIELD(life, revolutions, unlimited(), 1e6, "L10r of both; 1e18 stands for no load")            \
    FIELD(running_time, lifetime, unlimited(), 3600.0,                                             \
          "the same at the speed; 1e12 s stands for longer, or for rest")                          \
    FIELD(reference_load, force, unlimited(), 1e3,                                                 \
          "the plain load that costs this life: P of the modified life")
FITWRIGHT_DECLARE(bearings, ReferenceLifeOutputs, false, "reference life from the ball loads",
                  FITWRIGHT_REFERENCE_LIFE_OUTPUTS)

namespace fitwright::bearings {

struct BasicLife {
    template <class T>
    static void run(const T* inputs, T* outputs, const fields::Context&, number::Faults<T>&);
};
struct ModifiedLife {
    template <class T>
    static void run(const T* inputs, T* outputs, const fields::Context&, number::Faults<T>&);
};
struct ReferenceLife {
    template <class T>
    static void run(const T* inputs, T* outputs, const fields::Context&, number::Faults<T>&);
};

enum class Elements : int { ball, roller };
enum class ReliabilityLaw : int { iso_281, iso_281_1990, textbook };
enum class RatedBearing : int { radial_ball, thrust_ball, radial_roller, thrust_roller };
enum class Lubrication : int { oil_filtered, oil_bath, grease };
enum class Cleanliness : int { normal, high, slight, severe, very_severe };

// From C++: throw DomainError.
BasicLifeOutputs<double> basic_life(const BasicLifeInputs<double>&, Elements = Elements::ball,
                                    ReliabilityLaw = ReliabilityLaw::iso_281);
ModifiedLifeOutputs<double> modified_life(const ModifiedLifeInputs<double>&,
                                          RatedBearing = RatedBearing::radial_ball,
                                          Lubrication = Lubrication::oil_filtered,
                                          Cleanliness = Cleanliness::normal);
ReferenceLifeOutputs<double> reference_life(const ReferenceLifeInputs<double>&,
                                            BearingKind = BearingKind::radial,
                                            Arrangement = Arrangement::tandem,
                                            Grooves = Grooves::standard,
                                            TurningRing = TurningRing::inner);

// The same from the loads of every ball, as any equilibrium gives them: in.inner_load and
// in.outer_load are not read. One entry a ball of one row; the other rows are taken as loaded alike.
ReferenceLifeOutputs<double> ring_life(ReferenceLifeInputs<double> in, BearingKind, Arrangement,
                                       Grooves, TurningRing, std::span<const double> inner_loads,
                                       std::span<const double> outer_loads);

// States in turn (Palmgren, Miner): shares of the time, which need not sum to one; speeds in rad/s;
// lives in revolutions, each at its state.
struct DutyLife {
    double life;                // revolutions of the whole cycle
    double running_time;        // s; 1e12 stands for longer
    std::vector<double> damage; // share of the damage that each state does
};
DutyLife duty_life(std::span<const double> shares, std::span<const double> speeds,
                   std::span<const double> lives);

} // namespace fitwright::bearings
