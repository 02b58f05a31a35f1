// What the mesh costs, and peaks that are none.
#include "bodies_cases.hpp"
#include <fitwright/stack/section_refinement.hpp>

using namespace fitwright;
using namespace cases;

TEST_CASE("Richardson finds the limit and the order of a known sequence", "[once][section]") {
    // 3 + h^2 at h = 1, 1/2, 1/4.
    const auto r = stack::refined(4.0, 3.25, 3.0625, 3.0);
    CHECK(r.trend == stack::Trend::converges);
    CHECK(r.order == Approx(2.0));
    CHECK(r.limit == Approx(3.0));
    CHECK(r.error == Approx(0.25));
    // One that grows by the same factor with every halving has no limit.
    CHECK(stack::refined(1.0, 1.4, 1.96, 10.0).trend == stack::Trend::unsteady);
    CHECK(stack::refined(1.0, 1.0004, 0.9999, 1.0).trend == stack::Trend::settled);
}

TEST_CASE("a refinement study tells the error of pressure, gaps and clamp", "[once][section]") {
    StackSection s = on_collar({slice(20, 40, 100), slice(100, 40, 80)},
                               {ring_of({slice(40, 80, 120)})}, 84, 100);
    SectionHistory<double> h = history_of(s, {60}, 0.15);
    add_state(h, {0});
    h.plan.steps = {on(0, 0),
                    pressed_by(20),
                    to_state(0),
                    a_step(StepKind::release),
                    a_step(StepKind::nut_on),
                    tightened_to(80)};
    const auto study = stack::section_refinement(s, h, 5);
    CHECK(study.unknowns[0] < study.unknowns[1]);
    CHECK(study.unknowns[1] < study.unknowns[2]);
    // The usual mesh, against its own limit and the finite elements of the shared checks.
    CHECK(study.steps[2].mean_pressure[0].error < 0.003 * 40e6);
    CHECK(study.steps[3].face_gap[0].error < 0.15e-6);
    CHECK(study.steps[3].face_gap[0].limit * 1e6 == Approx(7.56).margin(0.1));
    CHECK(study.steps[5].face_force[0].error < 0.01 * 80e3);
    CHECK(study.steps[5].face_force[0].limit * 1e-3 == Approx(21.95).margin(0.2));
    CHECK(study.steps[2].growth[1].error < 0.05e-6);
    // A sharp edge of a ring on a shaft that goes on: pressure grows there with every mesh, and agrees
    // 2 mm away.
    const auto& seat = study.seats[0];
    double away = 0.0;
    for (std::size_t i = 0; i < seat.z.size(); ++i)
        if (seat.z[i] > 0.002 && seat.z[i] < 0.038)
            away = std::max(away, std::abs(seat.change[i]));
    CHECK(std::abs(seat.change.back()) > 3e6);
    CHECK(away < 1e6);
    CHECK(study.peaks[0].refused);
    CHECK_THAT(study.peaks[0].text, ContainsSubstring("modelled sharp"));
}

TEST_CASE("a fillet in tension has the peak that handbooks know", "[once][section]") {
    // Stepped round bar, D = 100, d = 80, r = 4 mm: Kt = C1 + C2 (2t/D) + C3 (2t/D)^2 + C4 (2t/D)^3 with
    // t/r = 2.5 gives 2.08 by R. E. Peterson (coefficients: eng-calculations.com, "Stepped tension bar of
    // circular cross section with shoulder fillet"), which finite elements found up to 24 % too low
    // (S. M. Tipton, J. R. Sorem, C. A. Schmidt, Machine Design, 9 January 2009).
    StackSection s =
        on_collar({slice(80, 0, 100), slice(200, 0, 80)}, {ring_of({slice(20, 92, 99)})}, 92, 99);
    s.shaft.fillet = 4e-3;
    double before = 0.0;
    for (const int halvings : {1, 2}) {
        const Sections sections(s, {1.0, halvings});
        bodies::SectionActs pull;
        pull.forces.assign(sections.contacts().size(), 0.0);
        pull.loads.assign(6, 0.0);
        pull.push = pull.thrust = {0.0};
        pull.pull = 100e3;
        const auto field = sections.field(0, pull);
        double most = 0.0;
        for (const double v : field.axial)
            most = std::max(most, v);
        const double nominal = 100e3 / (fields::pi / 4.0 * 0.08 * 0.08);
        // The largest principal stress lies a little aslant of the axis.
        for (std::size_t n = 0; n < field.axial.size(); ++n) {
            const double mean = 0.5 * (field.axial[n] + field.radial[n]);
            const double half = 0.5 * (field.axial[n] - field.radial[n]);
            most = std::max(most, mean + std::sqrt(half * half + field.shear[n] * field.shear[n]));
        }
        CHECK(most / nominal > 2.08);
        CHECK(most / nominal < 2.08 * 1.24);
        if (halvings == 2)
            CHECK(most == Approx(before).epsilon(0.02));
        before = most;
    }
}

TEST_CASE("a step that is not there is refused", "[once][section]") {
    const StackSection s = stack_of({slice(40, 40, 80)}, {ring_of({slice(40, 80, 120)})});
    SectionHistory<double> h = history_of(s, {60}, 0.15);
    add_state(h, {0});
    h.plan.steps = {on(0, 0)};
    CHECK_THROWS_WITH(stack::section_refinement(s, h, 4),
                      "looked_at: 4 is not the number of a step");
}
