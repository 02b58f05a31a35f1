// Where everything of a job lies in its flat arrays of inputs and outputs. Plain numbers and
// pointers: level files see this and nothing else of a job.
#pragma once

#include <fitwright/fields/formula.hpp>
#include <fitwright/job/attached.hpp>
#include <fitwright/job/limits.hpp>
#include <fitwright/materials/table.hpp>
#include <fitwright/sizes/thread_slack.hpp>

namespace fitwright::job {

class SectionSource;

// quick: closed forms on every number type. history: the steps of the stack as well. heating: what a
// hot ring does through time as well. The outputs of a level follow those of the level before.
enum class Level : int { quick, history, heating };
inline constexpr int level_count = 3;

// What a level adds to the one before, by pointer: it lives in the baseline and knows double and
// duals of one kind. `code` is 0, or tells the first broken rule as Faults does.
struct LevelCalls {
    // Number i of one lane is inputs[i * stride], and the same for the outputs.
    void (*values)(const double* inputs, double* outputs, int stride, const fields::Context&,
                   double& code, double& value); // the offending one
    // Value i is inputs[i * stride], its slopes are the `directions` numbers from `slope_at` on.
    void (*slopes)(const double* inputs, double* outputs, int stride, int slope_at, int directions,
                   const fields::Context&, double& code, bool& one_sided);
};

// A part whose temperature stands above the shaft's by its own lag, in each state.
// Lags lie in the order: rings, nut, lock, outer ring, balls, pocket, seals.
struct Layout {
    int seats, rings, seals, states;
    bool has_lock, has_bearing, has_service;
    bool has_shoulder;            // the collar is told
    bool has_pocket;              // it holds the outer ring: asked with a service
    bool has_pocket_fit;          // the outer ring's fit in it counts in the clearance
    bool has_pocket_lag;          // what holds the outer ring has a temperature of its own
    bool has_plate, plate_at_nut; // over the outer ring; on the nut's side of it
    int thread_form, thread_face_law;
    int hand, rotation;    // of the thread; of the shaft: 0 not told, 1 clockwise, 2 anticlockwise
    int meetings_per_turn; // of lock tabs and slots; 0: none told
    bool has_window, has_torque_window, has_square;
    sizes::ThreadSlack thread_slack; // of nut and shaft, by class, at the sizes the job stands at
    bool has_combined; // a state tells of a radial load or a tilting moment on the bearing
    bool has_arch;     // the bearing's inner ring is in halves
    const materials::Material *shaft, *nut, *lock, *balls, *outer_ring, *pocket;
    const materials::Material* ring_materials[ring_limit];
    int ring_seat[ring_limit];
    bool ring_grips[ring_limit];
    const materials::Material* seal_materials[seal_limit];
    int seal_ring[seal_limit];
    bool seal_at_bore[seal_limit]; // of the shaft under the ring
    int inner_first, inner_last;   // rings that are the bearing's inner ring
    int inner_faces_held;          // its clamped faces whose partner cannot turn on the shaft
    // bearings::BearingKind, Grooves, Lubrication, Cleanliness
    int bearing_kind, grooves, lubrication, cleanliness;
    // What the loop of forces counts: rings, and each slice of a ring that has slices.
    int members;
    int first_member[ring_limit + 1]; // of a ring; those of ring i end where i + 1 begins
    int member_ring[ring_limit];
    int member_slice[ring_limit]; // leaf of its slice; -1: the whole ring
    bool has_slices(int ring) const { return member_slice[first_member[ring]] >= 0; }
    // leaf numbers of the first field
    int rotor_at, nut_at, lock_at, shoulder_in_at, bearing_at, service_at, pocket_at, seats_at,
        rings_at, seals_at, slices_at, states_at;
    int state_size, lags_in_state;
    int torques; // rings that pass a torque to the shaft in a state
    int torque_ring[ring_limit];
    int torques_in_state, torques_out_at; // from a state's first number
    int loads_in_state; // where a state's radial load and moment are, from its first number
    int lag_of_nut, lag_of_lock, lag_of_outer_ring, lag_of_balls, lag_of_pocket, lag_of_seals;
    int input_count;
    // the plate first, where there is one, then a tool for each ring it serves
    int attached_count;
    Attached attached[attached_limit];
    // outputs: one block per state, then what holds for the assembly
    int shoulder_at, nut_out_at, strength_at, drive_at, stack_at, square_at, bearing_out_at,
        running_out_at, combined_out_at, service_out_at, pocket_out_at, pocket_fit_out_at,
        seals_out_at, slices_out_at, rings_out_at, outputs_per_state;
    int tightened_at, torque_held_at, meetings_at, window_at, duty_at, give_at, assembled_at,
        ovens_at, output_count;
    // then those of the history level: one block per step
    int steps, steps_at, step_outputs;
    int arches_at; // and one block per state of what the halves of an inner ring need, from the start
    int step_kind[step_limit], step_against[step_limit]; // stack::StepKind, stack::Reaction
    int step_state[step_limit], step_first[step_limit], step_last[step_limit];
    int step_times[step_limit];
    // and what a hot ring does through time: a block for each ring that is put on hot and whose
    // metals have data of heat
    bool press_outside[ring_limit];
    int workshop_at, heated, heated_ring[ring_limit], heated_outputs;
    int level_counts[level_count]; // outputs that each level adds
    LevelCalls calls[level_count]; // of the levels above quick
    LevelCalls combined;           // the ring on its balls, at any level
    LevelCalls attached_calls;     // plate and tools, at any level
    AttachedLanes attached_lanes;
    const SectionSource* sections; // what the history runs on; null: bars
    int outputs_at(Level level) const {
        int count = 0;
        for (int l = 0; l <= static_cast<int>(level); ++l)
            count += level_counts[l];
        return count;
    }
};

// A fault speaks of a part in a state.
struct Place {
    static constexpr int rotor = 1, nut = 2, lock = 3, bearing = 4, service = 5, pocket = 6,
                         outer_ring = 7, seat = 8, shoulder = 9, ring = 64,
                         seal = ring + ring_limit,
                         slice = seal + seal_limit;     // of a member
    static constexpr int attached = slice + ring_limit; // and the model's own place
    static constexpr int per_attached = 16, per_state = attached + attached_limit * per_attached;
    // In the history it speaks of a part in a step.
    static constexpr int steps = 1 << 20, per_step = 64;
};

} // namespace fitwright::job
