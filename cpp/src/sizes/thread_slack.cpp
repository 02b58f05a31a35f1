// What is left of the overlap of two threads at the limits of their classes.
#include "thread_parts.hpp"

#include <cmath>
#include <fitwright/fields/error.hpp>
#include <fitwright/number/number.hpp>

namespace fitwright::sizes {

namespace {

constexpr double um = 1e-6;
constexpr double inch = 0.0254;

// ISO 965-1, grade 6, positions H and g (formulas from memory; checked against the tables): P and d in
// mm, deviations in um.
ThreadSlack by_formula(double nominal, double pitch) {
    const double p = pitch * 1e3;
    const double d = nominal * 1e3;
    const double away = 15.0 + 11.0 * p;
    const double pitch_tolerance = 90.0 * number::power(p, 0.4) * number::power(d, 0.1);
    const double major = 180.0 * number::cbrt(p * p) - 3.15 / std::sqrt(p);
    const double minor =
        p < 1.0 ? 433.0 * p - 190.0 * number::power(p, 1.22) : 230.0 * number::power(p, 0.7);
    return {(away + major) * um, (away + pitch_tolerance) * um, minor * um,
            1.32 * pitch_tolerance * um};
}

// A pitch is what was cut: a measured one stands for the listed one next to it.
double listed_pitch(double pitch) {
    double nearest = pitch;
    double off = 0.01;
    for (const MetricPitches& row : metric_series()) {
        std::vector<double> all = row.fine;
        if (row.coarse > 0.0)
            all.push_back(row.coarse);
        for (const double listed : all)
            if (std::abs(listed / pitch - 1.0) < off) {
                off = std::abs(listed / pitch - 1.0);
                nearest = listed;
            }
    }
    return nearest;
}
double listed_per_inch(double per_inch) {
    const double half = std::round(per_inch * 2.0) * 0.5; // 4 1/2 threads per inch
    return std::abs(half / per_inch - 1.0) < 0.01 ? half : per_inch;
}

// The series of a pitch decides the length of engagement its tolerance stands for.
ThreadLimits unified(double nominal, double pitch, const std::string& class_text,
                     const std::string& path) {
    for (const char* series : {"UNC", "UNF", "UNEF", "UN"})
        try {
            return unified_thread(nominal, listed_per_inch(inch / pitch), series, class_text, path);
        } catch (const DomainError&) {
            continue; // not of that series
        }
    return unified_thread(nominal, listed_per_inch(inch / pitch), "UNS", class_text, path);
}

} // namespace

ThreadSlack thread_slack(const ThreadFit& fit) {
    const ThreadLimits& e = fit.external;
    const ThreadLimits& i = fit.internal;
    return {e.nominal - e.major.lower, e.basic_pitch_diameter - e.pitch_diameter.lower,
            i.minor.upper - i.basic_minor, i.pitch_diameter.upper - i.basic_pitch_diameter};
}

ThreadSlack thread_slack(ThreadSystem system, double nominal, double pitch,
                         const std::string& classes, const std::string& path) {
    const bool metric = system == ThreadSystem::iso_metric;
    const std::string text = !classes.empty() ? classes : metric ? "6H/6g" : "2B/2A";
    const std::size_t slash = text.find('/');
    if (slash == std::string::npos)
        throw DomainError({{path, quoted(text) + " must name the classes of nut and shaft, as \"" +
                                      (metric ? "6H/6g" : "2B/2A") + "\""}});
    const auto limits = [&](const std::string& one) {
        return metric ? metric_thread(nominal, listed_pitch(pitch), one, path)
                      : unified(nominal, pitch, one, path);
    };
    try {
        ThreadFit fit;
        fit.internal = limits(text.substr(0, slash));
        fit.external = limits(text.substr(slash + 1));
        if (fit.internal.feature != Feature::hole || fit.external.feature != Feature::shaft)
            throw DomainError({{path, quoted(text) + " must name the nut's class first"}});
        return thread_slack(fit);
    } catch (const DomainError&) {
        if (!classes.empty())
            throw;
        return by_formula(nominal, pitch);
    }
}

} // namespace fitwright::sizes
