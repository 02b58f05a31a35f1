#include <fitwright/fields/rules.hpp>

#define FITWRIGHT_TOOLING_RULES(RULE)                                                              \
    RULE(factor_steady, "wanted_factor", ratio, "is below 2, the least for a steady push or pull") \
    RULE(factor_jerked, "wanted_factor", ratio,                                                    \
         "is below 3, the least where a load is handled and may be jerked")                        \
    RULE(factor_suspended, "wanted_factor", ratio,                                                 \
         "is below 5, the least where something is held or hangs while people work at it; rated "  \
         "gear and local lifting rules come first, and no design below that is given here")        \
    RULE(column_range, "length", size,                                                             \
         "of effective length is more than 200 radii of gyration, beyond what any column is used " \
         "at: guide it, shorten it or take a thicker one")                                         \
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
         "and its angle leave less than a tenth of the wrench as lever: turn the adapter round")   \
    RULE(grip_on_wrench, "grip_error", size, "must be below half of the wrench")                   \
    RULE(efficiency_in_order, "efficiency", ratio, "must lie between its low and its high end")

FITWRIGHT_RULES_OF(tooling, FITWRIGHT_TOOLING_RULES)
