// Every rule a formula can hold its input against, told once, in the rules.cpp of its room: the field it
// speaks of, the quantity of the offending value, and the sentence the user reads.
//
// A formula names the rules it asks beside itself (`extern const number::Rule point_contact;` in
// fitwright::rules), so that a new rule compiles its room's table and the users of that formula, and the
// linker finds a rule without a row. Only tables and what shows them include this.
#pragma once

#include <fitwright/fields/quantity.hpp>
#include <fitwright/number/faults.hpp>
#include <span>

namespace fitwright::rules {

// Rooms that have rules.
#define FITWRIGHT_ROOMS_WITH_RULES(ROOM)                                                           \
    ROOM(fields)                                                                                   \
    ROOM(rings)                                                                                    \
    ROOM(heat)                                                                                     \
    ROOM(threads) ROOM(bearings) ROOM(stack) ROOM(job) ROOM(joints) ROOM(tooling) ROOM(study)
enum class Room : int {
#define FITWRIGHT_ROOM(room) room,
    FITWRIGHT_ROOMS_WITH_RULES(FITWRIGHT_ROOM)
#undef FITWRIGHT_ROOM
};
inline constexpr number::Rule most_in_a_room = 256; // of 16 rooms (number::rule_of)
constexpr number::Rule number_of(Room room, int place) {
    return static_cast<int>(room) * most_in_a_room + place + 1; // 0: no rule
}

struct Row {
    const char* identifier;
    const char* field;
    fields::Quantity quantity;
    const char* sentence; // "{si}" stands for the bare number
};
// The rows of a room, and of all rooms.
using Table = std::span<const Row>;
std::span<const Table> tables();
const Row& row_of(number::Rule rule);

} // namespace fitwright::rules

// list(RULE) tells rules as RULE(identifier, field, quantity, sentence).
#define FITWRIGHT_RULES_OF(room, list)                                                             \
    namespace fitwright::rules {                                                                   \
    namespace {                                                                                    \
    enum class Place : int { list(FITWRIGHT_RULE_PLACE) count };                                   \
    static_assert(static_cast<int>(Place::count) < most_in_a_room);                                \
    constexpr Room this_room = Room::room;                                                         \
    constexpr Row rows[] = {list(FITWRIGHT_RULE_ROW)};                                             \
    }                                                                                              \
    list(FITWRIGHT_RULE_NUMBER) extern const Table room##_rules;                                   \
    constexpr Table room##_rules{rows};                                                            \
    }
#define FITWRIGHT_RULE_PLACE(identifier, field, quantity, sentence) identifier,
#define FITWRIGHT_RULE_ROW(identifier, field, quantity, sentence)                                  \
    {#identifier, field, fields::Quantity::quantity, sentence},
#define FITWRIGHT_RULE_NUMBER(identifier, field, quantity, sentence)                               \
    extern const number::Rule identifier;                                                          \
    constexpr number::Rule identifier = number_of(this_room, static_cast<int>(Place::identifier));
