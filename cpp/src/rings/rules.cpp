#include <fitwright/fields/rules.hpp>

#define FITWRIGHT_RINGS_RULES(RULE)                                                                \
    RULE(outside_above_bore, "outside", size, "must be larger than the bore")                      \
    RULE(shaft_bore_below_seat, "bore", size, "must be smaller than the seat")                     \
    RULE(ring_outside_above_seat, "outside", size, "must be larger than the seat diameter")        \
    RULE(contact_within_length, "contact_length", size, "must not exceed the length of the ring")  \
    RULE(radius_in_ring, "radius", size, "must lie between bore and outside of the ring")          \
    RULE(seal_bore_open, "bore", size, "must be above 0 where the bore is the sealing surface")    \
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
        "gives a surface speed above 300 m/s; a bare number is rad/s: did you mean \"{si} rpm\"?")

FITWRIGHT_RULES_OF(rings, FITWRIGHT_RINGS_RULES)
