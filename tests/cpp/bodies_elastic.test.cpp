// One part as an elastic body: what every finite-element program must do (patch, rigid motion, energy),
// and closed forms that hold for any length because the state they come from is exact.
#include "../../cpp/src/bodies/detail/condensed.hpp"
#include "bodies_cases.hpp"

using namespace fitwright;
using namespace fitwright::bodies;
using namespace cases;

namespace {

// A collar with a fillet, a ring with chamfers and a groove: no element of them is a plain square.
StackSection shaped() {
    StackSection s =
        on_collar({slice(20, 30, 100), slice(80, 30, 80)},
                  {ring_of({slice(12, 80, 120), slice(10, 80, 110), slice(14, 80, 124)})}, 88, 100);
    s.shaft.fillet = 3e-3;
    s.rings[0].chamfers = {4e-3, 2e-3, 1e-3, 3e-3};
    return s;
}

std::vector<double> field(const BodyMesh& m, double (*out)(double r, double z),
                          double (*on)(double r, double z)) {
    std::vector<double> u;
    for (std::size_t i = 0; i < m.r.size(); ++i) {
        u.push_back(out(m.r[i], m.z[i]));
        u.push_back(on(m.r[i], m.z[i]));
    }
    return u;
}

// Mean outward movement of the nodes of a surface.
double mean_growth(const Surface& s, const std::vector<double>& u) {
    double sum = 0.0;
    for (std::size_t i = 0; i < s.node.size(); ++i)
        sum += s.area[i] * u[static_cast<std::size_t>(outwards(s.node[i]))];
    return sum / s.whole();
}

// A plain ring, 80 to 120 mm, 40 mm long.
StackMesh plain() {
    return mesh_of(stack_of({slice(40, 40, 80)}, {ring_of({slice(40, 80, 120)})}), {});
}
constexpr double a = 0.04, b = 0.06, nu = 0.3;

Surface bore(const StackMesh& m) { return surface_of(m.bodies[1], m.seats[0].right_node); }

} // namespace

TEST_CASE("an even stress passes through distorted elements unchanged", "[once][bodies]") {
    const StackMesh mesh = mesh_of(shaped(), {});
    for (const BodyMesh& m : mesh.bodies) {
        // u_r = r, u_z = -2 z + 3: even strain, so even stress, at every node of every element.
        const auto u = field(
            m, [](double r, double) { return r; }, [](double, double z) { return 3.0 - 2.0 * z; });
        const std::vector<double> cold(m.r.size(), 0.0);
        const double c = 1.0 / ((1.0 + nu) * (1.0 - 2.0 * nu));
        for (const Stress& s : nodal_stress(m, nu, 1.0, u, cold)) {
            CHECK(s.radial == Approx(c * (1.0 - 2.0 * nu)).epsilon(1e-9));
            CHECK(s.hoop == Approx(c * (1.0 - 2.0 * nu)).epsilon(1e-9));
            CHECK(s.axial == Approx(c * (-2.0 + 4.0 * nu)).epsilon(1e-9));
            CHECK(s.shear == Approx(0.0).margin(1e-9));
        }
    }
}

TEST_CASE("a shift along the shaft costs no energy, and nothing else is free", "[once][bodies]") {
    const StackMesh mesh = mesh_of(shaped(), {});
    for (const BodyMesh& m : mesh.bodies) {
        const auto zero = [](double, double) { return 0.0; };
        const auto one = [](double, double) { return 1.0; };
        CHECK(elastic_energy(m, nu, field(m, zero, one)) == Approx(0.0).margin(1e-12));
        CHECK(elastic_energy(m, nu, field(m, one, zero)) > 1e-3);
    }
}

