// Unified inch threads by the formulas of ASME B1.1 (from memory; that of the major diameter was read)
// with its rounding: allowances, tolerances and basic diameters to 0.0001 in, minor diameters of classes
// 1B and 2B then to 0.001 in from 0.138 in on (ASME B1.30, read). Standard pitches are from memory.
#include "iso286_parts.hpp"
#include "thread_parts.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <fitwright/fields/error.hpp>
#include <fitwright/number/exponential.hpp>
#include <limits>

namespace fitwright::sizes {

namespace {

constexpr double inch = 0.0254;
constexpr double unit = 1e-4; // [in]

// Threads per inch of the coarse, fine and extra-fine series; 0 where there is none.
struct Row {
    double nominal; // [in]
    double coarse, fine, extra_fine;
};
constexpr Row rows[] = {
    {0.060, 0, 80, 0},   {0.073, 64, 72, 0},   {0.086, 56, 64, 0}, {0.099, 48, 56, 0},
    {0.112, 40, 48, 0},  {0.125, 40, 44, 0},   {0.138, 32, 40, 0}, {0.164, 32, 36, 0},
    {0.190, 24, 32, 0},  {0.216, 24, 28, 32},  {0.25, 20, 28, 32}, {0.3125, 18, 24, 32},
    {0.375, 16, 24, 32}, {0.4375, 14, 20, 28}, {0.5, 13, 20, 28},  {0.5625, 12, 18, 24},
    {0.625, 11, 18, 24}, {0.6875, 0, 0, 24},   {0.75, 10, 16, 20}, {0.8125, 0, 0, 20},
    {0.875, 9, 14, 20},  {0.9375, 0, 0, 20},   {1, 8, 12, 20},     {1.0625, 0, 0, 18},
    {1.125, 7, 12, 18},  {1.1875, 0, 0, 18},   {1.25, 7, 12, 18},  {1.3125, 0, 0, 18},
    {1.375, 6, 12, 18},  {1.4375, 0, 0, 18},   {1.5, 6, 12, 18},   {1.5625, 0, 0, 18},
    {1.625, 0, 0, 18},   {1.6875, 0, 0, 18},   {1.75, 5, 0, 0},    {2, 4.5, 0, 0},
    {2.25, 4.5, 0, 0},   {2.5, 4, 0, 0},       {2.75, 4, 0, 0},    {3, 4, 0, 0},
    {3.25, 4, 0, 0},     {3.5, 4, 0, 0},       {3.75, 4, 0, 0},    {4, 4, 0, 0},
};
constexpr std::array<double, 8> constant_pitch{4, 6, 8, 12, 16, 20, 28, 32};

[[noreturn]] void refuse(const std::string& path, const std::string& text) {
    throw DomainError({{path, text}});
}
bool same(double a, double b) { return std::abs(a - b) <= 1e-6; }

const Row* row_at(double nominal) {
    for (const Row& row : rows)
        if (same(row.nominal, nominal))
            return &row;
    return nullptr;
}

std::string number(double value) {
    char buffer[32];
    std::snprintf(buffer, sizeof buffer, "%.6g", value);
    return buffer;
}

// The name of a series must agree with the pitch; UNS is any other pitch.
void require_series(double nominal, double per_inch, const std::string& series,
                    const std::string& path) {
    const Row* row = row_at(nominal);
    const std::string at = number(nominal) + " in";
    if (series == "UN") {
        if (std::none_of(constant_pitch.begin(), constant_pitch.end(),
                         [&](double n) { return same(n, per_inch); }))
            refuse(path,
                   "UN is a series of constant pitch with 4, 6, 8, 12, 16, 20, 28 or 32 threads "
                   "per inch, not " +
                       number(per_inch) + "; other pitches are UNS");
        return;
    }
    if (series == "UNS")
        return;
    const double wanted = row == nullptr    ? 0.0
                          : series == "UNC" ? row->coarse
                          : series == "UNF" ? row->fine
                                            : row->extra_fine;
    if (wanted == 0.0)
        refuse(path, series + " has no thread of " + at + "; other pitches are UN or UNS");
    if (!same(wanted, per_inch))
        refuse(path, series + " at " + at + " has " + number(wanted) + " threads per inch, not " +
                         number(per_inch));
}

// ASME B1.1: minor diameter of internal threads.
double minor_tolerance(double nominal, double pitch, int fit) {
    const double per_inch = 1.0 / pitch;
    const double fine = 0.05 * number::cbrt(pitch * pitch) + 0.03 * pitch / nominal - 0.002;
    const double at_most = 0.394 * pitch;
    if (fit == 3) {
        const double at_least =
            per_inch >= 13.0 - 1e-9 ? 0.23 * pitch - 1.5 * pitch * pitch : 0.12 * pitch;
        return std::min(std::max(fine, at_least), at_most);
    }
    const double coarse = per_inch < 4.0 - 1e-9 ? 0.15 * pitch : 0.25 * pitch - 0.4 * pitch * pitch;
    return nominal < 0.25 - 1e-9 ? std::min(std::max(fine, coarse), at_most) : coarse;
}

} // namespace

ThreadLimits unified_thread(double nominal_metres, double threads_per_inch,
                            const std::string& series, const std::string& class_text,
                            const std::string& path) {
    if (series != "UNC" && series != "UNF" && series != "UNEF" && series != "UN" && series != "UNS")
        refuse(path, quoted(series) + " is not a unified series: UNC, UNF, UNEF, UN or UNS");
    const bool known = class_text.size() == 2 && class_text[0] >= '1' && class_text[0] <= '3' &&
                       (class_text[1] == 'A' || class_text[1] == 'B');
    if (!known)
        refuse(path, quoted(class_text) + " is not a class of ASME B1.1: 1A, 2A, 3A for an "
                                          "external thread, 1B, 2B, 3B for an internal one");
    const double nominal = nominal_metres / inch;
    if (!(nominal >= 0.06 - 1e-9 && nominal <= 6.0 + 1e-9))
        refuse(path, number(nominal) + " in must be from 0.06 to 6 in (ASME B1.1)");
    if (!(threads_per_inch >= 4.0 - 1e-9 && threads_per_inch <= 80.0 + 1e-9))
        refuse(path,
               number(threads_per_inch) + " threads per inch must be from 4 to 80 (ASME B1.1)");
    const double pitch = 1.0 / threads_per_inch;
    if (pitch > nominal / 2.0)
        refuse(path, number(threads_per_inch) + " threads per inch are too coarse for " +
                         number(nominal) + " in");
    require_series(nominal, threads_per_inch, series, path);
    const int fit = class_text[0] - '0';
    const bool shaft = class_text[1] == 'A';
    if (fit == 1 && !((series == "UNC" || series == "UNF") && nominal >= 0.25 - 1e-9))
        refuse(path, "class " + class_text +
                         " is only for UNC and UNF from 1/4 in on (ASME B1.1); class 2" +
                         class_text[1] + " is for all");

    // The length of engagement the tolerance stands for.
    const bool by_diameter =
        series == "UNC" || series == "UNF" || (series == "UN" && threads_per_inch < 8.0 + 1e-6);
    const double engaged = by_diameter ? nominal : 9.0 * pitch;
    const double class_2a = parts::rounded(0.0015 * (number::cbrt(nominal) + std::sqrt(engaged)) +
                                               0.015 * number::cbrt(pitch * pitch),
                                           1e-6);
    const double share = shaft ? (fit == 1   ? 1.5
                                  : fit == 2 ? 1.0
                                             : 0.75)
                               : (fit == 1   ? 1.95
                                  : fit == 2 ? 1.3
                                             : 0.975);
    const auto to_unit = [](double value) { return parts::rounded(value, unit); };
    // Of the rounded tolerance, halves to the even figure: so the printed tables come out.
    const double allowance =
        shaft && fit < 3 ? std::nearbyint(3.0 * std::round(class_2a / unit) / 10.0) * unit : 0.0;
    const double pitch_tolerance = to_unit(share * class_2a);
    const double major = to_unit(nominal);
    const double middle = to_unit(nominal - parts::pitch_diameter_depth * pitch);
    const double minor = to_unit(nominal - parts::minor_depth * pitch);

    ThreadLimits t{};
    t.feature = shaft ? Feature::shaft : Feature::hole;
    t.series = series;
    t.nominal = nominal_metres;
    t.pitch = pitch * inch;
    t.basic_pitch_diameter = middle * inch;
    t.basic_minor = minor * inch;
    // Rounded root of the UNR profile: external height 11/16 H.
    t.root = (nominal - 1.375 * parts::sharp_height * pitch) * inch;
    if (shaft) {
        const double crest = to_unit((fit == 1 ? 0.09 : 0.06) * number::cbrt(pitch * pitch));
        t.fundamental_deviation = -allowance * inch;
        t.major = {(major - allowance - crest) * inch, (major - allowance) * inch};
        t.pitch_diameter = {(middle - allowance - pitch_tolerance) * inch,
                            (middle - allowance) * inch};
        t.minor = {0.0, (minor - allowance) * inch};
    } else {
        double upper = minor + to_unit(minor_tolerance(nominal, pitch, fit));
        double lower = minor;
        if (nominal >= 0.138 - 1e-9) { // ASME B1.30
            lower = parts::rounded(lower, 1e-3);
            upper = fit < 3 ? parts::rounded(upper, 1e-3) : upper;
        }
        t.major = {major * inch, std::numeric_limits<double>::infinity()};
        t.pitch_diameter = {middle * inch, (middle + pitch_tolerance) * inch};
        t.minor = {lower * inch, upper * inch};
    }
    t.name = number(nominal) + "-" + number(threads_per_inch) + " " + series + "-" + class_text;
    return t;
}

} // namespace fitwright::sizes
