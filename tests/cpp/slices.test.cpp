// A ring of a job whose outside has steps.
#include "cases.hpp"
#include "catch.hpp"

#include <cmath>
#include <fitwright/fields/error.hpp>
#include <fitwright/job/enclosed.hpp>
#include <fitwright/rings/stepped.hpp>

using namespace fitwright;

namespace {

std::string slice_path(std::size_t k) {
    std::string path = "rings.sleeve.slice";
    path += std::to_string(k + 1);
    return path += '.';
}

struct Cut {
    double outside, length, contact;
};

// The blower's wheel is a free ring; here its sleeve is cut.
job::Job cut_sleeve(const std::vector<Cut>& slices) {
    job::Plan plan = cases::blower_plan();
    plan.rings[0].slices = static_cast<int>(slices.size());
    job::Job job(plan);
    const job::Job plain = cases::blower();
    for (std::size_t i = 0; i < plain.inputs().size(); ++i) {
        const std::string& path = plain.inputs()[i].path;
        if (path != "rings.sleeve.outside" && path != "rings.sleeve.length" &&
            path != "rings.sleeve.contact_length")
            job.set(job.leaf(path), plain.values()[i]);
    }
    for (std::size_t k = 0; k < slices.size(); ++k)
        cases::give(job, slice_path(k),
                    {{"outside", slices[k].outside},
                     {"length", slices[k].length},
                     {"contact_length", slices[k].contact}});
    return job;
}
double value(const job::Job& job, const char* state, const std::string& path) {
    return job.evaluate()[static_cast<std::size_t>(job.output(state, path))];
}
std::string told(const job::Job& job) {
    std::string text;
    for (const Problem& p : job.problems())
        text += p.path + ": " + p.text + "\n";
    return text;
}
const std::vector<Cut> stepped{{0.100, 0.012, 0.011}, {0.120, 0.008, 0.008}, {0.108, 0.012, 0.010}};

} // namespace

TEST_CASE("slices of one outside are the ring they were cut from", "[slices]") {
    const job::Job plain = cases::blower();
    const job::Job cut = cut_sleeve({{0.1, 0.016, 0.0145}, {0.1, 0.016, 0.0145}});
    CHECK(told(cut) == "");
    for (const job::Level level : {job::Level::quick, job::Level::history, job::Level::heating}) {
        const job::Job there = plain.at(level);
        const job::Job cut_there = cut.at(level);
        const auto wanted = there.evaluate();
        const auto found = cut_there.evaluate();
        for (std::size_t i = 0; i < wanted.size(); ++i) {
            const job::OutputPath& o = there.outputs()[i];
            INFO(o.state << " " << o.path << " at level " << static_cast<int>(level));
            const auto j = static_cast<std::size_t>(cut_there.output(o.state, o.path));
            // What friction of the seat leaves at the nut is summed up in smaller pieces: some newtons
            // of the preload of 60 kN.
            const bool force = o.field->quantity == fields::Quantity::force;
            const double margin = force ? 20.0 : 1e-4 * o.field->standard;
            CHECK(found[j] == Approx(wanted[i]).epsilon(1e-4).margin(margin));
        }
    }
}

TEST_CASE("each slice is a thick ring of its own outside", "[slices]") {
    const job::Job job = cut_sleeve(stepped);
    REQUIRE(told(job) == "");
    double holding = 0.0;
    double load = 0.0;
    double contact = 0.0;
    double worst = 0.0;
    for (std::size_t k = 0; k < stepped.size(); ++k) {
        const std::string slice = slice_path(k);
        // Lame's hoop stress at the bore, at rest (any textbook).
        const double b2 = stepped[k].outside * stepped[k].outside;
        const double a2 = 0.079995 * 0.079995;
        const double p = value(job, "cold", slice + "pressure");
        CHECK(value(job, "cold", slice + "ring_hoop") == Approx(p * (b2 + a2) / (b2 - a2)));
        worst = std::max(worst, value(job, "cold", slice + "ring_hoop"));
        holding += value(job, "cold", slice + "holding_force");
        load += p * stepped[k].contact;
        contact += stepped[k].contact;
        CHECK(value(job, "cold", slice + "interference_left") > 0.0);
    }
    CHECK(value(job, "cold", "rings.sleeve.slice2.pressure") >
          value(job, "cold", "rings.sleeve.slice3.pressure"));
    CHECK(value(job, "cold", "rings.sleeve.slice3.pressure") >
          value(job, "cold", "rings.sleeve.slice1.pressure"));
    CHECK(value(job, "cold", "rings.sleeve.holding_force") == Approx(holding));
    CHECK(value(job, "cold", "rings.sleeve.pressure") == Approx(load / contact));
    CHECK(value(job, "cold", "rings.sleeve.ring_hoop") == Approx(worst));
    CHECK(value(job, "cold", "rings.sleeve.outside_growth") ==
          value(job, "cold", "rings.sleeve.slice2.outside_growth"));
}

