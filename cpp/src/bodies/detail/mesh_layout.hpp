// Where the lattices of a stack have their stations, how large elements are there, and which
// rectangles each part fills.
#pragma once

#include "lattice.hpp"
#include "section_places.hpp"
#include <vector>

namespace fitwright::bodies {

// A rectangle of a part: z, and radii.
struct Block {
    double z0, z1, r0, r1;
};
// A stretch of a seat in contact.
struct Stretch {
    double z0, z1;
    int slice; // of the ring
};

struct Layout {
    Lattice along, across;
    std::vector<std::vector<Block>> blocks;  // of the shaft, then of each ring
    std::vector<std::vector<Stretch>> seats; // of each ring
    std::vector<double> ring_start;          // z, and where the last one ends
    double sliver = 0.0;
    double fillet_reach = 0.0; // how far the mesh around a fillet bends, into the shaft
    double seat_radius = 0.0;  // at the shoulder
};

Layout layout_of(const StackSection& stack, const Fineness& fineness);

} // namespace fitwright::bodies
