// Can it be put together: every part against what it has to pass, and what no assembly can have.
#include "job_checks.hpp"

#include <fitwright/job/assembly_parts.hpp>

using namespace fitwright;
using namespace job_checks;

namespace {

double output(const job::Job& job, const char* path) {
    return job.evaluate()[at(job.output("cold", path))];
}
double margin(const job::Job& job, const char* path) {
    const int wanted = job.output("cold", path);
    for (const job::Finding& f : job.findings(job.evaluate()))
        if (f.output == wanted)
            return f.margin;
    FAIL("no finding of " << path);
    return 0.0;
}

// The blower with its two sliding rings on a seat of their own, and a land beyond the thread.
job::Job stepped_blower(double outer_seat, double land) {
    job::Plan plan = cases::blower_plan();
    plan.seats = {"main", "outer", "land"};
    plan.rings[3].seat = plan.rings[4].seat = "outer";
    job::Job job(plan);
    const job::Job plain = cases::blower();
    for (std::size_t i = 0; i < plain.inputs().size(); ++i)
        job.set(job.leaf(plain.inputs()[i].path), plain.values()[i]);
    cases::give(job, "seats.outer.", {{"diameter", outer_seat}});
    cases::give(job, "seats.land.", {{"diameter", land}});
    return job;
}

double warm(const char* metal, double temperature) {
    return 1.0 + materials::free_growth(cases::metal(metal), 1.0, temperature);
}

} // namespace

TEST_CASE("a hot ring passes every seat that a later ring sits on, and its own",
          "[job][assembly]") {
    // Bore of the sleeve at its oven's 110 degC; the shaft has 20 degC.
    const double bore = 0.079995 * warm("4140", 110.0);
    const job::Job one_seat = cases::blower();
    CHECK(output(one_seat, "rings.sleeve.on_bore") == Approx(bore).epsilon(1e-14));
    CHECK(output(one_seat, "rings.sleeve.on_greatest") == Approx(0.080036));
    CHECK(margin(one_seat, "rings.sleeve.on_clearance") ==
          Approx(output(one_seat, "rings.sleeve.opening")).epsilon(1e-9));
    // An outer seat wider than the hot bore keeps it from its place, and so does a wide land.
    const job::Job wide_seat = stepped_blower(0.080150, 0.070);
    CHECK(margin(wide_seat, "rings.sleeve.on_clearance") == Approx(bore - 0.080150).epsilon(1e-9));
    CHECK(margin(wide_seat, "rings.sleeve.on_clearance") < 0.0);
    const job::Job wide_land = stepped_blower(0.0799, 0.0802);
    CHECK(margin(wide_land, "rings.sleeve.on_clearance") == Approx(bore - 0.0802).epsilon(1e-9));
    CHECK(margin(wide_land, "lock.on_clearance") == Approx(0.0755 - 0.0802).epsilon(1e-9));
    CHECK(margin(wide_land, "nut.on_clearance") ==
          Approx(0.075 - 1.08253175473 * 0.002 - 0.0802).epsilon(1e-9));
    // The rings beyond need not pass the seats inside.
    CHECK(output(stepped_blower(0.0799, 0.070), "rings.wheel.on_greatest") == Approx(0.0799));
}

TEST_CASE("a ring that slides on must be loose as cold as it goes on", "[job][assembly]") {
    job::Job job = cases::blower();
    CHECK(margin(job, "rings.wheel.on_clearance") == Approx(0.080058 - 0.080036).epsilon(1e-9));
    cases::give(job, "rings.wheel.", {{"bore", 0.080030}});
    CHECK(margin(job, "rings.wheel.on_clearance") == Approx(-6e-6).epsilon(1e-6));
    CHECK(output(job, "rings.wheel.on_bore") == Approx(0.080030));
    CHECK(output(job, "rings.wheel.on_greatest") == Approx(0.080036));
    // Warmed by hand it goes on: that is told as its lag in the first state.
    cases::give(job, "states.cold.", {{"lags.wheel", 20.0}});
    CHECK(margin(job, "rings.wheel.on_clearance") ==
          Approx(0.080030 * warm("1045", 40.0) - 0.080036).epsilon(1e-9));
}

TEST_CASE("a cold pull meets no more than the grip it left", "[job][assembly]") {
    // Seat of the sleeve 80.036 mm, 41 um of interference: 4.1 um more is what a pull may meet.
    CHECK(output(cases::blower(), "rings.sleeve.off_size") == Approx(0.080036 + 4.1e-6));
    CHECK(output(cases::blower(), "rings.sleeve.off_greatest") == Approx(0.075)); // the thread
    CHECK(margin(stepped_blower(0.080040, 0.070), "rings.sleeve.off_clearance") ==
          Approx(0.1e-6).epsilon(1e-3));
    CHECK(margin(stepped_blower(0.080041, 0.070), "rings.sleeve.off_clearance") ==
          Approx(-0.9e-6).epsilon(1e-3));
    // A sliding ring comes off over what its own bore passes.
    CHECK(margin(stepped_blower(0.0799, 0.0801), "rings.wheel.off_clearance") ==
          Approx(0.080058 - 0.0801).epsilon(1e-6));
}

TEST_CASE("a washer smaller than its thread fails with both sizes", "[job][assembly]") {
    job::Job job = cases::blower();
    CHECK(margin(job, "lock.on_clearance") == Approx(0.5e-3).epsilon(1e-9));
    cases::give(job, "lock.", {{"bore", 0.0748}});
    CHECK(margin(job, "lock.on_clearance") == Approx(-0.2e-3).epsilon(1e-9));
    CHECK(output(job, "lock.on_greatest") == Approx(0.075));
}