TEST_CASE("what is meshed has the volume of the drawing", "[once][bodies]") {
    const StackMesh mesh = mesh_of(shaped(), {});
    const auto volume = [](const BodyMesh& m) {
        const auto u =
            field(m, [](double r, double) { return r; }, [](double, double z) { return z; });
        // Stretched by one all round: energy is half of stress 1/(1 - 2 nu) times strain 1, three ways.
        return elastic_energy(m, nu, u) * 2.0 * (1.0 - 2.0 * nu) / 3.0;
    };
    const double pi = fields::pi;
    const auto tube = [pi](double l, double d, double o) {
        return l * pi / 4.0 * (o * o - d * d) * 1e-9;
    };
    // A chamfer of leg c at radius r takes a triangle, its centroid c/3 from the corner (Pappus).
    const auto cut = [pi](double c, double r, double side) {
        return c * c / 2.0 * 2.0 * pi * (r + side * c / 3.0) * 1e-9;
    };
    const double ring = tube(12, 80, 120) + tube(10, 80, 110) + tube(14, 80, 124) - cut(4, 40, 1) -
                        cut(2, 60, -1) - cut(1, 40, 1) - cut(3, 62, -1);
    CHECK(volume(mesh.bodies[1]) == Approx(ring).epsilon(1e-9));
    // A fillet of radius R adds a corner less a quarter circle, centroid R(10 - 3 pi)/(12 - 3 pi) from it.
    const double extra = 9.0 * (1.0 - pi / 4.0) * 2.0 * pi *
                         (40.0 + 3.0 * (10.0 - 3.0 * pi) / (12.0 - 3.0 * pi)) * 1e-9;
    const double shaft = tube(20, 30, 100) + tube(80, 30, 80) + extra;
    CHECK(volume(mesh.bodies[0]) == Approx(shaft).epsilon(1e-6));
}

TEST_CASE("pressure in a bore moves it as Lame says, and the work is the energy",
          "[once][bodies]") {
    const StackMesh mesh = plain();
    const BodyMesh& m = mesh.bodies[1];
    const Surface s = bore(mesh);
    const ElasticBody body(m, nu, {along(mesh.outsides[1].node[1])}, {});
    std::vector<double> push(m.unknowns(), 0.0);
    for (std::size_t i = 0; i < s.node.size(); ++i)
        push[static_cast<std::size_t>(outwards(s.node[i]))] = s.area[i];
    std::vector<double> u = push;
    body.solve(u);
    // Lame, thick cylinder with free ends (docs/theory.md, section 1), at a modulus of one.
    const double at_bore = a * ((1.0 - nu) * a * a + (1.0 + nu) * b * b) / (b * b - a * a);
    const double outside = 2.0 * a * a * b / (b * b - a * a);
    for (const int n : s.node)
        CHECK(u[static_cast<std::size_t>(outwards(n))] == Approx(at_bore).epsilon(1e-5));
    for (const int n : mesh.outsides[1].node)
        CHECK(u[static_cast<std::size_t>(outwards(n))] == Approx(outside).epsilon(1e-5));
    double work = 0.0;
    for (std::size_t i = 0; i < u.size(); ++i)
        work += 0.5 * push[i] * u[i];
    CHECK(elastic_energy(m, nu, u) == Approx(work).epsilon(1e-9));
    // A quarter of what remains for each halving, at least.
    const StackMesh finer =
        mesh_of(stack_of({slice(40, 40, 80)}, {ring_of({slice(40, 80, 120)})}), {1.0, 2});
    const Surface fs = bore(finer);
    const ElasticBody fine(finer.bodies[1], nu, {along(finer.outsides[1].node[1])}, {});
    std::vector<double> fu(finer.bodies[1].unknowns(), 0.0);
    for (std::size_t i = 0; i < fs.node.size(); ++i)
        fu[static_cast<std::size_t>(outwards(fs.node[i]))] = fs.area[i];
    fine.solve(fu);
    CHECK(std::abs(mean_growth(fs, fu) - at_bore) < 0.25 * std::abs(mean_growth(s, u) - at_bore));
}

// Reciprocity with Lame's state, which is exact in a free ring of any length: the mean movement of a
// face under heat or speed is that of the thin ring.
TEST_CASE("the mean growth of a spinning ring is the thin disc's at any length", "[once][bodies]") {
    const StackMesh mesh = plain();
    const BodyMesh& m = mesh.bodies[1];
    const ElasticBody body(m, nu, {along(mesh.outsides[1].node[1])}, {});
    std::vector<double> u = spin_forces(m);
    body.solve(u);
    // Timoshenko and Goodier, rotating discs: docs/theory.md, section 1.
    const auto disc = [](double r) {
        return r * (3.0 + nu) * (1.0 - nu) / 8.0 *
               (a * a + b * b + (1.0 + nu) / (1.0 - nu) * a * a * b * b / (r * r) -
                (1.0 + nu) / (3.0 + nu) * r * r);
    };
    CHECK(mean_growth(bore(mesh), u) == Approx(disc(a)).epsilon(1e-5));
    CHECK(mean_growth(mesh.outsides[1], u) == Approx(disc(b)).epsilon(1e-5));
}

