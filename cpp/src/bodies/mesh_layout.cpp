#include "detail/mesh_layout.hpp"

namespace fitwright::bodies {

namespace {

// Sizes of the coarse mesh, as shares of what they are near to. Chosen so that one halving is within
// 0.3 % in mean pressure and 0.1 um in gaps of two (docs/theory-bodies.md).
constexpr double seat_end = 0.04;     // of the length in contact, along z at its ends
constexpr double seat_depth = 0.06;   // of the wall, across at the seat
constexpr double step_end = 0.15;     // of the wall, along z where its outside has a step
constexpr double face_edge = 0.15;    // of the wall, across where a face begins or ends
constexpr double seat_longest = 0.25; // of the length in contact
constexpr double wall_longest = 0.3;  // of the wall
constexpr double growth = 2.0;

double wall(const Slice& s) { return 0.5 * (s.outside - s.bore); }

std::vector<Block> blocks_of(const std::vector<Slice>& slices, double start) {
    std::vector<Block> blocks;
    for (const Slice& s : slices) {
        blocks.push_back({start, start + s.length, 0.5 * s.bore, 0.5 * s.outside});
        start += s.length;
    }
    return blocks;
}

class Builder {
public:
    Builder(const StackSection& stack, Layout& out)
        : stack_(stack)
        , out_(out) {}

    void run(const Fineness& fineness) {
        out_.sliver = sliver_of(stack_);
        out_.blocks = {blocks_of(stack_.shaft.slices, -stack_.shaft.behind)};
        out_.ring_start = {stack_.start};
        for (const RingSection& r : stack_.rings) {
            out_.blocks.push_back(blocks_of(r.slices, out_.ring_start.back()));
            out_.ring_start.push_back(out_.ring_start.back() + length_of(r.slices));
        }
        for (std::size_t k = 0; k < stack_.rings.size(); ++k)
            ring(k);
        shaft();
        out_.along.settle(out_.sliver);
        out_.across.settle(out_.sliver);
        out_.along.divide(growth, fineness.fineness, fineness.halvings);
        out_.across.divide(growth, fineness.fineness, fineness.halvings);
    }

private:
    // What of a ring's bore lies on the shaft: same radius, less chamfers and fillet.
    void seat(std::size_t k) {
        const RingSection& r = stack_.rings[k];
        const std::vector<Block>& own = out_.blocks[k + 1];
        const double first = out_.ring_start[k] + r.chamfers.shoulder_bore;
        const double last = out_.ring_start[k + 1] - r.chamfers.nut_bore;
        std::vector<Stretch>& seat = out_.seats.emplace_back();
        for (std::size_t i = 0; i < own.size(); ++i)
            for (const Block& s : out_.blocks[0]) {
                if (std::abs(s.r1 - own[i].r0) > out_.sliver)
                    continue;
                const double clear = s.z0 < out_.sliver ? stack_.shaft.fillet : 0.0;
                const double z0 = std::max({own[i].z0, s.z0 + clear, first, clear});
                const double z1 = std::min({own[i].z1, s.z1, last});
                if (z1 - z0 > 2.0 * out_.sliver)
                    seat.push_back({z0, z1, static_cast<int>(i)});
            }
    }

