// Faces out of square: beam theory, the kern of a ring, clouds of points, and every way to turn.
#include "cases.hpp"
#include "catch.hpp"

#include <algorithm>
#include <cmath>
#include <fitwright/stack/clocking.hpp>

using namespace fitwright;
using namespace fitwright::stack;

namespace {

constexpr double pi = fields::pi;
const double modulus = materials::at(cases::metal("4340").modulus, 20.0);

SquareRing<double> ring(double outside, double length, double wedge, double angle) {
    const std::vector<double> standard =
        fields::standard_values(fields::Declared<SquareRing>::declaration);
    auto r = *reinterpret_cast<const SquareRing<double>*>(standard.data());
    r.bore = 0.08;
    r.outside = outside;
    r.length = length;
    r.wedge = wedge;
    r.wedge_angle = angle;
    return r;
}
SquareStackInputs<double> whole() {
    auto in = fields::standard_inputs<SquareStackInputs>();
    in.clamp = 40e3;
    in.rotor_mass = 60.0;
    in.speed = 1152.0;
    return in;
}

struct Answer {
    SquareStackOutputs<double> all;
    std::vector<SquareRingOutputs<double>> rings;
};
SquareStack make(const SquareStackInputs<double>& in,
                 const std::vector<SquareRing<double>>& rings) {
    std::vector<NamedRing> named;
    for (const auto& r : rings) {
        std::string name(1, 'r'); // g++ 12 sees ghosts in "r" + std::to_string(...)
        name += std::to_string(named.size());
        named.push_back({name, materials::find("4340"), r});
    }
    return {in, materials::find("4340"), named};
}
Answer answer(const SquareStack& stack) {
    const std::vector<double> out = stack.evaluate();
    Answer a;
    a.all = *reinterpret_cast<const SquareStackOutputs<double>*>(out.data());
    constexpr std::size_t first = sizeof a.all / sizeof(double);
    constexpr std::size_t each = sizeof(SquareRingOutputs<double>) / sizeof(double);
    for (int i = 0; i < stack.rings(); ++i)
        a.rings.push_back(*reinterpret_cast<const SquareRingOutputs<double>*>(
            out.data() + first + static_cast<std::size_t>(i) * each));
    return a;
}
Answer answer(const SquareStackInputs<double>& in, const std::vector<SquareRing<double>>& rings) {
    return answer(make(in, rings));
}
std::string refusal(const SquareStackInputs<double>& in,
                    const std::vector<SquareRing<double>>& rings) {
    try {
        make(in, rings);
    } catch (const DomainError& error) {
        return error.what();
    }
    return "";
}
double second_moment(double outside, double inside) {
    return pi / 64.0 * (std::pow(outside, 4) - std::pow(inside, 4));
}

} // namespace

TEST_CASE("one wedge bends shaft and ring by theta/(L/EI + L/EI)", "[squareness]") {
    const auto out = answer(whole(), {ring(0.105, 0.03, 10e-6, 0.7)});
    const double shaft = modulus * second_moment(0.08, 0.0);
    const double body = modulus * second_moment(0.105, 0.08);
    const double theta = 10e-6 / 0.105;
    const double moment = theta / (0.03 / shaft + 0.03 / body);
    CHECK(out.all.kink == Approx(theta).epsilon(1e-13));
    CHECK(out.all.moment == Approx(moment).epsilon(1e-13));
    CHECK(out.all.end_tilt == Approx(moment * 0.03 / shaft).epsilon(1e-13));
    CHECK(out.all.end_runout == Approx(moment * 0.03 * 0.03 / shaft).epsilon(1e-13));
    CHECK(out.all.bending_stress ==
          Approx(moment * 0.04 / second_moment(0.08, 0.0)).epsilon(1e-13));
    // The faces part where bending takes off all the pressure of the clamp at the rim.
    const double area = pi / 4.0 * (0.105 * 0.105 - 0.08 * 0.08);
    const double opens = 40e3 / area * second_moment(0.105, 0.08) / (0.105 / 2.0);
    CHECK(out.all.opening_use == Approx(moment / opens).epsilon(1e-13));
}

