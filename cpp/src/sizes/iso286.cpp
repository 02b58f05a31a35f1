#include <fitwright/sizes/iso286.hpp>

#include "iso286_parts.hpp"
#include "iso286_tables.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <fitwright/fields/error.hpp>

namespace fitwright::sizes {

using namespace tables;

namespace {

// In micrometres, until the very end.
struct Zone {
    double lower = none;
    double upper = none;
    bool defined = false;
};

constexpr double um = 1e6; // per metre

// Steps end at their nominal size; a size read from text may be a rounding off it.
constexpr std::array<double, fine_ends.size()> ends_in_metres = [] {
    std::array<double, fine_ends.size()> ends{};
    for (std::size_t k = 0; k < ends.size(); ++k)
        ends[k] = fine_ends[k] / 1e3 * (1.0 + 1e-12);
    return ends;
}();

// The step of a size, without a branch that depends on the size; size() of the steps when beyond.
std::size_t fine_step(double nominal) {
    std::size_t step = 0;
    for (std::size_t half : {32u, 16u, 8u, 4u, 2u, 1u}) {
        const std::size_t next = step + half;
        const bool beyond = next <= ends_in_metres.size() && nominal > ends_in_metres[next - 1];
        step = beyond ? next : step;
    }
    return step;
}

bool in_range(double nominal) { return nominal > 0.0 && nominal <= ends_in_metres.back(); }

std::size_t main_step(std::size_t fine) {
    return static_cast<std::size_t>(
        std::lower_bound(main_ends.begin(), main_ends.end(), fine_ends[fine]) - main_ends.begin());
}

double grade_width(int grade, std::size_t fine) {
    if (grade < lowest_grade || grade > highest_grade)
        return none;
    if (grade >= 14 && fine == 0) // IT14 to IT18 are not for sizes to 1 mm [MD]
        return none;
    return grades[main_step(fine)][grade - lowest_grade];
}

template <std::size_t N>
std::size_t column(const char* const (&letters)[N], const std::string& wanted) {
    return static_cast<std::size_t>(std::find(std::begin(letters), std::end(letters), wanted) -
                                    std::begin(letters));
}

double amount(const std::string& letters, std::size_t fine) {
    if (const std::size_t c = column(main_letters, letters); c < std::size(main_letters))
        return main_amounts[main_step(fine)][c];
    if (fine >= fine_to_500) {
        const std::size_t c = column(large_letters, letters);
        return c < std::size(large_letters) ? large_amounts[fine - fine_to_500][c] : none;
    }
    const std::size_t c = column(fine_letters, letters);
    return c < std::size(fine_letters) ? fine_amounts[fine > 0 ? fine - 1 : 0][c] : none;
}

bool grade_is_listed(const ToleranceClass& c, std::size_t fine) {
    for (const LetterRow& row : letter_rows) {
        if (c.letters != row.letters)
            continue;
        const bool shaft = c.feature == Feature::shaft;
        const bool everywhere = c.letters == "h" || c.letters == "js";
        const int from = shaft ? row.shaft_from : row.hole_from;
        const int to = shaft ? row.shaft_to : row.hole_to;
        const int least = fine < fine_to_500 || everywhere ? from : std::max(from, 6);
        return c.grade >= least && c.grade <= to;
    }
    return false;
}

Zone from_lower(double lower, double width) { return {lower, lower + width, true}; }
Zone from_upper(double upper, double width) { return {upper - width, upper, true}; }

Zone zone_of_j(const ToleranceClass& c, std::size_t fine, double width) {
    if (fine >= fine_to_500)
        return {};
    const std::size_t step = main_step(fine);
    if (c.feature == Feature::hole)
        return from_upper(hole_j[step][c.grade - 6], width);
    const double below = shaft_j[step][std::max(c.grade - 6, 0)];
    return below == none ? Zone{} : from_lower(-below, width);
}

// A hole from K on: the shaft's amount downwards, but in fine grades the hole of one grade shall fit
// the shaft of the next finer one as the shaft of the grade fits its own: by Delta less.
Zone zone_of_upper_hole(const ToleranceClass& c, std::size_t fine, double width, double shaft) {
    const bool to_3 = fine <= 1;
    const bool to_500 = fine < fine_to_500;
    const bool transition = c.letters == "k" || c.letters == "m" || c.letters == "n";
    if (c.letters == "k" && c.grade > 8 && to_500 && !to_3)
        return {};
    if (c.letters == "n" && c.grade > 8 && to_500)
        // N9 to N11 are not for sizes to 1 mm [MD].
        return fine == 0 ? Zone{} : from_upper(to_3 ? -shaft : 0.0, width);
    double delta = 0.0;
    if (to_500 && !to_3 && c.grade <= (transition ? 8 : 7))
        delta = width - grade_width(c.grade - 1, fine);
    double upper = -shaft + delta;
    if (c.letters == "m" && c.grade == 6 && main_ends[main_step(fine)] == 315)
        upper = -9.0; // instead of -11: the one exception of the standard [MD]
    return from_upper(upper, width);
}

Zone zone_at(const ToleranceClass& c, std::size_t fine) {
    const double width = grade_width(c.grade, fine);
    if (width == none || !grade_is_listed(c, fine))
        return {};
    const bool hole = c.feature == Feature::hole;
    if (c.letters == "h")
        return hole ? from_lower(0.0, width) : from_upper(0.0, width);
    if (c.letters == "js")
        return {-width / 2.0, width / 2.0, true};
    if (c.letters == "j")
        return zone_of_j(c, fine, width);
    const double shaft = amount(c.letters, fine);
    if (shaft == none)
        return {};
    if (c.letters < "h") {
        if (fine == 0 && (c.letters == "a" || c.letters == "b"))
            return {}; // not for sizes to 1 mm [MD]
        return hole ? from_lower(shaft, width) : from_upper(-shaft, width);
    }
    if (hole)
        return zone_of_upper_hole(c, fine, width, shaft);
    // k lies on the nominal size in the other grades [MD].
    const bool on_nominal = c.letters == "k" && (c.grade < 4 || c.grade > 7);
    return from_lower(on_nominal ? 0.0 : shaft, width);
}

void require_range(double nominal, const std::string& path) {
    if (!in_range(nominal))
        throw DomainError({{path, "nominal size " + show(nominal, fields::Quantity::size) +
                                      " must be above 0 and not above 3150 mm (ISO 286)"}});
}

Limits placed(std::string name, Feature feature, double nominal, Deviations d) {
    return {std::move(name), feature, nominal, d, nominal + d.lower, nominal + d.upper};
}

} // namespace

double standard_tolerance(int grade, double nominal) {
    require_range(nominal, "nominal");
    const double width = grade_width(grade, fine_step(nominal));
    if (width == none)
        throw DomainError({{"grade", "IT" + parts::grade_text(grade) + " is not defined for " +
                                         show(nominal, fields::Quantity::size)}});
    return width / um;
}

std::optional<Deviations> deviations(const ToleranceClass& wanted, double nominal) {
    if (!in_range(nominal))
        return std::nullopt;
    const Zone zone = zone_at(wanted, fine_step(nominal));
    if (!zone.defined)
        return std::nullopt;
    return Deviations{zone.lower / um, zone.upper / um};
}

Limits limits(const ToleranceClass& wanted, double nominal, const std::string& path) {
    require_range(nominal, path);
    const std::optional<Deviations> found = deviations(wanted, nominal);
    if (!found)
        throw DomainError({{path, parts::not_defined(wanted, nominal)}});
    return placed(text(nominal, text(wanted)), wanted.feature, nominal, *found);
}

Fit fit(const Limits& hole, const Limits& shaft) {
    const double apart = shaft.nominal - hole.nominal;
    return {hole.name + " with " + shaft.name, hole, shaft,
            apart + (shaft.deviations.lower - hole.deviations.upper),
            apart + (shaft.deviations.upper - hole.deviations.lower)};
}

void limits_of(const ToleranceClass& wanted, std::span<const double> nominal,
               std::span<double> lower, std::span<double> upper) {
    std::array<Zone, fine_ends.size() + 1> zones{}; // the last one, undefined, for sizes beyond
    for (std::size_t k = 0; k < fine_ends.size(); ++k) {
        zones[k] = zone_at(wanted, k);
        zones[k].lower /= um;
        zones[k].upper /= um;
    }
    for (std::size_t i = 0; i < nominal.size(); ++i) {
        const Zone& zone = zones[fine_step(nominal[i])];
        if (!zone.defined || !(nominal[i] > 0.0))
            limits(wanted, nominal[i], "nominal[" + std::to_string(i) + "]"); // says why
        lower[i] = nominal[i] + zone.lower;
        upper[i] = nominal[i] + zone.upper;
    }
}

} // namespace fitwright::sizes
