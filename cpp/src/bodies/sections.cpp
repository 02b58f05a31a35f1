#include <fitwright/bodies/sections.hpp>

#include "detail/store.hpp"
#include <map>

namespace fitwright::bodies {

namespace {

// A force of a contact as one part sees it: at its point `at`, times `sign`.
struct Share {
    std::size_t contact, at;
    double sign;
};

// Means along z of the shaft, and of a ring.
enum ShaftMean : std::size_t { shaft_thread, shaft_far_end };
enum RingMean : std::size_t { ring_end, ring_nut_face, ring_thrust };

// Peaks of the surfaces, pressed flat: so little that no figure shows it (a 50000th of what the seat
// itself gives way by), and enough that two nodes of one corner share their force.
constexpr double contact_softness = 2e-5;

// Which movements of a part stay, each once.
class KeptMovements {
public:
    std::size_t operator()(int movement) {
        const auto [found, is_new] = at_.try_emplace(movement, all_.size());
        if (is_new)
            all_.push_back(movement);
        return found->second;
    }
    const std::vector<int>& all() const { return all_; }

private:
    std::map<int, std::size_t> at_;
    std::vector<int> all_;
};

} // namespace

struct Sections::Body {
    struct Part {
        double modulus = 0.0, poisson = 0.0;
        BodyPoints points;
        std::vector<Share> shares;
        std::vector<std::size_t> outside; // points
        std::vector<double> outside_z, outside_radius;
        Kept condensed;
    };

    StackSection stack;
    StackMesh mesh;
    ContactPoints contacts;
    std::vector<Part> parts;

    Body(StackSection told, const Fineness& fineness, Cache* cache)
        : stack(std::move(told))
        , mesh(mesh_of(stack, fineness)) {
        name_contacts();
        count_contacts();
        for (std::size_t b = 0; b < mesh.bodies.size(); ++b)
            part(b);
        for (std::size_t b = 0; b < mesh.bodies.size(); ++b)
            condense_part(b, cache);
        gather();
    }

    void name_contacts() {
        ContactPoints& c = contacts;
        c.rings = stack.rings.size();
        c.seat_begin = c.face_begin = {0};
        for (std::size_t k = 0; k < c.rings; ++k) {
            const Touching& seat = mesh.seats[k];
            const BodyMesh& ring = mesh.bodies[k + 1];
            for (std::size_t i = 0; i < seat.area.size(); ++i) {
                const auto node = static_cast<std::size_t>(seat.right_node[i]);
                c.seat_z.push_back(ring.z[node]);
                c.seat_radius.push_back(ring.r[node]);
                c.seat_area.push_back(seat.area[i]);
                c.seat_length.push_back(seat.area[i] / (2.0 * fields::pi * ring.r[node]));
                c.seat_slice.push_back(mesh.slice_of_seat[k][i]);
            }
            c.seat_begin.push_back(c.seat_z.size());
            const Touching& face = mesh.faces[k];
            for (std::size_t i = 0; i < face.area.size(); ++i) {
                c.face_radius.push_back(ring.r[static_cast<std::size_t>(face.right_node[i])]);
                c.face_area.push_back(face.area[i]);
            }
            c.face_begin.push_back(c.face_area.size());
            c.on_shaft.push_back(k == 0 ? 1 : 0);
        }
    }

    // Dense matrices of all contact forces are kept, and four of them while a history runs.
    void count_contacts() const {
        constexpr std::size_t most = 6000;
        if (contacts.size() > most)
            throw DomainError(
                {Problem{"fineness", "this mesh has " + std::to_string(contacts.size()) +
                                         " contact forces; at most " + std::to_string(most) +
                                         ": mesh it less finely"}});
    }

