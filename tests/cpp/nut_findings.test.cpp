// Findings of the nut in a job that fail when they should: the hand of its thread, its torque, its
// tabs, its thread at the limits of size.
#include "job_checks.hpp"

#include <fitwright/job/enclosed.hpp>
#include <fitwright/sizes/threads.hpp>
#include <fitwright/threads/stripping.hpp>

using namespace fitwright;
using namespace job_checks;

namespace {

job::Job turning_blower(bool left_hand, bool oiled = false) {
    job::Plan plan = cases::blower_plan();
    plan.left_hand = left_hand;
    plan.rotation = 1; // clockwise: takes a left-hand nut on
    if (oiled)
        plan.service = job::ServicePlan{};
    job::Job job(plan);
    const job::Job plain = cases::blower();
    for (std::size_t i = 0; i < plain.inputs().size(); ++i)
        job.set(job.leaf(plain.inputs()[i].path), plain.values()[i]);
    if (oiled)
        cases::give(job, "service.", {{"viscosity_40", 46e-6}, {"viscosity_100", 6.8e-6}});
    cases::give(job, "shaft.", {{"start_time", 20.0}, {"trip_time", 4.0}});
    cases::give(job, "nut.", {{"torque", 1100.0}}); // so that some of it is sure in every state
    return job;
}
double of(const job::Job& job, const char* state, const char* path) {
    return job.evaluate()[at(job.output(state, path))];
}
// Finding of an output in a state; fails where there is none.
job::Finding finding(const job::Job& job, const char* state, const char* path) {
    const int wanted = job.output(state, path);
    for (const job::Finding& f : job.findings(job.evaluate()))
        if (f.output == wanted)
            return f;
    FAIL("no finding of " << path);
    return {};
}

} // namespace

TEST_CASE("a nut of the wrong hand fails in every state", "[job][nut]") {
    for (const char* state : {"cold", "start", "full_load", "trip"}) {
        CHECK(finding(turning_blower(true), state, "nut.sense").margin == 1.0);
        CHECK(finding(turning_blower(false), state, "nut.sense").margin == -1.0);
    }
    // Who insists says so by a limit of his own, and the usual one is still known.
    job::Job insisted = turning_blower(false);
    insisted.set_limit("nut.sense", "*", -1.0, fields::none);
    CHECK(finding(insisted, "trip", "nut.sense").margin == 0.0);
    const int sense = insisted.output("trip", "nut.sense");
    int kept = 0;
    for (const job::Limit& l : insisted.usual_limits())
        kept += l.output == sense && l.at_least == 0.0 ? 1 : 0;
    CHECK(kept == 1);
}

TEST_CASE("the bearing's own friction drags the nut of the wrong hand", "[job][nut]") {
    const job::Job dry = turning_blower(false);
    const job::Job oiled = turning_blower(false, true);
    CHECK(of(dry, "full_load", "nut.bearing_drag") == 0.0);
    const double drag = of(oiled, "full_load", "bearing.friction_torque");
    CHECK(drag > 1.0); // Palmgren, 15 balls at 11 000 r/min
    CHECK(of(oiled, "full_load", "nut.bearing_drag") == drag);
    // The thread alone holds; the drag told comes on top, and no more passes than the face can.
    CHECK(of(oiled, "full_load", "nut.drag_margin") ==
          Approx(of(oiled, "full_load", "nut.thread_hold") - drag).epsilon(1e-12));
    job::Job dragged = oiled;
    cases::give(dragged, "states.full_load.", {{"drag_torque", 5.0}});
    CHECK(of(dragged, "full_load", "nut.drag_margin") ==
          Approx(of(oiled, "full_load", "nut.drag_margin") - 5.0).epsilon(1e-12));
    // A bearing that fails drags its share, and the finding fails with it.
    job::Job failing = oiled;
    cases::give(failing, "service.", {{"failing_torque", 400.0}});
    CHECK(finding(failing, "full_load", "nut.drag_margin").margin < 0.0);
    // The right hand is only drawn tighter.
    job::Job right = turning_blower(true, true);
    cases::give(right, "service.", {{"failing_torque", 400.0}});
    CHECK(finding(right, "full_load", "nut.drag_margin").margin > 0.0);
}

