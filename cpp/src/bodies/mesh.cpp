#include "detail/mesh.hpp"
#include "detail/mesh_body.hpp"
#include "detail/quad8.hpp"
#include <numbers>

namespace fitwright::bodies {

double Surface::whole() const {
    double sum = 0.0;
    for (const double a : area)
        sum += a;
    return sum;
}

Surface surface_of(const BodyMesh& mesh, std::vector<int> nodes) {
    Surface s{std::move(nodes), {}};
    s.area.assign(s.node.size(), 0.0);
    for (std::size_t k = 0; k + 2 < s.node.size(); k += 2)
        for (int g = 0; g < 3; ++g) {
            const double x = gauss_place[g];
            const double n[] = {0.5 * x * (x - 1.0), 1.0 - x * x, 0.5 * x * (x + 1.0)};
            const double dn[] = {x - 0.5, -2.0 * x, x + 0.5};
            double r = 0.0, dr = 0.0, dz = 0.0;
            for (std::size_t i = 0; i < 3; ++i) {
                const auto node = static_cast<std::size_t>(s.node[k + i]);
                r += n[i] * mesh.r[node];
                dr += dn[i] * mesh.r[node];
                dz += dn[i] * mesh.z[node];
            }
            const double ds =
                gauss_weight[g] * std::sqrt(dr * dr + dz * dz) * 2.0 * std::numbers::pi * r;
            for (std::size_t i = 0; i < 3; ++i)
                s.area[k + i] += n[i] * ds;
        }
    return s;
}

namespace {

class Mesher {
public:
    Mesher(const StackSection& stack, const Fineness& fineness)
        : stack_(stack)
        , layout_(layout_of(stack, fineness)) {}

    void count(std::int64_t most) const {
        // Three nodes an element, two movements a node.
        std::int64_t elements = 0;
        for (const auto& blocks : layout_.blocks)
            for (const Block& b : blocks)
                elements += std::int64_t{line_along(b.z1) - line_along(b.z0)} *
                            (line_across(b.r1) - line_across(b.r0));
        if (6 * elements > most)
            throw DomainError({{"fineness", "this mesh has about " + std::to_string(6 * elements) +
                                                " unknowns; at most " + std::to_string(most) +
                                                " (most_unknowns): mesh it less finely"}});
    }

    StackMesh run() {
        for (std::size_t b = 0; b < layout_.blocks.size(); ++b)
            body(b);
        seats();
        faces();
        ends();
        return std::move(out_);
    }

private:
    int line_along(double z) const { return layout_.along.line_of(layout_.along.station(z)); }
    int line_across(double r) const { return layout_.across.line_of(layout_.across.station(r)); }

    void body(std::size_t b) {
        BodyBuilder builder(layout_, layout_.blocks[b]);
        if (b == 0) {
            if (stack_.shaft.fillet > 0.0)
                builder.fillet(layout_.seat_radius, stack_.shaft.fillet, layout_.fillet_reach);
        } else {
            const Chamfers& c = stack_.rings[b - 1].chamfers;
            const Block& first = layout_.blocks[b].front();
            const Block& last = layout_.blocks[b].back();
            const auto cut = [&builder](double z, double r, int along, int across, double leg) {
                if (leg > 0.0)
                    builder.chamfer(z, r, along, across, leg);
            };
            cut(first.z0, first.r0, 1, 1, c.shoulder_bore);
            cut(first.z0, first.r1, 1, -1, c.shoulder_outside);
            cut(last.z1, last.r0, -1, 1, c.nut_bore);
            cut(last.z1, last.r1, -1, -1, c.nut_outside);
        }
        out_.bodies.push_back(builder.finish());
    }

    // Nodes of a body on one lattice line.
    std::vector<int> nodes_along(std::size_t b, double r, double z0, double z1) const {
        return line(b, 2 * line_along(z0), 2 * line_along(z1), 2 * line_across(r), true);
    }
    std::vector<int> nodes_across(std::size_t b, double z, double r0, double r1) const {
        return line(b, 2 * line_across(r0), 2 * line_across(r1), 2 * line_along(z), false);
    }
    std::vector<int> line(std::size_t b, int from, int to, int at, bool along) const {
        std::vector<int> nodes;
        for (int k = from; k <= to; ++k)
            nodes.push_back(along ? out_.bodies[b].node(k, at) : out_.bodies[b].node(at, k));
        return nodes;
    }

