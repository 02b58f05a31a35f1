#include <fitwright/fields/rules.hpp>

#define FITWRIGHT_FIELDS_RULES(RULE)                                                               \
    RULE(in_range, "", ratio, "is outside its allowed range")                                      \
    RULE(finite, "", ratio, "must be a finite number")

FITWRIGHT_RULES_OF(fields, FITWRIGHT_FIELDS_RULES)
