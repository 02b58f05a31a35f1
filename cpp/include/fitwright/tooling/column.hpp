// A strut in compression: Euler, Johnson, and the load off its axis.
#pragma once

#include <fitwright/fields/model.hpp>
#include <fitwright/materials/material.hpp>
#include <fitwright/tooling/parts.hpp>

#define FITWRIGHT_COLUMN_INPUTS(FIELD, RANGED, PART, CHOICE)                                       \
    CHOICE(section, "round|rectangle", "round, hollow where it has a bore; or a flat bar")         \
    FIELD(diameter, size, from_to(1e-5, 3.0), required,                                            \
          "outside diameter, or the smaller side of a flat bar")                                   \
    FIELD(bore, size, from_to(0.0, 3.0), 0.0, "bore of a tube")                                    \
    FIELD(width, size, from_to(1e-5, 3.0), worked_out,                                             \
          "greater side of a flat bar; the smaller one when left out")                             \
    FIELD(length, size, from_to(0.0, 30.0), required, "length between the ends")                   \
    FIELD(end_factor, ratio, from_to(0.5, 2.1), 1.0,                                               \
          "effective over real length: fixed 0.65, fixed and pinned 0.8, pinned 1, one end free "  \
          "2.1 (values for real ends, from memory; ideal ones 0.5, 0.7, 1, 2)")                    \
    FIELD(load, force, above(0.0, 1e9), required, "compressive force")                             \
    FIELD(eccentricity, size, from_to(0.0, 1.0), 0.0, "how far off the axis it acts")              \
    FIELD(yield_strength, stress, above(0.0, 3e9), worked_out,                                     \
          "that of the material when left out")                                                    \
    FIELD(temperature, temperature, from_to(-273.15, 2000.0), 20.0, "temperature of the column")   \
    FITWRIGHT_MATERIAL_FACTORS(FIELD)
FITWRIGHT_DECLARE(tooling, ColumnInputs, true, "a strut and its load", FITWRIGHT_COLUMN_INPUTS)

#define FITWRIGHT_COLUMN_OUTPUTS(FIELD, RANGED, PART, CHOICE)                                      \
    FIELD(area, area, unlimited(), 1e-6, "of the section")                                         \
    FIELD(radius_of_gyration, size, unlimited(), 1e-3, "least radius of gyration k")               \
    FIELD(slenderness, ratio, at_most(200.0), 1.0,                                                 \
          "effective length over k; tools with more are refused (common practice)")                \
    FIELD(transition, ratio, unlimited(), 1.0,                                                     \
          "slenderness from which on Euler holds: sqrt(2 pi^2 E/Sy)")                              \
    FIELD(euler_load, force, unlimited(), 1e3, "load at which a slender column buckles")           \
    FIELD(critical_load, force, unlimited(), 1e3, "Euler's or, below the transition, Johnson's")   \
    FIELD(eccentric_load, force, unlimited(), 1e3,                                                 \
          "load off the axis at which the edge yields (secant formula)")                           \
    FIELD(capacity, force, unlimited(), 1e3, "the lesser of both")                                 \
    FIELD(design_factor, ratio, unlimited(), 1.0, "capacity over load")                            \
    FIELD(edge_stress, stress, unlimited(), 1e6,                                                   \
          "greatest compressive stress under the load; at Euler's load and above, of one just "    \
          "below it")                                                                              \
    FIELD(bow, fine, unlimited(), 1e-6, "sideways deflection at the middle, likewise")             \
    FIELD(shortening, fine, unlimited(), 1e-6, "elastic shortening")
FITWRIGHT_DECLARE(tooling, ColumnOutputs, false, "what a strut bears", FITWRIGHT_COLUMN_OUTPUTS)

namespace fitwright::tooling {

enum class ColumnSection : int { round, rectangle };

struct ColumnModel {
    template <class T>
    static void run(const T* inputs, T* outputs, const fields::Context&, number::Faults<T>&);
};

} // namespace fitwright::tooling