    void ring(std::size_t k) {
        const RingSection& r = stack_.rings[k];
        seat(k);
        const std::vector<Stretch>& seat = out_.seats[k];
        double in_contact = 0.0;
        for (const Stretch& s : seat)
            in_contact += s.z1 - s.z0;
        double thin = Lattice::any;
        for (const Slice& s : r.slices)
            thin = std::min(thin, wall(s));
        double thin_shaft = Lattice::any;
        for (std::size_t i = 0; i < out_.blocks[0].size(); ++i)
            if (out_.blocks[0][i].z1 > out_.ring_start[k] &&
                out_.blocks[0][i].z0 < out_.ring_start[k + 1])
                thin_shaft = std::min(thin_shaft, wall(stack_.shaft.slices[i]));
        for (const Stretch& s : seat) {
            const double fine = seat_end * in_contact;
            for (const double z : {s.z0, s.z1})
                out_.along.add(z, joins(seat, z) ? step_end * thin : fine);
            out_.along.limit(s.z0, s.z1,
                             std::min({seat_longest * in_contact, thin, 0.5 * (s.z1 - s.z0)}));
            out_.across.add(out_.blocks[k + 1][static_cast<std::size_t>(s.slice)].r0,
                            seat_depth * std::min(thin, thin_shaft));
        }
        const double start = out_.ring_start[k];
        const double end = out_.ring_start[k + 1];
        out_.along.limit(start, end, std::min(0.5 * (end - start), 2.0 * thin));
        corners(r.chamfers, k, start, end, thin);
        for (const Block& b : out_.blocks[k + 1]) {
            out_.along.add(b.z0);
            out_.along.add(b.z1);
            out_.across.add(b.r0);
            out_.across.add(b.r1);
            out_.across.limit(b.r0, b.r1, wall_longest * (b.r1 - b.r0));
        }
        if (r.thrust_length > 0.0) {
            out_.along.add(start + r.thrust_start);
            out_.along.add(start + r.thrust_start + r.thrust_length);
        }
        // Faces begin and end where the smaller of two does.
        if (k > 0) {
            const Span left = last_face_of(stack_.rings[k - 1]);
            const Span right = first_face_of(r);
            edge(std::max(left.from, right.from), thin);
            edge(std::min(left.to, right.to), thin);
        }
    }
    void edge(double diameter, double thin) { out_.across.add(0.5 * diameter, face_edge * thin); }
    void corners(const Chamfers& c, std::size_t k, double start, double end, double thin) {
        const Block& first = out_.blocks[k + 1].front();
        const Block& last = out_.blocks[k + 1].back();
        const struct {
            double leg, z, r;
        } all[] = {{c.shoulder_bore, start + c.shoulder_bore, first.r0 + c.shoulder_bore},
                   {c.shoulder_outside, start + c.shoulder_outside, first.r1 - c.shoulder_outside},
                   {c.nut_bore, end - c.nut_bore, last.r0 + c.nut_bore},
                   {c.nut_outside, end - c.nut_outside, last.r1 - c.nut_outside}};
        for (const auto& one : all) {
            if (!(one.leg > 0.0))
                continue;
            out_.along.add(one.z);
            out_.across.add(one.r, face_edge * thin);
        }
    }
    static bool joins(const std::vector<Stretch>& seat, double z) {
        int ends = 0;
        for (const Stretch& s : seat)
            ends += (s.z0 == z ? 1 : 0) + (s.z1 == z ? 1 : 0);
        return ends > 1;
    }

    void shaft() {
        const ShaftSection& s = stack_.shaft;
        for (std::size_t i = 0; i < s.slices.size(); ++i) {
            const Block& b = out_.blocks[0][i];
            out_.along.add(b.z0);
            out_.along.add(b.z1);
            out_.across.add(b.r0);
            out_.across.add(b.r1);
            const double thick = wall(s.slices[i]);
            out_.across.limit(b.r0, b.r1, wall_longest * thick);
            out_.along.limit(b.z0, b.z1, 0.75 * thick);
        }
        const Span land = shoulder_land(stack_);
        const double thin = wall(stack_.rings[0].slices[0]);
        if (s.behind > 0.0)
            out_.along.limit(-s.behind, 0.0, 0.5 * s.behind);
        if (s.behind > 0.0 && has_shoulder(stack_)) {
            edge(land.from, thin);
            edge(std::min(land.to, last_of_first_face()), thin);
        }
        if (s.thread_length > 0.0) {
            out_.along.add(s.thread_start);
            out_.along.add(s.thread_start + s.thread_length);
        }
        if (stack_.nut_outside > 0.0) {
            const Span face = last_face_of(stack_.rings.back());
            out_.across.add(0.5 * std::max(face.from, stack_.nut_inside));
            out_.across.add(0.5 * std::min(face.to, stack_.nut_outside));
        }
        if (s.fillet > 0.0)
            fillet();
    }
    double last_of_first_face() const { return first_face_of(stack_.rings[0]).to; }
    void fillet() {
        const ShaftSection& s = stack_.shaft;
        const auto at = static_cast<std::size_t>(slice_ending(s.slices, s.behind, out_.sliver)) + 1;
        const Slice& first = s.slices[at];
        const double reach = std::min({s.fillet, 0.5 * wall(first), 0.5 * s.slices[at - 1].length});
        out_.fillet_reach = reach;
        out_.seat_radius = 0.5 * first.outside;
        const double fine = 0.2 * s.fillet;
        out_.along.add(-reach, fine);
        out_.along.add(s.fillet, fine);
        out_.across.add(out_.seat_radius - reach, fine);
        out_.across.add(out_.seat_radius + s.fillet, fine);
    }

    const StackSection& stack_;
    Layout& out_;
};

} // namespace

Layout layout_of(const StackSection& stack, const Fineness& fineness) {
    Layout layout;
    Builder(stack, layout).run(fineness);
    return layout;
}

} // namespace fitwright::bodies
