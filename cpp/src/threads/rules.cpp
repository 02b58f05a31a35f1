#include <fitwright/fields/rules.hpp>

#define FITWRIGHT_THREADS_RULES(RULE)                                                              \
    RULE(ends_in_order, "", ratio, "the low end, the value and the high end must be in order")     \
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
    RULE(nut_outside, "outside", size, "must be larger than the thread diameter")

FITWRIGHT_RULES_OF(threads, FITWRIGHT_THREADS_RULES)
