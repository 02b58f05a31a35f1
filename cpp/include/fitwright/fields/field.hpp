// Declarations of fields: every input and output is told once, with its name, quantity, allowed
// range, standard value and meaning. One list makes the flat struct the formulas run on and the
// table that bindings, unit parsing, range errors, paths, schema and docs read.
//
//   #define FITWRIGHT_RING(FIELD, RANGED, PART, CHOICE) FIELD(bore, size, ...) ...
//   FITWRIGHT_DECLARE(Ring, "a ring on the shaft", FITWRIGHT_RING)
//
// FIELD  a number                     RANGED  a number with a low and a high end (three numbers)
// PART   another declared struct      CHOICE  one of a few words; structure, not a number
#pragma once

#include <fitwright/fields/quantity.hpp>
#include <limits>
#include <span>

namespace fitwright::fields {

inline constexpr double none = std::numeric_limits<double>::quiet_NaN();
// A standard value that is worked out from other fields when the user leaves the field out.
inline constexpr double worked_out = std::numeric_limits<double>::infinity();
// A field without a standard value must be given.
inline constexpr double required = none;

// Inputs: the allowed range. Outputs: the limits a finding is held against unless the job says
// otherwise (none: no limit).
struct Range {
    double low;
    double high;
    bool low_excluded = false;
};
constexpr Range from_to(double low, double high) { return {low, high}; }
constexpr Range above(double low, double high) { return {low, high, true}; }
constexpr Range unlimited() { return {none, none}; }
constexpr Range at_least(double low) { return {low, none}; }
constexpr Range at_most(double high) { return {none, high}; }

enum class Kind : int { number, low_end, high_end, part, choice };

struct Declaration;

struct Field {
    Kind kind;
    const char* name;
    Quantity quantity;
    Range range;
    double standard; // outputs: the scale of a reserve where the limit is 0
    const char* meaning;
    const Declaration* part = nullptr;
    const char* words = nullptr; // of a choice, separated by '|'; the first is the standard one
};

struct Declaration {
    const char* name;
    const char* meaning;
    std::span<const Field> fields;
    bool has_material; // the part is made of a material, chosen by name
};

template <template <class> class Part>
struct Declared;

#define FITWRIGHT_MEMBER_FIELD(name, quantity, range, standard, meaning) T name;
#define FITWRIGHT_MEMBER_RANGED(name, quantity, range, standard, low, high, meaning)               \
    T name;                                                                                        \
    T name##_low;                                                                                  \
    T name##_high;
#define FITWRIGHT_MEMBER_PART(type, name) type<T> name;
#define FITWRIGHT_MEMBER_CHOICE(name, words, meaning)

#define FITWRIGHT_ROW_FIELD(name, quantity, range, standard, meaning)                              \
    ::fitwright::fields::Field{                                                                    \
        ::fitwright::fields::Kind::number, #name,    ::fitwright::fields::Quantity::quantity,      \
        ::fitwright::fields::range,        standard, meaning},
#define FITWRIGHT_ROW_RANGED(name, quantity, range, standard, low, high, meaning)                  \
    FITWRIGHT_ROW_FIELD(name, quantity, range, standard, meaning)                                  \
    ::fitwright::fields::Field{                                                                    \
        ::fitwright::fields::Kind::low_end, #name "_low", ::fitwright::fields::Quantity::quantity, \
        ::fitwright::fields::range,         low,          meaning " (low end)"},                   \
        ::fitwright::fields::Field{::fitwright::fields::Kind::high_end,                            \
                                   #name "_high",                                                  \
                                   ::fitwright::fields::Quantity::quantity,                        \
                                   ::fitwright::fields::range,                                     \
                                   high,                                                           \
                                   meaning " (high end)"},
#define FITWRIGHT_ROW_PART(type, name)                                                             \
    ::fitwright::fields::Field{::fitwright::fields::Kind::part,                                    \
                               #name,                                                              \
                               ::fitwright::fields::Quantity::ratio,                               \
                               {},                                                                 \
                               0,                                                                  \
                               "",                                                                 \
                               &::fitwright::fields::Declared<type>::declaration},
#define FITWRIGHT_ROW_CHOICE(name, words, meaning)                                                 \
    ::fitwright::fields::Field{::fitwright::fields::Kind::choice,                                  \
                               #name,                                                              \
                               ::fitwright::fields::Quantity::ratio,                               \
                               {},                                                                 \
                               0,                                                                  \
                               meaning,                                                            \
                               nullptr,                                                            \
                               words},

// Use inside namespace fitwright::<room>; close and reopen is done here.
#define FITWRIGHT_STRUCT(Name, LIST)                                                               \
    template <class T>                                                                             \
    struct Name {                                                                                  \
        LIST(FITWRIGHT_MEMBER_FIELD, FITWRIGHT_MEMBER_RANGED, FITWRIGHT_MEMBER_PART,               \
             FITWRIGHT_MEMBER_CHOICE)                                                              \
    };
#define FITWRIGHT_TABLE(room, Name, with_material, text, LIST)                                     \
    template <>                                                                                    \
    struct fitwright::fields::Declared<fitwright::room::Name> {                                    \
        static constexpr Field list[] = {LIST(FITWRIGHT_ROW_FIELD, FITWRIGHT_ROW_RANGED,           \
                                              FITWRIGHT_ROW_PART, FITWRIGHT_ROW_CHOICE)};          \
        static constexpr Declaration declaration{#Name, text, list, with_material};                \
    };
// A part, or the inputs or outputs of a model, in one go (at global scope).
#define FITWRIGHT_DECLARE(room, Name, with_material, text, LIST)                                   \
    namespace fitwright::room {                                                                    \
    FITWRIGHT_STRUCT(Name, LIST)                                                                   \
    }                                                                                              \
    FITWRIGHT_TABLE(room, Name, with_material, text, LIST)

} // namespace fitwright::fields