TEST_CASE("the clamp sees the slices as springs in series", "[slices]") {
    const auto& steel = cases::metal("4140");
    const double e = materials::at(steel.modulus, 20.0);
    const auto area = [](double outside) {
        return fields::pi / 4.0 * (outside * outside - 0.079995 * 0.079995);
    };
    double series = 0.0;
    for (const Cut& c : stepped)
        series += c.length / (e * area(c.outside));
    const double plain = value(cases::blower(), "cold", "stack.compliance");
    CHECK(value(cut_sleeve(stepped), "cold", "stack.compliance") - plain ==
          Approx(series - 0.032 / (e * area(0.1))).epsilon(1e-8));
}

TEST_CASE("the wall that slices of a job leave out moves their pressures by a few per cent",
          "[slices]") {
    // In contact all along: rings.stepped lets the wall of the rest help, the plain fit does not.
    std::vector<Cut> full = stepped;
    for (Cut& c : full)
        c.contact = c.length;
    const job::Job job = cut_sleeve(full);
    auto in = fields::standard_inputs<rings::SteppedInputs>();
    in.shaft.seat = 0.080036;
    in.shaft.bore = 0.030;
    in.shaft.roughness = 1.6e-6;
    in.ring.bore = 0.079995;
    in.ring.roughness = 2.5e-6;
    in.axial_force = value(job, "cold", "nut.force");
    for (std::size_t k = 0; k < stepped.size(); ++k)
        (&in.slice1)[k] = {full[k].outside, full[k].length, HUGE_VAL, full[k].contact,
                           HUGE_VAL,        HUGE_VAL,       HUGE_VAL};
    const auto wall = rings::stepped(in, 3, cases::metal("4340"), cases::metal("4140"));
    CHECK(value(job, "cold", "rings.sleeve.pressure") == Approx(wall.pressure).epsilon(0.02));
    CHECK(value(job, "cold", "rings.sleeve.holding_force") ==
          Approx(wall.holding_force).epsilon(0.02));
    // Slices as short as the wall is thick: it evens their pressures out. The widest tells 25 % more than
    // it has and the thinnest 12 % less; the worst hoop stress stays on the safe side, since a thin slice
    // is held back by its neighbour.
    double worst = 0.0;
    for (std::size_t k = 0; k < 3; ++k) {
        const std::string slice = slice_path(k);
        CHECK(value(job, "cold", slice + "pressure") ==
              Approx((&wall.slice1)[k].pressure).epsilon(0.26));
        worst = std::max(worst, (&wall.slice1)[k].ring_hoop);
    }
    const double told = value(job, "cold", "rings.sleeve.ring_hoop");
    INFO(told / worst);
    CHECK(told > worst);
    CHECK(told < 1.2 * worst);
}

