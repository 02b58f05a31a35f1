// What scatters and hangs together without being told, and what readings say of a part.
#include "cases.hpp"
#include "catch.hpp"

#include <algorithm>
#include <cmath>
#include <fitwright/study/inverse.hpp>
#include <fitwright/study/standard.hpp>
#include <limits>

using namespace fitwright;
using namespace fitwright::study;

namespace {

constexpr double none = std::numeric_limits<double>::quiet_NaN();
std::size_t at(int number) { return static_cast<std::size_t>(number); }

Spread readings(std::vector<double> values, Readings of, double gauge,
                double repeatability = none) {
    return completed(
        {0, -1, -1, "seat", Shape::measured, none, gauge, none, none, values, of, repeatability});
}

// Student's t of three degrees of freedom in closed form (W. S. Gosset's curve, integrated by hand).
double student3(double t) {
    const double x = t / std::sqrt(3.0);
    return 0.5 + (x / (1.0 + x * x) + std::atan(x)) / fields::pi;
}
double bell(double z) { return std::exp(-0.5 * z * z) / std::sqrt(2.0 * fields::pi); }

} // namespace

TEST_CASE("expansion of every part scatters by its metal, of one metal together",
          "[study][standard]") {
    const job::Job job = cases::blower();
    const std::vector<Spread> spreads = standard_spreads(job);
    const auto find = [&](const std::string& path) {
        const auto found = std::find_if(spreads.begin(), spreads.end(),
                                        [&](const Spread& s) { return s.path == path; });
        REQUIRE(found != spreads.end());
        return static_cast<int>(found - spreads.begin());
    };
    const Spread& shaft = spreads[at(find("shaft.expansion_factor"))];
    CHECK(shaft.middle == 1.0);
    CHECK(shaft.deviation == materials::expansion_deviation(job.plan().shaft));
    CHECK(materials::expansion_deviation(materials::find("grey_iron")) == 0.04);
    CHECK(materials::expansion_deviation(materials::find("304")) == 0.03);
    for (const materials::Entry& metal : materials::library()) {
        CHECK(materials::expansion_deviation(metal) >= 0.02);
        CHECK(materials::expansion_deviation(metal) <= 0.04);
    }
    const int first = find("rings.inner_thrust.expansion_factor");
    const int second = find("rings.inner_back.expansion_factor");
    const auto value_of = [&](int a, int b, const std::vector<Correlation>& told) {
        for (const Correlation& c : with_standard(job, spreads, told))
            if ((c.first == a && c.second == b) || (c.first == b && c.second == a))
                return c.value;
        return 0.0;
    };
    CHECK(value_of(first, second, {}) == one_metal);
    CHECK(value_of(first, find("bearing.expansion_factor"), {}) == one_metal); // the balls
    CHECK(value_of(first, find("shaft.expansion_factor"), {}) == 0.0);         // another steel
    CHECK(value_of(first, second, {{second, first, 0.0}}) == 0.0);             // told
    CHECK(value_of(first, second, {{first, second, 0.3}}) == 0.3);
}

TEST_CASE("tied inputs have the correlation asked for, group by group", "[study][standard]") {
    const job::Job job = cases::blower();
    std::vector<Spread> spreads = standard_spreads(job);
    const std::vector<Correlation> tied = with_standard(job, spreads, {});
    CHECK(problem_of(tied, spreads.size()).empty());
    const std::int64_t count = watched ? 400 : 20000;
    const Study study(subject_of(job), spreads, {}, 3, count, Design::plain, tied);
    std::vector<std::vector<double>> scores(spreads.size());
    for (std::int64_t i = 0; i < count; ++i) {
        const std::vector<double> x = study.sample(i);
        for (std::size_t j = 0; j < spreads.size(); ++j)
            scores[j].push_back((x[at(spreads[j].leaf)] - spreads[j].middle) /
                                spreads[j].deviation);
    }
    const double off = 5.0 / std::sqrt(double(count)); // five deviations of a sampled coefficient
    for (std::size_t j = 0; j < spreads.size(); ++j)
        for (std::size_t k = 0; k <= j; ++k) {
            double sum = 0.0;
            for (std::size_t i = 0; i < scores[j].size(); ++i)
                sum += scores[j][i] * scores[k][i];
            double wanted = j == k ? 1.0 : 0.0;
            for (const Correlation& c : tied)
                if ((at(c.first) == j && at(c.second) == k) ||
                    (at(c.first) == k && at(c.second) == j))
                    wanted = c.value;
            CAPTURE(spreads[j].path, spreads[k].path);
            CHECK(std::fabs(sum / double(count) - wanted) < off * (j == k ? 1.5 : 1.0));
        }
}

