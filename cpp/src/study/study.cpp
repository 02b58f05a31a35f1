#include "chunk.hpp"
#include "fields/at_level.hpp"
#include "fields/parallel.hpp"
#include "spread.hpp"
#include <algorithm>
#include <cmath>
#include <fitwright/fields/level.hpp>
#include <fitwright/number/number.hpp>
#include <fitwright/study/study.hpp>
#include <limits>
#include <stdexcept>

namespace fitwright::study {

namespace {
constexpr std::size_t sums_per_watch = 7; // sum, squares, cubes, least, greatest, where each was
constexpr std::size_t chunk_counts = 4;   // samples, valid, all passed, first fault; then per watch
} // namespace

struct Study::State {
    Subject subject;
    std::vector<Stream> streams;
    std::vector<StreamData> stream_data; // what the streams point into
    Design design = Design::plain;
    Mixing mixing;
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
        w.design = static_cast<int>(design);
        w.total = count;
        w.mixed = mixing.streams.data();
        w.mixed_count = static_cast<int>(mixing.streams.size());
        w.mixing = mixing.triangle.data();
        w.first = k * chunk;
        w.count = std::min(chunk, count - k * chunk);
        w.workspace = workspace;
        w.partials = partials;
        return w;
    }
    fields::AlignedDoubles workspace() const {
        const int packs =
            workspace_packs(static_cast<int>(subject.nominal.size()), subject.output_count,
                            static_cast<int>(streams.size()), static_cast<int>(watches.size()));
        return fields::AlignedDoubles(static_cast<std::size_t>(packs) *
                                      static_cast<std::size_t>(number::lane_count));
    }
    void run(ChunkWork& w, const fields::Stop& stop) const {
        fields::Context context = subject.context;
        context.stop = w.stop = &stop;
        fields::at_level(*subject.formulas, fields::active_level(),
                         [&](auto formulas) { run_chunk(formulas, w, context); });
    }
    void find_bins(const fields::Between& between);
};

// The range of the bins comes from the first chunk, which is always the same: half a range wider
// on both sides.
void Study::State::find_bins(const fields::Between& between) {
    fields::AlignedDoubles space = workspace();
    std::vector<Partial> partials(watches.size());
    ChunkWork w = work_for(0, space.data(), partials.data());
    fields::with_pauses(between, [&](const fields::Stop& stop) {
        run(w, stop);
        return true;
    });
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
             const std::vector<Tracked>& tracked, std::uint64_t seed, std::int64_t count,
             Design design, const std::vector<Correlation>& correlations,
             const fields::Between& between)
    : state_(std::make_unique<State>()) {
    state_->subject = std::move(subject);
    state_->seed = seed;
    state_->count = count;
    state_->design = design;
    state_->mixing = mixing_of(correlations, spreads.size());
    // Dimensions of a Sobol' sequence go by path, not by position.
    std::vector<std::string> paths;
    for (const Spread& s : spreads)
        paths.push_back(s.path);
    std::sort(paths.begin(), paths.end());
    for (const Spread& s : spreads) {
        const auto place = std::lower_bound(paths.begin(), paths.end(), s.path) - paths.begin();
        state_->stream_data.push_back(
            data_of(s, design == Design::sobol ? static_cast<int>(place) : -1, seed));
        state_->streams.push_back(stream_of(s, state_->stream_data.back()));
    }
    constexpr double infinity = std::numeric_limits<double>::infinity();
    for (const Tracked& t : tracked)
        state_->watches.push_back({t.output, std::isnan(t.at_least) ? -infinity : t.at_least,
                                   std::isnan(t.at_most) ? infinity : t.at_most, 0.0, 0.0, 1.0});
    state_->totals.assign(tracked.size(), {0.0, 0.0, 0.0, 1e300, -1e300, -1.0, -1.0, 0});
    state_->bins.assign(tracked.size() * static_cast<std::size_t>(bin_count), 0);
    if (count > 0)
        state_->find_bins(between);
}
Study::~Study() = default;
Study::Study(Study&&) noexcept = default;

