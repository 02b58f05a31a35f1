#include <fitwright/fields/rules.hpp>

#define FITWRIGHT_JOB_RULES(RULE)                                                                  \
    RULE(seal_needs_hollow_shaft, "face", size,                                                    \
         "is the bore of a solid shaft; a seal at the bore needs a hollow one")                    \
    RULE(oven_below_limit, "oven", temperature, "is above the heating limit of the part")          \
    RULE(raceway_in_ring, "raceway", size, "must lie between seat and outside of the inner ring")  \
    RULE(no_face_to_bear_on, "outside", size,                                                      \
         "and the bore leave no face that meets the part before it, towards the shoulder: one "    \
         "would go through the other")                                                             \
    RULE(no_face_under_nut, "face_outside", size,                                                  \
         "and the inner face diameter leave no face that meets the washer, or the last ring: one " \
         "would go through the other")                                                             \
    RULE(face_inside_in_thread, "face_inside", size,                                               \
         "must not be smaller than the minor diameter of the nut's thread")

FITWRIGHT_RULES_OF(job, FITWRIGHT_JOB_RULES)