TEST_CASE("a job with slices answers alike in doubles, on lanes and on duals", "[slices]") {
    job::Job job = cut_sleeve(stepped);
    const int outside = job.leaf("rings.sleeve.slice2.outside");
    const int force = job.output("full_load", "nut.force");
    const int hoop = job.output("full_load", "rings.sleeve.ring_hoop");
    std::vector<double> column;
    for (int k = 0; k < 37; ++k)
        column.push_back(0.110 + 0.0005 * k);
    const auto swept = job.sweep({outside}, {column}, {force, hoop}, 2);
    for (std::size_t k = 0; k < column.size(); ++k) {
        job.set(outside, column[k]);
        const auto out = job.evaluate();
        CHECK(swept[0][k] == out[static_cast<std::size_t>(force)]);
        CHECK(swept[1][k] == out[static_cast<std::size_t>(hoop)]);
    }
    job.set(outside, 0.120);
    const auto slopes = job.jacobian();
    for (const int output : {force, hoop}) {
        const auto at = [&](double x) {
            job::Job moved = job;
            moved.set(outside, x);
            return moved.evaluate()[static_cast<std::size_t>(output)];
        };
        const double slope =
            slopes.derivatives[static_cast<std::size_t>(output) * job.inputs().size() +
                               static_cast<std::size_t>(outside)];
        CHECK(slope == Approx((at(0.120 + 1e-6) - at(0.120 - 1e-6)) / 2e-6).epsilon(1e-4));
    }
    // Bounds over a box hold what the job answers in it.
    const auto bounds = job::Encloser(job).all(job.values(), {{{outside}, 0.118, 0.122}});
    for (const double x : {0.118, 0.1193, 0.122}) {
        job.set(outside, x);
        const auto out = job.evaluate();
        for (const int output : {force, hoop}) {
            const auto& b = bounds[static_cast<std::size_t>(output)].value;
            CHECK(b.low <= out[static_cast<std::size_t>(output)]);
            CHECK(b.high >= out[static_cast<std::size_t>(output)]);
        }
    }
}

TEST_CASE("slices that make no ring are refused by their path", "[slices]") {
    const auto with = [](const std::string& path, double x) {
        job::Job job = cut_sleeve(stepped);
        job.set(job.leaf("rings.sleeve." + path), x);
        return told(job);
    };
    CHECK_THAT(with("slice2.start", 0.011), ContainsSubstring("rings.sleeve.slice2.start: 11") &&
                                                ContainsSubstring("must not overlap"));
    CHECK_THAT(with("slice3.start", 0.021), ContainsSubstring("rings.sleeve.slice3.start: 21") &&
                                                ContainsSubstring("leave no gap"));
    CHECK(with("slice2.start", 0.012).empty());
    CHECK_THAT(with("length", 0.033), ContainsSubstring("rings.sleeve.length: 33") &&
                                          ContainsSubstring("sum of the lengths of the slices"));
    CHECK(with("length", 0.032).empty());
    CHECK_THAT(with("slice1.outside", 0.079), ContainsSubstring("rings.sleeve.slice1.outside: 79"));
    CHECK_THAT(with("slice1.length", 0.0), ContainsSubstring("rings.sleeve.slice1.length"));
    CHECK_THAT(with("slice2.contact_length", 0.009),
               ContainsSubstring("rings.sleeve.slice2.contact_length: 9"));
    CHECK_THAT(with("outside", 0.1),
               ContainsSubstring("rings.sleeve.outside: is told by the slices of the ring"));
    CHECK_THAT(with("contact_length", 0.03),
               ContainsSubstring("rings.sleeve.contact_length: is told by the slices"));

    job::Plan plan = cases::blower_plan();
    plan.rings[0].slices = 9;
    CHECK_THROWS_WITH(job::Job(plan), ContainsSubstring("rings.sleeve.slices: 9: at most 8"));
    plan.rings[0].slices = 0;
    plan.rings[1].slices = 2;
    CHECK_THROWS_WITH(job::Job(plan),
                      ContainsSubstring("rings.inner_thrust.slices: the bearing's"));
}

TEST_CASE("a ring too short for the measured end effect is found", "[slices]") {
    job::Job job = cases::blower();
    const auto reach = [&] { return value(job, "cold", "rings.sleeve.end_effect_reach"); };
    const auto finding = [&] {
        const auto outputs = job.evaluate();
        const int output = job.output("cold", "rings.sleeve.end_effect_reach");
        for (const job::Finding& f : job.findings(outputs))
            if (f.output == output)
                return f.margin;
        return std::nan("");
    };
    CHECK(reach() == Approx(0.029 / (0.080036 / 8.0)));
    CHECK(finding() > 0.0);
    job.set(job.leaf("rings.sleeve.contact_length"), 0.008);
    CHECK(reach() == Approx(0.008 / (0.080036 / 8.0)));
    CHECK(finding() < 0.0);
    for (const char* end : {"overhang_low", "overhang", "overhang_high"})
        job.set(job.leaf(std::string("rings.sleeve.") + end), 0.0);
    CHECK(reach() == 1.0); // no extra grip is counted
    // The end effect of a ring with slices is that of its ends, not of each slice.
    CHECK(value(cut_sleeve(stepped), "cold", "rings.sleeve.end_effect_reach") ==
          Approx(0.029 / (0.080036 / 8.0)));
}
