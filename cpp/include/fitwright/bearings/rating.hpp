// Basic static and dynamic load ratings of ball bearings from their internal geometry
// (ISO 76, ISO 281).
#pragma once

#include <fitwright/bearings/rows.hpp>
#include <fitwright/fields/error.hpp>
#include <fitwright/fields/model.hpp>

#define FITWRIGHT_STATIC_RATING_INPUTS(FIELD, RANGED, PART, CHOICE)                                \
    PART(bearings::BallRow, row)                                                                   \
    FIELD(radial_load, force, from_to(0.0, 1e9), 0.0, "largest radial load at rest or in a shock") \
    FIELD(axial_load, force, from_to(0.0, 1e9), 0.0, "axial load with it")
FITWRIGHT_DECLARE(bearings, StaticRatingInputs, false, "a ball bearing and its largest load",
                  FITWRIGHT_STATIC_RATING_INPUTS)

#define FITWRIGHT_STATIC_RATING_OUTPUTS(FIELD, RANGED, PART, CHOICE)                               \
    FIELD(geometry_factor, ratio, unlimited(), 1.0, "f0, for newtons and millimetres")             \
    FIELD(static_rating, force, unlimited(), 1e3,                                                  \
          "C0: load that presses the worst ball with 4200 MPa; radial, of a thrust bearing axial") \
    FIELD(fatigue_limit, force, unlimited(), 1e3,                                                  \
          "Cu: load that presses the worst ball with 1500 MPa, less for large bearings")           \
    FIELD(radial_factor, ratio, unlimited(), 1.0, "X0, of the radial load")                        \
    FIELD(axial_factor, ratio, unlimited(), 1.0, "Y0, of the axial load")                          \
    FIELD(equivalent_static_load, force, unlimited(), 1e3, "P0, equivalent load at rest")          \
    FIELD(static_safety, ratio, at_least(1.0), 1.0, "s0 = C0/P0; 1e6 stands for no load")
FITWRIGHT_DECLARE(bearings, StaticRatingOutputs, false, "static load rating and safety",
                  FITWRIGHT_STATIC_RATING_OUTPUTS)

#define FITWRIGHT_DYNAMIC_RATING_INPUTS(FIELD, RANGED, PART, CHOICE)                               \
    PART(bearings::BallRow, row)                                                                   \
    FIELD(make_factor, ratio, from_to(0.3, 1.5), 1.3,                                              \
          "bm, today's steel and make: 1.3; with a filling slot 1.1")                              \
    FIELD(radial_load, force, from_to(0.0, 1e9), 0.0, "steady radial load")                        \
    FIELD(axial_load, force, from_to(0.0, 1e9), 0.0, "steady axial load")                          \
    FIELD(speed, speed, from_to(0.0, 2e5), 0.0, "speed of one ring against the other")
FITWRIGHT_DECLARE(bearings, DynamicRatingInputs, false, "a ball bearing and its steady load",
                  FITWRIGHT_DYNAMIC_RATING_INPUTS)

// Of a bearing under load, balls or rollers. Above half the rating ISO 281 does not speak.
#define FITWRIGHT_LIFE_OUTPUTS(FIELD, RANGED, PART, CHOICE)                                        \
    FIELD(limit_ratio, ratio, unlimited(), 1.0,                                                    \
          "e: axial over radial load up to which thrust costs no life")                            \
    FIELD(radial_factor, ratio, unlimited(), 1.0, "X at this load")                                \
    FIELD(axial_factor, ratio, unlimited(), 1.0, "Y at this load")                                 \
    FIELD(equivalent_load, force, unlimited(), 1e3, "P: the plain load that costs the same life")  \
    FIELD(load_ratio, ratio, at_most(0.5), 0.1, "P/C; above 0.5 the rating does not hold")         \
    FIELD(life, revolutions, unlimited(), 1e6,                                                     \
          "L10: nine of ten bearings reach it; 1e18 stands for no load")                           \
    FIELD(running_time, lifetime, unlimited(), 3600.0,                                             \
          "L10 at the speed; 1e12 s stands for longer, or for rest")
#define FITWRIGHT_DYNAMIC_RATING_OUTPUTS(FIELD, RANGED, PART, CHOICE)                              \
    FIELD(geometry_factor, ratio, unlimited(), 1.0, "fc, for newtons and millimetres")             \
    FIELD(dynamic_rating, force, unlimited(), 1e3,                                                 \
          "C: load for a life of a million revolutions; radial, of a thrust bearing axial")        \
    FITWRIGHT_LIFE_OUTPUTS(FIELD, RANGED, PART, CHOICE)
FITWRIGHT_DECLARE(bearings, DynamicRatingOutputs, false, "dynamic load rating and basic life",
                  FITWRIGHT_DYNAMIC_RATING_OUTPUTS)

namespace fitwright::bearings {

struct StaticRating {
    template <class T>
    static void run(const T* inputs, T* outputs, const fields::Context&, number::Faults<T>&);
};
struct DynamicRating {
    template <class T>
    static void run(const T* inputs, T* outputs, const fields::Context&, number::Faults<T>&);
};

// From C++: throw DomainError.
StaticRatingOutputs<double> static_rating(const StaticRatingInputs<double>&,
                                          BearingKind = BearingKind::radial,
                                          Arrangement = Arrangement::tandem,
                                          Grooves = Grooves::standard);
DynamicRatingOutputs<double> dynamic_rating(const DynamicRatingInputs<double>&,
                                            BearingKind = BearingKind::radial,
                                            Arrangement = Arrangement::tandem,
                                            Grooves = Grooves::standard);

} // namespace fitwright::bearings