TEST_CASE("a stop is judged in the state that trips, from the speed it comes down from",
          "[job][nut]") {
    const job::Job job = turning_blower(true);
    // The trip stands still: it came down from full load, the fastest state. A built machine has not run.
    CHECK(of(job, "trip", "nut.stop_from") == 1152.0);
    CHECK(of(job, "start", "nut.stop_from") == 733.0);
    CHECK(of(job, "cold", "nut.stop_from") == 0.0);
    // Full cylinder from d2 to the outside, 7850 kg/m3, 1152 rad/s in 4 s, against a tightening hand.
    const double d2 = 0.075 - 0.64951905283832899 * 0.002;
    const double inertia =
        7850.0 * 3.14159265358979 / 32.0 * 0.020 * (std::pow(0.104, 4.0) - std::pow(d2, 4.0));
    const double stop = -inertia * 1152.0 / 4.0;
    CHECK(of(job, "trip", "nut.trip_torque") == Approx(stop).epsilon(1e-9));
    CHECK(of(job, "trip", "nut.trip_margin") ==
          Approx(of(job, "trip", "nut.undoing_torque") + stop).epsilon(1e-9));
    job::Job told_speed = job;
    cases::give(told_speed, "states.trip.", {{"trip_speed", 1400.0}});
    CHECK(of(told_speed, "trip", "nut.trip_torque") == Approx(stop * 1400.0 / 1152.0));
    // A stop within a hundredth of a second is more than the least force of that state holds.
    job::Job hard = job;
    cases::give(hard, "shaft.", {{"trip_time", 0.01}});
    CHECK(finding(hard, "trip", "nut.trip_margin").margin < 0.0);
}

TEST_CASE("bounds of a stop know the speeds of all states", "[job][nut][bounds]") {
    const job::Job job = turning_blower(true);
    const int speed = job.leaf("states.full_load.speed");
    const std::vector<job::BoxSide> side{{{speed}, 1000.0, 1300.0}};
    const auto found =
        job::Encloser(job).one(job.values(), side, job.output("trip", "nut.trip_torque"), false);
    job::Job slow = job;
    job::Job fast = job;
    slow.set(speed, 1000.0);
    fast.set(speed, 1300.0);
    CHECK(found.value.low <= of(fast, "trip", "nut.trip_torque"));
    CHECK(found.value.high >= of(slow, "trip", "nut.trip_torque"));
    CHECK(found.value.width() < 0.5);
}

TEST_CASE("a torque outside its own window fails", "[job][nut]") {
    job::Plan plan = cases::blower_plan();
    plan.has_torque_window = true; // no tabs are told: the window is held all the same
    job::Job job(plan);
    const job::Job plain = cases::blower();
    for (std::size_t i = 0; i < plain.inputs().size(); ++i)
        job.set(job.leaf(plain.inputs()[i].path), plain.values()[i]);
    cases::give(job, "nut.", {{"torque_window_low", 600.0}, {"torque_window_high", 700.0}});
    CHECK(finding(job, "cold", "nut.window_margin").margin == Approx(50.0));
    cases::give(job, "nut.", {{"torque", 590.0}});
    CHECK(finding(job, "cold", "nut.window_margin").margin == Approx(-10.0));
    cases::give(job, "nut.", {{"torque", 730.0}});
    CHECK(finding(job, "cold", "nut.window_margin").margin == Approx(-30.0));
}

TEST_CASE("a tab that meets a slot by luck fails, and a meeting that was measured does not",
          "[job][nut]") {
    job::Plan plan = cases::blower_plan();
    plan.has_torque_window = true;
    plan.lock_tabs = 17;
    plan.lock_slots = 4;
    job::Job job(plan);
    const job::Job plain = cases::blower();
    for (std::size_t i = 0; i < plain.inputs().size(); ++i)
        job.set(job.leaf(plain.inputs()[i].path), plain.values()[i]);
    cases::give(job, "nut.", {{"torque_window_low", 600.0}, {"torque_window_high", 700.0}});
    // Window over the torque of a step, at the high end of both frictions.
    const auto low = finding(job, "cold", "lock.chance_low");
    CHECK(low.limit == 0.9);
    CHECK(low.margin < 0.0);
    const double chance = of(job, "cold", "lock.chance");
    CHECK(chance == Approx(100.0 / of(job, "cold", "lock.torque_step")).epsilon(1e-9));
    // Measured at the nut: a hair inside the window, a hair beyond.
    const double angle = of(job, "cold", "lock.window_angle");
    cases::give(job, "lock.", {{"miss", angle * 0.8}});
    CHECK(of(job, "cold", "lock.chance") == 1.0);
    CHECK(finding(job, "cold", "lock.chance_low").margin > 0.0);
    CHECK(of(job, "cold", "lock.meeting_torque") == Approx(600.0 + 0.8 * 100.0).epsilon(1e-9));
    cases::give(job, "lock.", {{"miss", angle * 1.02}});
    CHECK(of(job, "cold", "lock.chance") == 0.0);
    CHECK(finding(job, "cold", "lock.chance_low").margin < 0.0);
}

