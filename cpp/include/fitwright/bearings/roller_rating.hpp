// Load ratings and basic life of cylindrical and tapered roller bearings (ISO 76, ISO 281).
#pragma once

#include <fitwright/bearings/rating.hpp>

#define FITWRIGHT_ROLLER_RATING_INPUTS(FIELD, RANGED, PART, CHOICE)                                \
    PART(bearings::RollerRow, row)                                                                 \
    FIELD(make_factor, ratio, from_to(0.3, 1.5), 1.1,                                              \
          "bm, today's steel and make: cylindrical radial and tapered 1.1, cylindrical thrust 1")  \
    FIELD(radial_load, force, from_to(0.0, 1e9), 0.0, "steady radial load")                        \
    FIELD(axial_load, force, from_to(0.0, 1e9), 0.0, "steady axial load")                          \
    FIELD(speed, speed, from_to(0.0, 2e5), 0.0, "speed of one ring against the other")
FITWRIGHT_DECLARE(bearings, RollerRatingInputs, false, "a roller bearing and its load",
                  FITWRIGHT_ROLLER_RATING_INPUTS)

#define FITWRIGHT_ROLLER_RATING_OUTPUTS(FIELD, RANGED, PART, CHOICE)                               \
    FIELD(static_rating, force, unlimited(), 1e3,                                                  \
          "C0: load that presses the worst roller with 4000 MPa")                                  \
    FIELD(fatigue_limit, force, unlimited(), 1e3, "Cu, estimated from C0")                         \
    FIELD(equivalent_static_load, force, unlimited(), 1e3, "P0, equivalent load at rest")          \
    FIELD(static_safety, ratio, at_least(1.0), 1.0, "s0 = C0/P0; 1e6 stands for no load")          \
    FIELD(geometry_factor, ratio, unlimited(), 1.0, "fc, for newtons and millimetres")             \
    FIELD(dynamic_rating, force, unlimited(), 1e3,                                                 \
          "C: load for a life of a million revolutions; radial, of a thrust bearing axial")        \
    FITWRIGHT_LIFE_OUTPUTS(FIELD, RANGED, PART, CHOICE)
FITWRIGHT_DECLARE(bearings, RollerRatingOutputs, false, "load ratings and basic life",
                  FITWRIGHT_ROLLER_RATING_OUTPUTS)

namespace fitwright::bearings {

struct RollerRating {
    template <class T>
    static void run(const T* inputs, T* outputs, const fields::Context&, number::Faults<T>&);
};

// From C++: throws DomainError.
RollerRatingOutputs<double> roller_rating(const RollerRatingInputs<double>&,
                                          BearingKind = BearingKind::radial,
                                          Arrangement = Arrangement::tandem);

} // namespace fitwright::bearings
