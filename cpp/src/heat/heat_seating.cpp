// Chill, seating and taking off: told to users, and instantiated for double.
#include "all_models.hpp"
#include "detail/chill.hpp"
#include "detail/seating.hpp"
#include "detail/take_off.hpp"
#include "fields/at_level.hpp"
#include <cmath>
#include <fitwright/fields/error.hpp>

namespace fitwright::heat {

namespace {

constexpr const char* places[] = {"", "shaft", "ring"};

// Point of a ring that stays put under `force` on its nut side, where the grip is `share` of the cold
// one; from its shoulder side.
double stick_point(std::span<const GripSlice> ring, double force, double share) {
    double total = 0.0;
    for (const GripSlice& s : ring)
        total += s.grip * s.length;
    double behind = 0.5 * (total - force / share); // friction on the shoulder side of the point
    double at = 0.0;
    for (const GripSlice& s : ring) {
        if (behind <= s.grip * s.length)
            return at + std::fmax(behind, 0.0) / s.grip;
        behind -= s.grip * s.length;
        at += s.length;
    }
    return at;
}

void check(std::span<const GripSlice> slices, double press_force) {
    std::vector<Problem> problems;
    if (slices.empty())
        problems.push_back({"slices", "there must be at least one"});
    if (!(press_force >= 0.0 && std::isfinite(press_force)))
        problems.push_back({"press_force", "must be a finite force, not below 0"});
    for (std::size_t k = 0; k < slices.size(); ++k) {
        const GripSlice& s = slices[k];
        const std::string at = "slices[" + std::to_string(k) + "].";
        if (!(s.length > 0.0 && s.length < 10.0))
            problems.push_back({at + "length", "must be above 0 and below 10 m"});
        if (!(s.grip > 0.0 && std::isfinite(s.grip)))
            problems.push_back({at + "grip", "must be above 0 (newton per metre of length)"});
        if (!(s.parting >= 0.0 && s.parting < 0.1))
            problems.push_back({at + "parting", "must be from 0 to 0.1 (a strain)"});
        if (k > 0 && s.ring < slices[k - 1].ring)
            problems.push_back({at + "ring", "rings are told in order from the shoulder"});
    }
    if (!problems.empty())
        throw DomainError(std::move(problems));
}

} // namespace

// The grip grows in step from nothing to that of the cold ring, and with it the parting. A ring whose
// grip is below the force on its nut side slides whole and passes the rest on; the others shrink
// about their own points. Middle of many small steps: everything is a kink or smooth in between.
std::vector<double> seating_together(std::span<const GripSlice> slices, double press_force) {
    check(slices, press_force);
    std::vector<std::span<const GripSlice>> rings;
    for (std::size_t k = 0, first = 0; k < slices.size(); ++k)
        if (k + 1 == slices.size() || slices[k + 1].ring != slices[k].ring) {
            rings.push_back(slices.subspan(first, k + 1 - first));
            first = k + 1;
        }
    std::vector<double> gaps(rings.size(), 0.0);
    constexpr int parts = 4096;
    for (int n = 0; n < parts; ++n) {
        const double share = (n + 0.5) / parts;
        double force = press_force; // on the nut side of the ring
        bool pressed_ahead = true;  // the ring towards the nut is held against this one
        for (std::size_t r = rings.size(); r-- > 0;) {
            double grip = 0.0;
            for (const GripSlice& s : rings[r])
                grip += share * s.grip * s.length;
            const double at = stick_point(rings[r], force, share);
            // What each side of the point draws away, per parting.
            double from = 0.0, shoulder_side = 0.0, nut_side = 0.0;
            for (const GripSlice& s : rings[r]) {
                const double before = std::fmin(std::fmax(at - from, 0.0), s.length);
                shoulder_side += s.parting * before;
                nut_side += s.parting * (s.length - before);
                from += s.length;
            }
            // Under force the ring towards the nut follows; without, this one's face leaves it.
            if (!pressed_ahead)
                gaps[r + 1] += nut_side / parts;
            force = std::fmax(force - grip, 0.0);
            pressed_ahead = force > 0.0;
            if (!pressed_ahead)
                gaps[r] += shoulder_side / parts;
        }
    }
    return gaps;
}

const fields::Model& chill_model() {
    static const fields::Model model{
        {"heat", "chill", "How cold a shaft must be where the ring may not be hot enough alone.",
         "seat (1 + alpha_m(ts) (ts - 20)) + slip clearance = bore (1 + alpha_m(tr) (tr - 20))",
         "Both parts of one temperature throughout; within the temperature range of the material "
         "data. Toughness of a chilled steel is not judged.",
         "mean expansion from 20 degC of the materials; dry ice -78.5 degC, boiling nitrogen "
         "-195.8 "
         "degC, from memory",
         "fw.heat.chill(shaft=fw.Shaft(seat=\"80 mm\", material=\"4340\"), ring=fw.Ring(bore=\"80 "
         "mm\", outside=\"105 mm\", length=\"30 mm\", material=\"52100\"), interference=\"90 "
         "um\").shaft_needed"},
        &fields::Declared<ChillInputs>::declaration,
        &fields::Declared<ChillOutputs>::declaration,
        fields::all_formulas<Chill>(&Chill::run<double>),
        places};
    return model;
}

const fields::Model& seating_model() {
    static const fields::Model model{
        {"heat", "seating",
         "How far a cooling ring draws itself off its shoulder, and what a press does about it.",
         "gap = parting L/2 (1 - s + (1 - w) s ln s - e (1 - s)^2) - drag (1 - s)^2, s = press/"
         "capacity, and springback when the press is taken off",
         "Elastic, even grip along the ring, cold shaft. Corrections from finite-element models of "
         "one family (d = 80 mm, L = d/2, Do = 1.5 d, bore d/2, friction 0.15).",
         "derived in docs/theory-heat.md; corrections from two independent finite-element programs",
         "fw.heat.seating(shaft=fw.Shaft(bore=\"40 mm\", seat=\"80 mm\", material=\"4340\"), "
         "ring=fw.Ring(bore=\"80 mm\", outside=\"120 mm\", length=\"40 mm\", material=\"52100\"), "
         "interference=\"60 um\", press_force=\"20 kN\").gap"},
        &fields::Declared<SeatingInputs>::declaration,
        &fields::Declared<SeatingOutputs>::declaration,
        fields::all_formulas<Seating>(&Seating::run<double>),
        places};
    return model;
}

const fields::Model& take_off_model() {
    static const fields::Model model{
        {"heat", "take_off",
         "What heat difference frees a ring, and what force pulls it off, cold or warm.",
         "bore alpha_m(t) (t - 20) = interference left + seat alpha_m(ts) (ts - 20) + clearance; "
         "force = breakaway friction pressure pi d Le",
         "Both parts of one temperature throughout; elastic; no oil between (oil injection is "
         "another matter).",
         "mean expansion from 20 degC; friction and breakaway ranges are common practice",
         "fw.heat.take_off(shaft=fw.Shaft(seat=\"80 mm\", material=\"4340\"), "
         "ring=fw.Ring(bore=\"80 "
         "mm\", outside=\"105 mm\", length=\"30 mm\", material=\"52100\"), interference=\"38 "
         "um\").difference_free"},
        &fields::Declared<TakeOffInputs>::declaration,
        &fields::Declared<TakeOffOutputs>::declaration,
        fields::all_formulas<TakeOff>(&TakeOff::run<double>),
        places};
    return model;
}

ChillOutputs<double> chill(const ChillInputs<double>& inputs, const materials::Material& shaft,
                           const materials::Material& ring) {
    return fields::evaluate<ChillOutputs<double>>(chill_model(), inputs, {&shaft, &ring});
}

SeatingOutputs<double> seating(const SeatingInputs<double>& inputs,
                               const materials::Material& shaft, const materials::Material& ring,
                               Reaction reacted) {
    return fields::evaluate<SeatingOutputs<double>>(seating_model(), inputs, {&shaft, &ring},
                                                    {static_cast<int>(reacted)});
}

TakeOffOutputs<double> take_off(const TakeOffInputs<double>& inputs,
                                const materials::Material& shaft, const materials::Material& ring) {
    return fields::evaluate<TakeOffOutputs<double>>(take_off_model(), inputs, {&shaft, &ring});
}

} // namespace fitwright::heat
