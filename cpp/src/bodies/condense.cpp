#include "detail/condensed.hpp"
#include <algorithm>

namespace fitwright::bodies {

namespace {

// FNV-1a on 64 bits, twice with different starts and a stir between words (Fowler, Noll and Vo; the
// constants from memory: any would do, files carry a sum of their own).
class Digest {
public:
    void add(const void* data, std::size_t size) {
        const auto* bytes = static_cast<const unsigned char*>(data);
        for (std::size_t i = 0; i < size; ++i) {
            key_.a = (key_.a ^ bytes[i]) * 0x100000001b3ULL;
            key_.b = (key_.b ^ bytes[i]) * 0x9e3779b97f4a7c15ULL;
            key_.b ^= key_.b >> 29;
        }
    }
    template <class T>
    void add(const std::vector<T>& all) {
        const std::uint64_t count = all.size();
        add(&count, sizeof count);
        add(all.data(), all.size() * sizeof(T));
    }
    BodyKey key() const { return key_; }

private:
    BodyKey key_{0xcbf29ce484222325ULL, 0x84222325cbf29ce4ULL};
};

double mean_of(const Surface& s, const std::vector<double>& u) {
    double sum = 0.0;
    for (std::size_t i = 0; i < s.node.size(); ++i)
        sum += s.area[i] * u[static_cast<std::size_t>(along(s.node[i]))];
    return sum / s.whole();
}

std::vector<double> even_force(const BodyMesh& mesh, const Surface& s) {
    std::vector<double> f(mesh.unknowns(), 0.0);
    const double whole = s.whole();
    for (std::size_t i = 0; i < s.node.size(); ++i)
        f[static_cast<std::size_t>(along(s.node[i]))] += s.area[i] / whole;
    return f;
}

// What a free shaft loses when the sum of forces is held at its far end, spread evenly: a movement is
// told from the mean of that end, and every axial force has its reaction there.
void hold_evenly(CondensedBody& body, const BodyPoints& points) {
    const std::size_t n = body.points;
    const std::size_t end = points.movement.size() + static_cast<std::size_t>(points.far_end);
    std::vector<double> axial(n, 0.0); // 1 for what moves along z
    for (std::size_t i = 0; i < n; ++i)
        axial[i] = i >= points.movement.size() || points.movement[i] % 2 == 1 ? 1.0 : 0.0;
    std::vector<double> column(n);
    for (std::size_t i = 0; i < n; ++i)
        column[i] = body.at(i, end);
    const double own = column[end];
    for (std::size_t i = 0; i < n; ++i)
        for (std::size_t j = 0; j < n; ++j)
            body.flexibility[i * n + j] -=
                axial[i] * column[j] + axial[j] * column[i] - axial[i] * axial[j] * own;
    for (std::size_t q = 0; q < body_loads; ++q) {
        const double at_end = body.load(static_cast<int>(q), end);
        for (std::size_t i = 0; i < n; ++i)
            body.by_load[q * n + i] -= axial[i] * at_end;
    }
}

} // namespace

std::vector<double> load_strain(const BodyMesh& mesh, BodyLoad load) {
    std::vector<double> strain(mesh.r.size(), 1.0);
    if (load == gradient) {
        const auto [least, most] = std::minmax_element(mesh.r.begin(), mesh.r.end());
        for (std::size_t i = 0; i < strain.size(); ++i)
            strain[i] = (mesh.r[i] - *least) / (*most - *least);
    }
    return strain;
}

CondensedBody condense(const BodyMesh& mesh, double poisson, const BodyPoints& points) {
    const ElasticBody elastic(mesh, poisson, points.held, points.movement);
    CondensedBody body;
    const std::size_t single = points.movement.size();
    const std::size_t n = points.count();
    body.points = static_cast<std::uint32_t>(n);
    body.flexibility.assign(n * n, 0.0);
    body.by_load.assign(body_loads * n, 0.0);
    const std::vector<double> among = elastic.flexibility();
    for (std::size_t i = 0; i < single; ++i)
        std::copy_n(among.data() + i * single, single, body.flexibility.data() + i * n);
    const auto read = [&](const std::vector<double>& u, std::size_t i) {
        return i < single ? u[static_cast<std::size_t>(points.movement[i])]
                          : mean_of(points.mean[i - single], u);
    };
    for (std::size_t q = single; q < n; ++q) {
        std::vector<double> u = even_force(mesh, points.mean[q - single]);
        elastic.solve(u);
        for (std::size_t i = 0; i < n; ++i)
            body.flexibility[i * n + q] = body.flexibility[q * n + i] = read(u, i);
    }
    for (int q = 0; q < body_loads; ++q) {
        std::vector<double> u =
            q == spin ? spin_forces(mesh)
                      : heat_forces(mesh, poisson, load_strain(mesh, static_cast<BodyLoad>(q)));
        elastic.solve(u);
        for (std::size_t i = 0; i < n; ++i)
            body.by_load[static_cast<std::size_t>(q) * n + i] = read(u, i);
    }
    if (points.far_end >= 0)
        hold_evenly(body, points);
    return body;
}

BodyKey key_of(const BodyMesh& mesh, double poisson, const BodyPoints& points) {
    Digest digest;
    constexpr std::uint64_t version = 1; // of elements and of what is condensed
    digest.add(&version, sizeof version);
    digest.add(mesh.r);
    digest.add(mesh.z);
    digest.add(mesh.elements);
    digest.add(&poisson, sizeof poisson);
    digest.add(points.movement);
    digest.add(points.held);
    digest.add(&points.far_end, sizeof points.far_end);
    for (const Surface& s : points.mean) {
        digest.add(s.node);
        digest.add(s.area);
    }
    return digest.key();
}

} // namespace fitwright::bodies
