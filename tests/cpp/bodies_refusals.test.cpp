// What cannot be meshed is refused by path, value, rule and unit.
#include "bodies_cases.hpp"

#include <functional>
#include <limits>

using namespace fitwright;
using namespace cases;

namespace {

StackSection plain() {
    StackSection s =
        on_collar({slice(20, 40, 100), slice(100, 40, 80)},
                  {ring_of({slice(40, 80, 120)}), ring_of({slice(20, 80, 110)})}, 84, 100);
    s.rings[0].chamfers = {2e-3, 1e-3, 1e-3, 1e-3};
    return s;
}
std::string refusal(const std::function<void(StackSection&)>& change,
                    const Fineness& fineness = {}) {
    StackSection s = plain();
    change(s);
    std::string text;
    for (const Problem& p : bodies::section_problems(s, fineness))
        text += p.path + ": " + p.text + "\n";
    // What is told before is what building it throws.
    if (text.empty())
        return "";
    try {
        const Sections sections(s, fineness);
    } catch (const DomainError& error) {
        CHECK(error.what() + std::string("\n") == text);
    }
    return text;
}
void expect(const std::function<void(StackSection&)>& change, const std::string& text) {
    CHECK_THAT(refusal(change), ContainsSubstring(text));
}

} // namespace

TEST_CASE("a sound stack has no problems", "[once][bodies]") {
    CHECK(refusal([](StackSection&) {}).empty());
}

TEST_CASE("lengths and walls that are none", "[once][bodies]") {
    expect([](auto& s) { s.rings[0].slices[0].length = 0.0; },
           "rings[0].slices[0].length: 0 mm must be above 0");
    expect([](auto& s) { s.rings[0].slices[0].length = std::numeric_limits<double>::quiet_NaN(); },
           "rings[0].slices[0].length: nan mm must be above 0");
    expect([](auto& s) { s.rings[1].slices[0].outside = 0.080; },
           "rings[1].slices[0].outside: 80 mm must be larger than the bore");
    expect([](auto& s) { s.rings[1].slices = {slice(20, 80, 110), slice(0.01, 80, 110)}; },
           "rings[1].slices[1].length: 0.01 mm is a sliver: at least 0.05 mm");
    expect([](auto& s) { s.rings[1].slices[0].outside = 0.08005; },
           "leaves a wall of 0.025 mm, which is a sliver");
    expect([](auto& s) { s.rings[1].slices = {slice(10, 80, 110), slice(10, 80, 110.02)}; },
           "rings[1].slices[1].outside: 110.02 mm makes a step of 0.01 mm, which is a sliver");
    expect([](auto& s) { s.rings[1].slices = {slice(10, 80, 90), slice(10, 91, 110)}; },
           "do not hang together");
    expect([](auto& s) { s.rings.clear(); }, "rings: one at least");
    expect([](auto& s) { s.shaft.slices.clear(); }, "shaft.slices: one at least");
}

TEST_CASE("metals", "[once][bodies]") {
    expect([](auto& s) { s.rings[0].modulus = 0.0; },
           "rings[0].modulus: 0 GPa must lie from 0.001 GPa to 10000 GPa");
    expect([](auto& s) { s.shaft.poisson = 0.5; }, "shaft.poisson: 0.5 must lie from 0 to 0.49");
    expect([](auto& s) { s.rings[1].modulus = s.shaft.modulus / 1001.0; },
           "rings[1].modulus: 0.205794 GPa: the stiffest metal must not be more than 1000 times as "
           "stiff as the softest");
}

TEST_CASE("chamfers larger than the ring", "[once][bodies]") {
    expect([](auto& s) { s.rings[0].chamfers.shoulder_bore = 0.025; },
           "rings[0].chamfers.shoulder_bore: 25 mm is larger than the ring bears: with the other "
           "chamfer of this end it must leave some of the wall of 20 mm");
    expect([](auto& s) { s.rings[1].chamfers = {0.0, 0.0, 0.0, 0.0201}; },
           "it must be shorter than its slice of 20 mm");
    expect([](auto& s) { s.rings[1].chamfers = {0.012, 0.0, 0.012, 0.0}; },
           "of chamfers at both ends must be less than the length of the ring");
    expect([](auto& s) { s.rings[0].chamfers.nut_bore = -0.001; }, "must not be below 0");
    expect([](auto& s) { s.rings[0].chamfers.nut_bore = 1e-5; }, "0.01 mm is a sliver");
}

