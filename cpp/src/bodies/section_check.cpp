// What cannot be meshed, told with its path, value and rule before anything is built.
#include "detail/section_places.hpp"
#include <cmath>
#include <fitwright/bodies/section.hpp>

namespace fitwright::bodies {

namespace {

using fields::Quantity;

class Check {
public:
    Check(const StackSection& stack, const Fineness& fineness)
        : stack_(stack)
        , fineness_(fineness)
        , sliver_(sliver_of(stack)) {}

    std::vector<Problem> run() {
        if (stack_.rings.empty())
            add("rings", "one at least");
        numbers(stack_.shaft.slices, "shaft");
        metal(stack_.shaft.modulus, stack_.shaft.poisson, "shaft");
        for (std::size_t k = 0; k < stack_.rings.size(); ++k) {
            numbers(stack_.rings[k].slices, ring(k));
            metal(stack_.rings[k].modulus, stack_.rings[k].poisson, ring(k));
        }
        between(fineness_.fineness, 0.1, 20.0, "fineness", Quantity::ratio);
        if (fineness_.halvings < 0 || fineness_.halvings > 4)
            add("halvings", std::to_string(fineness_.halvings) + " must be 0 to 4");
        if (!problems_.empty())
            return problems_; // what follows needs sound numbers
        slices(stack_.shaft.slices, "shaft");
        for (std::size_t k = 0; k < stack_.rings.size(); ++k) {
            slices(stack_.rings[k].slices, ring(k));
            chamfers(k);
            zone(stack_.rings[k].thrust_start, stack_.rings[k].thrust_length, 0.0,
                 length_of(stack_.rings[k].slices), ring(k) + ".thrust");
        }
        moduli();
        if (!problems_.empty())
            return problems_;
        shoulder();
        if (problems_.empty())
            rings();
        nut();
        return problems_;
    }

private:
    static std::string ring(std::size_t k) { return "rings[" + std::to_string(k) + "]"; }
    void add(const std::string& path, const std::string& text) {
        problems_.push_back({path, text});
    }
    void rule(bool right, const std::string& path, double value, const std::string& text) {
        if (!right)
            add(path, show(value, Quantity::size) + " " + text);
    }
    void between(double value, double low, double high, const std::string& path,
                 Quantity quantity) {
        if (!(value >= low && value <= high))
            add(path, show(value, quantity) + " must lie from " + show(low, quantity) + " to " +
                          show(high, quantity));
    }
    static std::string size(double value) { return show(value, Quantity::size); }

    void numbers(const std::vector<Slice>& slices, const std::string& part) {
        if (slices.empty())
            add(part + ".slices", "one at least");
        for (std::size_t i = 0; i < slices.size(); ++i) {
            const std::string path = part + ".slices[" + std::to_string(i) + "]";
            const Slice& s = slices[i];
            rule(s.length > 0.0 && s.length < 1e3, path + ".length", s.length, "must be above 0");
            rule(s.bore >= 0.0 && s.bore < 1e3, path + ".bore", s.bore, "must not be below 0");
            rule(s.outside > s.bore && s.outside < 1e3, path + ".outside", s.outside,
                 "must be larger than the bore");
        }
    }
    void metal(double modulus, double poisson, const std::string& part) {
        between(modulus, 1e6, 1e13, part + ".modulus", Quantity::modulus);
        between(poisson, 0.0, 0.49, part + ".poisson", Quantity::ratio);
    }
    void moduli() {
        double least = stack_.shaft.modulus;
        double most = least;
        std::size_t which = 0;
        for (std::size_t k = 0; k < stack_.rings.size(); ++k) {
            const double e = stack_.rings[k].modulus;
            if (e < least || e > most)
                which = k;
            least = std::min(least, e);
            most = std::max(most, e);
        }
        if (most > 1000.0 * least * (1.0 + 1e-9))
            add(ring(which) + ".modulus", show(stack_.rings[which].modulus, Quantity::modulus) +
                                              ": the stiffest metal must not be more than 1000 "
                                              "times as stiff as the softest");
    }

