#include "chunk.hpp"
#include "detail/draw.hpp"
#include "fields/at_level.hpp"
#include "fields/parallel.hpp"
#include <algorithm>
#include <cmath>
#include <fitwright/fields/level.hpp>
#include <fitwright/study/study.hpp>
#include <limits>

namespace fitwright::study {

Stream stream_of(const Spread& s) {
    Stream t{s.leaf,
             s.low_leaf,
             s.high_leaf,
             static_cast<int>(s.shape),
             s.middle,
             s.deviation,
             s.low,
             s.high,
             0.0,
             1.0,
             number::stream_key(s.path.data(), s.path.size())};
    if (s.shape == Shape::truncated_normal) {
        t.probability_low = number::normal_probability((s.low - s.middle) / s.deviation);
        t.probability_high = number::normal_probability((s.high - s.middle) / s.deviation);
    }
    return t;
}

std::string problem_of(const Spread& s) {
    const bool bounded = s.shape != Shape::normal;
    const bool bell = s.shape == Shape::normal || s.shape == Shape::truncated_normal;
    if (bell && !(s.deviation > 0.0 && std::isfinite(s.deviation)))
        return "needs a deviation above zero";
    if (bounded && !(std::isfinite(s.low) && std::isfinite(s.high) && s.low < s.high))
        return "needs low below high";
    if (s.shape == Shape::triangular && !(s.low <= s.middle && s.middle <= s.high))
        return "needs its value between low and high";
    if (s.shape == Shape::truncated_normal) {
        const Stream t = stream_of(s);
        if (!(t.probability_high - t.probability_low > 1e-9))
            return "keeps nothing between low and high";
    }
    return {};
}

double standard_deviation(const Spread& s) {
    switch (s.shape) {
    case Shape::normal:
        return s.deviation;
    case Shape::uniform:
        return (s.high - s.low) / std::sqrt(12.0);
    case Shape::triangular:
        return std::sqrt((s.low * s.low + s.middle * s.middle + s.high * s.high - s.low * s.middle -
                          s.low * s.high - s.middle * s.high) /
                         18.0);
    case Shape::truncated_normal:
        break;
    }
    const double a = (s.low - s.middle) / s.deviation;
    const double b = (s.high - s.middle) / s.deviation;
    const double kept = number::normal_probability(b) - number::normal_probability(a);
    const double fa = number::normal_density(a);
    const double fb = number::normal_density(b);
    const double shift = (fa - fb) / kept;
    return s.deviation * std::sqrt(1.0 + (a * fa - b * fb) / kept - shift * shift);
}

Spread moved(const Spread& s, double step) {
    Spread t = s;
    t.middle += step;
    if (s.low_leaf < 0) {
        t.low += step;
        t.high += step;
    }
    return t;
}

double quantile(const Spread& s, double u) { return value_at(stream_of(s), u); }

struct Study::State {
    Subject subject;
    std::vector<Stream> streams;
    std::vector<Watch> watches;
    std::uint64_t seed = 0;
    std::int64_t count = 0;
    std::int64_t done = 0;
    // merged in index order
    std::int64_t valid = 0, all_passed = 0, fault_sample = -1;
    double fault_code = 0.0;
    std::vector<Partial> totals;
    std::vector<std::int64_t> bins; // watches x bin_count

