// Limits of size of screw threads: ISO metric (ISO 68-1, 261, 724, 965-1) from "M75x2-6g" and unified
// inch (ASME B1.1) from "3-12 UN-2A". Where the values come from is told in
// src/sizes/thread_metric.cpp, thread_unified.cpp and docs/sizes.md.
#pragma once

#include <fitwright/sizes/iso286.hpp>
#include <fitwright/sizes/thread_slack.hpp>

namespace fitwright::sizes {

// [m]; an end that the standard leaves open is infinite (the crest of a nut's root) or 0.
struct SizeRange {
    double lower;
    double upper;
};

struct ThreadLimits {
    std::string name; // "M75x2-6g", "1/2-13 UNC-2A"
    Feature feature;  // hole: internal thread
    // ISO 261: "coarse", "fine", or "not listed"; else UNC, UNF, UNEF, UN, UNS.
    std::string series;
    double nominal; // major diameter of the basic profile [m]
    double pitch;   // [m]
    double basic_pitch_diameter;
    double basic_minor;
    double root;                  // of the rounded root of the external design profile
    double fundamental_deviation; // of all diameters, from the basic profile to the near limit
    SizeRange major;
    SizeRange pitch_diameter;
    // Internal: between crests. External: upper at a flat root, lower at the deepest rounded root.
    SizeRange minor;
};

// An internal and an external thread of one size.
struct ThreadFit {
    std::string name;
    ThreadLimits internal;
    ThreadLimits external;
    double clearance_least; // on the pitch diameter [m]
    double clearance_greatest;
};

// Each throws DomainError; `path` is the field the error speaks of. Without a pitch a metric thread
// is of the coarse series; without a class it is 6g or 2A (`Feature::shaft`), 6H or 2B.
ThreadLimits thread(const std::string& text, Feature otherwise = Feature::shaft,
                    const std::string& path = "thread");
ThreadFit thread_fit(const std::string& text, const std::string& path = "thread"); // "M10-6H/6g"
ThreadLimits metric_thread(double nominal, double pitch, const std::string& class_text,
                           const std::string& path = "thread");
// Series "UNC", "UNF", "UNEF", "UN" (the constant-pitch series) or "UNS"; class "2A".
ThreadLimits unified_thread(double nominal, double threads_per_inch, const std::string& series,
                            const std::string& class_text, const std::string& path = "thread");

ThreadSlack thread_slack(const ThreadFit& fit);
enum class ThreadSystem : int { iso_metric, unified };
// By the classes of nut and screw, "6H/6g" or "2B/2A"; empty: those. Empty, a size that the tables do
// not have goes by the formulas of ISO 965-1 (from memory), which the tables round.
ThreadSlack thread_slack(ThreadSystem system, double nominal, double pitch,
                         const std::string& classes, const std::string& path = "thread_class");

// ISO 261: pitches of a nominal diameter, the coarse one first [m]; empty when it is not listed.
struct MetricPitches {
    double nominal;
    int choice;    // 1 to 3
    double coarse; // 0 where there is none
    std::vector<double> fine;
};
const std::vector<MetricPitches>& metric_series();

} // namespace fitwright::sizes
