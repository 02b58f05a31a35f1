// The parts of a stack in section: all that axisymmetric elastic bodies are made from. Lengths and
// diameters in metres, nominal: microns of size enter later as interference and move no node.
// Theory, limits and sources: docs/theory-bodies.md.
#pragma once

#include <cstdint>
#include <fitwright/fields/error.hpp>
#include <string>
#include <vector>

namespace fitwright::bodies {

// A stretch of a part along z with one bore and one outside.
struct Slice {
    double length;
    double bore; // 0: solid
    double outside;
};

// Legs of the 45 degree chamfers of a ring; 0: sharp.
struct Chamfers {
    double shoulder_bore = 0.0, shoulder_outside = 0.0; // at its end towards the shoulder
    double nut_bore = 0.0, nut_outside = 0.0;           // at its end towards the nut
};

struct RingSection {
    std::vector<Slice> slices; // from the shoulder
    double modulus = 0.0, poisson = 0.0;
    Chamfers chamfers;
    // Where an axial load enters: a stretch of the outside, from the ring's own end towards the
    // shoulder. Length 0: all of it.
    double thrust_start = 0.0, thrust_length = 0.0;
};

// How the shaft ends on the far side of the shoulder.
enum class FarEnd {
    plane, // that end stays plane, as where the section is cut through a longer shaft
    free   // a free end; what holds the shaft is spread evenly over it
};

struct ShaftSection {
    std::vector<Slice> slices; // from the end behind the shoulder to the nut end
    double modulus = 0.0, poisson = 0.0;
    // Length behind the face of the shoulder, which must be the end of a slice; z = 0 is there. 0: the
    // shoulder is a rigid plane that holds the end of the shaft too, or none where that end is free.
    double behind = 0.0;
    double land_inside = 0.0, land_outside = 0.0;   // of the shoulder's face; 0: all of it
    double fillet = 0.0;                            // radius between shoulder and seat; 0: sharp
    double thread_start = 0.0, thread_length = 0.0; // z; length 0: the nut pulls at the end face
    FarEnd far_end = FarEnd::plane;
};

struct StackSection {
    ShaftSection shaft;
    std::vector<RingSection> rings; // from the shoulder, each against the one before
    // Where the first ring begins, from the shoulder; above 0 it stands against nothing.
    double start = 0.0;
    double nut_inside = 0.0, nut_outside = 0.0; // face of the nut; 0: all of the last ring's face
};

// How finely it is meshed. The coarse mesh follows from the parts alone; each halving cuts every
// element in four, so that results on 0, 1 and 2 halvings tell the error (Richardson).
struct Fineness {
    double fineness = 1.0; // elements along every edge times this
    int halvings = 1;
    std::int64_t most_unknowns = 400'000;
};

// What cannot be meshed, each with its path; empty when all is well.
std::vector<Problem> section_problems(const StackSection& stack, const Fineness& fineness);

} // namespace fitwright::bodies
