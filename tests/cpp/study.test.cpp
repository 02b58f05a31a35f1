// The study: draws against the exact distributions, statistics against theory, streams by path.
#include "cases.hpp"
#include "catch.hpp"

#include <algorithm>
#include <cmath>
#include <fitwright/fields/error.hpp>
#include <functional>
#include <limits>

namespace fitwright::rules {
extern const number::Rule in_range, ring_outside_above_seat;
} // namespace fitwright::rules

using namespace fitwright;
using namespace fitwright::study;

namespace {

constexpr std::int64_t many = (watched ? 3 : 25) * chunk + 3; // a tail of a pack and of a chunk

constexpr double no_limit = std::numeric_limits<double>::quiet_NaN();
std::size_t at(int number) { return static_cast<std::size_t>(number); }

// A cold smooth fit: interference left = seat - bore, exactly linear.
struct Fit {
    const fields::Model& model = fields::model_named("rings.fit");
    const materials::Material* metals[2] = {&cases::metal("4340"), &cases::metal("52100")};
    std::vector<fields::Leaf> leaves = fields::leaves_of(*model.inputs);
    std::vector<double> nominal = fields::standard_values(*model.inputs);

    Fit() {
        nominal[at(leaf("shaft.seat"))] = 0.080040;
        nominal[at(leaf("ring.bore"))] = 0.080000;
        nominal[at(leaf("ring.outside"))] = 0.105;
        nominal[at(leaf("ring.length"))] = 0.030;
    }
    int leaf(const std::string& path) const {
        for (std::size_t i = 0; i < leaves.size(); ++i)
            if (leaves[i].path == path)
                return static_cast<int>(i);
        FAIL(path);
        return -1;
    }
    fields::Context context() const { return {metals, nullptr, nullptr}; }
    Subject subject() const {
        Subject s{&model.formulas,
                  context(),
                  nominal,
                  {},
                  {},
                  static_cast<int>(fields::leaves_of(*model.outputs).size())};
        for (const fields::Leaf& l : leaves) {
            s.low.push_back(l.field->range.low);
            s.high.push_back(l.field->range.high);
        }
        return s;
    }
    Spread spread(const char* path, Shape shape, double middle, double deviation, double low = 0.0,
                  double high = 0.0) const {
        return {leaf(path), -1, -1, path, shape, middle, deviation, low, high};
    }
    rings::FitOutputs<double> evaluate(const std::vector<double>& inputs) const {
        rings::FitOutputs<double> out;
        fields::evaluate(model, inputs.data(), &out.interference_left, context());
        return out;
    }
};
constexpr int interference_left = 0;

Study finished(Subject subject, const std::vector<Spread>& spreads,
               const std::vector<Tracked>& tracked, std::int64_t count = many,
               std::uint64_t seed = 7) {
    Study s(std::move(subject), spreads, tracked, seed, count);
    while (s.done() < s.count())
        s.advance(10 * chunk, 2);
    return s;
}

// Exact moments by integrating a density: Simpson.
struct Moments {
    double mean, deviation;
};
Moments moments(double low, double high, const std::function<double(double)>& density) {
    constexpr int steps = 20000;
    double sum[3] = {0.0, 0.0, 0.0};
    for (int k = 0; k <= steps; ++k) {
        const double x = low + (high - low) * k / steps;
        const double w = (k == 0 || k == steps ? 1.0 : k % 2 == 1 ? 4.0 : 2.0) * density(x);
        sum[0] += w;
        sum[1] += w * (x - low);
        sum[2] += w * (x - low) * (x - low);
    }
    const double mean = sum[1] / sum[0];
    return {low + mean, std::sqrt(sum[2] / sum[0] - mean * mean)};
}
double bell(double z) { return std::exp(-z * z / 2.0); }

// Sampling error: a mean misses by sigma/sqrt(n), a deviation of a bell by sigma/sqrt(2 n) (flatter
// shapes less); four of them happen once in 16 000 studies.
void near(const Statistics& s, const Moments& wanted) {
    const auto n = static_cast<double>(s.count);
    CHECK(std::fabs(s.mean - wanted.mean) <= 4.0 * wanted.deviation / std::sqrt(n));
    CHECK(std::fabs(s.deviation - wanted.deviation) <= 4.0 * wanted.deviation / std::sqrt(2.0 * n));
}

} // namespace

