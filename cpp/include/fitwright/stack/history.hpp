// The stack step by step: how the rings go on, are pressed, clamped, heated, spun, loaded, unloaded
// and taken off again, with one-sided faces and Coulomb friction on every seat.
// Theory, limits and how far it agrees with finite elements: docs/theory-history.md.
//
// A plain C++ interface: whoever has the parts (the job) fills `History<T>` and reads
// `HistoryResult<T>`. T is double or a Dual of the baseline; derivatives are those of the discrete
// path, exact while no contact changes its state.
#pragma once

#include <fitwright/bodies/strip.hpp>
#include <fitwright/fields/stop.hpp>
#include <fitwright/number/faults.hpp>
#include <fitwright/stack/step_kind.hpp>
#include <memory>
#include <string>
#include <vector>

namespace fitwright::stack {

// -- what goes in ---------------------------------------------------------------------------------

// A part between shoulder and nut, counted from the shoulder; what no state changes.
template <class T>
struct HistoryPart {
    T length;
    T contact_length; // of its seat; 0: it does not touch the shaft (a washer)
    T friction;       // of its seat, overhang factor included
    T preslip; // relative movement per friction stress before it slips (bodies::shear_softness)
    T face_softness; // u0 of its face towards the shoulder; 0: flat
    T settling;      // embedding of that face
    T yield_force;   // axial force at which its section yields; 0: not checked
    bool hot = true; // put on hot; else it grips at once where it has interference
};

template <class T>
struct HistoryNut {
    T face_softness; // u0 of the face under the nut
    T settling;      // of that face
    T thread_force;  // what the thread can carry; 0: not checked
};

// A state to be in: temperatures, speed and thrust as they reach the parts.
template <class T>
struct HistoryState {
    std::vector<bodies::Strip<T>> strips; // one for each part
    T nut_compliance;                     // engaged thread, nut body and flanks
    T nut_free; // half the nut's free growth over the shaft's, less its opening on the flanks
    T thrust;   // towards the shoulder
    T settled;  // share of the settling that has happened, 0 to 1; never goes back
};

template <class T>
struct HistoryStep {
    StepKind kind;
    int state = 0; // of `state`
    int first = 0; // of `slip_on` (parts) and `repeat` (steps)
    int last = 0;
    int times = 1; // of `repeat`
    T force = T(0.0);
    Reaction reaction = Reaction::outside;
    int down_to = -1; // of `pull`: the part that comes off last; -1: only the last one on
};

template <class T>
struct History {
    std::vector<HistoryPart<T>> parts;
    HistoryNut<T> nut;
    T shoulder_compliance = T(0.0); // of the shoulder itself and what stands behind it; 0: rigid
    T touch_force; // of a face whose peaks just touch (a thousandth of the tightening force)
    int thrust_inner = -1; // part the thrust enters at when towards the shoulder; -1: no bearing
    int thrust_outer = -1; // and when away from it
    std::vector<HistoryState<T>> states;
    std::vector<HistoryStep<T>> steps;
    int elements = 12;                  // of each part with a seat
    int refinement = 1;                 // sub-steps times this
    const fields::Stop* stop = nullptr; // asked at each sub-step; the answer is then worth nothing
    // A part whose seat touches in no state is one bar: the same forces with fewer points, of which its
    // seat then tells two.
    bool whole_open_parts = false;
};

// -- what comes out -------------------------------------------------------------------------------

enum class Grip : signed char {
    apart,     // no pressure there, or the part is not on
    holds,     // sticks
    slides_in, // towards the shoulder
    slides_out // towards the nut
};

template <class T>
struct SeatPoint {
    T place;    // z from the shoulder
    T pressure; // of the seat
    T friction; // stress on the part, positive towards the shoulder
    T slip;     // of the part on the shaft since it went on, positive towards the nut
    Grip grip;
};

template <class T>
struct Face {
    T force;
    T gap; // 0 when they touch
};

template <class T>
struct StepResult {
    // Faces from the shoulder (0) through each pair of parts to the one under the nut (last).
    std::vector<Face<T>> faces;
    // Points of part i are seats[seat_begin[i]] to before seats[seat_begin[i + 1]].
    std::vector<SeatPoint<T>> seats;
    std::vector<T> seat_force; // friction of a part's whole seat, on the part towards the shoulder
    T nut_force;               // thread force
    T nut_travel;              // how far the nut was turned up since it was put on, as a length
    T pull_force;              // largest force of a `pull`
    // What shoulder, nut and seats took more of in this step. In a `state` they sum to the change of
    // thrust: where it went (with what heat moved between them, when both change in one step).
    T to_shoulder, to_nut, to_seats;
    T dissipated;     // by friction in this step, never negative
    double imbalance; // largest force left over at any point
    int substeps, iterations;
};

template <class T>
struct HistoryResult {
    std::vector<StepResult<T>> steps; // one for each step of the input
    std::vector<int> seat_begin;
    // Nut and shoulder force at the end of each turn of every `repeat`, in order.
    std::vector<T> cycle_nut_force, cycle_shoulder_force;
    // What went wrong; `rule` 0: nothing. The steps before `step` are valid.
    number::Rule rule = number::no_rule;
    int step = -1;
    int part = -1;     // the part spoken of; number of parts: the nut
    double place = 0.; // z of the point that did not settle
    double value = 0.; // the offending value
};

// Runs a history; a workspace is used by one thread at a time and may be used again: once it has
// seen a history of a size it allocates no more.
template <class T>
class HistoryRun {
public:
    HistoryRun();
    ~HistoryRun();
    HistoryRun(HistoryRun&&) noexcept;
    HistoryRun& operator=(HistoryRun&&) noexcept;
    // Answers false when result.rule is set; throws nothing of its own.
    bool run(const History<T>& history, HistoryResult<T>& result);

private:
    struct Workspace;
    std::unique_ptr<Workspace> work_;
};

// For people: throws DomainError with the path "steps[k]" (and the place along the shaft).
HistoryResult<double> history(const History<double>& history);
// The sentence of a broken result, and the error made of it.
std::string history_text(const HistoryResult<double>& result);
[[noreturn]] void refuse_history(const History<double>& history,
                                 const HistoryResult<double>& result);

} // namespace fitwright::stack
