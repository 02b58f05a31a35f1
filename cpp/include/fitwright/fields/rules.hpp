// Every rule a formula can hold its input against, told once: the field it speaks of, the quantity
// of the offending value, and the sentence the user reads.
#pragma once

#include <fitwright/fields/quantity.hpp>
#include <fitwright/number/faults.hpp>

// RULE(identifier, field, quantity, sentence); "{si}" in a sentence stands for the bare number.
#define FITWRIGHT_RULES(RULE)                                                                      \
    RULE(in_range, "", ratio, "is outside its allowed range")                                      \
    RULE(finite, "", ratio, "must be a finite number")                                             \
    RULE(outside_above_bore, "outside", size, "must be larger than the bore")                      \
    RULE(shaft_bore_below_seat, "bore", size, "must be smaller than the seat")                     \
    RULE(ring_outside_above_seat, "outside", size, "must be larger than the seat diameter")        \
    RULE(contact_within_length, "contact_length", size, "must not exceed the length of the ring")  \
    RULE(radius_in_ring, "radius", size, "must lie between bore and outside of the ring")          \
    RULE(interference_told_twice, "interference", fine,                                            \
         "disagrees with seat minus bore; give one of them")                                       \
    RULE(interference_sensible, "interference", fine,                                              \
         "must be below 1 % of the seat diameter (elastic theory ends far earlier)")               \
    RULE(temperature_in_material_range, "temperature", temperature,                                \
         "is outside the temperature range of the material data (degC, not kelvin)")               \
    RULE(                                                                                          \
        surface_speed, "speed", speed,                                                             \
        "gives a surface speed above 300 m/s; a bare number is rad/s: did you mean \"{si} rpm\"?") \
    RULE(ends_in_order, "", ratio, "the low end, the value and the high end must be in order")     \
    RULE(oven_below_limit, "oven", temperature, "is above the heating limit of the part")          \
    RULE(thread_pitch, "pitch", size, "must be below a third of the thread diameter")              \
    RULE(thread_hollow, "shaft_bore", size, "leaves no stress area under the thread")              \
    RULE(thread_not_self_consistent, "thread_friction", ratio,                                     \
         "times the tangent of the lead angle must stay below one")                                \
    RULE(face_diameters, "face_outside", size, "must be larger than the inner face diameter")      \
    RULE(nut_outside, "outside", size, "must be larger than the thread diameter")                  \
    RULE(curvature_above_half, "curvature", ratio, "must be above one half of the ball diameter")  \
    RULE(balls_fit_circle, "balls", count, "do not fit side by side on the pitch circle")          \
    RULE(clearance_below_groove, "clearance", fine,                                                \
         "is so large that the balls cannot touch both grooves")                                   \
    RULE(raceway_in_ring, "raceway", size, "must lie between seat and outside of the inner ring")  \
    RULE(hertz_curvature, "curvature_sum", ratio, "the bodies must touch in a point")              \
    RULE(no_convergence, "", ratio, "the solution did not converge")                               \
    RULE(joint_unstable, "torque", torque, "the joint has no stable solution")                     \
    RULE(oven_in_material_range, "oven", temperature,                                              \
         "is outside the temperature range of the material data (degC, not kelvin)")               \
    RULE(point_contact, "curvature_x", curvature,                                                  \
         "and its partners make no contact in a point: in both planes the bodies must curve away " \
         "from each other, and less than 7000 times as much in one as in the other")               \
    RULE(inner_groove_open, "inner_curvature", ratio, "must be at least 0.501 and at most 0.6")    \
    RULE(outer_groove_open, "outer_curvature", ratio, "must be at least 0.501 and at most 0.6")    \
    RULE(radial_bearing_angle, "contact_angle", angle,                                             \
         "is that of a thrust bearing; radial bearings are rated up to 45 deg")                    \
    RULE(thrust_bearing_angle, "contact_angle", angle,                                             \
         "is that of a radial bearing; thrust bearings are rated above 45 deg")                    \
    RULE(whole_rows, "rows", count, "must be a whole number")                                      \
    RULE(thrust_bearing_rows, "rows", count, "must be 1 for a thrust bearing")                     \
    RULE(opposed_rows, "rows", count, "must be 2 where the rows are opposed")                      \
    RULE(opposed_angle, "contact_angle", angle,                                                    \
         "must be at least 10 deg where ball rows are opposed, above 0 for rollers")               \
    RULE(thrust_bearing_radial_load, "radial_load", force,                                         \
         "is too large for a thrust bearing of one direction: the axial load must be above e "     \
         "times it")                                                                               \
    RULE(rollers_fit_circle, "rollers", count, "do not fit side by side on the pitch circle")      \
    RULE(straight_roller_axial_load, "axial_load", force,                                          \
         "cannot be rated: rollers at a contact angle below 1 deg carry it on their lips")         \
    RULE(viscosity_known, "viscosity", viscosity,                                                  \
         "must be given, or else viscosity_40 and viscosity_100")                                  \
    RULE(viscosity_falls, "viscosity_100", viscosity, "must be below the viscosity at 40 degC")    \
    RULE(fatigue_limit_known, "fatigue_limit", force,                                              \
         "must be given, or else the static_rating it is estimated from")                          \
    RULE(contamination_class_known, "contamination_factor", ratio,                                 \
         "must be given: filtered oil has no class for very severe contamination")                 \
    RULE(load_factor_known, "load_factor", ratio,                                                  \
         "must be given, or else static_rating and equivalent_static_load")                        \
    RULE(shim_below_arch, "shim", fine,                                                            \
         "is wider than the arch: (2 x inner groove curvature - 1) x ball diameter")

namespace fitwright::rules {

enum : number::Rule {
    none = number::no_rule,
#define FITWRIGHT_RULE_NAME(identifier, field, quantity, sentence) identifier,
    FITWRIGHT_RULES(FITWRIGHT_RULE_NAME)
#undef FITWRIGHT_RULE_NAME
};

struct Row {
    const char* identifier;
    const char* field;
    fields::Quantity quantity;
    const char* sentence;
};
const Row& row_of(number::Rule rule);

} // namespace fitwright::rules
