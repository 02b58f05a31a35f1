// A ring that cools on its seat draws itself off its shoulder: how far, what a press does about it,
// and how to find out.
#pragma once

#include <fitwright/fields/error.hpp>
#include <fitwright/fields/model.hpp>
#include <fitwright/materials/material.hpp>
#include <fitwright/rings/parts.hpp>
#include <span>
#include <vector>

// The three factors of the correction come from one family of finite-element models (docs/
// theory-heat.md): their ends are the two shapes that were calculated.
#define FITWRIGHT_SEATING_INPUTS(FIELD, RANGED, PART, CHOICE)                                      \
    PART(rings::Shaft, shaft)                                                                      \
    PART(rings::Ring, ring)                                                                        \
    FIELD(interference, fine, from_to(-0.1, 0.1), worked_out, "seat minus bore at 20 degC")        \
    FIELD(press_force, force, from_to(0.0, 1e8), 0.0,                                              \
          "axial force that holds the ring against its shoulder while it cools")                   \
    CHOICE(reacted, "outside|shaft",                                                               \
           "where the press force goes: to a frame outside, or back into the shaft itself beyond " \
           "the ring, as by a nut or a puller on its end")                                         \
    RANGED(wall_shear, ratio, from_to(0.0, 1.0), 0.25, 0.21, 0.30,                                 \
           "share of what the press wins that shear of the walls takes back")                      \
    RANGED(springback, ratio, from_to(0.0, 10.0), 1.7, 1.55, 1.84,                                 \
           "opening when the press is taken off, over that of a bar like the shaft")               \
    RANGED(                                                                                        \
        end_effect, ratio, from_to(0.0, 0.5), 0.05, 0.0, 0.10,                                     \
        "share of the gap a shaft that goes on beyond the ring takes away; 0 when it ends with "   \
        "it")                                                                                      \
    FIELD(allowed_gap, fine, from_to(0.0, 1e-3), 5e-6, "gap at the shoulder that may stay")        \
    FIELD(gauge_uncertainty, fine, from_to(0.0, 1e-3), 2e-6,                                       \
          "uncertainty (two deviations) of depth micrometer or indicator")                         \
    FIELD(thinnest_leaf, fine, from_to(1e-6, 1e-3), 30e-6, "thinnest leaf of the feeler gauge")
FITWRIGHT_DECLARE(heat, SeatingInputs, false, "a ring cooling against its shoulder",
                  FITWRIGHT_SEATING_INPUTS)

#define FITWRIGHT_SEATING_OUTPUTS(FIELD, RANGED, PART, CHOICE)                                     \
    FIELD(capacity, force, unlimited(), 1e3, "axial force that makes the cold ring slide")         \
    FIELD(press_share, ratio, unlimited(), 0.1, "press force over that")                           \
    FIELD(stick_point, size, unlimited(), 1e-3,                                                    \
          "distance from the shoulder of the point of the ring that stays put, cold")              \
    FIELD(parting, ratio, unlimited(), 1e-6,                                                       \
          "strain by which ring and shaft part in length from first grip until cold")              \
    FIELD(gap_formula, fine, unlimited(), 1e-6,                                                    \
          "gap at the shoulder while held, by the formula of the rigid walls: a lower bound")      \
    FIELD(gap_held, fine, unlimited(), 1e-6, "gap while held, with shear of the walls")            \
    FIELD(gap, fine, unlimited(), 1e-6, "gap with the press taken off, grip even along the ring")  \
    FIELD(gap_low, fine, unlimited(), 1e-6,                                                        \
          "the same at the lower end of friction and correction")                                  \
    FIELD(gap_high, fine, unlimited(), 1e-6, "the same at the higher end")                         \
    FIELD(gap_margin, fine, at_least(0.0), 1e-6,                                                   \
          "gap allowed at its face less the widest that cooling may leave there")                  \
    FIELD(gap_nut_side_first, fine, unlimited(), 1e-6,                                             \
          "gap, without a press, of a ring that grips at the nut side first; one that grips at "   \
          "the shoulder first has none")                                                           \
    FIELD(gap_least, fine, unlimited(), 1e-6,                                                      \
          "smallest gap any press force leaves once it is taken off")                              \
    FIELD(press_to_slide, force, unlimited(), 1e3,                                                 \
          "force that slides the cold ring home, high end of friction")                            \
    FIELD(clamp_left, force, unlimited(), 1e3,                                                     \
          "clamp that stays at the shoulder; none from a press outside")                           \
    FIELD(reading_shut, size, unlimited(), 1e-3,                                                   \
          "distance from the shoulder to the nut side of the ring, cold and shut")                 \
    FIELD(reading, size, unlimited(), 1e-3, "the same with the gap: what to expect")               \
    FIELD(seen_by_gauge, fine, unlimited(), 1e-6,                                                  \
          "gap less the gauge's uncertainty; negative: the gauge cannot tell it from shut")        \
    FIELD(feeler_reading, fine, unlimited(), 1e-6,                                                 \
          "what a feeler shows: 0 below its thinnest leaf, where it proves nothing")
FITWRIGHT_DECLARE(heat, SeatingOutputs, false, "the gap a cooling ring leaves at its shoulder",
                  FITWRIGHT_SEATING_OUTPUTS)

namespace fitwright::heat {

struct Seating {
    template <class T>
    static void run(const T* inputs, T* outputs, const fields::Context&, number::Faults<T>&);
};

enum class Reaction : int { outside, shaft };
// From C++: throws DomainError.
SeatingOutputs<double> seating(const SeatingInputs<double>&, const materials::Material& shaft,
                               const materials::Material& ring,
                               Reaction reacted = Reaction::outside);

// Rings that cool together under one press force, and rings with steps: slices in order from the
// shoulder, a new ring where `ring` changes.
struct GripSlice {
    int ring;
    double length;  // m
    double grip;    // force per length it can hold, cold [N/m]
    double parting; // strain from first grip until cold
};
// Gap before each ring, in order from the shoulder, while the press holds; rigid walls, grip growing
// everywhere in step. Throws DomainError.
std::vector<double> seating_together(std::span<const GripSlice> slices, double press_force);

} // namespace fitwright::heat
