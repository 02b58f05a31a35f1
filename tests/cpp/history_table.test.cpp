#include "catch.hpp"
#include "history_cases.hpp"
#include <cstdio>
using namespace fitwright;
using namespace fitwright::stack;
using namespace cases;

TEST_CASE("history table", "[.table]") {
    for (double overhang : {0.0, 1.0}) {
        std::printf("overhang %g\n", overhang);
        for (double f : {0.0, 2e3, 5e3, 20e3, 40e3, 50e3}) {
            auto h = reference_stack({0.040}, 0.15, overhang);
            h.steps = {slip_on(0, 0), press(f, Reaction::outside), state(0), step(StepKind::release)};
            auto r = stack::history(h);
            std::printf("F %5.0f held %.3f released %.3f   it %d sub %d\n", f, r.steps[2].faces[0].gap * 1e6,
                        r.steps[3].faces[0].gap * 1e6, r.steps[2].iterations, r.steps[2].substeps);
        }
        for (double f : {5e3, 20e3, 40e3, 80e3}) {
            auto h = reference_stack({0.040}, 0.15, overhang);
            h.steps = {slip_on(0, 0), press(f, Reaction::shaft), state(0), step(StepKind::release)};
            auto r = stack::history(h);
            std::printf("shaft F %5.0f held %.3f released %.3f N %.0f\n", f, r.steps[2].faces[0].gap * 1e6,
                        r.steps[3].faces[0].gap * 1e6, r.steps[3].faces[0].force);
        }
        for (double n : {50e3, 60e3, 80e3, 160e3}) {
            auto h = reference_stack({0.040}, 0.15, overhang);
            h.steps = {slip_on(0, 0), press(20e3, Reaction::outside), state(0), step(StepKind::release), step(StepKind::nut_on), tighten(n), step(StepKind::loosen)};
            auto r = stack::history(h);
            std::printf("nut %5.0f shoulder %.0f after %.0f it %d\n", n, r.steps[5].faces[0].force, r.steps[6].faces[0].force, r.steps[5].iterations);
        }
        auto h = reference_stack({0.020, 0.020}, 0.15, overhang);
        h.steps = {slip_on(0, 1), press(10e3, Reaction::outside), state(0), step(StepKind::release), step(StepKind::nut_on), tighten(40e3),tighten(60e3),tighten(80e3),tighten(120e3)};
        auto r = stack::history(h);
        for (auto& s : r.steps)
            std::printf("  N %.0f %.0f gaps %.3f %.3f\n", s.faces[0].force, s.faces[1].force, s.faces[0].gap*1e6, s.faces[1].gap*1e6);
    }
}
