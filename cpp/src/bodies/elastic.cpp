// Axisymmetric elasticity on eight-node quadrilaterals; the only file that knows Eigen.
#include "detail/elastic.hpp"
#include "detail/quad8.hpp"
// Blocks of one size on every processor, so that sums run in one order.
#define EIGEN_NO_CPUID
#include <Eigen/Cholesky>
#include <Eigen/OrderingMethods>
#include <Eigen/SparseCholesky>
#include <numbers>
#include <string>

namespace fitwright::bodies {

namespace {

using Sparse = Eigen::SparseMatrix<double>;
using Cholesky = Eigen::SimplicialLLT<Sparse, Eigen::Lower, Eigen::NaturalOrdering<int>>;
using Dense = Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, Eigen::RowMajor>;

// A place in an element: slopes of the shape functions there, and the radius.
struct Place {
    Shape shape;
    std::array<double, 8> by_r, by_z;
    double r, volume; // that it stands for, where it is one of integration
    double det;       // of the map from the square
    double skew;      // 1: a right angle there, 0: none
};

Place place_at(const BodyMesh& mesh, const std::array<int, 8>& element, double x, double y) {
    Place p{};
    p.shape = shape_at(x, y);
    double rx = 0.0, ry = 0.0, zx = 0.0, zy = 0.0;
    for (std::size_t i = 0; i < 8; ++i) {
        const auto n = static_cast<std::size_t>(element[i]);
        p.r += p.shape.n[i] * mesh.r[n];
        rx += p.shape.dx[i] * mesh.r[n];
        ry += p.shape.dy[i] * mesh.r[n];
        zx += p.shape.dx[i] * mesh.z[n];
        zy += p.shape.dy[i] * mesh.z[n];
    }
    p.det = rx * zy - ry * zx;
    p.skew = p.det / std::sqrt((rx * rx + zx * zx) * (ry * ry + zy * zy));
    for (std::size_t i = 0; i < 8; ++i) {
        p.by_r[i] = (zy * p.shape.dx[i] - zx * p.shape.dy[i]) / p.det;
        p.by_z[i] = (rx * p.shape.dy[i] - ry * p.shape.dx[i]) / p.det;
    }
    return p;
}

Place place_in(const BodyMesh& mesh, const std::array<int, 8>& element, int a, int b) {
    Place p = place_at(mesh, element, gauss_place[a], gauss_place[b]);
    if (!(p.det > 0.0))
        throw DomainError(
            {Problem{"slices", "an element at z = " +
                                   show(mesh.z[static_cast<std::size_t>(element[0])],
                                        fields::Quantity::size) +
                                   " is turned inside out: chamfer or fillet leave it no room"}});
    p.volume = 2.0 * std::numbers::pi * p.r * p.det * gauss_weight[a] * gauss_weight[b];
    return p;
}

// Hooke's law at a modulus of one.
struct Law {
    double straight, across, shear;
    explicit Law(double nu)
        : straight((1.0 - nu) / ((1.0 + nu) * (1.0 - 2.0 * nu)))
        , across(nu / ((1.0 + nu) * (1.0 - 2.0 * nu)))
        , shear(0.5 / (1.0 + nu)) {}
    Stress stress(double r, double z, double t, double rz) const {
        return {straight * r + across * (z + t), straight * z + across * (r + t),
                straight * t + across * (r + z), shear * rz};
    }
};

template <class Visit>
void at_places(const BodyMesh& mesh, const Visit& visit) {
    for (std::size_t e = 0; e < mesh.elements.size(); ++e)
        for (int a = 0; a < 3; ++a)
            for (int b = 0; b < 3; ++b)
                visit(e, place_in(mesh, mesh.elements[e], a, b), a * 3 + b);
}

using ElementStiffness = Eigen::Matrix<double, 16, 16>;

ElementStiffness element_stiffness(const BodyMesh& mesh, const std::array<int, 8>& element,
                                   const Law& law) {
    ElementStiffness k = ElementStiffness::Zero();
    for (int a = 0; a < 3; ++a)
        for (int b = 0; b < 3; ++b) {
            const Place p = place_in(mesh, element, a, b);
            for (int i = 0; i < 8; ++i) {
                const auto ii = static_cast<std::size_t>(i);
                // Stresses by a movement of node i: outwards, then along.
                const double hoop = p.shape.n[ii] / p.r;
                const Stress out = law.stress(p.by_r[ii], 0.0, hoop, p.by_z[ii]);
                const Stress on = law.stress(0.0, p.by_z[ii], 0.0, p.by_r[ii]);
                for (int j = 0; j <= i; ++j) {
                    const auto jj = static_cast<std::size_t>(j);
                    const double h = p.shape.n[jj] / p.r;
                    const double dr = p.by_r[jj];
                    const double dz = p.by_z[jj];
                    k(2 * i, 2 * j) += p.volume * (out.radial * dr + out.hoop * h + out.shear * dz);
                    k(2 * i, 2 * j + 1) += p.volume * (out.axial * dz + out.shear * dr);
                    k(2 * i + 1, 2 * j) +=
                        p.volume * (on.radial * dr + on.hoop * h + on.shear * dz);
                    k(2 * i + 1, 2 * j + 1) += p.volume * (on.axial * dz + on.shear * dr);
                }
            }
        }
    return k;
}

} // namespace

double Stress::von_mises() const {
    const double a = radial - axial;
    const double b = axial - hoop;
    const double c = hoop - radial;
    return std::sqrt(0.5 * (a * a + b * b + c * c) + 3.0 * shear * shear);
}

std::vector<double> heat_forces(const BodyMesh& mesh, double poisson,
                                std::span<const double> strain) {
    std::vector<double> f(mesh.unknowns(), 0.0);
    const double bulk = 1.0 / (1.0 - 2.0 * poisson); // stress per free strain, all round
    at_places(mesh, [&](std::size_t e, const Place& p, int) {
        double free = 0.0;
        for (std::size_t i = 0; i < 8; ++i)
            free += p.shape.n[i] * strain[static_cast<std::size_t>(mesh.elements[e][i])];
        const double stress = bulk * free * p.volume;
        for (std::size_t i = 0; i < 8; ++i) {
            const auto n = static_cast<std::size_t>(2 * mesh.elements[e][i]);
            f[n] += stress * (p.by_r[i] + p.shape.n[i] / p.r);
            f[n + 1] += stress * p.by_z[i];
        }
    });
    return f;
}

std::vector<double> spin_forces(const BodyMesh& mesh) {
    std::vector<double> f(mesh.unknowns(), 0.0);
    at_places(mesh, [&](std::size_t e, const Place& p, int) {
        for (std::size_t i = 0; i < 8; ++i)
            f[static_cast<std::size_t>(2 * mesh.elements[e][i])] += p.shape.n[i] * p.r * p.volume;
    });
    return f;
}

double elastic_energy(const BodyMesh& mesh, double poisson, std::span<const double> u) {
    const Law law(poisson);
    double energy = 0.0;
    at_places(mesh, [&](std::size_t e, const Place& p, int) {
        double r = 0.0, z = 0.0, t = 0.0, rz = 0.0;
        for (std::size_t i = 0; i < 8; ++i) {
            const auto n = static_cast<std::size_t>(2 * mesh.elements[e][i]);
            r += p.by_r[i] * u[n];
            z += p.by_z[i] * u[n + 1];
            t += p.shape.n[i] / p.r * u[n];
            rz += p.by_z[i] * u[n] + p.by_r[i] * u[n + 1];
        }
        const Stress s = law.stress(r, z, t, rz);
        energy += 0.5 * p.volume * (s.radial * r + s.axial * z + s.hoop * t + s.shear * rz);
    });
    return energy;
}

std::vector<Stress> nodal_stress(const BodyMesh& mesh, double poisson, double modulus,
                                 std::span<const double> u, std::span<const double> strain) {
    const Law law(poisson);
    std::vector<Stress> sum(mesh.r.size(), Stress{0.0, 0.0, 0.0, 0.0});
    std::vector<double> count(mesh.r.size(), 0.0);
    constexpr double corners[8][2] = {{-1, -1}, {1, -1}, {1, 1}, {-1, 1},
                                      {0, -1},  {1, 0},  {0, 1}, {-1, 0}};
    for (const std::array<int, 8>& element : mesh.elements)
        for (std::size_t k = 0; k < 8; ++k) {
            Place p = place_at(mesh, element, corners[k][0], corners[k][1]);
            // The corner in the middle of a chamfer is flat, and on the axis hoop strain has no form of its
            // own: a little inside it.
            if (!(p.skew > 0.05) || !(p.r > 0.0))
                p = place_at(mesh, element, 0.8 * corners[k][0], 0.8 * corners[k][1]);
            double r = 0.0, z = 0.0, t = 0.0, rz = 0.0, free = 0.0;
            for (std::size_t i = 0; i < 8; ++i) {
                const auto n = static_cast<std::size_t>(element[i]);
                r += p.by_r[i] * u[2 * n];
                z += p.by_z[i] * u[2 * n + 1];
                t += p.shape.n[i] / p.r * u[2 * n];
                rz += p.by_z[i] * u[2 * n] + p.by_r[i] * u[2 * n + 1];
                free += p.shape.n[i] * strain[n];
            }
            const Stress s = law.stress(r - free, z - free, t - free, rz);
            const auto n = static_cast<std::size_t>(element[k]);
            sum[n].radial += s.radial;
            sum[n].axial += s.axial;
            sum[n].hoop += s.hoop;
            sum[n].shear += s.shear;
            count[n] += 1.0;
        }
    for (std::size_t n = 0; n < sum.size(); ++n) {
        const double by = modulus / count[n];
        sum[n] = {sum[n].radial * by, sum[n].axial * by, sum[n].hoop * by, sum[n].shear * by};
    }
    return sum;
}

struct ElasticBody::Factor {
    std::vector<int> row; // of each movement; -1: held
    int last = 0;
    Cholesky cholesky;
};

ElasticBody::ElasticBody(const BodyMesh& mesh, double poisson, const std::vector<int>& held,
                         const std::vector<int>& last)
    : factor_(std::make_unique<Factor>()) {
    const int n = static_cast<int>(mesh.unknowns());
    std::vector<int>& row = factor_->row;
    row.assign(static_cast<std::size_t>(n), 0);
    constexpr int is_held = -1, is_last = -2;
    for (const int h : held)
        row[static_cast<std::size_t>(h)] = is_held;
    for (std::size_t k = 0; k < mesh.r.size(); ++k)
        if (!(mesh.r[k] > 0.0)) // the axis stays where it is
            row[2 * k] = is_held;
    for (const int l : last)
        row[static_cast<std::size_t>(l)] = is_last;
    int inside = 0;
    for (int& r : row)
        if (r >= 0)
            r = inside++;
    factor_->last = static_cast<int>(last.size());

    const Law law(poisson);
    std::vector<Eigen::Triplet<double>> all;
    std::vector<Eigen::Triplet<double>> among_inside;
    std::vector<ElementStiffness> stiffness;
    for (const auto& element : mesh.elements) {
        stiffness.push_back(element_stiffness(mesh, element, law));
        for (int i = 0; i < 16; ++i)
            for (int j = 0; j <= i; ++j) {
                const int a = row[static_cast<std::size_t>(
                    2 * element[static_cast<std::size_t>(i / 2)] + i % 2)];
                const int b = row[static_cast<std::size_t>(
                    2 * element[static_cast<std::size_t>(j / 2)] + j % 2)];
                if (a >= 0 && b >= 0)
                    among_inside.emplace_back(std::max(a, b), std::min(a, b), 1.0);
            }
    }
    // Approximate minimum degree for what is eliminated, then the movements that stay.
    Sparse pattern(inside, inside);
    pattern.setFromTriplets(among_inside.begin(), among_inside.end());
    Eigen::PermutationMatrix<Eigen::Dynamic, Eigen::Dynamic, int> order;
    Eigen::AMDOrdering<int>()(pattern.selfadjointView<Eigen::Lower>(), order);
    // Eigen answers which old row comes k-th.
    std::vector<int> rank(static_cast<std::size_t>(inside));
    for (int k = 0; k < inside; ++k)
        rank[static_cast<std::size_t>(order.indices()[k])] = k;
    for (int& r : row)
        if (r >= 0)
            r = rank[static_cast<std::size_t>(r)];
    int next = inside;
    for (const int l : last)
        row[static_cast<std::size_t>(l)] = next++;
    for (std::size_t e = 0; e < mesh.elements.size(); ++e)
        for (int i = 0; i < 16; ++i)
            for (int j = 0; j <= i; ++j) {
                const auto at = [&](int k) {
                    return row[static_cast<std::size_t>(
                        2 * mesh.elements[e][static_cast<std::size_t>(k / 2)] + k % 2)];
                };
                const int a = at(i);
                const int b = at(j);
                if (a >= 0 && b >= 0)
                    all.emplace_back(std::max(a, b), std::min(a, b), stiffness[e](i, j));
            }
    Sparse k(next, next);
    k.setFromTriplets(all.begin(), all.end());
    factor_->cholesky.compute(k);
    if (factor_->cholesky.info() != Eigen::Success)
        throw DomainError(
            {Problem{"slices", "the stiffness of this part cannot be factored: too long "
                               "and thin, or too finely stepped"}});
}
ElasticBody::~ElasticBody() = default;
ElasticBody::ElasticBody(ElasticBody&&) noexcept = default;

void ElasticBody::solve(std::span<double> forces) const {
    const std::vector<int>& row = factor_->row;
    Eigen::VectorXd x = Eigen::VectorXd::Zero(factor_->cholesky.rows());
    for (std::size_t i = 0; i < row.size(); ++i)
        if (row[i] >= 0)
            x[row[i]] = forces[i];
    factor_->cholesky.matrixL().solveInPlace(x);
    factor_->cholesky.matrixU().solveInPlace(x);
    for (std::size_t i = 0; i < row.size(); ++i)
        forces[i] = row[i] >= 0 ? x[row[i]] : 0.0;
}

std::vector<double> ElasticBody::flexibility() const {
    const int n = factor_->last;
    const auto& l = factor_->cholesky.matrixL().nestedExpression();
    const int from = static_cast<int>(l.rows()) - n;
    // The last rows of the factor are the factor of the condensed stiffness.
    Eigen::MatrixXd corner = Eigen::MatrixXd::Zero(n, n);
    for (int j = 0; j < n; ++j)
        for (Sparse::InnerIterator it(l, from + j); it; ++it)
            corner(static_cast<int>(it.row()) - from, j) = it.value();
    Eigen::MatrixXd inverse = Eigen::MatrixXd::Identity(n, n);
    corner.triangularView<Eigen::Lower>().solveInPlace(inverse);
    std::vector<double> g(static_cast<std::size_t>(n) * static_cast<std::size_t>(n));
    Eigen::Map<Dense> out(g.data(), n, n);
    out.setZero();
    out.selfadjointView<Eigen::Lower>().rankUpdate(inverse.transpose());
    out.triangularView<Eigen::StrictlyUpper>() = out.transpose();
    return g;
}

std::size_t ElasticBody::factor_size() const {
    return static_cast<std::size_t>(factor_->cholesky.matrixL().nestedExpression().nonZeros());
}

} // namespace fitwright::bodies
