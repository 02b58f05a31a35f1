// ISO metric threads: basic profile ISO 68-1 and 724, tolerances ISO 965-1.
#include "iso286_parts.hpp"
#include "thread_metric_tables.hpp"
#include "thread_parts.hpp"

#include <algorithm>
#include <cmath>
#include <fitwright/fields/error.hpp>
#include <limits>

namespace fitwright::sizes {

using namespace tables;

namespace {

constexpr double um = 1e-6;

// Position and grade of one diameter: "6g".
struct Zone {
    int grade;
    char position;
};

bool near(double a, double b) { return std::abs(a - b) <= 1e-9 * std::abs(b); }

[[noreturn]] void refuse(const std::string& path, const std::string& text) {
    throw DomainError({{path, text}});
}

// The member of R40 that is `steps` after the one nearest to `value` [um]. Below 100 um it is rounded to
// whole micrometres, halves to the even neighbour: 37.5 is 38, 42.5 is 42.
double preferred(double value, int steps) {
    constexpr int count = static_cast<int>(r40.size());
    const auto member = [](int n) { // from 10 um
        const int hundredfold = r40[static_cast<std::size_t>(n % count)];
        constexpr double decades[] = {1.0, 1e1, 1e2, 1e3, 1e4};
        return hundredfold / 10.0 * decades[n / count];
    };
    int nearest = 0;
    for (int n = 1; n < 3 * count; ++n)
        if (std::abs(member(n) - value) < std::abs(member(nearest) - value))
            nearest = n;
    const double found = member(nearest + steps);
    return found < 100.0 ? std::nearbyint(found) : found;
}

const PitchRow& row_of(double pitch, const std::string& path) {
    for (const PitchRow& row : pitch_rows)
        if (near(row.pitch / 1e3, pitch))
            return row;
    std::string known;
    for (const PitchRow& row : pitch_rows)
        known += (known.empty() ? "" : ", ") + parts::millimetres(row.pitch / 1e3);
    refuse(path, "pitch " + parts::millimetres(pitch) + " mm is not one of ISO 965-1: " + known);
}

double external_pitch_6(double nominal, double pitch, const std::string& path) {
    std::string known;
    for (const PitchDiameterRow& row : pitch_diameter_rows) {
        if (!(nominal > row.above / 1e3 * (1 + 1e-9) && nominal <= row.to / 1e3 * (1 + 1e-9)))
            continue;
        if (near(row.pitch / 1e3, pitch))
            return row.external6;
        known += (known.empty() ? "" : ", ") + parts::millimetres(row.pitch / 1e3);
    }
    if (known.empty())
        refuse(path, "nominal diameter " + show(nominal, fields::Quantity::size) +
                         " must be from 1 to 355 mm (ISO 965-1)");
    refuse(path, "ISO 965-1 has no tolerance for pitch " + parts::millimetres(pitch) + " mm at " +
                     show(nominal, fields::Quantity::size) + "; it has pitch " + known + " mm");
}

// "6g" is pitch and crest alike, "4g6g" the pitch diameter first.
std::vector<Zone> zones_of(const std::string& text) {
    std::vector<Zone> zones;
    for (std::size_t k = 0; k + 1 < text.size() && zones.size() < 3; k += 2) {
        const char digit = text[k];
        if (digit < '3' || digit > '9')
            return {};
        zones.push_back({digit - '0', text[k + 1]});
    }
    return zones.size() * 2 == text.size() ? zones : std::vector<Zone>{};
}

// Which grades ISO 965-1 has: pitch diameter of a bolt 3 to 9, of a nut 4 to 8, major diameter of a
// bolt 4, 6, 8, minor diameter of a nut 4 to 8; the coarse grades only for larger pitches.
std::string grades_of(Feature feature, bool crest, double pitch) {
    const bool large = pitch >= 0.8e-3 * (1 - 1e-9);
    if (feature == Feature::shaft)
        return crest ? (large ? "4, 6, 8" : "4, 6")
                     : (large                           ? "3, 4, 5, 6, 7, 8, 9"
                        : pitch >= 0.35e-3 * (1 - 1e-9) ? "3, 4, 5, 6, 7"
                                                        : "3, 4, 5, 6");
    if (large)
        return "4, 5, 6, 7, 8";
    if (pitch >= 0.5e-3 * (1 - 1e-9))
        return "4, 5, 6, 7";
    return pitch >= 0.3e-3 * (1 - 1e-9) ? "4, 5, 6" : pitch >= 0.25e-3 * (1 - 1e-9) ? "4, 5" : "4";
}

void require_grade(const Zone& zone, Feature feature, bool crest, double pitch,
                   const std::string& path) {
    const std::string known = grades_of(feature, crest, pitch);
    if (known.find(static_cast<char>('0' + zone.grade)) != std::string::npos)
        return;
    const char* diameter = !crest                      ? "pitch diameter"
                           : feature == Feature::shaft ? "major diameter"
                                                       : "minor diameter";
    refuse(path, "ISO 965-1 defines no grade " + std::to_string(zone.grade) + " of the " +
                     diameter + " of " +
                     (feature == Feature::shaft ? "an external" : "an internal") +
                     " thread with pitch " + parts::millimetres(pitch) + " mm; it has " + known);
}

// From the basic profile to the near limit [um], away from the material of the mate.
double deviation_of(const Zone& zone, const PitchRow& row, const std::string& path) {
    double value = 0.0;
    switch (zone.position) {
    case 'h':
    case 'H':
        return 0.0;
    case 'e':
        value = row.e;
        break;
    case 'f':
        value = row.f;
        break;
    default:
        value = row.g;
    }
    if (value == 0.0)
        refuse(path, std::string("ISO 965-1 defines no position ") + zone.position + " for pitch " +
                         parts::millimetres(row.pitch / 1e3) + " mm; it has f, g and h");
    return value;
}

double major_tolerance(const PitchRow& row, int grade) {
    if (near(row.pitch, 8.0) && grade == 8)
        return 1180.0; // the one value off the steps
    return preferred(row.major6, 4 * (grade - 6));
}

std::string series_of(double nominal, double pitch) {
    for (const MetricPitches& row : metric_series()) {
        if (!near(row.nominal, nominal))
            continue;
        if (near(row.coarse, pitch))
            return "coarse";
        for (const double fine : row.fine)
            if (near(fine, pitch))
                return "fine";
    }
    return "not listed";
}

} // namespace

const std::vector<MetricPitches>& metric_series() {
    static const std::vector<MetricPitches> all = [] {
        std::vector<MetricPitches> list;
        for (const SeriesRow& row : series_rows) {
            MetricPitches made{row.nominal / 1e3, row.choice, row.coarse / 1e3, {}};
            for (const double fine : row.fine)
                if (fine > 0.0)
                    made.fine.push_back(fine / 1e3);
            list.push_back(made);
        }
        return list;
    }();
    return all;
}

ThreadLimits metric_thread(double nominal, double pitch, const std::string& class_text,
                           const std::string& path) {
    std::vector<Zone> zones = zones_of(class_text);
    if (zones.size() == 1)
        zones.push_back(zones.front());
    const bool shaft = zones.size() == 2 && zones[0].position >= 'e' && zones[0].position <= 'h';
    const bool hole = zones.size() == 2 && (zones[0].position == 'G' || zones[0].position == 'H');
    if ((!shaft && !hole) || zones[0].position != zones[1].position)
        refuse(path,
               quoted(class_text) +
                   " is not a class of ISO 965-1: grade and position e, f, g, h (external) or "
                   "G, H (internal) like \"6g\", or of pitch and crest diameter like "
                   "\"4g6g\" and \"5H6H\"");
    const Feature feature = shaft ? Feature::shaft : Feature::hole;
    if (!(nominal > 0.0) || !std::isfinite(nominal))
        refuse(path, "nominal diameter " + show(nominal, fields::Quantity::size) +
                         " must be from 1 to 355 mm (ISO 965-1)");
    const PitchRow& row = row_of(pitch, path);
    const double pitch_6 = external_pitch_6(nominal, pitch, path);
    require_grade(zones[0], feature, false, pitch, path);
    require_grade(zones[1], feature, true, pitch, path);
    const double away = deviation_of(zones[0], row, path) * um;
    const double pitch_tolerance =
        preferred(pitch_6, 4 * (zones[0].grade - 6) + (shaft ? 0 : 5)) * um;

    ThreadLimits t{};
    t.name = "M" + parts::millimetres(nominal) + "x" + parts::millimetres(pitch) + "-" + class_text;
    t.feature = feature;
    t.series = series_of(nominal, pitch);
    t.nominal = nominal;
    t.pitch = pitch;
    // ISO 724 rounds to whole micrometres.
    t.basic_pitch_diameter = parts::rounded(nominal - parts::pitch_diameter_depth * pitch, um);
    t.basic_minor = parts::rounded(nominal - parts::minor_depth * pitch, um);
    // Root truncated by H/6: radius 0.14434 P.
    t.root = nominal - 17.0 / 12.0 * parts::sharp_height * pitch;
    if (shaft) {
        t.fundamental_deviation = -away;
        t.major = {nominal - away - major_tolerance(row, zones[1].grade) * um, nominal - away};
        t.pitch_diameter = {t.basic_pitch_diameter - away - pitch_tolerance,
                            t.basic_pitch_diameter - away};
        // The least root radius is 0.125 P; its bottom lies one radius above the sharp corner.
        t.minor = {t.pitch_diameter.lower - (parts::sharp_height - 0.25) * pitch,
                   t.basic_minor - away};
    } else {
        t.fundamental_deviation = away;
        t.major = {nominal + away, std::numeric_limits<double>::infinity()};
        t.pitch_diameter = {t.basic_pitch_diameter + away,
                            t.basic_pitch_diameter + away + pitch_tolerance};
        t.minor = {t.basic_minor + away,
                   t.basic_minor + away + preferred(row.minor6, 4 * (zones[1].grade - 6)) * um};
    }
    return t;
}

} // namespace fitwright::sizes
