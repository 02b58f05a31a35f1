// A part condensed to its points: what heat, speed and forces on the points do to the points.
#pragma once

#include "elastic.hpp"
#include "mesh.hpp"
#include <cstdint>
#include <vector>

namespace fitwright::bodies {

// Which movements of a part stay: single ones, then means along z over surfaces (a force on such a mean
// is an even stress over the surface).
struct BodyPoints {
    std::vector<int> movement;
    std::vector<Surface> mean;
    std::vector<int> held;
    int far_end = -1; // the mean that a free shaft is held by, evenly; -1: none
    std::size_t count() const { return movement.size() + mean.size(); }
};

enum BodyLoad { heat, gradient, spin, body_loads };

// At a modulus of one: movement is flexibility times force over modulus, heat per free strain (even;
// or rising from 0 at the least radius to 1 at the largest), spin per density times speed squared over
// modulus.
struct CondensedBody {
    std::uint32_t points = 0;
    std::vector<double> flexibility; // points x points
    std::vector<double> by_load;     // body_loads x points
    double at(std::size_t i, std::size_t j) const { return flexibility[i * points + j]; }
    double load(int which, std::size_t i) const {
        return by_load[static_cast<std::size_t>(which) * points + i];
    }
};

CondensedBody condense(const BodyMesh& mesh, double poisson, const BodyPoints& points);
// Free strains of a load of one at the nodes: even heat, or the gradient.
std::vector<double> load_strain(const BodyMesh& mesh, BodyLoad load);

// A name for all that a condensed body follows from.
struct BodyKey {
    std::uint64_t a = 0, b = 0;
    bool operator==(const BodyKey&) const = default;
};
BodyKey key_of(const BodyMesh& mesh, double poisson, const BodyPoints& points);

} // namespace fitwright::bodies