std::int64_t Study::count() const { return state_->count; }
std::int64_t Study::done() const { return state_->done; }
std::int64_t Study::all_passed() const { return state_->all_passed; }
std::int64_t Study::out_of_domain() const { return state_->done - state_->valid; }
std::int64_t Study::first_fault() const { return state_->fault_sample; }
double Study::first_fault_code() const { return state_->fault_code; }

void Study::advance(std::int64_t samples, int threads, const fields::Between& between) {
    if (samples > 0 && done() < count())
        merge(run_block(done() / chunk, (samples + chunk - 1) / chunk, threads, {}, between));
}

Block Study::run_block(std::int64_t first_chunk, std::int64_t chunks, int threads,
                       const std::vector<int>& kept, const fields::Between& between) const {
    const State& state = *state_;
    const std::int64_t end = std::min(first_chunk + chunks, (state.count + chunk - 1) / chunk);
    if (first_chunk < 0 || first_chunk >= end)
        return {first_chunk, 0, {}, {}, {}, {}, {}};
    const std::size_t watches = state.watches.size();
    const auto n = static_cast<std::size_t>(end - first_chunk);
    const std::int64_t first_sample = first_chunk * chunk;
    const auto samples =
        static_cast<std::size_t>(std::min(state.count, end * chunk) - first_sample);
    Block block{first_chunk,
                end - first_chunk,
                std::vector<double>(n * watches * sums_per_watch),
                std::vector<std::int64_t>(n * (chunk_counts + watches)),
                std::vector<double>(n),
                std::vector<std::int64_t>(watches * static_cast<std::size_t>(bin_count)),
                std::vector<double>(kept.size() * samples)};
    struct Bench {
        fields::AlignedDoubles workspace;
        std::vector<std::uint32_t> bins;
        std::vector<double> columns;
        std::vector<Partial> partials;
    };
    std::vector<Bench> benches;
    for (int t = 0; t < fields::thread_count(threads, end - first_chunk); ++t)
        benches.push_back({state.workspace(), std::vector<std::uint32_t>(block.bins.size()),
                           std::vector<double>(kept.empty() ? 0 : watches * chunk),
                           std::vector<Partial>(watches)});

    const auto run = [&](std::int64_t k, int thread, const fields::Stop& stop) {
        const auto i = static_cast<std::size_t>(k);
        Bench& bench = benches[static_cast<std::size_t>(thread)];
        ChunkWork w =
            state.work_for(first_chunk + k, bench.workspace.data(), bench.partials.data());
        w.bins = bench.bins.data();
        w.columns = kept.empty() ? nullptr : bench.columns.data();
        state.run(w, stop);
        double* sums = block.sums.data() + i * watches * sums_per_watch;
        std::int64_t* counts = block.counts.data() + i * (chunk_counts + watches);
        for (const Partial& p : bench.partials) {
            for (const double x :
                 {p.sum, p.square_sum, p.cube_sum, p.least, p.greatest, p.least_at, p.greatest_at})
                *sums++ = x;
            counts[chunk_counts + static_cast<std::size_t>(&p - bench.partials.data())] = p.passed;
        }
        counts[0] = w.count;
        counts[1] = w.valid;
        counts[2] = w.all_passed;
        counts[3] = w.fault_sample;
        block.fault_codes[i] = w.fault_code;
        for (std::size_t c = 0; c < kept.size(); ++c) {
            const double* from = bench.columns.data() + kept[c] * chunk;
            std::copy(from, from + w.count,
                      block.columns.data() + c * samples + static_cast<std::size_t>(k * chunk));
        }
    };
    fields::run_parallel(end - first_chunk, threads, run, between);
    for (const Bench& bench : benches)
        for (std::size_t i = 0; i < block.bins.size(); ++i)
            block.bins[i] += bench.bins[i];
    return block;
}