TEST_CASE("shoulders", "[once][bodies]") {
    expect([](auto& s) { s.shaft.fillet = 0.011; },
           "shaft.fillet: 11 mm must be less than the height of the shoulder, 10 mm");
    expect(
        [](auto& s) {
            s.shaft.slices[0].length = s.shaft.behind = 0.004;
            s.shaft.fillet = 0.005;
        },
        "shaft.fillet: 5 mm is more than the collar bears: it is 4 mm long");
    expect(
        [](auto& s) { s.shaft.fillet = 0.004; },
        "rings[0].chamfers.shoulder_bore: 2 mm fouls the fillet of the shoulder, radius 4 mm: at "
        "least 2.34315 mm");
    expect([](auto& s) { s.shaft.behind = 0.015; },
           "shaft.behind: 15 mm must be where a slice of the shaft ends");
    expect([](auto& s) { s.shaft.slices[0].outside = 0.080; }, "has no shoulder");
    expect([](auto& s) { s.shaft.land_inside = 0.101; },
           "must be larger than the inside of the land");
    expect([](auto& s) { s.shaft.land_outside = 0.104; },
           "shaft.land_outside: 104 mm must not be above the outside of the collar, 100 mm");
}

TEST_CASE("contacts that can never close", "[once][bodies]") {
    expect([](auto& s) { s.rings[0].slices[0].bore = 0.1001; },
           "leaves nothing for the first ring to stand against: land from 84 mm to 100 mm, face of "
           "the ring from 104.1 mm to 118 mm in diameter; that contact can never close");
    expect(
        [](auto& s) { s.rings[1].slices[0] = slice(20, 119, 140); },
        "rings[1].slices[0].bore: 119 mm leaves nothing of its face to stand against the ring "
        "before it, which reaches from 82 mm to 118 mm in diameter; that contact can never close");
    expect(
        [](auto& s) {
            s.nut_inside = 0.111;
            s.nut_outside = 0.130;
        },
        "nut_outside: 130 mm leaves nothing of the last ring's face under the nut");
    expect([](auto& s) { s.rings[1].slices[0].bore = 0.079; },
           "rings[1].slices[0].bore: 79 mm is smaller than the shaft there, 80 mm: sizes here are "
           "nominal, interference is told apart");
}

TEST_CASE("what does not fit on the shaft", "[once][bodies]") {
    expect([](auto& s) { s.rings[1].slices[0].length = 0.061; },
           "rings[1].slices[0].length: 61 mm reaches beyond the end of the shaft");
    expect(
        [](auto& s) {
            s.shaft.thread_start = 0.050;
            s.shaft.thread_length = 0.020;
        },
        "shaft.thread_start: 50 mm to its end must lie between");
    expect([](auto& s) { s.rings[0].thrust_start = 0.03, s.rings[0].thrust_length = 0.02; },
           "rings[0].thrust_start: 30 mm to its end must lie between 0 mm and 40 mm");
}

TEST_CASE("more elements than memory", "[once][bodies]") {
    Fineness f;
    f.fineness = 50.0;
    CHECK_THAT(refusal([](StackSection&) {}, f),
               ContainsSubstring("fineness: 50 must lie from 0.1 to 20"));
    f.fineness = 20.0;
    f.halvings = 3;
    CHECK_THROWS_WITH(
        Sections(plain(), f),
        ContainsSubstring("unknowns; at most 400000 (most_unknowns): mesh it less finely"));
    f.halvings = 9;
    CHECK_THAT(refusal([](StackSection&) {}, f), ContainsSubstring("halvings: 9 must be 0 to 4"));
}

TEST_CASE("a history that does not tell of every part", "[once][section]") {
    const StackSection s = plain();
    const Sections sections(s);
    SectionHistory<double> h = history_of(s, {60, 40}, 0.15);
    add_state(h, {0, 0});
    h.plan.steps = {on(0, 1), to_state(0)};
    CHECK_NOTHROW(stack::section_history(sections, h));
    SectionHistory<double> less = h;
    less.interference.pop_back();
    CHECK_THROWS_WITH(stack::section_history(sections, less),
                      "states: every state tells of every part, and there is one at least");
    h.plan.steps = {on(1, 1)};
    CHECK_THROWS_WITH(
        stack::section_history(sections, h),
        "steps[0] (slip_on, part 1): rings go on one after another from the shoulder, each once");
}