    // Walls, lengths and steps that are too small to be meshed beside the rest.
    void slices(const std::vector<Slice>& slices, const std::string& part) {
        const std::string least = "is a sliver: at least " + size(sliver_) +
                                  " (a 2000th of the largest diameter of the shaft)";
        for (std::size_t i = 0; i < slices.size(); ++i) {
            const std::string path = part + ".slices[" + std::to_string(i) + "]";
            const Slice& s = slices[i];
            rule(s.length >= sliver_, path + ".length", s.length, least);
            rule(s.outside - s.bore >= 2.0 * sliver_, path + ".outside", s.outside,
                 "leaves a wall of " + size(0.5 * (s.outside - s.bore)) + ", which " + least);
            if (s.bore > 0.0)
                rule(s.bore >= 2.0 * sliver_, path + ".bore", s.bore, least + ", or 0");
            if (i == 0)
                continue;
            const Slice& before = slices[i - 1];
            step(before.outside, s.outside, path + ".outside", least);
            step(before.bore, s.bore, path + ".bore", least);
            rule(std::min(before.outside, s.outside) - std::max(before.bore, s.bore) >=
                     2.0 * sliver_,
                 path + ".outside", s.outside, "and the slice before it do not hang together");
        }
    }
    void step(double before, double here, const std::string& path, const std::string& least) {
        const double high = 0.5 * std::abs(here - before);
        rule(high == 0.0 || high >= sliver_, path, here,
             "makes a step of " + size(high) + ", which " + least + ", or none");
    }
    void zone(double start, double length, double low, double high, const std::string& path) {
        if (length == 0.0 && start == 0.0)
            return;
        rule(length >= sliver_, path + "_length", length, "must be above 0");
        rule(start >= low - 1e-12 && start + length <= high + 1e-9, path + "_start", start,
             "to its end must lie between " + size(low) + " and " + size(high));
    }

    void chamfers(std::size_t k) {
        const RingSection& r = stack_.rings[k];
        const Chamfers& c = r.chamfers;
        const std::string path = ring(k) + ".chamfers.";
        const struct {
            const char* name;
            double leg, beside;
            const Slice& slice;
        } all[] = {
            {"shoulder_bore", c.shoulder_bore, c.shoulder_outside, r.slices.front()},
            {"shoulder_outside", c.shoulder_outside, c.shoulder_bore, r.slices.front()},
            {"nut_bore", c.nut_bore, c.nut_outside, r.slices.back()},
            {"nut_outside", c.nut_outside, c.nut_bore, r.slices.back()},
        };
        for (const auto& one : all) {
            rule(one.leg >= 0.0, path + one.name, one.leg, "must not be below 0");
            rule(!(one.leg > 0.0) || one.leg >= sliver_, path + one.name, one.leg,
                 "is a sliver: at least " + size(sliver_) + ", or 0");
            const double wall = 0.5 * (one.slice.outside - one.slice.bore);
            rule(one.leg + one.beside + sliver_ <= wall, path + one.name, one.leg,
                 "is larger than the ring bears: with the other chamfer of this end it must leave "
                 "some of the wall of " +
                     size(wall));
            rule(one.leg + sliver_ <= one.slice.length, path + one.name, one.leg,
                 "is larger than the ring bears: it must be shorter than its slice of " +
                     size(one.slice.length));
        }
        if (r.slices.size() > 1)
            return;
        for (const double pair : {c.shoulder_bore + c.nut_bore, c.shoulder_outside + c.nut_outside})
            rule(pair + sliver_ <= r.slices[0].length, path + "nut_bore", pair,
                 "of chamfers at both ends must be less than the length of the ring");
    }

    void shoulder() {
        const ShaftSection& s = stack_.shaft;
        rule(s.behind >= 0.0, "shaft.behind", s.behind, "must not be below 0");
        rule(s.fillet >= 0.0, "shaft.fillet", s.fillet, "must not be below 0");
        if (s.behind == 0.0) {
            rule(s.fillet == 0.0, "shaft.fillet", s.fillet, "needs a collar (shaft.behind)");
            return;
        }
        const int at = slice_ending(s.slices, s.behind, sliver_);
        rule(at >= 0 && at + 1 < static_cast<int>(s.slices.size()), "shaft.behind", s.behind,
             "must be where a slice of the shaft ends and another begins");
        if (!problems_.empty())
            return;
        const Slice& collar = s.slices[static_cast<std::size_t>(at)];
        const Slice& first = s.slices[static_cast<std::size_t>(at) + 1];
        const double high = 0.5 * (collar.outside - first.outside);
        rule(high >= sliver_, "shaft.behind", s.behind,
             "has no shoulder: the slice before it must be larger than the one after it");
        if (s.fillet > 0.0) {
            rule(s.fillet >= sliver_, "shaft.fillet", s.fillet,
                 "is a sliver: at least " + size(sliver_) + ", or 0");
            rule(s.fillet + sliver_ <= high, "shaft.fillet", s.fillet,
                 "must be less than the height of the shoulder, " + size(high));
            rule(s.fillet + sliver_ <= collar.length, "shaft.fillet", s.fillet,
                 "is more than the collar bears: it is " + size(collar.length) + " long");
            rule(s.fillet + sliver_ <= first.length, "shaft.fillet", s.fillet,
                 "is longer than the slice it runs out on, " + size(first.length));
        }
        const double inside = s.land_inside > 0.0 ? s.land_inside : first.outside;
        const double outside = s.land_outside > 0.0 ? s.land_outside : collar.outside;
        rule(inside >= first.outside - 1e-9, "shaft.land_inside", inside,
             "must not be below the seat, " + size(first.outside));
        rule(outside <= collar.outside + 1e-9, "shaft.land_outside", outside,
             "must not be above the outside of the collar, " + size(collar.outside));
        rule(outside - inside >= 2.0 * sliver_, "shaft.land_outside", outside,
             "must be larger than the inside of the land, " + size(inside));
    }

