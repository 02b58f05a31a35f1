// The rules of all rooms by number.
#include <fitwright/fields/rules.hpp>

namespace fitwright::rules {

#define FITWRIGHT_ROOM(room) extern const Table room##_rules;
FITWRIGHT_ROOMS_WITH_RULES(FITWRIGHT_ROOM)
#undef FITWRIGHT_ROOM

std::span<const Table> tables() {
#define FITWRIGHT_ROOM(room) room##_rules,
    static const Table all[] = {FITWRIGHT_ROOMS_WITH_RULES(FITWRIGHT_ROOM)};
#undef FITWRIGHT_ROOM
    return all;
}

const Row& row_of(number::Rule rule) {
    static constexpr Row none{"none", "", fields::Quantity::ratio, ""};
    if (rule == number::no_rule)
        return none;
    const auto place = static_cast<std::size_t>(rule - 1);
    return tables()[place / most_in_a_room][place % most_in_a_room];
}

} // namespace fitwright::rules
