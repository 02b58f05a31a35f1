// What the mesh costs: the same history on three meshes, each halving the one before, and what Richardson
// makes of it. A peak of stress that grows with every mesh is refused: at a sharp edge there is none.
#pragma once

#include <fitwright/stack/section_history.hpp>
#include <string>

namespace fitwright::stack {

enum class Trend : signed char {
    converges, // differences shrink: limit and order are told
    settled,   // the last two agree to 0.2 % of the scale: nothing left to act on
    unsteady   // differences do not shrink
};

// A result on three meshes. Limit is what finer meshes run to, f + (f - m)/(2^order - 1) with
// 2^order = (m - c)/(f - m) (L. F. Richardson 1911; from memory); error is how far the middle mesh, which
// is the usual one, is from it. Unsteady: the limit is the fine value, the error the largest difference.
struct Refined {
    double coarse = 0.0, middle = 0.0, fine = 0.0;
    double limit = 0.0, order = 0.0, error = 0.0;
    Trend trend = Trend::settled;
};
// `scale`: what a difference is held against to count as none.
Refined refined(double coarse, double middle, double fine, double scale);

struct RefinedStep {
    std::vector<Refined> mean_pressure;        // of each ring
    std::vector<Refined> face_force, face_gap; // shoulder, between rings, nut
    std::vector<Refined> growth;               // of each outside, shaft first: the mean over it
};

// Pressure along a seat on the fine mesh, with how far the middle one is from it: near an edge that is
// modelled sharp the two part.
struct SeatProfile {
    std::vector<double> z, pressure, change;
};

// Largest equivalent stress of a part on three meshes.
struct Peak {
    int part = 0;            // 0: the shaft
    double z = 0.0, r = 0.0; // where it is on the fine mesh
    Refined von_mises;
    bool refused = false; // it does not converge, and must not be used
    std::string text;     // why, with the radius that was modelled
};

struct SectionRefinement {
    std::vector<RefinedStep> steps;
    std::vector<SeatProfile> seats; // at `looked_at`
    std::vector<Peak> peaks;        // at `looked_at`, of each part
    std::size_t unknowns[3] = {};
};

// `fineness.halvings` is not used: 0, 1 and 2 are run. Seats and peaks are those of step `looked_at`.
// Throws DomainError as `section_history` does.
SectionRefinement section_refinement(const bodies::StackSection& stack,
                                     const SectionHistory<double>& history, std::size_t looked_at,
                                     bodies::Fineness fineness = {},
                                     bodies::Cache* cache = nullptr);

} // namespace fitwright::stack