std::string Study::problem_of(const Block& block, std::size_t kept) const {
    const State& state = *state_;
    const std::int64_t all = (state.count + chunk - 1) / chunk;
    if (block.first_chunk < 0 || block.chunks < 1 || block.first_chunk >= all ||
        block.chunks > all - block.first_chunk)
        return "is outside the study";
    const auto n = static_cast<std::size_t>(block.chunks);
    const std::size_t watches = state.watches.size();
    const std::int64_t from = block.first_chunk * chunk;
    const std::int64_t samples =
        std::min(state.count, (block.first_chunk + block.chunks) * chunk) - from;
    if (block.bins.size() != state.bins.size() ||
        block.sums.size() != n * watches * sums_per_watch ||
        block.counts.size() != n * (chunk_counts + watches) || block.fault_codes.size() != n ||
        block.columns.size() != kept * static_cast<std::size_t>(samples))
        return "has other sizes";
    std::int64_t valid = 0;
    for (std::size_t i = 0; i < n; ++i) {
        const std::int64_t* c = block.counts.data() + i * (chunk_counts + watches);
        const std::int64_t begin = from + static_cast<std::int64_t>(i) * chunk;
        const std::int64_t size = std::min(chunk, state.count - begin);
        bool good = c[0] == size && c[1] >= 0 && c[1] <= size && c[2] >= 0 && c[2] <= c[1] &&
                    (c[1] == size ? c[3] < 0 : c[3] >= begin && c[3] < begin + size) &&
                    std::isfinite(block.fault_codes[i]) && block.fault_codes[i] >= 0.0;
        for (std::size_t t = 0; t < watches; ++t) {
            const double* x = block.sums.data() + (i * watches + t) * sums_per_watch;
            const std::int64_t passed = c[chunk_counts + t];
            good = good && passed >= c[2] && passed <= c[1] && std::isfinite(x[0]) && x[1] >= 0.0 &&
                   std::isfinite(x[1]) && std::isfinite(x[2]);
            if (c[1] > 0)
                good = good && x[3] <= x[4] && x[5] >= double(begin) &&
                       x[5] < double(begin + size) && x[6] >= double(begin) &&
                       x[6] < double(begin + size);
        }
        if (!good)
            return "has counts that do not agree";
        valid += c[1];
    }
    for (std::size_t t = 0; t < watches; ++t) {
        std::int64_t sum = 0;
        const std::int64_t* bins = block.bins.data() + t * static_cast<std::size_t>(bin_count);
        for (int k = 0; k < bin_count; ++k) {
            if (bins[k] < 0 || bins[k] > valid)
                return "has bins that do not agree";
            sum += bins[k];
        }
        if (sum != valid)
            return "has bins that do not agree";
    }
    return {};
}

void Study::merge(const Block& block) {
    State& state = *state_;
    const std::size_t watches = state.watches.size();
    const auto n = static_cast<std::size_t>(block.chunks);
    if (block.first_chunk * chunk != state.done || block.bins.size() != state.bins.size() ||
        block.sums.size() != n * watches * sums_per_watch ||
        block.counts.size() != n * (chunk_counts + watches) || block.fault_codes.size() != n)
        throw std::invalid_argument("a block of another study, or out of order");
    for (std::size_t i = 0; i < n; ++i) {
        const double* sums = block.sums.data() + i * watches * sums_per_watch;
        const std::int64_t* counts = block.counts.data() + i * (chunk_counts + watches);
        state.done += counts[0];
        state.valid += counts[1];
        state.all_passed += counts[2];
        if (state.fault_sample < 0 && counts[3] >= 0) {
            state.fault_sample = counts[3];
            state.fault_code = block.fault_codes[i];
        }
        for (std::size_t t = 0; t < watches; ++t, sums += sums_per_watch) {
            Partial& total = state.totals[t];
            total.sum += sums[0];
            total.square_sum += sums[1];
            total.cube_sum += sums[2];
            total.passed += counts[chunk_counts + t];
            if (sums[3] < total.least) {
                total.least = sums[3];
                total.least_at = sums[5];
            }
            if (sums[4] > total.greatest) {
                total.greatest = sums[4];
                total.greatest_at = sums[6];
            }
        }
    }
    for (std::size_t i = 0; i < block.bins.size(); ++i)
        state.bins[i] += block.bins[i];
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
    fields::AlignedDoubles space = state.workspace();
    const ChunkWork w = state.work_for(0, space.data(), nullptr);
    fields::at_level(
        *state.subject.formulas, fields::active_level(),
        [&]<class Level>(fields::Formulas<Level>) { draw_sample<Level>(w, index, inputs.data()); });
    return inputs;
}

} // namespace fitwright::study
