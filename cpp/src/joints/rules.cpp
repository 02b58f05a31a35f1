#include <fitwright/fields/rules.hpp>

#define FITWRIGHT_JOINTS_RULES(RULE)                                                               \
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
         "and the place of the thrust cannot be taken by these bolts: two bolts, or bolts all in " \
         "one line, hold no tilting moment; add a bolt beside them")                               \
    RULE(pattern_holds_torque, "torque", torque, "cannot be taken by bolts all in one place")      \
    RULE(hole_in_support, "hole", size,                                                            \
         "must be smaller than the circle the plate is held on: a plate whose hole is outside "    \
         "its bolt circle is held by nothing")                                                     \
    RULE(support_in_plate, "support", size, "must not be larger than the outside of the plate")    \
    RULE(plate_is_held, "support", size,                                                           \
         "of no use to a plate whose edge is free: hold it at the edge of the hole")               \
    RULE(inner_edge_needs_hole, "hole", size,                                                      \
         "must be above 0 where the edge of the hole is guided or held")                           \
    RULE(pressure_on_plate, "pressure_outside", size,                                              \
         "and pressure_inside must lie on the plate, the greater outside, within a clamped "       \
         "support")                                                                                \
    RULE(ring_load_on_plate, "ring_diameter", size,                                                \
         "must lie on the plate, within a clamped support; give it for a plate without a hole")    \
    RULE(centre_load_needs_solid, "centre_load", force,                                            \
         "needs a plate without a hole; give ring_load at the edge of the hole instead")           \
    RULE(centre_load_on_plate, "centre_diameter", size, "must not be larger than the support")     \
    RULE(radius_on_plate, "radius", size, "must lie on the plate, within a clamped support")       \
    RULE(hole_in_bolt_circle, "hole", size,                                                        \
         "must be smaller than the bolt circle: a plate whose hole is outside its bolt circle is " \
         "held by nothing")                                                                        \
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
    RULE(gap_or_clamp, "axial_gap", fine, "of play and a clamp force exclude each other")

FITWRIGHT_RULES_OF(joints, FITWRIGHT_JOINTS_RULES)