TEST_CASE("places along the shaft are looked at where they are told", "[job][assembly]") {
    job::Job job = cases::blower();
    for (const char* path :
         {"rings.inner_back.seat_margin", "nut.run_on_margin", "nut.engaged_margin",
          "shoulder.step", "rings.sleeve.opening_clearance", "lock.opening_clearance",
          "nut.opening_clearance"})
        CHECK(margin(job, path) == job::not_asked);
    // Stack: 32 + 19.5 + 19.5 + 14 + 16 mm and a washer of 1.5 mm.
    cases::give(job, "nut.", {{"thread_start", 0.104}, {"thread_end", 0.120}});
    CHECK(margin(job, "nut.run_on_margin") == Approx(0.1025 - 0.104).epsilon(1e-9));
    CHECK(margin(job, "nut.engaged_margin") == Approx(0.120 - 0.1025 - 0.020).epsilon(1e-9));
    // A seat that ends before the back half does: its contact ends 1.25 mm inside its face at 71 mm.
    cases::give(job, "seats.main.", {{"end", 0.069}});
    CHECK(margin(job, "rings.inner_back.seat_margin") == Approx(0.069 - 0.06975).epsilon(1e-9));
    CHECK(margin(job, "rings.inner_thrust.seat_margin") == Approx(0.069 - 0.05025).epsilon(1e-9));
    // One that goes on beyond the stack stops the nut, whose thread is smaller.
    cases::give(job, "nut.", {{"thread_start", 0.090}});
    cases::give(job, "seats.main.", {{"end", 0.103}});
    CHECK(margin(job, "nut.run_on_margin") == Approx(0.1025 - 0.103).epsilon(1e-9));
    cases::give(job, "shaft.", {{"shoulder_outside", 0.090}});
    CHECK(margin(job, "shoulder.step") ==
          Approx(0.090 - output(job, "rings.sleeve.on_bore")).epsilon(1e-9));
}

TEST_CASE("parts go through their openings as hot as they are", "[job][assembly]") {
    job::Job job = cases::blower();
    cases::give(job, "nut.", {{"opening", 0.1035}});
    CHECK(margin(job, "nut.opening_clearance") == Approx(-0.5e-3).epsilon(1e-9));
    cases::give(job, "rings.sleeve.", {{"opening", 0.1000}});
    CHECK(margin(job, "rings.sleeve.opening_clearance") ==
          Approx(0.1 - 0.1 * warm("4140", 110.0)).epsilon(1e-9));
    cases::give(job, "lock.", {{"opening", 0.099}});
    CHECK(margin(job, "lock.opening_clearance") == Approx(0.001).epsilon(1e-9));
}

TEST_CASE("the face of the nut lies within what it bears on", "[job][assembly]") {
    job::Job job = cases::blower();
    CHECK(margin(job, "nut.face_margin") == Approx(0.0015).epsilon(1e-9)); // inside: 77 on 75.5
    cases::give(job, "nut.", {{"face_outside", 0.100}});
    CHECK(margin(job, "nut.face_margin") == Approx(-0.002).epsilon(1e-9)); // beyond the washer's 98
}

TEST_CASE("parts that bear on nothing are refused by name", "[job][assembly][bad]") {
    job::Job job = cases::blower();
    cases::give(job, "lock.", {{"bore", 0.0955}, {"outside", 0.112}});
    // The face of the nut is 96 mm: a quarter of a millimetre all round is a face.
    CHECK(told(job) == "");
    cases::give(job, "lock.", {{"bore", 0.1025}});
    CHECK_THAT(told(job), ContainsSubstring("lock.outside: 112 mm") &&
                              ContainsSubstring("leave no face that meets the part before it"));
    job = cases::blower();
    cases::give(job, "nut.", {{"face_inside", 0.0725}});
    CHECK_THAT(told(job), ContainsSubstring("nut.face_inside: 72.5 mm must not be smaller than the "
                                            "minor diameter of the nut's thread"));
    job = cases::blower();
    cases::give(job, "nut.", {{"outside", 0.2}, {"face_inside", 0.100}, {"face_outside", 0.120}});
    CHECK_THAT(told(job), ContainsSubstring("nut.face_outside: 120 mm") &&
                              ContainsSubstring("meets the washer, or the last ring"));
    job = cases::blower();
    cases::give(job, "shaft.", {{"shoulder_outside", 0.0795}});
    CHECK_THAT(told(job), ContainsSubstring("rings.sleeve.outside: 100 mm") &&
                              ContainsSubstring("one would go through the other"));
}

TEST_CASE("ways have their derivatives, and the same bits on lanes", "[job][assembly]") {
    const job::Job job = stepped_blower(0.0799, 0.070);
    const auto j = job.jacobian();
    const std::size_t width = job.inputs().size();
    const auto slope = [&](const char* output_path, const char* input_path) {
        return j
            .derivatives[at(job.output("cold", output_path)) * width + at(job.leaf(input_path))];
    };
    CHECK(slope("rings.sleeve.on_clearance", "rings.sleeve.bore") ==
          Approx(warm("4140", 110.0)).epsilon(1e-12));
    CHECK(slope("rings.sleeve.on_clearance", "seats.main.diameter") == Approx(-1.0));
    CHECK(slope("rings.sleeve.on_clearance", "seats.outer.diameter") == 0.0);
    CHECK(slope("lock.on_clearance", "nut.diameter") == Approx(-1.0));
    std::vector<std::vector<double>> columns(2);
    for (int k = 0; k < 19; ++k) {
        columns[0].push_back(0.0799 + 1e-5 * k);
        columns[1].push_back(0.0798 + 2e-5 * k);
    }
    CHECK(different_bits(job, {job.leaf("seats.outer.diameter"), job.leaf("rings.wheel.bore")},
                         columns) == 0);
}
