// Models of other rooms inside a job: the plate over the outer ring in every state, each shop-made tool for
// every ring it serves. Their inputs are inputs of the job, but for those that the job knows already.
// Level files see plain numbers and pointers, and call the models in the baseline.
#pragma once

#include <fitwright/fields/formula.hpp>

namespace fitwright::fields {
struct Model;
}

namespace fitwright::job {

inline constexpr int attached_limit = 24;
inline constexpr int attached_inputs = 96;
inline constexpr int attached_outputs = 64;
inline constexpr int attached_materials = 6;
inline constexpr int attached_choices = 8;
inline constexpr int known_limit = 10;

// What a job knows already: of the state it stands in, of the ring a tool serves, of the nut.
enum class Known : int {
    outer_ring_temperature,
    pocket_temperature,
    thrust_to_plate,
    thrust_to_shoulder,
    tilting_moment,
    pocket_ring_outside,
    press,        // greatest force of a press on the ring
    cold_pull,    // force that pulls it off cold, at the high ends (heat.take_off)
    ring_bore,    //
    end_outside,  // of the ring's face on the nut's side
    oven_setting, // what the ring may be as hot as while it is pressed
    torque,
    breaking_torque, // greatest tightening torque times the workshop's breakaway
    nut_outside,
    thread_diameter
};

// Told by `told_by` in a job, so that nobody tells it twice.
struct KnownInput {
    const char* input; // path in the model
    Known known;
    const char* told_by;
};

struct Attached {
    const fields::Model* model;
    const materials::Material* materials[attached_materials];
    int choices[attached_choices];
    int input_count, output_count;
    int own_at;     // first of its inputs in the job; those that are known are not among them
    int outputs_at; // in a state for the plate, in the job for a tool
    int ring;       // that a tool serves; -1: none
    int known_count;
    struct Taken {
        int input; // of the model, in rising order
        Known known;
    } known[known_limit];
};

// Its lanes, all at once: number i of lane w is inputs[i * width + w], and one code for every lane, 0 or the
// first broken rule as Faults tells it.
using AttachedLanes = void (*)(const Attached&, const double* inputs, double* outputs, int width,
                               double* codes);

} // namespace fitwright::job
