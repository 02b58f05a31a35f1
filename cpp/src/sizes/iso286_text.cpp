// Classes, sizes and fits as they are written, and what is said when they cannot be read.
#include "iso286_parts.hpp"
#include "iso286_tables.hpp"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <cstdio>
#include <fitwright/fields/error.hpp>

namespace fitwright::sizes {

namespace {

bool is_small(char c) { return c >= 'a' && c <= 'z'; }
bool is_capital(char c) { return c >= 'A' && c <= 'Z'; }
bool is_digit(char c) { return c >= '0' && c <= '9'; }
char small(char c) { return is_capital(c) ? static_cast<char>(c - 'A' + 'a') : c; }
char capital(char c) { return is_small(c) ? static_cast<char>(c - 'a' + 'A') : c; }

std::string trimmed(const std::string& text) {
    const std::size_t from = text.find_first_not_of(" \t");
    return from == std::string::npos ? ""
                                     : text.substr(from, text.find_last_not_of(" \t") - from + 1);
}

[[noreturn]] void refuse(const std::string& path, const std::string& text, const char* wanted) {
    throw DomainError({{path, quoted(text) + " is not " + wanted}});
}

// -2 where there is none: "01" is IT01, "0" is IT0, else 1 to 18.
int grade_of(const std::string& digits) {
    if (digits == "01")
        return -1;
    int grade = -2;
    const auto [end, error] = std::from_chars(digits.data(), digits.data() + digits.size(), grade);
    const bool padded = digits.size() > 1 && digits[0] == '0';
    const bool read = error == std::errc() && end == digits.data() + digits.size();
    return read && !padded && grade >= 0 && grade <= tables::highest_grade ? grade : -2;
}

// Letters and grade, whether or not the standard has them.
std::optional<ToleranceClass> split_class(const std::string& text) {
    const auto digits = std::find_if(text.begin(), text.end(), is_digit);
    const std::string letters(text.begin(), digits);
    const bool shaft = std::all_of(letters.begin(), letters.end(), is_small);
    const bool hole = std::all_of(letters.begin(), letters.end(), is_capital);
    const int grade = grade_of(std::string(digits, text.end()));
    if (letters.empty() || letters.size() > 2 || (!shaft && !hole) || grade == -2)
        return std::nullopt;
    std::string name = letters;
    std::transform(name.begin(), name.end(), name.begin(), small);
    return ToleranceClass{hole ? Feature::hole : Feature::shaft, name, grade};
}

// How far two classes are apart, in letters of the alphabet and in grades. A letter that the standard
// leaves out lies between its neighbours.
double distance(const ToleranceClass& a, const ToleranceClass& b) {
    const auto place = [](const std::string& letters) {
        double at = 0.0;
        for (const tables::LetterRow& row : tables::letter_rows) {
            if (letters == row.letters)
                return at;
            if (letters < row.letters)
                return at - 0.5;
            at += 1.0;
        }
        return at;
    };
    return std::abs(place(a.letters) - place(b.letters)) + 0.6 * std::abs(a.grade - b.grade);
}

// The number of millimetres at the front of the text, and what follows it.
struct Nominal {
    double metres;
    std::string rest;
};
Nominal split_nominal(const std::string& text, const std::string& path, const char* wanted) {
    const std::string body = trimmed(text);
    double millimetres = 0.0;
    const char* const last = body.data() + body.size();
    // fixed: "25e8" is a size of 25 mm with the class e8, not a number with an exponent.
    const auto [end, error] =
        std::from_chars(body.data(), last, millimetres, std::chars_format::fixed);
    if (error != std::errc() || !std::isfinite(millimetres) || end == last)
        refuse(path, text, wanted);
    return {millimetres / 1e3, trimmed(std::string(end, last))};
}

constexpr const char* size_wanted = "a nominal size in mm and a tolerance class like \"80 m5\"";
constexpr const char* fit_wanted = "a nominal size in mm and a hole over a shaft like "
                                   "\"120 H7/s6\"";

} // namespace

namespace parts {

std::string grade_text(int grade) { return grade == -1 ? "01" : std::to_string(grade); }

std::string not_defined(const ToleranceClass& wanted, double nominal) {
    std::vector<std::pair<double, std::string>> ranked;
    std::string letter;
    std::string grades; // that the letter has here
    for (const ToleranceClass& c : tolerance_classes()) {
        if (c.feature != wanted.feature || !deviations(c, nominal))
            continue;
        if (c.letters == wanted.letters) {
            letter = text(c).substr(0, c.letters.size());
            grades += (grades.empty() ? "" : ", ") + grade_text(c.grade);
        }
        ranked.emplace_back(distance(wanted, c), text(c));
    }
    std::stable_sort(ranked.begin(), ranked.end(),
                     [](const auto& a, const auto& b) { return a.first < b.first; });
    std::string message = text(wanted) + " is not defined at " +
                          show(nominal, fields::Quantity::size) + " (ISO 286-2" +
                          (grades.empty() ? std::string(": no such letter there")
                                          : ": " + letter + " has the grades " + grades) +
                          "); nearest: ";
    for (std::size_t k = 0; k < ranked.size() && k < 3; ++k)
        message += (k > 0 ? ", " : "") + ranked[k].second;
    return message;
}

} // namespace parts

const std::vector<ToleranceClass>& tolerance_classes() {
    static const std::vector<ToleranceClass> all = [] {
        std::vector<ToleranceClass> list;
        for (const Feature feature : {Feature::hole, Feature::shaft})
            for (const tables::LetterRow& row : tables::letter_rows) {
                const bool hole = feature == Feature::hole;
                const int to = hole ? row.hole_to : row.shaft_to;
                for (int grade = hole ? row.hole_from : row.shaft_from; grade <= to; ++grade)
                    list.push_back({feature, row.letters, grade});
            }
        return list;
    }();
    return all;
}

std::string text(const ToleranceClass& c) {
    std::string letters = c.letters;
    if (c.feature == Feature::hole)
        std::transform(letters.begin(), letters.end(), letters.begin(), capital);
    return letters + parts::grade_text(c.grade);
}

std::string text(double nominal, const std::string& class_text) {
    char buffer[40];
    std::snprintf(buffer, sizeof buffer, "%.10g ", nominal * 1e3);
    return buffer + class_text;
}

ToleranceClass parse_class(const std::string& text, const std::string& path) {
    const std::optional<ToleranceClass> read = split_class(trimmed(text));
    if (!read)
        refuse(path, text,
               "a tolerance class: letters all small (shaft) or all capital (hole) and "
               "a grade from 01 to 18, like \"m5\" or \"H7\"");
    return *read;
}

Limits limits(const std::string& text, const std::string& path) {
    const Nominal size = split_nominal(text, path, size_wanted);
    const std::optional<ToleranceClass> read = split_class(size.rest);
    if (!read)
        refuse(path, text, size_wanted);
    return limits(*read, size.metres, path);
}

Fit fit(const std::string& text, const std::string& path) {
    const Nominal size = split_nominal(text, path, fit_wanted);
    const std::size_t slash = size.rest.find('/');
    if (slash == std::string::npos)
        refuse(path, text, fit_wanted);
    const auto hole = split_class(trimmed(size.rest.substr(0, slash)));
    const auto shaft = split_class(trimmed(size.rest.substr(slash + 1)));
    if (!hole || !shaft || hole->feature != Feature::hole || shaft->feature != Feature::shaft)
        refuse(path, text, fit_wanted);
    Fit found = fit(limits(*hole, size.metres, path), limits(*shaft, size.metres, path));
    found.name = found.hole.name + "/" + sizes::text(*shaft);
    return found;
}

} // namespace fitwright::sizes
