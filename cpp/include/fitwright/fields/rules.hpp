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
    RULE(history_incomplete, "states", count,                                                      \
         "every state tells of every part, and there is one at least")                             \
    RULE(history_ring_order, "steps", count,                                                       \
         "rings go on one after another from the shoulder, each once")                             \
    RULE(history_ring_needed, "steps", count, "no ring is on the shaft")                           \
    RULE(history_ring_missing, "steps", count, "the nut goes on when every ring is on the shaft")  \
    RULE(history_nut_needed, "steps", count, "the nut is not on")                                  \
    RULE(history_nut_in_the_way, "steps", count, "the nut is on and in the way")                   \
    RULE(history_lock_loose, "steps", count, "a nut is locked when it has been tightened")         \
    RULE(history_press_needed, "steps", count, "there is no press to release")                     \
    RULE(history_press_in_the_way, "steps", count, "release the press first")                      \
    RULE(history_press_direction, "steps", force,                                                  \
         "a press pushes towards the shoulder: not below zero")                                    \
    RULE(history_press_yields, "steps", force,                                                     \
         "of press force is more than the section of the ring bears before it yields")             \
    RULE(history_thread_carries, "steps", force, "is more than the thread can carry")              \
    RULE(history_thrust_nowhere, "steps", force, "of thrust needs a bearing to enter at")          \
    RULE(history_thrust_acts, "steps", force, "of thrust still acts: the nut holds it")            \
    RULE(history_state_unknown, "steps", ratio, "is not the number of a state")                    \
    RULE(history_repeat_range, "steps", ratio,                                                     \
         "is not the number of an earlier step that can be repeated")                              \
    RULE(history_no_equilibrium, "steps", size,                                                    \
         "from the shoulder: forces there found no equilibrium")                                   \
    RULE(joint_unstable, "torque", torque, "the joint has no stable solution")                     \
    RULE(oven_in_material_range, "oven", temperature,                                              \
         "is outside the temperature range of the material data (degC, not kelvin)")               \
    RULE(point_contact, "curvature_x", curvature,                                                  \
         "and its partners make no contact in a point: in both planes the bodies must curve away " \
         "from each other, and less than 7000 times as much in one as in the other")               \
    RULE(inner_groove_open, "inner_curvature", ratio, "must be at least 0.501 and at most 0.6")    \
    RULE(outer_groove_open, "outer_curvature", ratio, "must be at least 0.501 and at most 0.6")    \
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
