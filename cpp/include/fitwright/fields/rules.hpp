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
    RULE(seal_bore_open, "bore", size, "must be above 0 where the bore is the sealing surface")    \
    RULE(seal_needs_hollow_shaft, "face", size,                                                    \
         "is the bore of a solid shaft; a seal at the bore needs a hollow one")                    \
    RULE(seal_surface_at_face, "surface", size,                                                    \
         "must lie within a tenth of the ring's outside, or bore, that seals")                     \
    RULE(interference_told_twice, "interference", fine,                                            \
         "disagrees with seat minus bore; give one of them")                                       \
    RULE(interference_sensible, "interference", fine,                                              \
         "must be below 1 % of the seat diameter (elastic theory ends far earlier)")               \
    RULE(layer_outside_given, "outside", size, "must be given for every layer")                    \
    RULE(layer_interference_told_twice, "interference", fine,                                      \
         "disagrees with the outside of the layer inside it less its bore; give one of them")      \
    RULE(layer_can_be_opened, "interference", fine,                                                \
         "is more than heat can open: this layer at its heating limit on the layer inside it at "  \
         "the cold end of its data; take a smaller interference or other metals")                  \
    RULE(slice_outside_given, "outside", size, "must be given for every slice")                    \
    RULE(slice_length_given, "length", size, "must be given for every slice")                      \
    RULE(slices_overlap, "start", size,                                                            \
         "lies before the end of the slice before it: slices must not overlap; leave start out "   \
         "to let one follow the other")                                                            \
    RULE(slice_interference_told_twice, "seat", fine,                                              \
         "as seat minus bore of this slice disagrees with interference; give one of them")         \
    RULE(slices_in_contact, "slices", area, "of contact: at least one slice must touch the seat")  \
    RULE(ring_tangent_modulus_low, "ring_tangent_modulus", modulus,                                \
         "must be at most half of Young's modulus of the ring")                                    \
    RULE(shaft_tangent_modulus_low, "shaft_tangent_modulus", modulus,                              \
         "must be at most half of Young's modulus of the shaft")                                   \
    RULE(ring_yields_through, "interference", fine,                                                \
         "makes the whole wall of the ring yield; take less interference, a thicker ring or a "    \
         "stronger metal")                                                                         \
    RULE(shaft_yields_through, "interference", fine,                                               \
         "makes the whole wall of the shaft yield; take less interference, a smaller bore in the " \
         "shaft or a stronger metal")                                                              \
    RULE(bore_temperature_in_range, "bore_temperature", temperature,                               \
         "is outside the temperature range of the material data (degC, not kelvin)")               \
    RULE(outside_temperature_in_range, "outside_temperature", temperature,                         \
         "is outside the temperature range of the material data (degC, not kelvin)")               \
    RULE(friction_above_zero, "friction_low", ratio, "must be above 0")                            \
    RULE(log_profile_hollow, "bore", size, "must be above 0 for a logarithmic profile")            \
    RULE(overhang_range, "contact_length", size,                                                   \
         "is below an eighth of the seat diameter, where the end effect has not been measured; "   \
         "count no more grip than the plain fit gives")                                            \
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
    RULE(thread_lead, "lead", size, "must be a whole number of pitches")                           \
    RULE(thread_overlap, "internal_minor", size,                                                   \
         "must be below the major diameter of the shaft's thread: they do not overlap")            \
    RULE(torque_below_pitch, "torque", torque,                                                     \
         "is less than the pitch alone asks for at this force: measure both again")                \
    RULE(loosening_torque_told, "loosening_torque", torque,                                        \
         "cannot come with that tightening torque at any friction from 0 to 2: measure both "      \
         "again")                                                                                  \
    RULE(angle_or_preload, "preload", force, "give either angle or preload, and not both")         \
    RULE(stretch_or_preload, "preload", force, "give either stretch or preload, and not both")     \
    RULE(preload_above_snug, "preload", force,                                                     \
         "is already reached by the snug torque: nothing is left to turn")                         \
    RULE(body_hollow, "body_diameter", size, "must be larger than the bore of the shaft")          \
    RULE(whole_tabs, "tabs", count, "must be a whole number")                                      \
    RULE(whole_slots, "slots", count, "must be a whole number")                                    \
    RULE(torque_window, "torque_high", torque, "must be above the low end of the torque")          \
    RULE(torque_limit, "torque_limit", torque, "must not be below the high end of the torque")     \
    RULE(face_diameters, "face_outside", size, "must be larger than the inner face diameter")      \
    RULE(nut_outside, "outside", size, "must be larger than the thread diameter")                  \
    RULE(no_face_to_bear_on, "outside", size,                                                      \
         "and the bore leave no face that meets the part before it, towards the shoulder: one "    \
         "would go through the other")                                                             \
    RULE(no_face_under_nut, "face_outside", size,                                                  \
         "and the inner face diameter leave no face that meets the washer, or the last ring: one " \
         "would go through the other")                                                             \
    RULE(face_inside_in_thread, "face_inside", size,                                               \
         "must not be smaller than the minor diameter of the nut's thread")                        \
    RULE(curvature_above_half, "curvature", ratio, "must be above one half of the ball diameter")  \
    RULE(balls_fit_circle, "balls", count, "do not fit side by side on the pitch circle")          \
    RULE(clearance_below_groove, "clearance", fine,                                                \
         "is so large that the balls cannot touch both grooves")                                   \
    RULE(                                                                                          \
        contact_shallow, "thrust", force,                                                          \
        "and the speed press ball and grooves together by more than a twentieth of the ball, far " \
        "beyond what is elastic")                                                                  \
    RULE(thrust_on_arch, "thrust", force,                                                          \
         "pushes against the side of the grooves that has no shoulder")                            \
    RULE(balls_flung_out, "speed", speed,                                                          \
         "flings the balls so far into the outer grooves that the inner ring can pass over them")  \
    RULE(no_running_balance, "speed", speed,                                                       \
         "found no balance of the balls: speed and thrust are far outside what the bearing can "   \
         "run at")                                                                                 \
    RULE(no_loaded_balance, "speed", speed,                                                        \
         "found no balance of the ring on its balls: loads and speed are far outside what the "    \
         "bearing can run at, or so light that no place of the balls is stable")                   \
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
    RULE(planes_apart, "plane_b", size, "must lie further from the shoulder than plane_a")         \
    RULE(second_journal_beyond, "second_journal", size,                                            \
         "must lie beyond the nut, measured from the shoulder")                                    \
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
    RULE(skin_in_material_range, "heat_flux", temperature,                                         \
         "is what it makes of the hottest place of the ring, and the material data end before: "   \
         "heat with less and for longer, or in a bath")                                            \
    RULE(bath_in_material_range, "bath", temperature,                                              \
         "is outside the temperature range of the material data (degC, not kelvin)")               \
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
         "is below what the material data of the shaft cover: leave it out to go to their end, "   \
         "or tell a metal of your own whose data go further")                                      \
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
    RULE(shoulder_in_raceway, "shoulder", size,                                                    \
         "of an outer ring must not be larger than its groove bottom")                             \
    RULE(line_contact, "first_curvature", curvature,                                               \
         "and its partner's must curve the bodies away from each other")                           \
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