    // The points of a part, and which contact acts on which.
    void part(std::size_t b) {
        Part& p = parts.emplace_back();
        const bool shaft = b == 0;
        const std::size_t k = b - 1;
        p.modulus = shaft ? stack.shaft.modulus : stack.rings[k].modulus;
        p.poisson = shaft ? stack.shaft.poisson : stack.rings[k].poisson;
        KeptMovements keep;
        for (std::size_t ring = 0; ring < contacts.rings; ++ring) {
            if (!shaft && ring != k)
                continue;
            const Touching& seat = mesh.seats[ring];
            for (std::size_t i = 0; i < seat.area.size(); ++i) {
                const int node = shaft ? seat.left_node[i] : seat.right_node[i];
                const std::size_t contact = contacts.seat_begin[ring] + i;
                const double sign = shaft ? -1.0 : 1.0;
                p.shares.push_back({contact, keep(outwards(node)), sign});
                if (shaft && held_plane() && is_held(node))
                    continue; // that node does not move along z
                p.shares.push_back({contacts.seats() + contact, keep(along(node)), sign});
            }
        }
        for (std::size_t ring = 0; ring < contacts.rings; ++ring) {
            const Touching& face = mesh.faces[ring];
            const bool right = face.right == static_cast<int>(b);
            if (!right && face.left != static_cast<int>(b))
                continue;
            for (std::size_t i = 0; i < face.area.size(); ++i)
                p.shares.push_back({contacts.face(contacts.face_begin[ring] + i),
                                    keep(along(right ? face.right_node[i] : face.left_node[i])),
                                    right ? 1.0 : -1.0});
        }
        const Surface& outside = mesh.outsides[b];
        for (const int node : outside.node) {
            p.outside.push_back(keep(outwards(node)));
            p.outside_z.push_back(mesh.bodies[b].z[static_cast<std::size_t>(node)]);
            p.outside_radius.push_back(mesh.bodies[b].r[static_cast<std::size_t>(node)]);
        }
        p.points.movement = keep.all();
        const std::size_t means = p.points.movement.size();
        if (shaft) {
            p.points.mean = {mesh.thread, mesh.far_end};
            if (stack.shaft.far_end == FarEnd::free) {
                p.points.far_end = shaft_far_end;
                p.points.held = {along(mesh.far_end.node.front())};
            } else {
                for (const int node : mesh.far_end.node)
                    p.points.held.push_back(along(node));
            }
            for (std::size_t ring = 0; ring < contacts.rings; ++ring)
                p.shares.push_back({contacts.end(ring), means + shaft_thread, 1.0});
        } else {
            const bool last = k + 1 == contacts.rings;
            p.points.mean = {mesh.nut_ends[b], last ? mesh.nut_face : mesh.nut_ends[b],
                             mesh.thrust[k]};
            // A ring floats along z: it is held at one node, which balanced forces leave alone.
            p.points.held = {along(outside.node[outside.node.size() / 2])};
            p.shares.push_back({contacts.end(k), means + (last ? ring_nut_face : ring_end), -1.0});
        }
    }
    bool held_plane() const { return stack.shaft.far_end == FarEnd::plane; }
    bool is_held(int node) const {
        const std::vector<int>& end = mesh.far_end.node;
        return std::find(end.begin(), end.end(), node) != end.end();
    }

    void condense_part(std::size_t b, Cache* cache) {
        Part& p = parts[b];
        const BodyMesh& m = mesh.bodies[b];
        const auto make = [&] { return condense(m, p.poisson, p.points); };
        p.condensed = cache == nullptr ? std::make_shared<const CondensedBody>(make())
                                       : cache->store().get(key_of(m, p.poisson, p.points), make);
    }

    void gather() {
        ContactPoints& c = contacts;
        const std::size_t n = c.size();
        c.compliance.assign(n * n, 0.0);
        c.by_load.assign(body_loads * parts.size() * n, 0.0);
        c.by_push.assign(c.rings * n, 0.0);
        c.by_thrust.assign(c.rings * n, 0.0);
        c.by_pull.assign(n, 0.0);
        for (std::size_t b = 0; b < parts.size(); ++b) {
            const Part& p = parts[b];
            const CondensedBody& body = *p.condensed;
            const double soft = 1.0 / p.modulus;
            for (const Share& s : p.shares) {
                for (const Share& f : p.shares)
                    c.compliance[s.contact * n + f.contact] +=
                        s.sign * f.sign * soft * body.at(s.at, f.at);
                for (int q = 0; q < body_loads; ++q)
                    c.by_load[(body_loads * b + static_cast<std::size_t>(q)) * n + s.contact] +=
                        s.sign * (q == spin ? soft : 1.0) * body.load(q, s.at);
                const std::size_t means = p.points.movement.size();
                if (b == 0) {
                    c.by_pull[s.contact] += s.sign * soft * body.at(s.at, means + shaft_thread);
                } else {
                    c.by_push[(b - 1) * n + s.contact] -=
                        s.sign * soft * body.at(s.at, means + ring_end);
                    c.by_thrust[(b - 1) * n + s.contact] -=
                        s.sign * soft * body.at(s.at, means + ring_thrust);
                }
            }
        }
        soften();
    }
    void soften() {
        ContactPoints& c = contacts;
        const std::size_t n = c.size();
        c.own.assign(n, 0.0);
        const double at_shaft = 1.0 / parts[0].modulus;
        for (std::size_t k = 0; k < c.rings; ++k) {
            const double at_ring = 1.0 / parts[k + 1].modulus;
            const double beside = k == 0 ? at_shaft : 1.0 / parts[k].modulus;
            const double across = stack.rings[k].slices[0].outside * contact_softness;
            const auto soften_one = [&](std::size_t at, double modulus, double area) {
                c.own[at] = across * (modulus + at_ring) / area;
                c.compliance[at * n + at] += c.own[at];
            };
            for (std::size_t i = c.seat_begin[k]; i < c.seat_begin[k + 1]; ++i)
                for (const std::size_t at : {i, c.seats() + i})
                    soften_one(at, at_shaft, c.seat_area[i]);
            for (std::size_t i = c.face_begin[k]; i < c.face_begin[k + 1]; ++i)
                soften_one(c.face(i), beside, c.face_area[i]);
            soften_one(c.end(k), at_ring, mesh.nut_ends[k + 1].whole());
        }
    }