TEST_CASE("readings of one part: Student's t about their mean", "[study][readings]") {
    // Four readings: three degrees of freedom, whose curve is known in closed form.
    const Spread s = readings({0.0, 1.0, 2.0, 5.0}, Readings::one_part, 0.0);
    CHECK(problem_of(s).empty());
    const double deviation = std::sqrt((4.0 + 1.0 + 0.0 + 9.0) / 3.0);
    for (const double u : {1e-9, 1e-4, 0.01, 0.2, 0.5, 0.8, 0.99, 1.0 - 1e-6}) {
        const double t = (quantile(s, u) - 2.0) / (deviation / 2.0);
        CAPTURE(u);
        CHECK(student3(t) == Approx(u).epsilon(2e-6).margin(1e-12));
    }
    CHECK(standard_deviation(s) == Approx(deviation / 2.0 * std::sqrt(3.0)));
    // One more part of the process they came from: wider by sqrt(n) sqrt(1 + 1/n).
    const Spread next = readings({0.0, 1.0, 2.0, 5.0}, Readings::process, 0.0);
    for (const double u : {0.001, 0.3, 0.975})
        CHECK((quantile(next, u) - 2.0) / (quantile(s, u) - 2.0) ==
              Approx(2.0 * std::sqrt(1.25)).epsilon(1e-7));
}

TEST_CASE("the gauge's uncertainty is added to what the readings leave open", "[study][readings]") {
    const double scale = std::sqrt(14.0 / 3.0) / 2.0;
    for (const double gauge : {0.05, 0.5, 2.0, 15.0}) {
        const Spread s = readings({0.0, 1.0, 2.0, 5.0}, Readings::one_part, gauge);
        CHECK(standard_deviation(s) == Approx(std::sqrt(3.0 * scale * scale + gauge * gauge)));
        for (const double u : {0.001, 0.1, 0.5, 0.9, 0.9999}) {
            // Probability below the quantile: t's curve under the bell, by Simpson's rule.
            const double x = quantile(s, u) - 2.0;
            double sum = 0.0;
            constexpr int steps = 20000;
            for (int k = 0; k <= steps; ++k) {
                const double z = -9.0 + 18.0 * k / steps;
                const double w = k == 0 || k == steps ? 1.0 : k % 2 == 1 ? 4.0 : 2.0;
                sum += w * bell(z) * student3((x - gauge * z) / scale);
            }
            CAPTURE(gauge, u);
            CHECK(sum * 18.0 / steps / 3.0 == Approx(u).epsilon(1e-5));
        }
    }
    // Far below the gauge both count as one normal number.
    const Spread blunt = readings({0.0, 1.0, 2.0, 5.0}, Readings::one_part, 40.0);
    const double sigma = std::sqrt(3.0 * scale * scale + 1600.0);
    CHECK(quantile(blunt, 0.975) == Approx(2.0 + 1.959963985 * sigma).epsilon(1e-8));
}

TEST_CASE("where the repeatability is known the readings are normal", "[study][readings]") {
    const Spread s = readings({1.0, 2.0}, Readings::one_part, 0.3, 0.4);
    CHECK(problem_of(s).empty());
    const double sigma = std::sqrt(0.16 / 2.0 + 0.09);
    CHECK(standard_deviation(s) == Approx(sigma));
    CHECK(quantile(s, 0.025) == Approx(1.5 - 1.959963985 * sigma).epsilon(1e-8));
    CHECK(quantile(readings({7.0}, Readings::one_part, 0.5), 0.975) ==
          Approx(7.0 + 1.959963985 * 0.5).epsilon(1e-8));
}

TEST_CASE("readings that tell too little are refused", "[study][readings][bad]") {
    const auto told = [](const Spread& s) { return problem_of(s); };
    CHECK_THAT(told(readings({1.0, 2.0, 3.0}, Readings::one_part, 0.1)),
               ContainsSubstring("needs four readings or more, or the repeatability"));
    CHECK_THAT(told(readings({1.0, 2.0, 3.0}, Readings::process, 0.1)),
               ContainsSubstring("of a process needs four readings or more"));
    CHECK_THAT(told(readings({1.0}, Readings::one_part, 0.0)),
               ContainsSubstring("where there is one reading"));
    CHECK_THAT(told(readings({1.0, 1.0, 1.0, 1.0}, Readings::one_part, 0.0)),
               ContainsSubstring("do not differ"));
    CHECK_THAT(told(readings({1.0, 2.0}, Readings::one_part, 0.0, -1.0)),
               ContainsSubstring("repeatability above zero"));
    CHECK(told(readings({1.0, 1.0, 1.0, 1.0}, Readings::one_part, 0.2)).empty());
}