    void seats() {
        for (std::size_t k = 0; k < stack_.rings.size(); ++k) {
            Touching t;
            t.left = 0;
            t.right = static_cast<int>(k) + 1;
            std::vector<int> slices;
            const std::vector<Stretch>& all = layout_.seats[k];
            for (std::size_t i = 0; i < all.size(); ++i) {
                const double r = layout_.blocks[k + 1][static_cast<std::size_t>(all[i].slice)].r0;
                const Surface ring =
                    surface_of(out_.bodies[k + 1], nodes_along(k + 1, r, all[i].z0, all[i].z1));
                const Surface shaft =
                    surface_of(out_.bodies[0], nodes_along(0, r, all[i].z0, all[i].z1));
                join(t, shaft, ring);
                slices.resize(t.area.size(), all[i].slice);
            }
            out_.seats.push_back(std::move(t));
            out_.slice_of_seat.push_back(std::move(slices));
        }
    }
    // Adds a stretch; where it goes on from the one before, both share a node.
    static void join(Touching& t, const Surface& left, const Surface& right) {
        for (std::size_t i = 0; i < left.node.size(); ++i) {
            const double area = 0.5 * (left.area[i] + right.area[i]);
            if (i == 0 && !t.area.empty() && t.left_node.back() == left.node[0] &&
                t.right_node.back() == right.node[0]) {
                t.area.back() += area;
                continue;
            }
            t.left_node.push_back(left.node[i]);
            t.right_node.push_back(right.node[i]);
            t.area.push_back(area);
        }
    }

    void faces() {
        for (std::size_t k = 0; k < stack_.rings.size(); ++k) {
            const Span own = first_face_of(stack_.rings[k]);
            const Span other = k == 0 ? shoulder_land(stack_) : last_face_of(stack_.rings[k - 1]);
            const double r0 = 0.5 * std::max(own.from, other.from);
            const double r1 = 0.5 * std::min(own.to, other.to);
            const double z = layout_.ring_start[k];
            Touching t;
            t.right = static_cast<int>(k) + 1;
            if (k == 0 && !has_shoulder(stack_)) {
                out_.faces.push_back(std::move(t));
                continue;
            }
            const Surface right = surface_of(out_.bodies[k + 1], nodes_across(k + 1, z, r0, r1));
            if (k == 0 && stack_.shaft.behind == 0.0) {
                t.right_node = right.node;
                t.area = right.area;
            } else {
                t.left = static_cast<int>(k);
                const auto left = static_cast<std::size_t>(t.left);
                join(t, surface_of(out_.bodies[left], nodes_across(left, z, r0, r1)), right);
            }
            out_.faces.push_back(std::move(t));
        }
    }

    void ends() {
        for (std::size_t b = 0; b < layout_.blocks.size(); ++b) {
            const std::vector<Block>& blocks = layout_.blocks[b];
            const bool ring = b > 0;
            const Chamfers none;
            const Chamfers& c = ring ? stack_.rings[b - 1].chamfers : none;
            const Block& last = blocks.back();
            out_.nut_ends.push_back(
                surface_of(out_.bodies[b], nodes_across(b, last.z1, last.r0 + c.nut_bore,
                                                        last.r1 - c.nut_outside)));
            out_.outsides.push_back(
                outside(b, blocks.front().z0 + c.shoulder_outside, last.z1 - c.nut_outside));
            if (!ring)
                continue;
            const RingSection& r = stack_.rings[b - 1];
            const double start = layout_.ring_start[b - 1];
            out_.thrust.push_back(
                r.thrust_length > 0.0
                    ? outside(b, std::max(start + r.thrust_start, start + c.shoulder_outside),
                              std::min(start + r.thrust_start + r.thrust_length,
                                       last.z1 - c.nut_outside))
                    : out_.outsides.back());
        }
        const ShaftSection& s = stack_.shaft;
        const Span face = last_face_of(stack_.rings.back());
        const std::size_t n = stack_.rings.size();
        out_.nut_face = stack_.nut_outside > 0.0
                            ? surface_of(out_.bodies[n],
                                         nodes_across(n, layout_.ring_start[n],
                                                      0.5 * std::max(face.from, stack_.nut_inside),
                                                      0.5 * std::min(face.to, stack_.nut_outside)))
                            : out_.nut_ends.back();
        out_.thread = s.thread_length > 0.0
                          ? outside(0, s.thread_start, s.thread_start + s.thread_length)
                          : out_.nut_ends[0];
        const Block& first = layout_.blocks[0].front();
        out_.far_end = surface_of(out_.bodies[0], nodes_across(0, first.z0, first.r0, first.r1));
    }
    // The outside between two z, slice by slice.
    Surface outside(std::size_t b, double z0, double z1) const {
        Surface all;
        for (const Block& block : layout_.blocks[b]) {
            const double from = std::max(z0, block.z0);
            const double to = std::min(z1, block.z1);
            if (to - from <= layout_.sliver)
                continue;
            const Surface s = surface_of(out_.bodies[b], nodes_along(b, block.r1, from, to));
            all.node.insert(all.node.end(), s.node.begin(), s.node.end());
            all.area.insert(all.area.end(), s.area.begin(), s.area.end());
        }
        return all;
    }

    const StackSection& stack_;
    Layout layout_;
    StackMesh out_;
};

} // namespace

StackMesh mesh_of(const StackSection& stack, const Fineness& fineness) {
    std::vector<Problem> problems = section_problems(stack, fineness);
    if (!problems.empty())
        throw DomainError(std::move(problems));
    Mesher mesher(stack, fineness);
    mesher.count(fineness.most_unknowns);
    return mesher.run();
}

} // namespace fitwright::bodies
