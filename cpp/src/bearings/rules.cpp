#include <fitwright/fields/rules.hpp>

#define FITWRIGHT_BEARINGS_RULES(RULE)                                                             \
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

FITWRIGHT_RULES_OF(bearings, FITWRIGHT_BEARINGS_RULES)