TEST_CASE("threads shear at the limits of their classes, or as they were measured",
          "[job][nut][sizes]") {
    // ISO 965-1 from the library's tables, written out apart: M75x2 - 6H/6g.
    const auto fit = sizes::thread_fit("M75x2-6H/6g");
    const auto areas = [](double major, double pitch_external, double minor,
                          double pitch_internal) {
        const double turns = 0.020 / 0.002 * 3.14159265358979;
        const double tangent = 0.57735026918962576;
        return std::pair{turns * minor * (0.001 + (pitch_external - minor) * tangent),
                         turns * major * (0.001 + (major - pitch_internal) * tangent)};
    };
    const auto [shaft, nut] = areas(fit.external.major.lower, fit.external.pitch_diameter.lower,
                                    fit.internal.minor.upper, fit.internal.pitch_diameter.upper);
    const job::Job job = cases::blower();
    const double force = of(job, "cold", "nut.force_high");
    const auto use = [&](double area, const char* metal) {
        return force / area / (materials::at(cases::metal(metal).yield, 20.0) / std::sqrt(3.0));
    };
    CHECK(of(job, "cold", "nut.shaft_thread_use") == Approx(use(shaft, "4340")).epsilon(5e-5));
    CHECK(of(job, "cold", "nut.nut_thread_use") == Approx(use(nut, "4140")).epsilon(5e-5));
    // Basic sizes overlap more: they would tell a fifth less.
    const auto [basic, basic_nut] =
        areas(0.075, 0.075 - 0.64951905283832899 * 0.002, 0.075 - 1.0825317547305 * 0.002,
              0.075 - 0.64951905283832899 * 0.002);
    CHECK(shaft == Approx(0.776 * basic).epsilon(0.01));
    CHECK(nut == Approx(0.814 * basic_nut).epsilon(0.01));

    // A worn thread, measured.
    job::Job worn = job;
    cases::give(worn, "nut.",
                {{"external_major", 0.0745},
                 {"external_pitch", 0.0733},
                 {"internal_minor", 0.0734},
                 {"internal_pitch", 0.0741}});
    const auto [worn_shaft, worn_nut] = areas(0.0745, 0.0733, 0.0734, 0.0741);
    CHECK(of(worn, "cold", "nut.shaft_thread_use") == Approx(use(worn_shaft, "4340")));
    CHECK(of(worn, "cold", "nut.nut_thread_use") == Approx(use(worn_nut, "4140")));
    cases::give(worn, "nut.", {{"internal_minor", 0.0746}});
    CHECK_THAT(told(worn), ContainsSubstring("must be below the major diameter"));
}

TEST_CASE("classes of thread are told by name, and refused where there are none",
          "[job][nut][sizes][bad]") {
    job::Plan plan = cases::blower_plan();
    const auto job_of = [&] {
        job::Job job(plan);
        const job::Job plain = cases::blower();
        for (std::size_t i = 0; i < plain.inputs().size(); ++i)
            job.set(job.leaf(plain.inputs()[i].path), plain.values()[i]);
        return job;
    };
    const double usual = of(job_of(), "cold", "nut.shaft_thread_use");
    plan.thread_class = "4H/4h";
    CHECK(of(job_of(), "cold", "nut.shaft_thread_use") < usual);
    plan.thread_class = "6H/6g";
    CHECK(of(job_of(), "cold", "nut.shaft_thread_use") == usual);
    plan.thread_class = "6g/6H";
    CHECK_THAT(told(job_of()),
               ContainsSubstring("nut.thread_class") && ContainsSubstring("the nut's class first"));
    plan.thread_class = "fine";
    CHECK_THAT(told(job_of()), ContainsSubstring("must name the classes of nut and shaft"));
    plan.thread_class = "6H/6g";
    plan.nut_form = 2; // trapezoidal
    CHECK_THAT(told(job_of()),
               ContainsSubstring("nut.thread_class: is known for iso_metric and unified"));
}

