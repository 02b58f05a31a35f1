// The stack step by step on parts in section: seats whose pressure is found point by point and which
// may open, faces that tilt and open in part, friction that remembers. Steps, words and signs are those
// of the history on bars (stack/history.hpp). Theory, limits, checks: docs/theory-bodies.md.
#pragma once

#include <fitwright/bodies/sections.hpp>
#include <fitwright/materials/material.hpp>
#include <fitwright/stack/history.hpp>

namespace fitwright::stack {

// What a state does to the parts: free strain of heat from 20 degC (even over the part), its rise from
// the least to the largest radius, and density times speed squared. The shaft first, then the rings.
template <class T>
struct SectionState {
    std::vector<T> warm, gradient, spin;
};

// A state from temperatures [degC] at the bore (or the axis) and at the outside of each part, even in
// between along r, and the speed [rad/s]. Parts: the shaft, then the rings. Throws DomainError naming
// "temperatures[i]" where a metal has no data.
SectionState<double> section_state(const std::vector<const materials::Entry*>& metals,
                                   const std::vector<double>& inside,
                                   const std::vector<double>& outside, double speed);

template <class T>
struct SectionHistory {
    // Of `parts` friction (without overhang), face_softness, settling and yield_force count; of the states
    // all but the strips, which stay empty.
    History<T> plan;
    std::vector<SectionState<T>> states; // one for each of the plan's
    // At 20 degC at rest, on diameter, of each slice of each ring; those not in contact do not count.
    std::vector<std::vector<T>> interference;
};

template <class T>
struct FacePoint {
    T pressure;
    T gap;
};

// What is told of a step beside `StepResult`. There the force of a face is the whole one, and its gap
// the mean over the face.
template <class T>
struct SectionStep {
    std::vector<T> mean_pressure;                 // of each seat: even over what is in contact
    std::vector<std::vector<FacePoint<T>>> faces; // of each ring towards the shoulder, from inside
    std::vector<T> roll;                          // of each ring: slope of its outside along z
    std::vector<std::vector<T>> growth;           // of each outside, shaft first, outwards
    bodies::SectionActs acts;                     // for `Sections::field`
};

template <class T>
struct SectionResult {
    HistoryResult<T> history;
    std::vector<SectionStep<T>> steps;
};

// Runs histories on one stack of sections, which must outlive it; used by one thread at a time.
template <class T>
class SectionRun {
public:
    explicit SectionRun(const bodies::Sections& sections);
    ~SectionRun();
    SectionRun(SectionRun&&) noexcept;
    // Answers false when result.history.rule is set; the steps before that one are valid.
    bool run(const SectionHistory<T>& history, SectionResult<T>& result);

private:
    struct Workspace;
    std::unique_ptr<Workspace> work_;
};

// For people: throws DomainError with the path "steps[k]", as `history` does.
SectionResult<double> section_history(const bodies::Sections& sections,
                                      const SectionHistory<double>& history);

} // namespace fitwright::stack
