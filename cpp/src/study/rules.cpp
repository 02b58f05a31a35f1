#include <fitwright/fields/rules.hpp>

#define FITWRIGHT_STUDY_RULES(RULE)                                                                \
    RULE(divisor_not_zero, "", ratio, "is divided by: an output of one's own cannot be told")      \
    RULE(root_of_positive, "", ratio, "is below zero: its square root cannot be told")

FITWRIGHT_RULES_OF(study, FITWRIGHT_STUDY_RULES)
