// A study of several levels: what it counts up to each, the same bits anywhere, and one rate of all.
#include "cases.hpp"
#include "catch.hpp"

#include <cmath>
#include <fitwright/study/inverse.hpp>
#include <fitwright/study/joined.hpp>
#include <fitwright/study/standard.hpp>

using namespace fitwright;
using namespace fitwright::study;

namespace {

std::size_t at(int number) { return static_cast<std::size_t>(number); }

// A limit of the quick level and two of the history, near the middle of what is drawn, so that each is
// missed by some; the first is held beside those that have statistics.
struct Levels {
    job::Job job = cases::blower().at(job::Level::history);
    std::vector<Tracked> tracked, held;
    Levels() {
        const std::vector<double> out = job.evaluate();
        const auto least = [&](const char* state, const char* path, double share) {
            const int output = job.output(state, path);
            return Tracked{output, share * out[at(output)], std::nan("")};
        };
        held = {least("cold", "nut.preload", 0.97)};
        tracked = {least("full_load", "shoulder.clamp", 0.95), least("trip", "nut.clamp", 0.9)};
    }
    Study study(std::int64_t count, const std::vector<Scale>& scales = {}, int threads = 1) const {
        return Study(subject_of(job), cases::spreads(job), tracked, 5, count, Design::plain, {},
                     {held, scales, threads});
    }
};

bool within(double x, const Tracked& t) { return !(x < t.at_least) && !(x > t.at_most); }

} // namespace

TEST_CASE("a study counts what passes up to each level, as its samples do one by one",
          "[study][levels]") {
    const Levels levels;
    constexpr std::int64_t count = watched ? 19 : 83; // a tail of a pack and of a chunk
    Study study = levels.study(count);
    CHECK(study.stages() == 2);
    CHECK(study.chunk_samples() == small_chunk);
    while (study.done() < count)
        study.advance(32, 2);
    std::int64_t quick = 0;
    std::int64_t both = 0;
    double sum = 0.0;
    const int watched_output = levels.tracked.front().output;
    for (std::int64_t i = 0; i < count; ++i) {
        job::Job there = levels.job;
        const std::vector<double> inputs = study.sample(i);
        for (std::size_t k = 0; k < inputs.size(); ++k)
            there.set(static_cast<int>(k), inputs[k]);
        const std::vector<double> out = there.evaluate();
        bool passes = true;
        for (const Tracked& t : levels.held)
            passes = passes && within(out[at(t.output)], t);
        quick += passes;
        for (const Tracked& t : levels.tracked)
            passes = passes && within(out[at(t.output)], t);
        both += passes;
        sum += out[at(watched_output)];
    }
    CHECK(study.passed_to(0) == quick);
    CHECK(study.passed_to(1) == both);
    CHECK(study.all_passed() == both);
    CHECK(study.statistics(0).mean == Approx(sum / double(count)).epsilon(1e-12));
    if (!watched) {
        CHECK(quick > both);
        CHECK(both > 0);
    }
}

TEST_CASE("dear samples give the same bits on any threads, in any blocks, with scales found before",
          "[study][levels]") {
    const Levels levels;
    constexpr std::int64_t count = watched ? 23 : 150;
    const auto numbers = [&](int threads, std::int64_t block, bool told) {
        const std::vector<Scale> scales =
            told ? levels.study(count).scales() : std::vector<Scale>{};
        Study s = levels.study(count, scales, threads);
        while (s.done() < count)
            s.advance(block, threads);
        std::vector<double> all{double(s.passed_to(0)), double(s.passed_to(1))};
        for (std::size_t t = 0; t < levels.tracked.size(); ++t) {
            const Statistics one = s.statistics(t);
            all.insert(all.end(), {one.mean, one.deviation, one.least, one.greatest, one.bins_from,
                                   double(one.least_at), double(one.passed)});
            for (const std::int64_t b : one.bins)
                all.push_back(double(b));
        }
        return all;
    };
    const auto wanted = numbers(1, 16, false);
    CHECK(numbers(2, 64, false) == wanted);
    CHECK(numbers(5, 1000, true) == wanted);
    CHECK(numbers(1, 1000, true) == wanted);
}

TEST_CASE("a study of one level is what it was: every limit in one count", "[study][levels]") {
    const Levels levels;
    std::vector<Tracked> all = levels.held;
    all.insert(all.end(), levels.tracked.begin(), levels.tracked.end());
    constexpr std::int64_t count = watched ? 8 : 48;
    Study one(subject_of(levels.job), cases::spreads(levels.job), all, 5, count);
    Study two = levels.study(count);
    one.advance(count, 1);
    two.advance(count, 1);
    CHECK(one.all_passed() == two.all_passed());
    CHECK(one.statistics(levels.held.size()).mean == two.statistics(0).mean);
}

TEST_CASE("the joined rate is the control variate estimator with its best coefficient",
          "[study][levels]") {
    // H_n/n - b (Q_n/n - Q_N/N), b = cov(pass, control)/var(control), worked out from the counts.
    const double many = 1e6;
    const double q_many = 974000.0;
    const double few = 1e4;
    const double q_few = 9690.0;
    const double h_few = 9480.0;
    const double mean_q = q_few / few;
    const double mean_h = h_few / few;
    const double covariance =
        mean_h - mean_h * mean_q; // a pass at the history is one at the quick level
    const double variance = mean_q - mean_q * mean_q;
    const double b = covariance / variance;
    const double wanted = mean_h - b * (mean_q - q_many / many);
    const JoinedRate found = joined_rate({{1000000, 1000000, 974000}, {10000, 9690, 9480}});
    CHECK(found.rate == Approx(wanted).epsilon(1e-13));
    // Its variance by the delta method: both shares are free of each other.
    const double share_q = q_many / many;
    const double share_h = h_few / q_few;
    const double spread = found.rate * std::sqrt((1.0 - share_q) / (share_q * many) +
                                                 (1.0 - share_h) / (share_h * q_few));
    CHECK(found.interval.high - found.interval.low == Approx(2.0 * 1.96 * spread).epsilon(0.01));
    CHECK(found.interval.low < found.rate);
    CHECK(found.rate < found.interval.high);
}

TEST_CASE("a joined rate at its ends", "[study][levels][bad]") {
    const JoinedRate one = joined_rate({{1000, 1000, 990}});
    const Interval alone = interval_of_share(990, 1000);
    CHECK(one.rate == 0.99);
    CHECK(one.interval.low == alone.low);
    CHECK(one.interval.high == alone.high);
    // Nothing fails: the rate is 1, and the fewer samples say how sure that is.
    const JoinedRate all = joined_rate({{1000000, 1000000, 1000000}, {400, 400, 400}});
    CHECK(all.rate == 1.0);
    CHECK(all.interval.high == 1.0);
    CHECK(all.interval.low == Approx(interval_of_share(400, 400).low).epsilon(1e-4));
    // All of the fewer fail before their own limits: nothing is known of those.
    const JoinedRate open = joined_rate({{1000, 1000, 10}, {5, 0, 0}});
    CHECK(open.rate == Approx(0.01));
    CHECK(open.interval.low == 0.0);
    CHECK(open.interval.high >= interval_of_share(10, 1000).high - 1e-12);
    CHECK(std::isnan(joined_rate({}).rate));
    CHECK(std::isnan(joined_rate({{10, 10, 10}, {0, 0, 0}}).rate));
    CHECK(joined_rate({{10, 10, 0}, {5, 0, 0}}).rate == 0.0);
}
