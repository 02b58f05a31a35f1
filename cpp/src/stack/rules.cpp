#include <fitwright/fields/rules.hpp>

#define FITWRIGHT_STACK_RULES(RULE)                                                                \
    RULE(history_incomplete, "states", count,                                                      \
         "every state tells of every part, and there is one at least")                             \
    RULE(history_ring_order, "steps", count,                                                       \
         "rings go on one after another from the shoulder, each once")                             \
    RULE(history_ring_needed, "steps", count, "no ring is on the shaft")                           \
    RULE(history_part_off, "steps", count, "what is pulled off is not on the shaft")               \
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
    RULE(collar_above_seat, "outside", size, "must be above the first seat: there is no shoulder") \
    RULE(land_on_collar, "land_outside", size, "must not be above the outside of the collar")      \
    RULE(land_beside_seat, "land_inside", size,                                                    \
         "must not be below the first seat: the collar's face begins there")                       \
    RULE(land_meets_ring, "land_inside", size,                                                     \
         "leaves no land that meets the first ring: land_outside and the ring's outside must lie " \
         "above it")                                                                               \
    RULE(fillet_on_collar, "fillet", size,                                                         \
         "is more than the collar bears: its length and its height above the seat")                \
    RULE(beyond_above_bore, "beyond", size, "must be above the bore of the shaft")                 \
    RULE(section_not_meshed, "fidelity", count,                                                    \
         "of section: parts of these sizes cannot be meshed; evaluate this job alone to hear why") \
    RULE(planes_apart, "plane_b", size, "must lie further from the shoulder than plane_a")         \
    RULE(second_journal_beyond, "second_journal", size,                                            \
         "must lie beyond the nut, measured from the shoulder")

FITWRIGHT_RULES_OF(stack, FITWRIGHT_STACK_RULES)