TEST_CASE("a study of a linear answer has the mean and deviation of theory", "[study]") {
    const Fit fit;
    // Seat normal, bore uniform: means subtract, variances add; (high - low)^2/12 of a uniform.
    const std::vector<Spread> spreads{
        fit.spread("shaft.seat", Shape::normal, 0.080040, 2e-6),
        fit.spread("ring.bore", Shape::uniform, 0.080000, 0.0, 0.079997, 0.080005)};
    const Study study = finished(fit.subject(), spreads, {{interference_left, 36e-6, 42e-6}});
    const Statistics s = study.statistics(0);
    CHECK(s.count == many);
    CHECK(study.out_of_domain() == 0);
    CHECK(study.first_fault() == -1);
    const double deviation = std::sqrt(4e-12 + 64e-12 / 12.0);
    near(s, {39e-6, deviation});
    CHECK(std::fabs(s.skewness) <= 4.0 * std::sqrt(6.0 / static_cast<double>(many)));
    std::int64_t sum = 0;
    for (const std::int64_t b : s.bins)
        sum += b;
    CHECK(sum == many);

    // The linear budget from exact derivatives says the same.
    std::vector<double> derivatives(fit.leaves.size() * at(fit.subject().output_count));
    std::vector<double> outputs(at(fit.subject().output_count));
    fields::jacobian(fit.model, fit.nominal.data(), outputs.data(), derivatives.data(),
                     fit.context());
    const auto parts = contributions(derivatives, fit.leaves.size(), spreads);
    CHECK(parts[0] == Approx(2e-6).epsilon(1e-10));
    CHECK(parts[1] == Approx(-8e-6 / std::sqrt(12.0)).epsilon(1e-10));
    CHECK(linear_deviation(parts, 2)[0] == Approx(deviation).epsilon(1e-10));
}

TEST_CASE("each shape of scatter has its exact moments", "[study]") {
    const Fit fit;
    const double d = 0.080000;
    const auto run = [&](const Spread& spread, const Moments& wanted) {
        CHECK(problem_of(spread).empty());
        CHECK(standard_deviation(spread) == Approx(wanted.deviation).epsilon(1e-6));
        const Study s =
            finished(fit.subject(), {spread}, {{interference_left, no_limit, no_limit}});
        near(s.statistics(0), {wanted.mean - d, wanted.deviation});
        if (spread.shape != Shape::normal) {
            CHECK(s.statistics(0).least >= spread.low - d - 1e-16);
            CHECK(s.statistics(0).greatest <= spread.high - d + 1e-16);
        }
    };
    run(fit.spread("shaft.seat", Shape::normal, 0.080040, 3e-6), {0.080040, 3e-6});
    run(fit.spread("shaft.seat", Shape::uniform, 0.080040, 0.0, 0.080030, 0.080060),
        {0.080045, 30e-6 / std::sqrt(12.0)});
    const double low = 0.080030;
    const double mode = 0.080034;
    const double high = 0.080054;
    run(fit.spread("shaft.seat", Shape::triangular, mode, 0.0, low, high),
        moments(low, high, [&](double x) {
            return x < mode ? (x - low) / (mode - low) : (high - x) / (high - mode);
        }));
    run(fit.spread("shaft.seat", Shape::truncated_normal, mode, 8e-6, low, high),
        moments(low, high, [&](double x) { return bell((x - mode) / 8e-6); }));
}

TEST_CASE("a stream belongs to its path: other spreads leave it alone", "[study]") {
    const Fit fit;
    const Spread seat = fit.spread("shaft.seat", Shape::normal, 0.080040, 2e-6);
    const Spread bore = fit.spread("ring.bore", Shape::normal, 0.080000, 2e-6);
    const Spread warm = fit.spread("ring_temperature", Shape::uniform, 0.0, 0.0, 20.0, 60.0);
    const auto study = [&](std::vector<Spread> spreads, std::uint64_t seed = 7) {
        return Study(fit.subject(), std::move(spreads), {{interference_left, no_limit, no_limit}},
                     seed, 100);
    };
    const Study alone = study({seat});
    const Study among = study({warm, bore, seat});
    const Study other_seed = study({seat}, 8);
    int same = 0;
    for (const std::int64_t i : {0, 1, 2, 3, 4, 17, 99}) {
        const auto a = alone.sample(i);
        const auto b = among.sample(i);
        CHECK(a[at(seat.leaf)] == b[at(seat.leaf)]);
        CHECK(b[at(bore.leaf)] - 0.080 != b[at(seat.leaf)] - 0.080040);
        same += a[at(seat.leaf)] == other_seed.sample(i)[at(seat.leaf)];
    }
    CHECK(same == 0);
    // Not the count either, and not where the study stops on the way.
    const Study longer(fit.subject(), {seat}, {{interference_left, no_limit, no_limit}}, 7, 5000);
    CHECK(longer.sample(99)[at(seat.leaf)] == alone.sample(99)[at(seat.leaf)]);
}

TEST_CASE("an input with ends is one number in a sample", "[study]") {
    const job::Job job = cases::blower();
    const Study study(cases::subject(job), cases::spreads(job), cases::tracked(job), 1, 100);
    const auto x = study.sample(42);
    const std::size_t leaf = at(job.leaf("rings.sleeve.friction"));
    CHECK(x[leaf] == x[leaf + 1]);
    CHECK(x[leaf] == x[leaf + 2]);
    CHECK(x[leaf] != job.values()[leaf]);
    // And everything without a spread stays.
    CHECK(x[at(job.leaf("shaft.bore"))] == 0.030);
}