    ChunkWork work_for(std::int64_t k, double* workspace, Partial* partials) const {
        ChunkWork w{};
        w.streams = streams.data();
        w.stream_count = static_cast<int>(streams.size());
        w.nominal = subject.nominal.data();
        w.low = subject.low.data();
        w.high = subject.high.data();
        w.input_count = static_cast<int>(subject.nominal.size());
        w.output_count = subject.output_count;
        w.watches = watches.data();
        w.watch_count = static_cast<int>(watches.size());
        w.seed = seed;
        w.first = k * chunk;
        w.count = std::min(chunk, count - k * chunk);
        w.workspace = workspace;
        w.partials = partials;
        return w;
    }
    fields::AlignedDoubles workspace() const {
        const int packs = workspace_packs(static_cast<int>(subject.nominal.size()),
                                          subject.output_count, static_cast<int>(watches.size()));
        return fields::AlignedDoubles(static_cast<std::size_t>(packs) *
                                      static_cast<std::size_t>(number::lane_count));
    }
    void run(ChunkWork& w) const {
        fields::at_level(*subject.formulas, fields::active_level(),
                         [&](auto formulas) { run_chunk(formulas, w, subject.context); });
    }
    void find_bins();
};

// The range of the bins comes from the first chunk, which is always the same: half a range wider
// on both sides.
void Study::State::find_bins() {
    fields::AlignedDoubles space = workspace();
    std::vector<Partial> partials(watches.size());
    ChunkWork w = work_for(0, space.data(), partials.data());
    run(w);
    for (std::size_t t = 0; t < watches.size(); ++t) {
        const Partial& p = partials[t];
        if (w.valid == 0)
            continue;
        const double span = p.greatest - p.least;
        const double wide = span > 0.0 ? span : std::max(1e-9 * std::fabs(p.least), 1e-300);
        watches[t].bins_from = p.least - 0.5 * wide;
        watches[t].bins_per_unit = bin_count / (2.0 * wide);
        watches[t].shift = p.least + 0.5 * span;
    }
}

Study::Study(Subject subject, const std::vector<Spread>& spreads,
             const std::vector<Tracked>& tracked, std::uint64_t seed, std::int64_t count)
    : state_(std::make_unique<State>()) {
    state_->subject = std::move(subject);
    state_->seed = seed;
    state_->count = count;
    for (const Spread& s : spreads)
        state_->streams.push_back(stream_of(s));
    constexpr double infinity = std::numeric_limits<double>::infinity();
    for (const Tracked& t : tracked)
        state_->watches.push_back({t.output, std::isnan(t.at_least) ? -infinity : t.at_least,
                                   std::isnan(t.at_most) ? infinity : t.at_most, 0.0, 0.0, 1.0});
    state_->totals.assign(tracked.size(), {0.0, 0.0, 0.0, 1e300, -1e300, -1.0, -1.0, 0});
    state_->bins.assign(tracked.size() * static_cast<std::size_t>(bin_count), 0);
    if (count > 0)
        state_->find_bins();
}
Study::~Study() = default;
Study::Study(Study&&) noexcept = default;

std::int64_t Study::count() const { return state_->count; }
std::int64_t Study::done() const { return state_->done; }
std::int64_t Study::all_passed() const { return state_->all_passed; }
std::int64_t Study::out_of_domain() const { return state_->done - state_->valid; }
std::int64_t Study::first_fault() const { return state_->fault_sample; }
double Study::first_fault_code() const { return state_->fault_code; }

void Study::advance(std::int64_t samples, int threads) {
    State& state = *state_;
    if (state.done >= state.count || samples <= 0)
        return;
    const std::int64_t begin = state.done / chunk;
    const std::int64_t end =
        std::min((state.done + samples + chunk - 1) / chunk, (state.count + chunk - 1) / chunk);
    const std::size_t watches = state.watches.size();
    const auto chunks = static_cast<std::size_t>(end - begin);
    std::vector<Partial> partials(chunks * watches);
    std::vector<ChunkWork> answers(chunks);
    std::vector<fields::AlignedDoubles> workspaces;
    std::vector<std::vector<std::uint32_t>> bins(
        static_cast<std::size_t>(threads),
        std::vector<std::uint32_t>(watches * static_cast<std::size_t>(bin_count)));
    for (int t = 0; t < threads; ++t)
        workspaces.push_back(state.workspace());

    fields::run_parallel(end - begin, threads, [&](std::int64_t k, int thread) {
        const auto i = static_cast<std::size_t>(k);
        ChunkWork w = state.work_for(begin + k, workspaces[static_cast<std::size_t>(thread)].data(),
                                     partials.data() + i * watches);
        w.bins = bins[static_cast<std::size_t>(thread)].data();
        state.run(w);
        answers[i] = w;
    });

    for (std::size_t i = 0; i < chunks; ++i) {
        const ChunkWork& w = answers[i];
        state.valid += w.valid;
        state.all_passed += w.all_passed;
        state.done += w.count;
        if (state.fault_sample < 0 && w.fault_sample >= 0) {
            state.fault_sample = w.fault_sample;
            state.fault_code = w.fault_code;
        }
        for (std::size_t t = 0; t < watches; ++t) {
            const Partial& p = partials[i * watches + t];
            Partial& total = state.totals[t];
            total.sum += p.sum;
            total.square_sum += p.square_sum;
            total.cube_sum += p.cube_sum;
            total.passed += p.passed;
            if (p.least < total.least) {
                total.least = p.least;
                total.least_at = p.least_at;
            }
            if (p.greatest > total.greatest) {
                total.greatest = p.greatest;
                total.greatest_at = p.greatest_at;
            }
        }
    }
    for (const auto& own : bins)
        for (std::size_t i = 0; i < own.size(); ++i)
            state.bins[i] += own[i];
}

Statistics Study::statistics(std::size_t tracked) const {
    const State& state = *state_;
    const Partial& p = state.totals[tracked];
    const Watch& watch = state.watches[tracked];
    Statistics s;
    s.count = state.valid;
    if (state.valid > 0) {
        const auto n = static_cast<double>(state.valid);
        const double first = p.sum / n;
        const double second = p.square_sum / n - first * first;
        const double third =
            p.cube_sum / n - 3.0 * first * p.square_sum / n + 2.0 * first * first * first;
        s.mean = watch.shift + first;
        s.deviation = std::sqrt(std::max(0.0, second * n / std::max(1.0, n - 1.0)));
        s.skewness = second > 0.0 ? third / (second * std::sqrt(second)) : 0.0;
    }
    s.least = p.least;
    s.greatest = p.greatest;
    s.least_at = static_cast<std::int64_t>(p.least_at);
    s.greatest_at = static_cast<std::int64_t>(p.greatest_at);
    s.passed = p.passed;
    s.bins_from = watch.bins_from;
    s.bin_width = 1.0 / watch.bins_per_unit;
    const auto from = state.bins.begin() + static_cast<std::ptrdiff_t>(tracked) * bin_count;
    s.bins.assign(from, from + bin_count);
    return s;
}

Quantile quantile_of(const Statistics& s, double share) {
    const double wanted = share * static_cast<double>(s.count);
    double below = 0.0;
    for (std::size_t i = 0; i < s.bins.size(); ++i) {
        const auto here = static_cast<double>(s.bins[i]);
        if (below + here < wanted || here == 0.0) {
            below += here;
            continue;
        }
        const double from = std::max(s.bins_from + static_cast<double>(i) * s.bin_width, s.least);
        const double to =
            std::min(s.bins_from + static_cast<double>(i + 1) * s.bin_width, s.greatest);
        // The outermost bins also hold what lies beyond them.
        const double low = i == 0 ? s.least : from;
        const double high = i + 1 == s.bins.size() ? s.greatest : to;
        return {low + (high - low) * (wanted - below) / here, high - low};
    }
    return {s.greatest, 0.0};
}

Interval interval_of_share(std::int64_t passed, std::int64_t count) {
    if (count <= 0)
        return {0.0, 1.0};
    const double z = number::normal_quantile(0.975);
    const auto n = static_cast<double>(count);
    const double p = static_cast<double>(passed) / n;
    const double middle = (p + z * z / (2.0 * n)) / (1.0 + z * z / n);
    const double half =
        z / (1.0 + z * z / n) * std::sqrt(p * (1.0 - p) / n + z * z / (4.0 * n * n));
    return {std::max(0.0, middle - half), std::min(1.0, middle + half)};
}

std::vector<double> contributions(const std::vector<double>& derivatives, std::size_t input_count,
                                  const std::vector<Spread>& spreads) {
    const std::size_t outputs = input_count == 0 ? 0 : derivatives.size() / input_count;
    std::vector<double> result;
    result.reserve(outputs * spreads.size());
    for (std::size_t j = 0; j < outputs; ++j) {
        const double* row = derivatives.data() + j * input_count;
        for (const Spread& s : spreads) {
            double slope = row[s.leaf];
            if (s.low_leaf >= 0)
                slope += row[s.low_leaf] + row[s.high_leaf];
            result.push_back(slope * standard_deviation(s));
        }
    }
    return result;
}

std::vector<double> linear_deviation(const std::vector<double>& contributions,
                                     std::size_t spread_count) {
    std::vector<double> result;
    for (std::size_t k = 0; spread_count > 0 && k < contributions.size(); k += spread_count) {
        double sum = 0.0;
        for (std::size_t i = 0; i < spread_count; ++i)
            sum += contributions[k + i] * contributions[k + i];
        result.push_back(std::sqrt(sum));
    }
    return result;
}

std::vector<double> Study::sample(std::int64_t index) const {
    const State& state = *state_;
    std::vector<double> inputs = state.subject.nominal;
    const ChunkWork w = state.work_for(0, nullptr, nullptr);
    fields::at_level(
        *state.subject.formulas, fields::active_level(),
        [&]<class Level>(fields::Formulas<Level>) { draw_sample<Level>(w, index, inputs.data()); });
    return inputs;
}

} // namespace fitwright::study