    // Forces on the points of a part, by all that acts.
    std::vector<double> on_points(std::size_t b, const SectionActs& acts) const {
        const Part& p = parts[b];
        std::vector<double> force(p.points.count(), 0.0);
        for (const Share& s : p.shares)
            force[s.at] += s.sign * acts.forces[s.contact];
        const std::size_t means = p.points.movement.size();
        if (b == 0) {
            force[means + shaft_thread] += acts.pull;
        } else {
            force[means + ring_end] -= acts.push[b - 1];
            force[means + ring_thrust] -= acts.thrust[b - 1];
        }
        return force;
    }
    double amount(std::size_t b, int load, const SectionActs& acts) const {
        return acts.loads[body_loads * b + static_cast<std::size_t>(load)];
    }
};

Sections::Sections(StackSection stack, const Fineness& fineness, Cache* cache)
    : body_(std::make_unique<Body>(std::move(stack), fineness, cache)) {}
Sections::~Sections() = default;
Sections::Sections(Sections&&) noexcept = default;
Sections& Sections::operator=(Sections&&) noexcept = default;

const StackSection& Sections::stack() const { return body_->stack; }
const ContactPoints& Sections::contacts() const { return body_->contacts; }
std::size_t Sections::unknowns() const { return body_->mesh.unknowns(); }
SectionMesh Sections::mesh(int part) const {
    const BodyMesh& m = body_->mesh.bodies[static_cast<std::size_t>(part)];
    return {m.r, m.z, m.elements};
}
const std::vector<double>& Sections::outside_z(int part) const {
    return body_->parts[static_cast<std::size_t>(part)].outside_z;
}
const std::vector<double>& Sections::outside_radius(int part) const {
    return body_->parts[static_cast<std::size_t>(part)].outside_radius;
}

std::vector<double> Sections::growth(int part, const SectionActs& acts) const {
    const auto b = static_cast<std::size_t>(part);
    const Body::Part& p = body_->parts[b];
    const CondensedBody& body = *p.condensed;
    const std::vector<double> force = body_->on_points(b, acts);
    const double soft = 1.0 / p.modulus;
    std::vector<double> out;
    for (const std::size_t at : p.outside) {
        double u = 0.0;
        for (std::size_t j = 0; j < force.size(); ++j)
            u += body.at(at, j) * force[j];
        u *= soft;
        for (int q = 0; q < body_loads; ++q)
            u += (q == spin ? soft : 1.0) * body.load(q, at) * body_->amount(b, q, acts);
        out.push_back(u);
    }
    return out;
}

SectionField Sections::field(int part, const SectionActs& acts) const {
    const auto b = static_cast<std::size_t>(part);
    const Body::Part& p = body_->parts[b];
    const BodyMesh& mesh = body_->mesh.bodies[b];
    const ElasticBody elastic(mesh, p.poisson, p.points.held, p.points.movement);
    const std::vector<double> force = body_->on_points(b, acts);
    // All at a modulus of one: movements then are times the modulus, but for heat.
    std::vector<double> u(mesh.unknowns(), 0.0);
    const std::size_t single = p.points.movement.size();
    for (std::size_t i = 0; i < single; ++i)
        u[static_cast<std::size_t>(p.points.movement[i])] += force[i];
    double net = 0.0;
    for (std::size_t i = 0; i < p.points.count(); ++i)
        if (i >= single || p.points.movement[i] % 2 == 1)
            net += force[i];
    const auto spread = [&](const Surface& s, double whole) {
        for (std::size_t i = 0; i < s.node.size(); ++i)
            u[static_cast<std::size_t>(along(s.node[i]))] += whole * s.area[i] / s.whole();
    };
    for (std::size_t i = single; i < p.points.count(); ++i)
        spread(p.points.mean[i - single], force[i]);
    if (p.points.far_end >= 0)
        spread(p.points.mean[static_cast<std::size_t>(p.points.far_end)], -net);
    const std::vector<double> by_spin = spin_forces(mesh);
    std::vector<double> strain(mesh.r.size(), 0.0);
    for (const BodyLoad load : {heat, gradient}) {
        const std::vector<double> one = load_strain(mesh, load);
        for (std::size_t i = 0; i < strain.size(); ++i)
            strain[i] += body_->amount(b, load, acts) * one[i];
    }
    const std::vector<double> by_heat = heat_forces(mesh, p.poisson, strain);
    for (std::size_t i = 0; i < u.size(); ++i)
        u[i] = (u[i] + body_->amount(b, spin, acts) * by_spin[i]) / p.modulus + by_heat[i];
    elastic.solve(u);
    SectionField out;
    for (std::size_t i = 0; i < mesh.r.size(); ++i) {
        out.outwards.push_back(u[2 * i]);
        out.along.push_back(u[2 * i + 1]);
    }
    for (const Stress& s : nodal_stress(mesh, p.poisson, p.modulus, u, strain)) {
        out.radial.push_back(s.radial);
        out.axial.push_back(s.axial);
        out.hoop.push_back(s.hoop);
        out.shear.push_back(s.shear);
        out.von_mises.push_back(s.von_mises());
    }
    return out;
}

} // namespace fitwright::bodies
