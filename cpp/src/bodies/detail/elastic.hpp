// One part as an axisymmetric elastic body: stiffness at a modulus of one, factored once.
#pragma once

#include "mesh.hpp"
#include <memory>
#include <span>
#include <vector>

namespace fitwright::bodies {

// Movements and forces: two numbers a node, outwards (r) and along (z). Forces are of the whole ring
// of a node (2 pi r taken in).
inline int outwards(int node) { return 2 * node; }
inline int along(int node) { return 2 * node + 1; }

// Right-hand sides that act in the volume, at a modulus of one.
// Heat: free strain at each node.
std::vector<double> heat_forces(const BodyMesh& mesh, double poisson,
                                std::span<const double> strain);
// Speed: density times speed squared of one.
std::vector<double> spin_forces(const BodyMesh& mesh);
struct Stress {
    double radial, axial, hoop, shear;
    double von_mises() const;
};
// At the nodes, the mean of the elements that meet there. Times the modulus.
std::vector<Stress> nodal_stress(const BodyMesh& mesh, double poisson, double modulus,
                                 std::span<const double> movement, std::span<const double> strain);
// Elastic energy of movements without heat, at a modulus of one.
double elastic_energy(const BodyMesh& mesh, double poisson, std::span<const double> movement);

class ElasticBody {
public:
    // `held` movements are 0; those in `last` are eliminated last, so that their flexibility falls out
    // of the factor.
    ElasticBody(const BodyMesh& mesh, double poisson, const std::vector<int>& held,
                const std::vector<int>& last);
    ~ElasticBody();
    ElasticBody(ElasticBody&&) noexcept;

    // Movements under forces (2 a node), in place.
    void solve(std::span<double> forces) const;
    // Movement of the i-th of `last` by a force on the j-th, row by row. Exact: statics condenses
    // without loss (R. J. Guyan, AIAA Journal 3, 1965; from memory).
    std::vector<double> flexibility() const;
    std::size_t factor_size() const; // numbers in the factor

private:
    struct Factor;
    std::unique_ptr<Factor> factor_;
};

} // namespace fitwright::bodies
