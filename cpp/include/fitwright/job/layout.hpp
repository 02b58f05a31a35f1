// Where everything of a job lies in its flat arrays of inputs and outputs. Plain numbers and
// pointers: level files see this and nothing else of a job.
#pragma once

#include <fitwright/materials/table.hpp>

namespace fitwright::job {

inline constexpr int ring_limit = 48;

// A part whose temperature stands above the shaft's by its own lag, in each state.
// Lags lie in the order: rings, nut, lock, outer ring, balls.
struct Layout {
    int seats, rings, states;
    bool has_lock, has_bearing;
    int thread_form, thread_face_law;
    const materials::Material *shaft, *nut, *lock, *balls, *outer_ring;
    const materials::Material* ring_materials[ring_limit];
    int ring_seat[ring_limit];
    bool ring_grips[ring_limit];
    int inner_first, inner_last; // rings that are the bearing's inner ring
    // leaf numbers of the first field
    int rotor_at, nut_at, lock_at, bearing_at, seats_at, rings_at, states_at;
    int state_size, lags_in_state;
    int lag_of_nut, lag_of_lock, lag_of_outer_ring, lag_of_balls;
    int input_count;
    // outputs: one block per state, then what holds for the assembly
    int shoulder_at, nut_out_at, stack_at, bearing_out_at, rings_out_at, outputs_per_state;
    int tightened_at, ovens_at, output_count;
};

// A fault speaks of a part in a state.
struct Place {
    static constexpr int rotor = 1, nut = 2, lock = 3, bearing = 4, seat = 8, ring = 64;
    static constexpr int per_state = 128;
};

} // namespace fitwright::job
