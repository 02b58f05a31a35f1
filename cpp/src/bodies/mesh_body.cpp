#include "detail/mesh_body.hpp"
#include <fitwright/number/trigonometric.hpp>
#include <numbers>

namespace fitwright::bodies {

namespace {

// Coordinates of the doubled lattice lines of one part: where it has a size of its own near a station
// (bore and seat are told apart by microns), its own rules.
std::vector<double> own_lines(const Lattice& lattice, const std::vector<double>& own, int first,
                              int last) {
    std::vector<double> at(static_cast<std::size_t>(lattice.stations()));
    for (int k = 0; k < lattice.stations(); ++k)
        at[static_cast<std::size_t>(k)] = lattice.at(k);
    for (const double x : own)
        at[static_cast<std::size_t>(lattice.station(x))] = x;
    std::vector<double> lines;
    for (int i = first; i <= last; ++i) {
        const int k = lattice.before(i);
        const double a = lattice.at(k);
        const double share = (lattice.line(i) - a) / (lattice.at(k + 1) - a);
        const double low = at[static_cast<std::size_t>(k)];
        const double x = low + share * (at[static_cast<std::size_t>(k) + 1] - low);
        if (!lines.empty())
            lines.push_back(0.5 * (lines.back() + x));
        lines.push_back(x);
    }
    return lines;
}

} // namespace

BodyBuilder::BodyBuilder(const Layout& layout, const std::vector<Block>& blocks)
    : layout_(layout) {
    std::vector<double> z, r;
    int i0 = layout.along.lines(), i1 = 0, j0 = layout.across.lines(), j1 = 0;
    for (const Block& b : blocks) {
        z.insert(z.end(), {b.z0, b.z1});
        r.insert(r.end(), {b.r0, b.r1});
        i0 = std::min(i0, line_along(b.z0));
        i1 = std::max(i1, line_along(b.z1));
        j0 = std::min(j0, line_across(b.r0));
        j1 = std::max(j1, line_across(b.r1));
    }
    z_ = own_lines(layout.along, z, i0, i1);
    r_ = own_lines(layout.across, r, j0, j1);
    mesh_.first_along = 2 * i0;
    mesh_.first_across = 2 * j0;
    mesh_.along = 2 * (i1 - i0) + 1;
    mesh_.across = 2 * (j1 - j0) + 1;
    for (const double at : z_)
        for (const double radius : r_)
            places_.push_back({at, radius});
    elements_across_ = j1 - j0;
    filled_.assign(static_cast<std::size_t>((i1 - i0) * (j1 - j0)), 0);
    for (const Block& b : blocks)
        for (int i = line_along(b.z0); i < line_along(b.z1); ++i)
            for (int j = line_across(b.r0); j < line_across(b.r1); ++j)
                filled_[static_cast<std::size_t>((i - i0) * elements_across_ + j - j0)] = 1;
}

int BodyBuilder::line_along(double z) const {
    return layout_.along.line_of(layout_.along.station(z));
}
int BodyBuilder::line_across(double r) const {
    return layout_.across.line_of(layout_.across.station(r));
}
std::size_t BodyBuilder::index(int i, int j) const {
    return static_cast<std::size_t>(i - mesh_.first_along) *
               static_cast<std::size_t>(mesh_.across) +
           static_cast<std::size_t>(j - mesh_.first_across);
}
double BodyBuilder::share_along(int i, int i0, int i1) const {
    const auto z = [this](int k) { return z_[static_cast<std::size_t>(k - mesh_.first_along)]; };
    return (z(i) - z(i0)) / (z(i1) - z(i0));
}
double BodyBuilder::share_across(int j, int j0, int j1) const {
    const auto r = [this](int k) { return r_[static_cast<std::size_t>(k - mesh_.first_across)]; };
    return (r(j) - r(j0)) / (r(j1) - r(j0));
}

// Nodes between two places of one lattice line go on a straight line between them.
void BodyBuilder::straight(int i0, int j0, int i1, int j1) {
    const Place a = place(i0, j0);
    const Place b = place(i1, j1);
    const int steps = std::max(std::abs(i1 - i0), std::abs(j1 - j0));
    const int di = i1 == i0 ? 0 : i1 > i0 ? 1 : -1;
    const int dj = j1 == j0 ? 0 : j1 > j0 ? 1 : -1;
    for (int k = 1; k < steps; ++k) {
        const int i = i0 + k * di;
        const int j = j0 + k * dj;
        const double share = di != 0 ? share_along(i, i0, i1) : share_across(j, j0, j1);
        place(i, j) = {a.z + share * (b.z - a.z), a.r + share * (b.r - a.r)};
    }
}

// The nodes inside follow the four sides (W. J. Gordon and C. A. Hall's transfinite interpolation; from
// memory).
void BodyBuilder::fill(int i0, int i1, int j0, int j1) {
    const Place p00 = place(i0, j0), p10 = place(i1, j0), p01 = place(i0, j1), p11 = place(i1, j1);
    for (int i = i0 + 1; i < i1; ++i)
        for (int j = j0 + 1; j < j1; ++j) {
            const double x = share_along(i, i0, i1);
            const double y = share_across(j, j0, j1);
            const Place left = place(i0, j), right = place(i1, j);
            const Place low = place(i, j0), high = place(i, j1);
            const auto blend = [&](double Place::* m) {
                return (1.0 - x) * left.*m + x * right.*m + (1.0 - y) * low.*m + y * high.*m -
                       (1.0 - x) * (1.0 - y) * p00.*m - x * (1.0 - y) * p10.*m -
                       (1.0 - x) * y * p01.*m - x * y * p11.*m;
            };
            place(i, j) = {blend(&Place::z), blend(&Place::r)};
        }
}

void BodyBuilder::chamfer(double z, double r, int along, int across, double leg) {
    const int ic = 2 * line_along(z);
    const int jc = 2 * line_across(r);
    const int ia = 2 * line_along(z + along * leg);
    const int ja = 2 * line_across(r + across * leg);
    // The corner goes to the middle of the cut.
    place(ic, jc) = {z + 0.5 * along * leg, r + 0.5 * across * leg};
    straight(ic, jc, ia, jc);
    straight(ic, jc, ic, ja);
    fill(std::min(ic, ia), std::max(ic, ia), std::min(jc, ja), std::max(jc, ja));
}

void BodyBuilder::fillet(double seat, double radius, double reach) {
    const int ib = 2 * line_along(-reach), ic = 2 * line_along(0.0), ia = 2 * line_along(radius);
    const int jb = 2 * line_across(seat - reach), jc = 2 * line_across(seat);
    const int ja = 2 * line_across(seat + radius);
    const auto arc = [&](double angle) {
        return Place{radius * (1.0 - number::sin(angle)),
                     seat + radius * (1.0 - number::cos(angle))};
    };
    constexpr double eighth = 0.25 * std::numbers::pi;
    place(ic, jc) = arc(eighth);
    for (int i = ic + 1; i < ia; ++i)
        place(i, jc) = arc(eighth * (1.0 - share_along(i, ic, ia)));
    for (int j = jc + 1; j < ja; ++j)
        place(ic, j) = arc(eighth * (1.0 + share_across(j, jc, ja)));
    straight(ib, jc, ic, jc);
    straight(ic, jb, ic, jc);
    fill(ic, ia, jb, jc);
    fill(ib, ic, jb, jc);
    fill(ib, ic, jc, ja);
}

BodyMesh BodyBuilder::finish() {
    mesh_.grid.assign(places_.size(), -1);
    // The eight nodes of an element from its first lattice line, along and across.
    static constexpr int steps[8][2] = {{0, 0}, {0, 2}, {2, 2}, {2, 0},
                                        {0, 1}, {1, 2}, {2, 1}, {1, 0}};
    const int elements_along = static_cast<int>(filled_.size()) / elements_across_;
    const auto at = [this](int i, int j) {
        return static_cast<std::size_t>(i) * static_cast<std::size_t>(mesh_.across) +
               static_cast<std::size_t>(j);
    };
    for (int i = 0; i < elements_along; ++i)
        for (int j = 0; j < elements_across_; ++j)
            if (filled_[static_cast<std::size_t>(i * elements_across_ + j)] != 0)
                for (const auto& s : steps)
                    mesh_.grid[at(2 * i + s[0], 2 * j + s[1])] = 0;
    for (std::size_t k = 0; k < places_.size(); ++k)
        if (mesh_.grid[k] == 0) {
            mesh_.grid[k] = static_cast<int>(mesh_.r.size());
            mesh_.r.push_back(places_[k].r);
            mesh_.z.push_back(places_[k].z);
        }
    for (int i = 0; i < elements_along; ++i)
        for (int j = 0; j < elements_across_; ++j) {
            if (filled_[static_cast<std::size_t>(i * elements_across_ + j)] == 0)
                continue;
            std::array<int, 8> element{};
            for (std::size_t n = 0; n < 8; ++n)
                element[n] = mesh_.grid[at(2 * i + steps[n][0], 2 * j + steps[n][1])];
            mesh_.elements.push_back(element);
        }
    return std::move(mesh_);
}

} // namespace fitwright::bodies