    void rings() {
        const ShaftSection& s = stack_.shaft;
        const double front = length_of(s.slices) - s.behind;
        double z = stack_.start;
        rule(z >= 0.0 && (z == 0.0 || z >= sliver_), "start", z, "must be 0 or above");
        for (std::size_t k = 0; k < stack_.rings.size(); ++k) {
            const std::vector<Slice>& slices = stack_.rings[k].slices;
            for (std::size_t i = 0; i < slices.size(); ++i) {
                const std::string path = ring(k) + ".slices[" + std::to_string(i) + "]";
                rule(z + slices[i].length <= front + sliver_, path + ".length", slices[i].length,
                     "reaches beyond the end of the shaft");
                const double over = largest_outside(s.slices, s.behind + z + sliver_,
                                                    s.behind + z + slices[i].length - sliver_);
                rule(slices[i].bore >= over - 2.0 * sliver_, path + ".bore", slices[i].bore,
                     "is smaller than the shaft there, " + size(over) +
                         ": sizes here are nominal, interference is told apart");
                z += slices[i].length;
            }
            if (k > 0)
                face(k);
        }
        if (has_shoulder(stack_))
            first_face();
        zone(s.thread_start, s.thread_length, z - sliver_, front, "shaft.thread");
    }
    void first_face() {
        const ShaftSection& s = stack_.shaft;
        const RingSection& r = stack_.rings[0];
        const Chamfers& c = r.chamfers;
        if (s.behind > 0.0 && s.fillet > 0.0) {
            // A chamfer of 45 degrees clears a fillet from (2 - sqrt 2) of its radius.
            const double clear = 0.5857864376269049 * s.fillet;
            const double seat =
                s.slices[static_cast<std::size_t>(slice_ending(s.slices, s.behind, sliver_)) + 1]
                    .outside;
            const double free = 0.5 * (r.slices[0].bore - seat);
            rule(free >= s.fillet - sliver_ || c.shoulder_bore + free >= clear,
                 ring(0) + ".chamfers.shoulder_bore", c.shoulder_bore,
                 "fouls the fillet of the shoulder, radius " + size(s.fillet) + ": at least " +
                     size(clear));
        }
        const Span land = shoulder_land(stack_);
        const Span own = first_face_of(r);
        rule(std::min(land.to, own.to) - std::max(land.from, own.from) >= 2.0 * sliver_,
             s.behind > 0.0 ? "shaft.land_outside" : ring(0) + ".slices[0].outside",
             s.behind > 0.0 ? land.to : own.to,
             "leaves nothing for the first ring to stand against: land from " + size(land.from) +
                 " to " + size(land.to) + ", face of the ring from " + size(own.from) + " to " +
                 size(own.to) + " in diameter; that contact can never close");
    }
    void face(std::size_t k) {
        const Span left = last_face_of(stack_.rings[k - 1]);
        const Span right = first_face_of(stack_.rings[k]);
        rule(std::min(left.to, right.to) - std::max(left.from, right.from) >= 2.0 * sliver_,
             ring(k) + ".slices[0].bore", stack_.rings[k].slices[0].bore,
             "leaves nothing of its face to stand against the ring before it, which reaches from " +
                 size(left.from) + " to " + size(left.to) +
                 " in diameter; that contact can never close");
    }
    void nut() {
        if (!problems_.empty() || (stack_.nut_inside == 0.0 && stack_.nut_outside == 0.0))
            return;
        const Span face = last_face_of(stack_.rings.back());
        rule(stack_.nut_outside > stack_.nut_inside, "nut_outside", stack_.nut_outside,
             "must be larger than the inside of the nut's face");
        rule(std::min(face.to, stack_.nut_outside) - std::max(face.from, stack_.nut_inside) >=
                 2.0 * sliver_,
             "nut_outside", stack_.nut_outside,
             "leaves nothing of the last ring's face under the nut: it reaches from " +
                 size(face.from) + " to " + size(face.to) + " in diameter");
    }

    const StackSection& stack_;
    const Fineness& fineness_;
    double sliver_;
    std::vector<Problem> problems_;
};

} // namespace

std::vector<Problem> section_problems(const StackSection& stack, const Fineness& fineness) {
    return Check(stack, fineness).run();
}

} // namespace fitwright::bodies
