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
         "is wider than the arch: (2 x inner groove curvature - 1) x ball diameter")               \
    RULE(head_above_hole, "head_diameter", size,                                                   \
         "must be larger than the clearance hole: the head would fall through")                    \
    RULE(hole_above_bolt, "hole", size, "must be at least the diameter of the bolt")               \
    RULE(nut_above_hole, "bearing_diameter", size, "must be larger than the clearance hole")       \
    RULE(shank_within_grip, "shank_length", size,                                                  \
         "must not exceed the clamped length: the thread would not reach the nut's face")          \
    RULE(torque_or_preload, "preload", force, "give either torque or preload, and not both")       \
    RULE(layer_thickness_given, "thickness", size, "must be given for every layer")                \
    RULE(layer_around_hole, "outside", size, "must be larger than the clearance hole")             \
    RULE(load_ends_in_order, "load_low", force, "must not be above load")                          \
    RULE(bolt_angle_given, "angle", angle, "must be given for every bolt")                         \
    RULE(pattern_holds_moment, "moment", torque,                                                   \
         "and the place of the thrust cannot be taken by these bolts: two bolts, or bolts "        \
         "all in one line, hold no tilting moment; add a bolt beside them")                        \
    RULE(pattern_holds_torque, "torque", torque, "cannot be taken by bolts all in one place")      \
    RULE(hole_in_support, "hole", size,                                                            \
         "must be smaller than the circle the plate is held on: a plate whose hole is "            \
         "outside its bolt circle is held by nothing")                                             \
    RULE(support_in_plate, "support", size, "must not be larger than the outside of the plate")    \
    RULE(plate_is_held, "support", size,                                                           \
         "of no use to a plate whose edge is free: hold it at the edge of the hole")               \
    RULE(inner_edge_needs_hole, "hole", size,                                                      \
         "must be above 0 where the edge of the hole is guided or held")                           \
    RULE(pressure_on_plate, "pressure_outside", size,                                              \
         "and pressure_inside must lie on the plate, the greater outside, within a clamped "       \
         "support")                                                                                \
    RULE(ring_load_on_plate, "ring_diameter", size,                                                \
         "must lie on the plate, within a clamped support; give it for a plate without a "         \
         "hole")                                                                                   \
    RULE(centre_load_needs_solid, "centre_load", force,                                            \
         "needs a plate without a hole; give ring_load at the edge of the hole instead")           \
    RULE(centre_load_on_plate, "centre_diameter", size, "must not be larger than the support")     \
    RULE(radius_on_plate, "radius", size, "must lie on the plate, within a clamped support")       \
    RULE(hole_in_bolt_circle, "hole", size,                                                        \
         "must be smaller than the bolt circle: a plate whose hole is outside its bolt "           \
         "circle is held by nothing")                                                              \
    RULE(bolts_in_plate, "outside", size, "of the plate must be larger than the bolt circle")      \
    RULE(heel_on_rim, "heel_diameter", size,                                                       \
         "must lie between the bolt circle and the outside of the plate")                          \
    RULE(ring_outside_above_inside, "outside", size, "must be larger than the inside of the ring") \
    RULE(contact_on_face, "contact_diameter", size, "must lie on the face of the ring")            \
    RULE(ring_under_plate, "contact_diameter", size,                                               \
         "is inside the hole of the plate: the plate does not touch the ring there")               \
    RULE(shoulder_below_ring, "shoulder_inside", size,                                             \
         "must be smaller than the outside of the ring: the ring would fall through")              \
    RULE(bolts_beside_ring, "bolt_circle", size,                                                   \
         "must clear the ring by the clearance holes: outside of the ring plus hole")              \
    RULE(whole_bolts, "bolts", count, "must be a whole number")                                    \
    RULE(two_bolts_hold_no_moment, "bolts", count,                                                 \
         "hold no tilting moment about the line through both: take three or more")                 \
    RULE(bolt_heads_fit, "bolts", count, "do not fit side by side on the bolt circle")             \
    RULE(plate_on_face, "plate_diameter", size,                                                    \
         "must lie on the face of the ring, from its shoulder to its outside")                     \
    RULE(shoulder_on_face, "shoulder_diameter", size,                                              \
         "must lie on the face of the ring, from its shoulder to its outside")                     \
    RULE(clamp_ends_in_order, "clamp_force_high", force, "must not be below clamp_force")          \
    RULE(gap_or_clamp, "axial_gap", fine, "of play and a clamp force exclude each other")          \
    RULE(factor_steady, "wanted_factor", ratio, "is below 2, the least for a steady push or pull") \
    RULE(factor_jerked, "wanted_factor", ratio,                                                    \
         "is below 3, the least where a load is handled and may be jerked")                        \
    RULE(factor_suspended, "wanted_factor", ratio,                                                 \
         "is below 5, the least where something is held or hangs while people work at it; "        \
         "rated gear and local lifting rules come first, and no design below that is given "       \
         "here")                                                                                   \
    RULE(column_range, "length", size,                                                             \
         "of effective length is more than 200 radii of gyration, beyond what any column is "      \
         "used at: guide it, shorten it or take a thicker one")                                    \
    RULE(outside_of_tube, "diameter", size, "must be larger than the bore")                        \
    RULE(width_is_greater_side, "width", size,                                                     \
         "must be the greater side: it bends over the smaller one")                                \
    RULE(sleeve_wall, "outside", size, "must be larger than the bore of the sleeve")               \
    RULE(sleeve_meets_face, "inside", size, "of the sleeve leaves nothing of the face to push on") \
    RULE(face_has_width, "outside", size, "must be larger than the inside of the face")            \
    RULE(piston_area, "piston_diameter", size, "must be larger than the hole in the piston")       \
    RULE(screw_pitch_given, "screw_pitch", size, "must be given with the diameter of the screw")   \
    RULE(hook_in_groove, "hook_thickness", size,                                                   \
         "does not go into the groove: it is thicker than the groove is wide")                     \
    RULE(hook_reaches_bottom, "hook_reach", size, "is more than the groove is deep")               \
    RULE(rod_through_hole, "hole", size, "must be at least the diameter of the rod")               \
    RULE(nut_over_hole, "nut_diameter", size,                                                      \
         "must be larger than the hole in the plate: there is nothing to weld it to")              \
    RULE(nut_in_bolt_circle, "nut_diameter", size, "must be smaller than the bolt circle")         \
    RULE(whole_sides, "weld_sides", count, "must be a whole number")                               \
    RULE(something_to_hold, "journal_friction", force,                                             \
         "of load: there is nothing to hold; tell friction, slope or another force")               \
    RULE(socket_wall, "outside", size, "must be larger than the bore of the socket")               \
    RULE(tooth_in_slot, "tooth_width", size, "does not go into the slot")                          \
    RULE(tooth_for_slot, "teeth", count, "are more than the nut has slots")                        \
    RULE(whole_teeth, "teeth", count, "must be a whole number")                                    \
    RULE(circle_on_nut, "circle", size, "must be smaller than the outside of the nut")             \
    RULE(nut_around_thread, "outside", size, "must be larger than the thread")                     \
    RULE(slots_leave_land, "slot_width", size,                                                     \
         "leaves no land between the slots at the circle where the driver pushes")                 \
    RULE(adapter_turns_back, "adapter_length", size,                                               \
         "and its angle leave less than a tenth of the wrench as lever: turn the adapter "         \
         "round")                                                                                  \
    RULE(grip_on_wrench, "grip_error", size, "must be below half of the wrench")                   \
    RULE(efficiency_in_order, "efficiency", ratio, "must lie between its low and its high end")

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
