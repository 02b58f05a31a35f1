// Threads as a drawing writes them: "M75x2-6g", "M10-6H/6g", "1/2-13 UNC-2A", "#10-32 UNF-2B".
#include "iso286_parts.hpp"
#include "thread_parts.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <cstdio>
#include <fitwright/fields/error.hpp>
#include <optional>

namespace fitwright::sizes {

namespace parts {

double rounded(double value, double step) {
    const double steps = value / step;
    return std::floor(steps + 0.5 + 1e-7) * step;
}

std::string millimetres(double metres) {
    char buffer[40];
    std::snprintf(buffer, sizeof buffer, "%.10g", metres * 1e3);
    return buffer;
}

} // namespace parts

namespace {

constexpr const char* wanted =
    "a thread like \"M75x2-6g\", \"M10-6H\", \"1/2-13 UNC-2A\" or \"3-12 UN-2B\"";

[[noreturn]] void refuse(const std::string& path, const std::string& text) {
    throw DomainError({{path, quoted(text) + " is not " + wanted}});
}

// Reads from the front of a text.
struct Reader {
    std::string rest;

    void blanks() { rest.erase(0, std::min(rest.find_first_not_of(" \t"), rest.size())); }
    bool take(const std::string& front) {
        blanks();
        if (rest.compare(0, front.size(), front) != 0)
            return false;
        rest.erase(0, front.size());
        return true;
    }
    std::optional<double> number() {
        blanks();
        double value = 0.0;
        const char* const first = rest.data();
        const auto [end, error] =
            std::from_chars(first, first + rest.size(), value, std::chars_format::fixed);
        if (error != std::errc() || !std::isfinite(value) || value < 0.0)
            return std::nullopt;
        rest.erase(0, static_cast<std::size_t>(end - first));
        return value;
    }
    // "5" or "1/2" or "1 1/4" or "1-1/4"; digits only before the stroke.
    std::optional<double> inches() {
        const std::optional<double> first = number();
        if (!first)
            return std::nullopt;
        const bool blank = !rest.empty() && rest.front() == ' ';
        if (take("/")) {
            const std::optional<double> below = number();
            return below && *below > 0.0 ? std::optional(*first / *below) : std::nullopt;
        }
        Reader ahead = *this;
        const bool joined = ahead.take("-") || blank;
        const std::optional<double> above = joined ? ahead.number() : std::nullopt;
        if (above && ahead.take("/")) {
            const std::optional<double> below = ahead.number();
            if (!below || *below <= 0.0)
                return std::nullopt;
            rest = ahead.rest;
            return *first + *above / *below;
        }
        return first;
    }
    std::string word() { // to the next blank, hyphen or stroke
        blanks();
        const std::size_t end = std::min(rest.find_first_of(" \t-/"), rest.size());
        std::string taken = rest.substr(0, end);
        rest.erase(0, end);
        return taken;
    }
    bool done() {
        blanks();
        return rest.empty();
    }
};

// A designation without its class.
struct Body {
    bool metric;
    double nominal; // [m]
    double pitch;   // [m]; metric
    double per_inch;
    std::string series;
};

// Number sizes 0 to 12 and their threads per inch; any other whole number in front is inches.
bool is_number_size(double front, double per_inch) {
    constexpr std::array<std::array<double, 4>, 10> sizes{{{0, 80, 80, 80},
                                                           {1, 64, 72, 72},
                                                           {2, 56, 64, 64},
                                                           {3, 48, 56, 56},
                                                           {4, 40, 48, 48},
                                                           {5, 40, 44, 44},
                                                           {6, 32, 40, 40},
                                                           {8, 32, 36, 36},
                                                           {10, 24, 32, 28},
                                                           {12, 24, 28, 32}}};
    for (const auto& size : sizes)
        if (size[0] == front)
            return std::find(size.begin() + 1, size.end(), per_inch) != size.end();
    return false;
}

double coarse_pitch(double nominal, const std::string& path) {
    std::string fine;
    for (const MetricPitches& row : metric_series()) {
        if (std::abs(row.nominal - nominal) > 1e-9)
            continue;
        if (row.coarse > 0.0)
            return row.coarse;
        for (const double p : row.fine)
            fine += (fine.empty() ? "" : ", ") + parts::millimetres(p);
    }
    const std::string name = "M" + parts::millimetres(nominal);
    throw DomainError({{path, name + " has no coarse pitch (ISO 261); tell the pitch like " + name +
                                  "x" + (fine.empty() ? "2" : fine.substr(0, fine.find(','))) +
                                  (fine.empty() ? "" : "; its fine pitches are " + fine + " mm")}});
}

Body metric_body(Reader& read, const std::string& text, const std::string& path) {
    const std::optional<double> nominal = read.number();
    if (!nominal)
        refuse(path, text);
    Body body{true, *nominal / 1e3, 0.0, 0.0, ""};
    if (read.take("x") || read.take("X") || read.take("\u00d7")) {
        const std::optional<double> pitch = read.number();
        if (!pitch)
            refuse(path, text);
        body.pitch = *pitch / 1e3;
    } else {
        body.pitch = coarse_pitch(body.nominal, path);
    }
    return body;
}

Body unified_body(Reader& read, const std::string& text, const std::string& path) {
    const bool numbered = read.take("#") || read.take("No.") || read.take("no.");
    const std::optional<double> front = read.inches();
    if (!front || !read.take("-"))
        refuse(path, text);
    const std::optional<double> per_inch = read.number();
    const std::string series = read.word();
    if (!per_inch || series.empty())
        refuse(path, text);
    const bool by_number = numbered || is_number_size(*front, *per_inch);
    const double size = by_number ? 0.060 + 0.013 * *front : *front;
    // UNR is the same thread with a rounded root.
    const std::string plain = series.compare(0, 3, "UNR") == 0 ? "UN" + series.substr(3) : series;
    return {false, size * 0.0254, 0.0, *per_inch, plain};
}

Body body_of(Reader& read, const std::string& text, const std::string& path) {
    return read.take("M") ? metric_body(read, text, path) : unified_body(read, text, path);
}

// As it is written, but with one way of writing it.
std::string name_of(const std::string& text) {
    std::string name;
    for (const char c : text)
        if (c != '\t' && (c != ' ' || (!name.empty() && name.back() != ' ')))
            name += c;
    while (!name.empty() && name.back() == ' ')
        name.pop_back();
    return name;
}

ThreadLimits limits_of_body(const Body& body, const std::string& class_text,
                            const std::string& path) {
    return body.metric ? metric_thread(body.nominal, body.pitch, class_text, path)
                       : unified_thread(body.nominal, body.per_inch, body.series, class_text, path);
}

// The hand does not change the limits.
void skip_hand(Reader& read) {
    if (read.take("-") && !read.take("LH"))
        read.rest = "-" + read.rest;
    read.take("LH");
}

} // namespace

ThreadLimits thread(const std::string& text, Feature otherwise, const std::string& path) {
    Reader read{text};
    const Body body = body_of(read, text, path);
    const char* const usual =
        otherwise == Feature::shaft ? (body.metric ? "6g" : "2A") : (body.metric ? "6H" : "2B");
    skip_hand(read);
    std::string class_text = read.take("-") ? read.word() : "";
    if (class_text.empty() && !read.done())
        class_text = read.word(); // "M10 6g"
    skip_hand(read);
    if (!read.done())
        refuse(path, text);
    ThreadLimits found = limits_of_body(body, class_text.empty() ? usual : class_text, path);
    if (!body.metric)
        found.name = name_of(text) + (class_text.empty() ? std::string("-") + usual : "");
    return found;
}

ThreadFit thread_fit(const std::string& text, const std::string& path) {
    Reader read{text};
    const Body body = body_of(read, text, path);
    const auto wrong = [&]() {
        throw DomainError(
            {{path, quoted(text) + " is not a thread with an internal over an external class "
                                   "like \"M10-6H/6g\" or \"1/2-13 UNC-2B/2A\""}});
    };
    if (!read.take("-"))
        wrong();
    const std::string internal = read.word();
    if (!read.take("/"))
        wrong();
    const std::string external = read.word();
    if (!read.done())
        wrong();
    ThreadFit fit{name_of(text), limits_of_body(body, internal, path),
                  limits_of_body(body, external, path), 0.0, 0.0};
    if (fit.internal.feature != Feature::hole || fit.external.feature != Feature::shaft)
        wrong();
    fit.clearance_least = fit.internal.pitch_diameter.lower - fit.external.pitch_diameter.upper;
    fit.clearance_greatest = fit.internal.pitch_diameter.upper - fit.external.pitch_diameter.lower;
    return fit;
}

} // namespace fitwright::sizes
