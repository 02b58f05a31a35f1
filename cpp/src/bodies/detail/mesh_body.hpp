// One part on the shared lattices: its nodes and elements, with corners cut or rounded.
#pragma once

#include "mesh.hpp"
#include "mesh_layout.hpp"

namespace fitwright::bodies {

class BodyBuilder {
public:
    BodyBuilder(const Layout& layout, const std::vector<Block>& blocks);
    // Cuts the corner at (z, r) of the part: legs of length `leg` towards +-z and +-r.
    void chamfer(double z, double r, int along, int across, double leg);
    // Rounds the corner between shoulder (z = 0) and seat.
    void fillet(double seat, double radius, double reach);
    BodyMesh finish();

private:
    struct Place {
        double z, r;
    };
    int line_along(double z) const;
    int line_across(double r) const;
    std::size_t index(int i, int j) const;
    Place& place(int i, int j) { return places_[index(i, j)]; }
    void straight(int i0, int j0, int i1, int j1);
    void fill(int i0, int i1, int j0, int j1);
    double share_along(int i, int i0, int i1) const;
    double share_across(int j, int j0, int j1) const;

    const Layout& layout_;
    BodyMesh mesh_;
    std::vector<char> filled_;  // elements
    std::vector<double> z_, r_; // of the doubled lattice lines, before corners are moved
    std::vector<Place> places_;
    int elements_across_ = 0;
};

} // namespace fitwright::bodies