TEST_CASE("any radial profile of heat moves both faces by its area mean", "[once][bodies]") {
    const StackMesh mesh = plain();
    const BodyMesh& m = mesh.bodies[1];
    const ElasticBody body(m, nu, {along(mesh.outsides[1].node[1])}, {});
    // Strain rising evenly from bore to outside; area mean of (r - a)/(b - a).
    std::vector<double> u = heat_forces(m, nu, load_strain(m, gradient));
    body.solve(u);
    const double mean = ((b * b * b - a * a * a) * 2.0 / 3.0 / (b * b - a * a) - a) / (b - a);
    CHECK(mean_growth(bore(mesh), u) == Approx(a * mean).epsilon(1e-5));
    CHECK(mean_growth(mesh.outsides[1], u) == Approx(b * mean).epsilon(1e-5));
    // Even heat is free: no stress anywhere.
    std::vector<double> even = heat_forces(m, nu, load_strain(m, heat));
    body.solve(even);
    for (const Stress& s : nodal_stress(m, nu, 206e9, even, load_strain(m, heat)))
        CHECK(s.von_mises() < 206e9 * 1e-8);
}

TEST_CASE("condensing loses nothing", "[once][bodies]") {
    const StackMesh mesh = mesh_of(shaped(), {});
    for (std::size_t part : {std::size_t{0}, std::size_t{1}}) {
        const BodyMesh& m = mesh.bodies[part];
        BodyPoints points;
        for (const int n : part == 0 ? mesh.seats[0].left_node : mesh.seats[0].right_node) {
            points.movement.push_back(outwards(n));
            points.movement.push_back(along(n));
        }
        points.mean = {mesh.nut_ends[part]};
        points.held = {along(mesh.outsides[part].node[1])};
        const CondensedBody condensed = condense(m, nu, points);
        const ElasticBody body(m, nu, points.held, points.movement);
        // Forces of no pattern on all points.
        std::vector<double> force;
        std::vector<double> u(m.unknowns(), 0.0);
        for (std::size_t i = 0; i < points.count(); ++i)
            force.push_back(std::sin(1.0 + 12.9898 * static_cast<double>(i)));
        for (std::size_t i = 0; i < points.movement.size(); ++i)
            u[static_cast<std::size_t>(points.movement[i])] += force[i];
        const Surface& end = points.mean[0];
        for (std::size_t i = 0; i < end.node.size(); ++i)
            u[static_cast<std::size_t>(along(end.node[i]))] +=
                force.back() * end.area[i] / end.whole();
        body.solve(u);
        for (std::size_t i = 0; i < points.movement.size(); ++i) {
            double moved = 0.0;
            for (std::size_t j = 0; j < points.count(); ++j)
                moved += condensed.at(i, j) * force[j];
            CHECK(
                moved ==
                Approx(u[static_cast<std::size_t>(points.movement[i])]).epsilon(1e-9).margin(1e-9));
        }
    }
}

TEST_CASE("a free far end is held evenly and moves by nothing on the mean", "[once][bodies]") {
    StackSection s = shaped();
    s.shaft.far_end = FarEnd::free;
    const StackMesh mesh = mesh_of(s, {});
    BodyPoints points;
    points.mean = {mesh.nut_ends[0], mesh.far_end};
    points.held = {along(mesh.far_end.node.front())};
    points.far_end = 1;
    const CondensedBody body = condense(mesh.bodies[0], nu, points);
    // A pull on the nut end stretches 80 mm of shaft and 20 mm of collar, as bars would and a little more.
    const double pi = fields::pi;
    const double bars = 0.08 / (pi / 4.0 * (0.08 * 0.08 - 0.03 * 0.03)) +
                        0.02 / (pi / 4.0 * (0.1 * 0.1 - 0.03 * 0.03));
    CHECK(body.at(0, 0) > bars);
    CHECK(body.at(0, 0) < 1.1 * bars);
    CHECK(body.at(1, 1) == Approx(0.0).margin(1e-9));
    CHECK(body.at(0, 1) == Approx(0.0).margin(1e-9));
    // Warmed evenly its end is further by its length.
    CHECK(body.load(heat, 0) == Approx(0.1).epsilon(1e-9));
    CHECK(body.load(heat, 1) == Approx(0.0).margin(1e-12));
}