TEST_CASE("sizes beyond the tables go by the formulas behind them", "[sizes][threads]") {
    using sizes::ThreadSystem;
    // Where the tables do speak the formulas of ISO 965-1 agree to their rounding.
    for (const auto& [d, p] : {std::pair{0.010, 0.0015},
                               {0.024, 0.003},
                               {0.036, 0.004},
                               {0.075, 0.002},
                               {0.100, 0.006},
                               {0.200, 0.003}}) {
        CAPTURE(d, p);
        const auto table = sizes::thread_slack(ThreadSystem::iso_metric, d, p, "6H/6g");
        // A pitch a hair off stands for the listed one; one by more than 1 % is in no table.
        const auto near = sizes::thread_slack(ThreadSystem::iso_metric, d, p * 1.001, "6H/6g");
        CHECK(near.external_pitch == table.external_pitch);
        const auto formula = sizes::thread_slack(ThreadSystem::iso_metric, d, p * 1.0101, "");
        CHECK(formula.external_major == Approx(table.external_major).epsilon(0.08));
        CHECK(formula.external_pitch == Approx(table.external_pitch).epsilon(0.08));
        CHECK(formula.internal_minor == Approx(table.internal_minor).epsilon(0.08));
        CHECK(formula.internal_pitch == Approx(table.internal_pitch).epsilon(0.08));
    }
    // 1/2-13 UNC-2A/2B (ASME B1.1, T7-11; from memory): majors to 0.4876, pitch diameters 0.4435 and
    // 0.4565 of 0.4500, minor to 0.434 of 0.4167 in.
    const double inch = 0.0254;
    const auto unc = sizes::thread_slack(ThreadSystem::unified, 0.5 * inch, inch / 13.0, "");
    CHECK(unc.external_major / inch == Approx(0.5 - 0.4876).epsilon(1e-6));
    CHECK(unc.external_pitch / inch == Approx(0.4500 - 0.4435).epsilon(1e-6));
    CHECK(unc.internal_pitch / inch == Approx(0.4565 - 0.4500).epsilon(1e-6));
    CHECK(unc.internal_minor / inch == Approx(0.434 - 0.4167).epsilon(1e-6));
}

namespace {

// The model on the limits of both classes, over an engaged length of one diameter.
threads::StrippingOutputs<double> stripped(const sizes::ThreadLimits& nut,
                                           const sizes::ThreadLimits& shaft, int form) {
    auto in = fields::standard_inputs<threads::StrippingInputs>();
    in.nut.diameter = in.nut.height = shaft.nominal;
    in.nut.pitch = shaft.pitch;
    in.nut.outside = shaft.nominal * 2.0;
    in.nut.face_inside = shaft.nominal * 1.1;
    in.nut.face_outside = shaft.nominal * 1.8;
    in.preload = 1.0;
    in.external_major = shaft.major.lower;
    in.external_pitch = shaft.pitch_diameter.lower;
    in.internal_minor = nut.minor.upper;
    in.internal_pitch = nut.pitch_diameter.upper;
    return fields::evaluate<threads::StrippingOutputs<double>>(
        fields::model_named("threads.stripping"), in,
        {&cases::metal("4340"), &cases::metal("4140")}, {0, form, 0});
}

} // namespace

