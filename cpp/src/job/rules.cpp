#include <fitwright/fields/rules.hpp>

#define FITWRIGHT_JOB_RULES(RULE)                                                                  \
    RULE(seal_needs_hollow_shaft, "face", size,                                                    \
         "is the bore of a solid shaft; a seal at the bore needs a hollow one")                    \
    RULE(oven_below_limit, "oven", temperature, "is above the heating limit of the part")          \
    RULE(raceway_in_ring, "raceway", size, "must lie between seat and outside of the inner ring")

FITWRIGHT_RULES_OF(job, FITWRIGHT_JOB_RULES)
