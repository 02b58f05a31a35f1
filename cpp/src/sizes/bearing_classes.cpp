// Limits in micrometres by steps of nominal size in millimetres; a step holds its upper end.
//
// Sources: public tables that were looked up: bores of class normal and 5, of class 6 to 250 mm and of
// class 4 to 18 mm; outsides of class 5 to 630 mm, of class normal and 6 in inches, to 1 um; clearances
// to 100 mm. All others are from memory (ISO 492, ISO 5753-1).
#include <fitwright/sizes/bearing_classes.hpp>

#include "iso286_parts.hpp"

#include <fitwright/fields/error.hpp>
#include <iterator>

namespace fitwright::sizes {

namespace {

constexpr double none = -1.0;

// How far the mean diameter may lie below the nominal size; none above it.
struct DiameterRow {
    double to;
    double below[4]; // class normal, 6, 5, 4
};
constexpr double bores_above = 0.6;
constexpr DiameterRow bores[] = {{10, {8, 7, 5, 4}},
                                 {18, {8, 7, 5, 4}},
                                 {30, {10, 8, 6, 5}},
                                 {50, {12, 10, 8, 6}},
                                 {80, {15, 12, 9, 7}},
                                 {120, {20, 15, 10, 8}},
                                 {180, {25, 18, 13, 10}},
                                 {250, {30, 22, 15, 12}},
                                 {315, {35, 25, 18, none}},
                                 {400, {40, 30, 23, none}},
                                 {500, {45, 35, 28, none}},
                                 {630, {50, 40, 35, none}},
                                 {800, {75, none, 45, none}},
                                 {1000, {100, none, 60, none}},
                                 {1250, {125, none, 75, none}},
                                 {1600, {160, none, 90, none}},
                                 {2000, {200, none, 115, none}}};
constexpr double outsides_above = 2.5;
constexpr DiameterRow outsides[] = {
    {6, {8, 7, 5, 4}},         {18, {8, 7, 5, 4}},       {30, {9, 8, 6, 5}},
    {50, {11, 9, 7, 6}},       {80, {13, 11, 9, 7}},     {120, {15, 13, 10, 8}},
    {150, {18, 15, 11, 9}},    {180, {25, 18, 13, 10}},  {250, {30, 20, 15, 11}},
    {315, {35, 25, 18, 13}},   {400, {40, 28, 20, 15}},  {500, {45, 33, 23, none}},
    {630, {50, 38, 28, none}}, {800, {75, 45, 35, none}}};
constexpr const char* class_names[] = {"normal", "6", "5", "4"};

// To 100 mm makers' public tables print it, C5 from 50 to 65 mm with a slip of the pen (60 for 90); the
// rest from memory. C5 is not remembered above 250 mm.
struct ClearanceRow {
    double to;
    double range[5][2]; // C2, CN, C3, C4, C5
};
constexpr double clearances_above = 2.5;
constexpr ClearanceRow clearances[] = {
    {10, {{0, 7}, {2, 13}, {8, 23}, {14, 29}, {20, 37}}},
    {18, {{0, 9}, {3, 18}, {11, 25}, {18, 33}, {25, 45}}},
    {24, {{0, 10}, {5, 20}, {13, 28}, {20, 36}, {28, 48}}},
    {30, {{1, 11}, {5, 20}, {13, 28}, {23, 41}, {30, 53}}},
    {40, {{1, 11}, {6, 20}, {15, 33}, {28, 46}, {40, 64}}},
    {50, {{1, 11}, {6, 23}, {18, 36}, {30, 51}, {45, 73}}},
    {65, {{1, 15}, {8, 28}, {23, 43}, {38, 61}, {55, 90}}},
    {80, {{1, 15}, {10, 30}, {25, 51}, {46, 71}, {65, 105}}},
    {100, {{1, 18}, {12, 36}, {30, 58}, {53, 84}, {75, 120}}},
    {120, {{2, 20}, {15, 41}, {36, 66}, {61, 97}, {90, 140}}},
    {140, {{2, 23}, {18, 48}, {41, 81}, {71, 114}, {105, 160}}},
    {160, {{2, 23}, {18, 53}, {46, 91}, {81, 130}, {120, 180}}},
    {180, {{2, 25}, {20, 61}, {53, 102}, {91, 147}, {135, 200}}},
    {200, {{2, 30}, {25, 71}, {63, 117}, {107, 163}, {150, 230}}},
    {225, {{2, 35}, {25, 85}, {75, 140}, {125, 195}, {175, 265}}},
    {250, {{2, 40}, {30, 95}, {85, 160}, {145, 225}, {205, 300}}},
    {280, {{2, 45}, {35, 105}, {90, 170}, {155, 245}, {none, none}}},
    {315, {{2, 55}, {40, 115}, {100, 190}, {175, 270}, {none, none}}},
    {355, {{3, 60}, {45, 125}, {110, 210}, {195, 300}, {none, none}}},
    {400, {{3, 70}, {55, 145}, {130, 240}, {225, 340}, {none, none}}},
    {450, {{3, 80}, {60, 170}, {150, 270}, {250, 380}, {none, none}}},
    {500, {{3, 90}, {70, 190}, {170, 300}, {280, 420}, {none, none}}},
    {560, {{10, 100}, {80, 210}, {190, 330}, {310, 470}, {none, none}}},
    {630, {{10, 110}, {90, 230}, {210, 360}, {340, 520}, {none, none}}},
    {710, {{20, 130}, {110, 260}, {240, 400}, {380, 570}, {none, none}}},
    {800, {{20, 140}, {120, 290}, {270, 450}, {430, 630}, {none, none}}}};
constexpr const char* group_names[] = {"C2", "CN", "C3", "C4", "C5"};

[[noreturn]] void beyond(const char* path, const char* what, double size, double above, double to) {
    using fields::Quantity;
    throw DomainError({{path, std::string(what) + " " + show(size, Quantity::size) +
                                  " must be above " + show(above / 1e3, Quantity::size) +
                                  " and not above " + show(to / 1e3, Quantity::size)}});
}

template <class Row, std::size_t N, class Has>
const Row& row_for(const Row (&rows)[N], double above, double size, const char* path,
                   const char* what, Has has) {
    double to = 0.0;
    for (const Row& row : rows) {
        if (!has(row))
            break;
        to = row.to;
        if (size > above / 1e3 && size <= row.to / 1e3 * (1.0 + 1e-12))
            return row;
    }
    beyond(path, what, size, above, to);
}

std::size_t class_named(const std::string& text) {
    const std::string plain = text.size() == 2 && text[0] == 'P' ? text.substr(1) : text;
    for (std::size_t k = 0; k < std::size(class_names); ++k)
        if (plain == class_names[k] || (k == 0 && text == "P0"))
            return k;
    throw DomainError({{"class_", quoted(text) + " must be \"normal\", \"6\", \"5\" or \"4\" "
                                                 "(ISO 492)"}});
}

template <std::size_t N>
Limits diameter(const DiameterRow (&rows)[N], double above, double nominal,
                const std::string& class_text, Feature feature, const char* what) {
    const std::size_t c = class_named(class_text);
    const std::string name = std::string("class ") + class_names[c];
    const DiameterRow& row =
        row_for(rows, above, nominal, "nominal", (what + (" of " + name)).c_str(),
                [c](const DiameterRow& r) { return r.below[c] != none; });
    const Deviations d{-row.below[c] / 1e6, 0.0};
    return {text(nominal, what + (" of " + name)), feature, nominal, d, nominal + d.lower, nominal};
}

} // namespace

Limits bearing_bore(double nominal, const std::string& class_text) {
    return diameter(bores, bores_above, nominal, class_text, Feature::hole, "bearing bore");
}

Limits bearing_outside(double nominal, const std::string& class_text) {
    return diameter(outsides, outsides_above, nominal, class_text, Feature::shaft,
                    "bearing outside");
}

Clearance bearing_clearance(double bore, const std::string& group) {
    for (std::size_t k = 0; k < std::size(group_names); ++k) {
        if (group != group_names[k])
            continue;
        const ClearanceRow& row = row_for(
            clearances, clearances_above, bore, "bore", ("bearing bore of " + group).c_str(),
            [k](const ClearanceRow& r) { return r.range[k][0] != none; });
        return {group, row.range[k][0] / 1e6, row.range[k][1] / 1e6};
    }
    throw DomainError({{"group", quoted(group) + " must be \"C2\", \"CN\", \"C3\", \"C4\" or "
                                                 "\"C5\" (ISO 5753-1)"}});
}

} // namespace fitwright::sizes
