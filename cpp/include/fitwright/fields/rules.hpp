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
    RULE(heat_data_told, "material", conductivity,                                                 \
         "of conductivity, or no heat capacity: a material needs both for heat through time")      \
    RULE(window_opens, "oven", temperature,                                                        \
         "would open the bore by the slip clearance; at what is set the working window is zero "   \
         "seconds. Set the oven higher, or where the ring may not be so hot chill the shaft: "     \
         "heat.chill tells how far")                                                               \
    RULE(grips_at_room, "interference", fine,                                                      \
         "is what is left at room temperature: the ring never grabs there")                        \
    RULE(oven_above_room, "oven", temperature,                                                     \
         "is not above the room; a ring that slips on cold needs no oven")                         \
    RULE(target_between, "target", temperature,                                                    \
         "must lie above the temperature at the start and within the range of the material data")  \
    RULE(target_reached, "heat_flux", temperature,                                                 \
         "is as warm as the ring gets: the air takes all the heat; more of it, or less air")       \
    RULE(start_in_material_range, "start", temperature,                                            \
         "is outside the temperature range of the material data (degC, not kelvin)")               \
    RULE(ambient_in_material_range, "ambient", temperature,                                        \
         "is outside the temperature range of the material data (degC, not kelvin)")               \
    RULE(soaked_already, "start", temperature,                                                     \
         "is within core_within of the oven already: there is nothing to wait for")                \
    RULE(grip_to_free, "interference", fine,                                                       \
         "does not grip at this temperature: there is nothing to loosen")                          \
    RULE(chill_opens, "shaft_temperature", fine,                                                   \
         "of clearance is missing with the ring at its heating limit and the shaft at its lowest " \
         "allowed temperature: a smaller interference, a ring material that may be hotter, or "    \
         "pressing on")                                                                            \
    RULE(chill_in_material_range, "shaft_lowest", temperature,                                     \
         "is below what the material data of the shaft cover; a chill has to end there")           \
    RULE(heat_frees, "heat_flux", fine,                                                            \
         "of opening is missing when the shaft has caught up: heat faster, cool the shaft "        \
         "through its bore, or pull while it is warm (heat.take_off)")                             \
    RULE(outer_above_inner, "outer", size, "must be larger than the inner radius")                 \
    RULE(place_in_body, "place", size, "must lie between the inner and the outer face")            \
    RULE(grip_to_seat, "interference", fine,                                                       \
         "does not grip: a ring with clearance has no seating gap of its own")                     \
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