// Metric thread stress and shear areas, 6H/6g (engineersedge.com, 15797, after Faulkner, Introduction to
// the Design and Behavior of Bolted Joints): published. It confirms the limits of grade 6 behind it.
TEST_CASE("strip areas of metric threads at 6H/6g are those printed", "[threads][sizes]") {
    struct Row {
        const char* name;
        double shaft, nut; // mm2
    };
    const Row rows[] = {
        {"M5x0.8", 35.366, 49.994},  {"M6x1", 51.875, 73.145},     {"M8x1.25", 97.290, 134.63},
        {"M10x1.5", 155.80, 214.77}, {"M12x1.75", 227.72, 313.41}, {"M14x2", 313.94, 434.47},
        {"M16x2", 417.55, 569.12},   {"M20x2.5", 665.58, 907.76},  {"M22x2.5", 814.67, 1100.3},
        {"M24x3", 971.10, 1320.2},   {"M27x3", 1246.7, 1674.3},    {"M30x3.5", 1549.2, 2086.5},
        {"M36x4", 2271.5, 3026.2},   {"M42x4.5", 3120.2, 4168.3},  {"M48x5", 4119.5, 5482.0},
        {"M56x5.5", 5680.3, 7510.2}, {"M64x6", 7483.6, 9847.3},    {"M72x6", 9574.2, 12478},
        {"M80x6", 11922, 15419},     {"M90x6", 15217, 19534},      {"M100x6", 18856, 24059}};
    for (const Row& row : rows) {
        const auto fit = sizes::thread_fit(std::string(row.name) + "-6H/6g");
        const auto found = stripped(fit.internal, fit.external, threads::iso_metric);
        CAPTURE(row.name);
        CHECK(found.external_area * 1e6 == Approx(row.shaft).epsilon(5e-5));
        CHECK(found.internal_area * 1e6 == Approx(row.nut).epsilon(5e-5));
    }
}

// ANSI inch size thread stress and shear areas, 2A/2B (engineersedge.com, 15800, the same book): published.
// Three of its figures are slips: 0.853 (5/8-18), 1.24 (7/8-9) and 1.92 (1 1/8-8) do not follow from the
// limits of their classes (0.8546, 1.2538, 2.1217) as all others do; they are left out.
TEST_CASE("strip areas of inch threads at 2A/2B are those printed", "[threads][sizes]") {
    struct Row {
        const char* name;
        double shaft, nut; // in2
    };
    const Row rows[] = {{"0.1900-24 UNC", 0.050, 0.076}, {"0.1900-32 UNF", 0.052, 0.074},
                        {"0.2500-20 UNC", 0.092, 0.135}, {"0.2500-28 UNF", 0.093, 0.130},
                        {"0.3125-18 UNC", 0.147, 0.213}, {"0.3750-16 UNC", 0.216, 0.310},
                        {"0.3750-24 UNF", 0.217, 0.299}, {"0.4375-14 UNC", 0.296, 0.428},
                        {"0.5000-13 UNC", 0.389, 0.562}, {"0.5000-20 UNF", 0.400, 0.541},
                        {"0.5625-12 UNC", 0.503, 0.717}, {"0.6250-11 UNC", 0.624, 0.891},
                        {"0.6250-18 UNF", 0.624, 0.853}, {"0.7500-10 UNC", 0.910, 1.29},
                        {"0.7500-16 UNF", 0.924, 1.24},  {"0.8750-9 UNC", 1.24, 1.77},
                        {"0.8750-14 UNF", 1.26, 1.71},   {"1.0000-8 UNC", 1.66, 2.33},
                        {"1.1250-8 UN", 1.92, 2.95},     {"1.2500-8 UN", 2.65, 3.65},
                        {"1.3750-8 UN", 3.22, 4.41},     {"1.5000-8 UN", 3.86, 5.25},
                        {"1.6250-8 UN", 4.55, 6.17},     {"1.7500-8 UN", 5.30, 7.15},
                        {"1.8750-8 UN", 6.10, 8.20},     {"2.0000-8 UN", 6.96, 9.32},
                        {"2.2500-8 UN", 8.85, 11.78},    {"2.5000-8 UN", 10.96, 14.53},
                        {"2.7500-8 UN", 13.30, 17.57}};
    const double square_inch = 0.0254 * 0.0254;
    int held = 0;
    for (const Row& row : rows) {
        const std::string name = row.name;
        const auto found =
            stripped(sizes::thread(name + "-2B"), sizes::thread(name + "-2A"), threads::unified);
        CAPTURE(name);
        const auto check = [&](double area, double printed) {
            // Three figures, or three decimals.
            const double unit = printed < 1.0 ? 1e-3 : 1e-2;
            const bool slip =
                printed == 0.853 || printed == 1.24 * (name == "0.8750-9 UNC") || printed == 1.92;
            if (slip)
                return;
            ++held;
            CHECK(std::fabs(area / square_inch - printed) <= 0.76 * unit);
        };
        check(found.external_area, row.shaft);
        check(found.internal_area, row.nut);
    }
    CHECK(held == 55);
}