TEST_CASE("the worst sample can be drawn again and gives its answer", "[study]") {
    const job::Job job = cases::blower();
    const Study study =
        finished(cases::subject(job), cases::spreads(job), cases::tracked(job), chunk + 77);
    const auto answer = [&](std::int64_t index, std::size_t tracked) {
        job::Job there = job;
        const auto inputs = study.sample(index);
        for (std::size_t i = 0; i < inputs.size(); ++i)
            there.set(static_cast<int>(i), inputs[i]);
        return there.evaluate()[at(cases::tracked(job)[tracked].output)];
    };
    for (std::size_t t = 0; t < cases::tracked(job).size(); ++t) {
        const Statistics s = study.statistics(t);
        CHECK(answer(s.least_at, t) == s.least);
        CHECK(answer(s.greatest_at, t) == s.greatest);
        CHECK(s.least < s.greatest);
    }
}

TEST_CASE("counts, pass rate and quantiles agree with the samples one by one", "[study]") {
    const Fit fit;
    const std::vector<Spread> spreads{
        fit.spread("shaft.seat", Shape::normal, 0.080040, 2e-6),
        fit.spread("ring_temperature", Shape::triangular, 30.0, 0.0, 20.0, 60.0)};
    constexpr std::int64_t count = 2 * chunk + 5;
    const Study study = finished(
        fit.subject(), spreads,
        {{interference_left, 30e-6, no_limit}, {interference_left, no_limit, 35e-6}}, count);
    std::vector<double> all;
    for (std::int64_t i = 0; i < count; ++i)
        all.push_back(fit.evaluate(study.sample(i)).interference_left);
    std::int64_t above = 0;
    std::int64_t under = 0;
    std::int64_t both = 0;
    double sum = 0.0;
    for (const double x : all) {
        above += x >= 30e-6;
        under += x <= 35e-6;
        both += x >= 30e-6 && x <= 35e-6;
        sum += x;
    }
    const Statistics s = study.statistics(0);
    CHECK(s.passed == above);
    CHECK(study.statistics(1).passed == under);
    CHECK(study.all_passed() == both);
    CHECK(s.mean == Approx(sum / static_cast<double>(count)).epsilon(1e-12));
    CHECK(s.least == *std::min_element(all.begin(), all.end()));
    CHECK(all[static_cast<std::size_t>(s.greatest_at)] == s.greatest);

    std::sort(all.begin(), all.end());
    for (const double share : {0.0, 0.001, 0.05, 0.5, 0.9, 0.9999, 1.0}) {
        const Quantile q = quantile_of(s, share);
        const auto rank = static_cast<std::size_t>(
            std::clamp(std::ceil(share * double(count)) - 1.0, 0.0, double(count - 1)));
        CAPTURE(share);
        CHECK(std::fabs(q.value - all[rank]) <= q.error + 1e-18);
        CHECK(q.error <= (s.greatest - s.least) / 100.0);
    }
}

TEST_CASE("samples out of domain are counted and located, not averaged", "[study][bad]") {
    const Fit fit;
    // A ring may not be smaller than its seat: about a tenth of these are.
    const Spread outside = fit.spread("ring.outside", Shape::uniform, 0.09, 0.0, 0.079, 0.089);
    const Study study =
        finished(fit.subject(), {outside}, {{interference_left, no_limit, no_limit}});
    std::int64_t bad = 0;
    std::int64_t first = -1;
    for (std::int64_t i = 0; i < many; ++i)
        if (study.sample(i)[at(outside.leaf)] <= 0.080040) {
            ++bad;
            first = first < 0 ? i : first;
        }
    CHECK(bad > many / 20);
    CHECK(study.out_of_domain() == bad);
    CHECK(study.first_fault() == first);
    CHECK(number::rule_of(study.first_fault_code()) == rules::ring_outside_above_seat);
    CHECK(number::place_of(study.first_fault_code()) == 2);
    CHECK(study.statistics(0).count == many - bad);
    CHECK(study.statistics(0).mean == Approx(40e-6).epsilon(1e-9));

    // A draw beyond the range of the input itself is told by its leaf.
    const Spread rough = fit.spread("shaft.roughness", Shape::normal, 1e-6, 1e-6);
    const Study other = finished(fit.subject(), {rough}, {{interference_left, no_limit, no_limit}});
    CHECK(number::rule_of(other.first_fault_code()) == rules::in_range);
    CHECK(number::place_of(other.first_fault_code()) == rough.leaf);
    CHECK(other.sample(other.first_fault())[at(rough.leaf)] < 0.0);
}

TEST_CASE("Wilson's interval: where the share is 1.96 deviations from what was seen", "[study]") {
    // Its ends solve (seen - p)^2 = z^2 p (1 - p)/n (Wilson, 1927).
    const double z = 1.959963984540054;
    for (const std::int64_t passed : {1, 500, 990}) {
        const Interval i = interval_of_share(passed, 1000);
        for (const double p : {i.low, i.high}) {
            const double off = static_cast<double>(passed) / 1000.0 - p;
            CHECK(off * off == Approx(z * z * p * (1.0 - p) / 1000.0).epsilon(1e-9));
        }
    }
    CHECK(interval_of_share(1000, 1000).high == Approx(1.0).epsilon(1e-12));
    CHECK(interval_of_share(1000, 1000).low == Approx(1000.0 / (1000.0 + z * z)));
    CHECK(interval_of_share(0, 0).low == 0.0);
    CHECK(interval_of_share(0, 0).high == 1.0);
}
