// The tables of docs/theory-bodies.md: fitwright_tests "[.section_table]".
#include "bodies_cases.hpp"
#include <cstdio>
#include <fitwright/stack/section_refinement.hpp>

using namespace fitwright;
using namespace cases;

namespace {

SectionHistory<double> cooled(const StackSection& s, double press, int refinement = 1) {
    SectionHistory<double> h = history_of(s, {60}, 0.15);
    add_state(h, {0});
    h.plan.refinement = refinement;
    h.plan.steps = {on(0, 0), pressed_by(press), to_state(0), a_step(StepKind::release)};
    return h;
}

} // namespace

TEST_CASE("seating gaps: finite elements of the checks, this mesh, finer, and more sub-steps",
          "[.section_table]") {
    std::printf("| press kN | shape | checks held, off | usual | one halving more | 20 times the "
                "sub-steps |\n|---|---|---|---|---|---|\n");
    for (const SeatingGap& row : seating_gaps)
        for (int shape = 1; shape <= 2; ++shape) {
            const StackSection s = shape == 1 ? f1() : f2();
            const Sections usual(s);
            const Sections fine(s, {1.0, 2});
            const auto a = stack::section_history(usual, cooled(s, row.press));
            const auto b = stack::section_history(fine, cooled(s, row.press));
            const auto c = stack::section_history(fine, cooled(s, row.press, 20));
            std::printf("| %g | F%d | %.2f, %.2f | %.2f, %.2f | %.2f, %.2f | %.2f, %.2f |\n",
                        row.press, shape, shape == 1 ? row.f1_held : row.f2_held,
                        shape == 1 ? row.f1_off : row.f2_off, face_gap(a, 2), face_gap(a, 3),
                        face_gap(b, 2), face_gap(b, 3), face_gap(c, 2), face_gap(c, 3));
        }
}

TEST_CASE("a refinement study of a locked nut through states", "[.section_table]") {
    const StackSection s = two_and_a_nut();
    SectionHistory<double> h = history_of(s, {45, 45}, 0.15);
    add_state(h, {0, 0}, 0, 1.5e-7);
    add_state(h, {12, 8}, 0, 1.5e-7);
    add_state(h, {-5, -6}, 0, 1.5e-7);
    h.plan.steps = two_locked({1, 2, 0});
    const auto study = stack::section_refinement(s, h, 11);
    std::printf("unknowns %zu, %zu, %zu\n", study.unknowns[0], study.unknowns[1],
                study.unknowns[2]);
    std::printf("| step | result | coarse | usual | fine | limit | order | error |\n"
                "|---|---|---|---|---|---|---|---|\n");
    const auto row = [](const char* step, const char* what, const stack::Refined& r, double by) {
        std::printf("| %s | %s | %.3f | %.3f | %.3f | %.3f | %.1f | %.3f |\n", step, what,
                    r.coarse * by, r.middle * by, r.fine * by, r.limit * by, r.order, r.error * by);
    };
    row("cooled", "gap at the shoulder, um", study.steps[7].face_gap[0], 1e6);
    row("cooled", "gap between, um", study.steps[7].face_gap[1], 1e6);
    const char* names[] = {"tightened", "hot", "trip", "cold again"};
    const std::size_t steps[] = {9, 11, 12, 13};
    for (int k = 0; k < 4; ++k) {
        const auto& step = study.steps[steps[k]];
        row(names[k], "force at the shoulder, kN", step.face_force[0], 1e-3);
        row(names[k], "nut, kN", step.face_force[2], 1e-3);
        row(names[k], "pressure of ring 1, MPa", step.mean_pressure[0], 1e-6);
        row(names[k], "growth of ring 1, um", step.growth[1], 1e6);
    }
    for (const auto& peak : study.peaks)
        std::printf("part %d: %s%s\n", peak.part, peak.refused ? "refused: " : "",
                    peak.text.c_str());
}
