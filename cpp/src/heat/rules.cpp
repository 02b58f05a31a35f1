#include <fitwright/fields/rules.hpp>

#define FITWRIGHT_HEAT_RULES(RULE)                                                                 \
    RULE(no_convergence, "", ratio, "the solution did not converge")                               \
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
    RULE(outside_above_inside, "outside", size, "must be larger than the inside diameter")         \
    RULE(place_in_body, "place", size, "must lie between the inner and the outer face")            \
    RULE(grip_to_seat, "interference", fine,                                                       \
         "does not grip: a ring with clearance has no seating gap of its own")

FITWRIGHT_RULES_OF(heat, FITWRIGHT_HEAT_RULES)
