// The loops that are timed, as the baseline sees them. Instantiated once per level
// (kernels.level.cpp, fit.level.cpp); plain pointers only.
#pragma once

#include <fitwright/fields/formula.hpp>
#include <fitwright/materials/table.hpp>

namespace fitwright::bench {

// A model alone: its formula over packs of inputs laid ready, pack after pack.
struct PackRun {
    const double* inputs; // packs x inputs
    double* outputs;      // inputs of one pack come out here: 64-byte aligned
    int packs, input_count;
    bool faulty; // answer: some lane broke a rule
};
template <class Level>
void run_packs(fields::Formulas<Level>, PackRun&, const fields::Context&);

// The essential fit: what a hand-written loop would compute of it, and from what.
struct FitColumns {
    const double *seat, *shaft_bore, *outside, *interference, *seat_roughness, *ring_roughness;
    const double* smoothing;
    const double *shaft_temperature, *ring_temperature, *speed, *axial_force;
    const double *shaft_modulus, *shaft_expansion, *ring_modulus, *ring_expansion; // factors
    double* pressure;
    double* broken; // 0 where every rule holds; the loop by hand can do without (null)
    int count;      // a whole number of packs
};
// The library's formulas (rings::joint_of, rings::pressure_under) on lanes.
template <class Level>
void fit_by_lanes(const FitColumns&, const materials::Material& shaft,
                  const materials::Material& ring);
// The yardstick: one plain loop over the arrays, compiled with the same flags.
template <class Level>
void fit_by_loop(const FitColumns&, const materials::Material& shaft,
                 const materials::Material& ring);

// Hinges of the property tables the loop is written for: 4340 and 52100 (checked when it runs).
inline constexpr int shaft_modulus_hinges = 8, shaft_expansion_hinges = 5;
inline constexpr int ring_modulus_hinges = 6, ring_expansion_hinges = 4;

// A model that computes nothing: a study of it is sampling alone.
struct Nothing {
    template <class T>
    static void run(const T*, T*, const fields::Context&, number::Faults<T>&) {}
};

} // namespace fitwright::bench
