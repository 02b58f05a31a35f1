// The service of a bearing in a machine: ratings, oil, friction, told once for a job; and what
// comes of it in a state. Life, creep and frequencies put together for whoever has the ball loads.
#pragma once

#include <fitwright/bearings/life.hpp>
#include <fitwright/bearings/running.hpp>

#define FITWRIGHT_BEARING_SERVICE(FIELD, RANGED, PART, CHOICE)                                     \
    FIELD(make_factor, ratio, from_to(0.3, 1.5), 1.3,                                              \
          "bm of the dynamic rating, where that is left out; with a filling slot 1.1")             \
    FIELD(dynamic_rating, force, above(0.0, 1e9), worked_out,                                      \
          "C of the maker; from the geometry when left out")                                       \
    FIELD(static_rating, force, above(0.0, 1e9), worked_out,                                       \
          "C0 of the maker; from the geometry when left out")                                      \
    FIELD(fatigue_limit, force, above(0.0, 1e9), worked_out,                                       \
          "Cu of the maker; from the geometry when left out")                                      \
    FIELD(contamination_factor, ratio, from_to(0.0, 1.0), worked_out,                              \
          "eC; by lubrication and cleanliness when left out")                                      \
    FIELD(reliability, ratio, from_to(0.5, 0.9999), 0.9, "share of bearings that shall last")      \
    FITWRIGHT_DRAG_FACTORS(FIELD)
FITWRIGHT_DECLARE(bearings, Service, false, "ratings, dirt and friction of a bearing in service",
                  FITWRIGHT_BEARING_SERVICE)

#define FITWRIGHT_OIL_CHOICES(CHOICE)                                                              \
    CHOICE(lubrication, "oil_filtered|oil_bath|grease",                                            \
           "circulating oil with a filter in line; bath or circulating without; grease")           \
    CHOICE(                                                                                        \
        cleanliness, "normal|high|slight|severe|very_severe",                                      \
        "of the oil, -/15/12, -/13/10, -/17/14, -/19/16, -/21/18 of ISO 4406, or of the grease")

#define FITWRIGHT_SERVICE_INPUTS(FIELD, RANGED, PART, CHOICE)                                      \
    PART(bearings::BallRow, row)                                                                   \
    PART(bearings::Service, service)                                                               \
    PART(bearings::Lubricant, oil)                                                                 \
    FITWRIGHT_OIL_CHOICES(CHOICE)                                                                  \
    FIELD(speed, speed, from_to(0.0, 2e5), required, "speed of the inner ring")                    \
    FIELD(oil_temperature, temperature, from_to(-60.0, 300.0), 70.0, "in the bearing")             \
    FIELD(radial_load, force, from_to(0.0, 1e9), 0.0, "radial load")                               \
    FIELD(axial_load, force, from_to(0.0, 1e9), 0.0, "axial load")                                 \
    FIELD(inner_load, force, from_to(0.0, 1e9), required,                                          \
          "of each ball on the inner raceway, all balls alike")                                    \
    FIELD(outer_load, force, from_to(0.0, 1e9), worked_out,                                        \
          "of each ball on the outer raceway; the inner when left out")                            \
    FIELD(inner_angle, angle, from_to(0.0, 1.5707963267948966), worked_out,                        \
          "contact angle at the inner raceway; the nominal one when left out")                     \
    FIELD(outer_angle, angle, from_to(0.0, 1.5707963267948966), worked_out,                        \
          "contact angle at the outer raceway; the inner when left out")                           \
    FIELD(inner_holding, drag_torque, from_to(0.0, 1e9), 0.0,                                      \
          "torque that grip and clamped faces of the inner ring hold")                             \
    FIELD(outer_holding, drag_torque, from_to(0.0, 1e9), 0.0,                                      \
          "torque that pocket and clamped faces of the outer ring hold")
FITWRIGHT_DECLARE(bearings, ServiceInputs, false, "a ball bearing in service, in one state",
                  FITWRIGHT_SERVICE_INPUTS)

// In three lists, since a job may have no pocket of the outer ring, or no oil.
#define FITWRIGHT_SERVICE_FIGURES(FIELD, RANGED, PART, CHOICE)                                     \
    FIELD(equivalent_static_load, force, unlimited(), 1e3, "P0, equivalent load at rest")          \
    FIELD(static_safety, ratio, at_least(1.0), 1.0,                                                \
          "s0 = C0/P0, 1 for normal running (guideline of makers); 1e6 stands for no load")        \
    FIELD(reference_load, force, unlimited(), 1e3, "plain load that costs the same life")          \
    FIELD(load_ratio, ratio, at_most(0.5), 0.1,                                                    \
          "that load over C; above 0.5 the rating does not hold")                                  \
    FIELD(reference_life, revolutions, unlimited(), 1e6, "L10r from the ball loads")               \
    FIELD(equivalent_load, force, unlimited(), 1e3, "P = X Fr + Y Fa of the loads told")           \
    FIELD(least_load_margin, force, at_least(0.0), 100.0,                                          \
          "P less 0.01 C, the least load of ball bearings that turn (common practice of makers): " \
          "below 0 the balls may skid; 1e9 N stands for rest")                                     \
    FIELD(viscosity_ratio, ratio, at_least(1.0), 0.1,                                              \
          "kappa: from 1 on the film parts the surfaces (common practice of makers); below 0.1 "   \
          "ISO 281 is silent; 4 at rest")                                                          \
    FIELD(contamination_factor, ratio, unlimited(), 0.1, "eC: 1 clean, 0 ruinous")                 \
    FIELD(modification_factor, ratio, unlimited(), 0.1, "aISO, 0.1 to 50")                         \
    FIELD(modified_life, revolutions, unlimited(), 1e6, "Lnmr, with oil, dirt and reliability")    \
    FIELD(running_time, lifetime, unlimited(), 3600.0,                                             \
          "the same at the speed; 1e12 s stands for longer, or for rest")                          \
    FIELD(friction_torque, drag_torque, unlimited(), 0.01, "that drags the rings round")           \
    FIELD(inner_margin, drag_torque, at_least(0.0), 0.01,                                          \
          "held less dragged, inner ring; below 0 it creeps")
#define FITWRIGHT_OUTER_HELD(FIELD, RANGED, PART, CHOICE)                                          \
    FIELD(outer_margin, drag_torque, at_least(0.0), 0.01,                                          \
          "held less dragged, outer ring; below 0 it creeps")
#define FITWRIGHT_SERVICE_OUTPUTS(FIELD, RANGED, PART, CHOICE)                                     \
    FITWRIGHT_SERVICE_FIGURES(FIELD, RANGED, PART, CHOICE)                                         \
    FITWRIGHT_OUTER_HELD(FIELD, RANGED, PART, CHOICE)                                              \
    FITWRIGHT_HEARD(FIELD)
FITWRIGHT_DECLARE(bearings, ServiceOutputs, false, "life, creep and frequencies in a state",
                  FITWRIGHT_SERVICE_OUTPUTS)

namespace fitwright::bearings {

struct ServiceModel {
    template <class T>
    static void run(const T* inputs, T* outputs, const fields::Context&, number::Faults<T>&);
};

// From C++: throws DomainError.
ServiceOutputs<double> service(const ServiceInputs<double>&, BearingKind = BearingKind::radial,
                               Arrangement = Arrangement::tandem, Grooves = Grooves::standard,
                               Lubrication = Lubrication::oil_filtered,
                               Cleanliness = Cleanliness::normal);

} // namespace fitwright::bearings