TEST_CASE("wedges add as vectors", "[squareness]") {
    const double alone = answer(whole(), {ring(0.105, 0.03, 10e-6, 0.0)}).all.moment;
    const auto pair = [&](double angle) {
        return answer(whole(),
                      {ring(0.105, 0.015, 10e-6, 0.3), ring(0.105, 0.015, 10e-6, 0.3 + angle)})
            .all.moment;
    };
    CHECK(pair(0.0) == Approx(2.0 * alone).epsilon(1e-13));
    CHECK(pair(pi) == Approx(0.0).margin(1e-12 * alone));
    CHECK(pair(2.0 * pi / 3.0) == Approx(alone).epsilon(1e-12));
    // Shoulder and nut are wedges too.
    auto in = whole();
    in.shaft.shoulder_runout = 10e-6;
    in.shaft.shoulder_angle = 0.3 + pi;
    CHECK(answer(in, {ring(0.105, 0.03, 10e-6, 0.3)}).all.moment ==
          Approx(0.0).margin(1e-12 * alone));
    in.shaft.nut_runout = 10e-6;
    CHECK(answer(in, {ring(0.105, 0.03, 10e-6, 0.3)}).all.moment == Approx(alone).epsilon(1e-12));
}

TEST_CASE("a bent stack against integration along the shaft in small steps", "[squareness]") {
    std::vector<SquareRing<double>> rings{ring(0.105, 0.03, 8e-6, 0.0), ring(0.12, 0.02, 5e-6, 0.0),
                                          ring(0.1, 0.016, 12e-6, 0.0)};
    rings[1].bore = 0.078;
    auto in = whole();
    in.shaft.bore = 0.03;
    const auto out = answer(in, rings);
    // Everything in one plane: slope and offset by steps, with the moment told.
    const double moment = -out.all.moment; // thick at x = 0: the shaft leans to -x
    double slope = 0.0;
    double offset = 0.0;
    double face = 0.0;
    constexpr int steps = 2000;
    for (std::size_t i = 0; i < 3; ++i) {
        const SquareRing<double>& r = rings[i];
        const double shaft = modulus * second_moment(r.bore, 0.03);
        const double body = modulus * second_moment(r.outside, r.bore);
        const double dz = r.length / steps;
        const double kink = -r.wedge / r.outside;
        for (int k = 0; k < steps; ++k) {
            if (k == steps / 2) {
                CHECK(out.rings[i].seat_tilt == Approx(std::fabs(slope)).epsilon(1e-6));
                CHECK(out.rings[i].ring_runout == Approx(2.0 * std::fabs(offset)).epsilon(1e-3));
                CHECK(out.rings[i].ring_tilt == Approx(std::fabs(face)).epsilon(1e-6));
            }
            offset += (slope + 0.5 * moment / shaft * dz) * dz;
            slope += moment / shaft * dz;
            face += (kink / r.length - moment / body) * dz;
        }
    }
    CHECK(face == Approx(slope).epsilon(1e-9)); // the nut sits flush on both
    CHECK(out.all.end_tilt == Approx(std::fabs(slope)).epsilon(1e-9));
    // Between bearings: the same bow, seen from the line through both journals.
    in.second_journal = 0.2;
    const double chord = (offset + slope * (0.2 - 0.066)) / 0.2;
    const auto held = answer(in, rings);
    CHECK(held.all.moment == Approx(out.all.moment).epsilon(1e-14));
    CHECK(held.all.end_tilt == Approx(std::fabs(slope - chord)).epsilon(1e-9));
    CHECK(held.all.end_runout == Approx(2.0 * std::fabs(offset - chord * 0.066)).epsilon(1e-9));
}

