// What shop-made tools are made of, and how a tool is judged.
#pragma once

#include <fitwright/fields/field.hpp>
#include <fitwright/rings/parts.hpp>

// Trapezoidal is what jacks and pullers have. Frictions of a greased steel screw, wider than a nut's:
// common practice.
#define FITWRIGHT_SCREW(FIELD, RANGED, PART, CHOICE)                                               \
    FIELD(diameter, size, from_to(1e-3, 1.0), required, "major diameter of the thread")            \
    FIELD(pitch, size, from_to(1e-4, 0.05), required, "pitch: from thread to thread")              \
    FIELD(lead, size, from_to(1e-4, 0.6), worked_out,                                              \
          "advance in one turn; the pitch (one start) when left out")                              \
    FIELD(engagement, size, from_to(1e-4, 1.0), required, "engaged length of the thread")          \
    FIELD(length, size, from_to(0.0, 10.0), required,                                              \
          "free length in compression, from the nut to the point that pushes, run out furthest")   \
    FIELD(end_factor, ratio, from_to(0.5, 2.1), 1.0,                                               \
          "effective over free length: 1 for a point in a centre hole and a guided nut, 2 when "   \
          "the point can wander")                                                                  \
    FIELD(eccentricity, size, from_to(0.0, 0.1), worked_out,                                       \
          "how far off its axis the screw is loaded; a hundredth of the free length when left "    \
          "out, at least a fiftieth of the diameter")                                              \
    FIELD(point_diameter, size, from_to(0.0, 1.0), worked_out,                                     \
          "mean diameter the point or collar rubs at; 0.4 times the thread's when left out")       \
    RANGED(thread_friction, ratio, from_to(0.0, 1.0), 0.15, 0.08, 0.20,                            \
           "friction between the threads")                                                         \
    RANGED(point_friction, ratio, from_to(0.0, 1.0), 0.15, 0.08, 0.20, "friction at the point")    \
    FIELD(yield_strength, stress, above(0.0, 3e9), worked_out,                                     \
          "yield strength of the screw; that of its material when left out")                       \
    FITWRIGHT_MATERIAL_FACTORS(FIELD)                                                              \
    CHOICE(form, "trapezoidal|acme|square|iso_metric|unified", "form of the thread")
FITWRIGHT_DECLARE(tooling, Screw, true, "a jack screw, a puller screw, a threaded rod",
                  FITWRIGHT_SCREW)

namespace fitwright::tooling {

// The choices of a screw in their order, as the forms of the room threads.
enum class ScrewForm : int { trapezoidal, acme, square, iso_metric, unified };

} // namespace fitwright::tooling

// How a tool is judged. A factor below the least of its loading is refused. Common practice: 2 on yield
// and buckling for what is pushed or pulled by a screw or cylinder under a hand, 3 for what is handled
// and jerked, 5 for what hangs or holds a rotor while people work at it (rated lifting gear has 4 to 5
// on its breaking load; below-the-hook devices 2 and 3 on yield by predictability of the load, ASME
// BTH-1, from memory).
#define FITWRIGHT_TOOL_LOADING(FIELD, CHOICE)                                                      \
    FIELD(wanted_factor, ratio, from_to(1.0, 50.0), worked_out,                                    \
          "design factor wanted on yield and buckling; the least of the loading when left out: "   \
          "steady 2, jerked 3, suspended 5")                                                       \
    CHOICE(loading, "steady|jerked|suspended",                                                     \
           "steady: pushed or pulled slowly, nobody near; jerked: moved by hand or hoist, may "    \
           "slip; suspended: holds or hangs something while people work at it, where rated gear "  \
           "and local lifting rules come first")
#define FITWRIGHT_TOOL_VERDICT(FIELD)                                                              \
    FIELD(design_factor, ratio, unlimited(), 1.0,                                                  \
          "least of all factors: how often the working load until the weakest element yields or "  \
          "buckles")                                                                               \
    FIELD(capacity, force, unlimited(), 1e3, "working load times that factor")                     \
    FIELD(factor_margin, ratio, at_least(0.0), 1.0, "design factor less the one wanted")           \
    FIELD(weakest, count, unlimited(), 1.0,                                                        \
          "which factor is the least, counted from 1 in the order they are told in "               \
          "(fw.tooling.weakest names it)")
