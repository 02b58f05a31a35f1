// The mesh of every part of a stack: eight-node quadrilaterals on lattices that all parts share, and
// the nodes where they touch, pair by pair.
#pragma once

#include "lattice.hpp"
#include <array>
#include <fitwright/bodies/section.hpp>
#include <vector>

namespace fitwright::bodies {

struct BodyMesh {
    std::vector<double> r, z; // of the nodes
    // Corners, then the middles of the sides; the first side runs outwards at the lower z.
    std::vector<std::array<int, 8>> elements;
    // Nodes on the doubled lattice (even: element line, odd: middle), from its line `first`.
    int first_along = 0, first_across = 0, along = 0, across = 0;
    std::vector<int> grid;
    // -1: none there.
    int node(int i, int j) const {
        i -= first_along;
        j -= first_across;
        if (i < 0 || j < 0 || i >= along || j >= across)
            return -1;
        return grid[static_cast<std::size_t>(i) * static_cast<std::size_t>(across) +
                    static_cast<std::size_t>(j)];
    }
    std::size_t unknowns() const { return 2 * r.size(); }
};

// Nodes of a line on the surface, corner, middle, corner ..., each with the area that it stands for:
// an even pressure over the line is the sum of pressure times area at the nodes.
struct Surface {
    std::vector<int> node;
    std::vector<double> area;
    double whole() const;
};

// Two parts touch at pairs of nodes. `left` is -1 where the partner is a rigid plane.
struct Touching {
    int left = -1, right = -1; // bodies: 0 the shaft, k + 1 ring k
    std::vector<int> left_node, right_node;
    std::vector<double> area; // of both, the mean
};

struct StackMesh {
    std::vector<BodyMesh> bodies;                // the shaft, then the rings
    std::vector<Touching> seats;                 // of each ring: shaft and ring
    std::vector<Touching> faces;                 // shoulder, between rings
    std::vector<std::vector<int>> slice_of_seat; // of the ring, for each pair of its seat
    std::vector<Surface> outsides;               // of the shaft and each ring, from the shoulder
    std::vector<Surface> nut_ends; // whole end faces towards the nut, of the shaft and each ring
    Surface nut_face;              // what the nut pushes on
    Surface thread;                // what the nut pulls at
    Surface far_end;               // of the shaft, behind the shoulder
    std::vector<Surface> thrust;   // of each ring, where an axial load enters
    std::size_t unknowns() const {
        std::size_t n = 0;
        for (const BodyMesh& b : bodies)
            n += b.unknowns();
        return n;
    }
};

// Throws DomainError where section_problems tells something, or the mesh is too large.
StackMesh mesh_of(const StackSection& stack, const Fineness& fineness);

// Consistent areas of a line of nodes, 2 pi r taken in.
Surface surface_of(const BodyMesh& mesh, std::vector<int> nodes);

} // namespace fitwright::bodies