TEST_CASE("unbalance of a ring off centre and tilted, against a cloud of points", "[squareness]") {
    // A shoulder out of square tilts the ring and bends nothing but by its own kink; points of the
    // ring are moved as the answer says, and their static and couple unbalance summed.
    auto in = whole();
    in.plane_a = -0.01;
    in.plane_b = 0.07;
    in.centre = 0.02;
    auto r = ring(0.14, 0.012, 90e-6, 0.4);
    r.runout = 60e-6;
    r.runout_angle = 0.4 + pi; // in one plane with the tilt
    const auto out = answer(in, {r});
    const double shaft = modulus * second_moment(0.08, 0.0);
    const double tilt = -out.rings[0].ring_tilt; // away from where it is thick
    const double bow = -out.all.moment / shaft * 0.012 * 0.012 / 8.0;
    const double centre = -30e-6 + bow;
    CHECK(out.rings[0].ring_runout == Approx(2.0 * std::fabs(centre)).epsilon(1e-12));
    double mass = 0.0;
    double sum = 0.0;
    double about_a = 0.0;
    double about_centre = 0.0;
    const double density = cases::metal("4340").density;
    constexpr int n = 60;
    for (int i = 0; i < n; ++i)
        for (int j = 0; j < n; ++j)
            for (int k = 0; k < n; ++k) {
                const double radius = 0.04 + 0.03 * (i + 0.5) / n;
                const double along = 0.012 * ((j + 0.5) / n - 0.5);
                const double x = radius * std::cos(2.0 * pi * (k + 0.5) / n);
                const double dm = density * radius * (2.0 * pi / n) * (0.03 / n) * (0.012 / n);
                const double moved_x = x + along * tilt + centre;
                const double moved_z = 0.006 + along - x * tilt;
                mass += dm;
                sum += dm * moved_x;
                about_a += dm * moved_x * (moved_z + 0.01);
                about_centre += dm * moved_x * (moved_z - 0.02);
            }
    CHECK(mass == Approx(density * pi / 4.0 * (0.14 * 0.14 - 0.08 * 0.08) * 0.012).epsilon(1e-10));
    CHECK(out.all.static_unbalance == Approx(std::fabs(sum)).epsilon(1e-6));
    CHECK(out.all.unbalance_b == Approx(std::fabs(about_a) / 0.08).epsilon(1e-3));
    CHECK(out.all.unbalance_a == Approx(std::fabs(sum - about_a / 0.08)).epsilon(1e-3));
    CHECK(out.all.couple_unbalance == Approx(std::fabs(about_centre) / 0.08).epsilon(1e-3));
}

TEST_CASE("permissible unbalance is shared by the centre of mass, 0.3 to 0.7", "[squareness]") {
    auto in = whole();
    in.plane_b = 0.1;
    const auto share = [&](double centre) {
        in.centre = centre;
        const auto out = answer(in, {ring(0.105, 0.03, 0.0, 0.0)}).all;
        CHECK(out.permissible_a + out.permissible_b == Approx(out.permissible).epsilon(1e-14));
        return out.permissible_a / out.permissible;
    };
    CHECK(share(0.05) == Approx(0.5));
    CHECK(share(0.04) == Approx(0.6));
    CHECK(share(0.01) == Approx(0.7));
    CHECK(share(0.2) == Approx(0.3));
}

