// What can be done with a stack, step by step. Plain words: level files see them too.
#pragma once

namespace fitwright::stack {

enum class StepKind {
    slip_on, // parts first..last go on, hot, each against the part before it
    press,   // push on the free end of the last part with `force`
    release, // take the press away
    nut_on,  // run the nut up by hand
    tighten, // turn the nut until its force is `force`
    lock,    // the nut turns no more
    state,   // go to `state`: warm, spin, thrust, reverse, stop, cool
    loosen,  // turn the nut back until it is free, and take it off
    pull,    // draw parts off, the last one first, down to the one named
    repeat   // steps first..last over again, `times` times
};
// Where a press is held against: on the far side of the shoulder, or by the shaft's own nut end.
enum class Reaction { outside, shaft };

} // namespace fitwright::stack
