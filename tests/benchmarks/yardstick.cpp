// The study as one would first write it: doubles, a generator of the standard library, the
// quantiles of Boost.Math, one sample after the other, the same statistics.
#include "bench.hpp"
#include "demo_job.hpp"
#include <boost/math/distributions/normal.hpp>
#include <boost/math/distributions/triangular.hpp>
#include <random>

namespace fitwright::bench {

namespace {

// As it comes, Boost works the quantiles of doubles out in long double; it can be told not to.
using AsItComes = boost::math::policies::policy<>;
using InDouble = boost::math::policies::policy<boost::math::policies::promote_double<false>>;

template <class Policy>
class Draws {
    using Normal = boost::math::normal_distribution<double, Policy>;
    using Triangular = boost::math::triangular_distribution<double, Policy>;

public:
    void operator()(const std::vector<study::Spread>& spreads, std::vector<double>& inputs) {
        for (const study::Spread& s : spreads) {
            const double u = (static_cast<double>(words_() >> 12) + 0.5) * 0x1p-52;
            double x = s.low + (s.high - s.low) * u;
            if (s.shape == study::Shape::normal)
                x = boost::math::quantile(Normal(s.middle, s.deviation), u);
            else if (s.shape == study::Shape::triangular)
                x = boost::math::quantile(Triangular(s.low, s.middle, s.high), u);
            inputs[static_cast<std::size_t>(s.leaf)] = x;
            if (s.low_leaf >= 0) {
                inputs[static_cast<std::size_t>(s.low_leaf)] = x;
                inputs[static_cast<std::size_t>(s.high_leaf)] = x;
            }
        }
    }

private:
    std::mt19937_64 words_{1};
};

struct Sums {
    double sum = 0.0, squares = 0.0, cubes = 0.0, least = 1e300, greatest = -1e300;
    std::int64_t passed = 0;
    std::vector<std::uint32_t> bins = std::vector<std::uint32_t>(study::bin_count);
    void add(double x, const study::Tracked& t, const study::Statistics& range) {
        const double d = x - range.mean;
        sum += d;
        squares += d * d;
        cubes += d * d * d;
        least = x < least ? x : least;
        greatest = x > greatest ? x : greatest;
        passed += !(x < t.at_least) && !(x > t.at_most) ? 1 : 0; // no limit: never outside
        const double place = (x - range.bins_from) / range.bin_width;
        const double held =
            place > 0.0 ? place < study::bin_count ? place : study::bin_count - 0.5 : 0.0;
        ++bins[static_cast<std::size_t>(held)];
    }
};

constexpr int block = 2048;
constexpr int repeats = 8;

template <class Policy>
Yardstick::Study measure(const std::vector<study::Statistics>& ranges) {
    const DemoJob& demo = demo_job();
    const study::Subject subject = demo.subject();
    std::vector<double> inputs = subject.nominal;
    std::vector<double> outputs(static_cast<std::size_t>(subject.output_count));
    number::Faults<double> faults;
    Draws<Policy> draws;
    std::vector<Sums> sums(demo.tracked.size());
    Yardstick::Study y{};
    y.whole = best_ns(repeats, block, [&] {
        for (int k = 0; k < block; ++k) {
            draws(demo.spreads, inputs);
            job::quick_formulas().scalar(inputs.data(), outputs.data(), subject.context, faults);
            for (std::size_t t = 0; t < sums.size(); ++t)
                sums[t].add(outputs[static_cast<std::size_t>(demo.tracked[t].output)],
                            demo.tracked[t], ranges[t]);
        }
    });
    for (std::size_t t = 0; t < sums.size(); ++t)
        y.means.push_back(ranges[t].mean + sums[t].sum / Yardstick::Study::samples);
    y.draws = best_ns(repeats, block, [&] {
        for (int k = 0; k < block; ++k)
            draws(demo.spreads, inputs);
    });
    return y;
}

Yardstick measure() {
    const DemoJob& demo = demo_job();
    const study::Subject subject = demo.subject();
    // Ranges of the histograms, as the study takes them: from a first chunk.
    study::Study first(subject, demo.spreads, demo.tracked, 1, study::chunk);
    first.advance(study::chunk, 1);
    std::vector<study::Statistics> ranges;
    for (std::size_t t = 0; t < demo.tracked.size(); ++t)
        ranges.push_back(first.statistics(t));

    static_assert(Yardstick::Study::samples == block * repeats);
    Yardstick y{0.0, measure<AsItComes>(ranges), measure<InDouble>(ranges)};
    std::vector<double> outputs(static_cast<std::size_t>(subject.output_count));
    number::Faults<double> faults;
    y.evaluation = best_ns(repeats, block, [&] {
        for (int k = 0; k < block; ++k)
            job::quick_formulas().scalar(subject.nominal.data(), outputs.data(), subject.context,
                                         faults);
    });
    return y;
}

} // namespace

const Yardstick& yardstick() {
    static const Yardstick y = measure();
    return y;
}

} // namespace fitwright::bench