TEST_CASE("the best clocking is the best of all ways, one by one", "[clocking]") {
    auto a = ring(0.105, 0.03, 9e-6, 0.2);
    auto b = ring(0.11, 0.02, 6e-6, 1.9);
    auto c = ring(0.102, 0.016, 7e-6, -2.0);
    a.runout = 20e-6;
    b.runout = 35e-6;
    c.runout_angle = 0.4;
    c.runout = 12e-6;
    auto in = whole();
    in.shaft.shoulder_runout = 3e-6;
    const SquareStack stack = make(in, {a, b, c});
    const std::vector<int> slots{4, 6, 5};
    for (const Aim aim : {Aim::bend, Aim::tilt, Aim::runout, Aim::unbalance}) {
        const auto value = [&](const SquareStack& s) {
            const auto out = answer(s).all;
            return aim == Aim::bend     ? out.moment
                   : aim == Aim::tilt   ? out.tilt
                   : aim == Aim::runout ? out.runout
                                        : out.balance_use;
        };
        const Clocking clocking(stack, aim, -1);
        const auto best = clocking.every_way(slots);
        double least = HUGE_VAL;
        double greatest = 0.0;
        double sum = 0.0;
        for (int i = 0; i < 4; ++i)
            for (int j = 0; j < 6; ++j)
                for (int k = 0; k < 5; ++k) {
                    const std::vector<double> turns{i / 4.0, j / 6.0, k / 5.0};
                    const double here = value(stack.turned(turns));
                    CHECK(clocking.at(turns.data()) == Approx(here).epsilon(1e-10));
                    least = std::min(least, here);
                    greatest = std::max(greatest, here);
                    sum += here;
                }
        CHECK(best.spread.ways == 120);
        CHECK(best.spread.least == Approx(least).epsilon(1e-10));
        CHECK(best.spread.greatest == Approx(greatest).epsilon(1e-10));
        CHECK(best.spread.mean == Approx(sum / 120.0).epsilon(1e-10));
        CHECK(best.spread.median >= best.spread.least);
        CHECK(best.spread.most <= best.spread.greatest);
        std::vector<double> turns;
        for (std::size_t i = 0; i < 3; ++i)
            turns.push_back(double(best.positions[i]) / slots[i]);
        CHECK(value(stack.turned(turns)) == Approx(least).epsilon(1e-10));
        CHECK(clocking.bound() <= least * (1.0 + 1e-12));
        // Ways taken at random lie between, and around the same mean.
        const auto some = clocking.at_random(slots, 20000, 7);
        CHECK(some.least >= least * (1.0 - 1e-12));
        CHECK(some.greatest <= greatest * (1.0 + 1e-12));
        CHECK(some.mean == Approx(best.spread.mean).epsilon(0.02));
    }
}

TEST_CASE("a stack that makes no sense is refused by name", "[squareness][bad]") {
    auto good = ring(0.105, 0.03, 10e-6, 0.0);
    CHECK(refusal(whole(), {good}).empty());
    auto bad = good;
    bad.outside = 0.079;
    CHECK_THAT(refusal(whole(), {good, bad}),
               ContainsSubstring("rings.r1.outside: 79 mm must be larger than the bore"));
    bad = good;
    bad.wedge = -1e-6;
    CHECK_THAT(refusal(whole(), {bad}),
               ContainsSubstring("rings.r0.wedge: -1 um is outside its range"));
    auto in = whole();
    in.shaft.bore = 0.08;
    CHECK_THAT(refusal(in, {good}), ContainsSubstring("bore: 80 mm must be smaller than the seat"));
    in = whole();
    in.plane_a = 0.05;
    CHECK_THAT(refusal(in, {good}),
               ContainsSubstring("plane_b: 30 mm must lie further from the shoulder"));
    in = whole();
    in.second_journal = 0.01;
    CHECK_THAT(refusal(in, {good}),
               ContainsSubstring("second_journal: 10 mm must lie beyond the nut"));
    CHECK_THAT(refusal(whole(), {}), ContainsSubstring("a stack has 1 to 49 rings, not 0"));
    const SquareStack stack = make(whole(), {good});
    CHECK_THROWS_WITH(Clocking(stack, Aim::bend, -1).every_way(std::vector<int>{4, 4}),
                      ContainsSubstring("one number for each ring"));
    CHECK_THROWS_WITH(Clocking(stack, Aim::bend, -1).every_way(std::vector<int>{5000000}),
                      ContainsSubstring("more than 4000000 ways"));
}
