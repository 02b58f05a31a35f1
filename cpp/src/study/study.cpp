#include "chunk_work.hpp"
#include "fields/at_level.hpp"
#include "fields/parallel.hpp"
#include "spread.hpp"
#include <algorithm>
#include <cmath>
#include <fitwright/fields/level.hpp>
#include <fitwright/number/number.hpp>
#include <fitwright/study/study.hpp>
#include <limits>
#include <map>
#include <stdexcept>

namespace fitwright::study {

namespace {
constexpr std::size_t sums_per_watch = 7; // sum, squares, cubes, least, greatest, where each was
constexpr std::size_t chunk_counts =
    3; // samples, valid, first fault; then per part, then per watch
constexpr std::int64_t least_look = 64; // samples that the scales come from

void add_fault(std::map<double, FaultKind>& kinds, const FaultKind& more) {
    const auto [at, is_new] = kinds.try_emplace(more.code, more);
    if (!is_new) {
        at->second.first = std::min(at->second.first, more.first);
        at->second.count += more.count;
    }
}

double or_infinity(double bound, double sign) {
    return std::isnan(bound) ? sign * std::numeric_limits<double>::infinity() : bound;
}
} // namespace

struct Study::State {
    Subject subject;
    std::vector<Stream> streams;
    std::vector<StreamData> stream_data; // what the streams point into
    Design design = Design::plain;
    Mixing mixing;
    std::vector<Watch> watches;
    std::vector<Hold> holds;
    std::size_t stages = 1;
    std::uint64_t seed = 0;
    std::int64_t count = 0;
    std::int64_t done = 0;
    // The first samples are looked at to find the scales. Where a sample is dear, what was seen of them is
    // kept, chunk by chunk.
    std::int64_t first_chunks = 1;
    mutable fields::AlignedDoubles kept{0};
    bool has_kept = false;
    // merged in index order
    std::int64_t valid = 0, fault_sample = -1;
    std::int64_t passed[stage_limit] = {};
    double fault_code = 0.0;
    std::map<double, FaultKind> faults; // by code
    std::vector<Partial> totals;
    std::vector<std::int64_t> bins; // watches x bin_count

    std::int64_t chunk_size() const { return subject.chunk; }
    std::int64_t chunks() const { return (count + chunk_size() - 1) / chunk_size(); }
    Hold hold_of(const Tracked& t) const {
        Hold h{t.output, 0, or_infinity(t.at_least, -1.0), or_infinity(t.at_most, 1.0)};
        for (const int end : subject.stage_ends)
            h.stage += t.output >= end ? 1 : 0;
        return h;
    }
    std::size_t kept_per_chunk() const {
        return static_cast<std::size_t>(chunk_size()) *
               static_cast<std::size_t>(seen_packs(static_cast<int>(watches.size()),
                                                   static_cast<int>(holds.size()),
                                                   static_cast<int>(stages)));
    }

    ChunkWork work_for(std::int64_t k, double* workspace, Partial* partials) const {
        ChunkWork w = work_on(subject, streams, watches);
        w.holds = holds.data();
        w.hold_count = static_cast<int>(holds.size());
        w.stages = static_cast<int>(stages);
        w.seed = seed;
        w.design = static_cast<int>(design);
        w.total = count;
        w.mixed = mixing.streams.data();
        w.mixing_from = mixing.from.data();
        w.mixed_count = static_cast<int>(mixing.streams.size());
        w.mixing = mixing.triangle.data();
        w.first = k * chunk_size();
        w.count = std::min(chunk_size(), count - w.first);
        w.workspace = workspace;
        w.partials = partials;
        w.column_length = chunk_size();
        if (has_kept && k < first_chunks) {
            w.kept = kept.data() + static_cast<std::size_t>(k) * kept_per_chunk();
            w.taken_again = true;
        }
        return w;
    }
    fields::AlignedDoubles workspace() const {
        const int packs =
            workspace_packs(static_cast<int>(subject.nominal.size()), subject.output_count,
                            static_cast<int>(streams.size()), static_cast<int>(watches.size()),
                            static_cast<int>(holds.size()), static_cast<int>(stages));
        return fields::AlignedDoubles(static_cast<std::size_t>(packs) *
                                      static_cast<std::size_t>(number::lane_count));
    }
    void run(ChunkWork& w, const fields::Stop& stop) const {
        fields::Context context = subject.context;
        context.stop = w.stop = &stop;
        fields::at_level(*subject.formulas, fields::active_level(),
                         [&](auto formulas) { run_chunk(formulas, w, context); });
    }
    void find_scales(int threads, const fields::Between& between);
};

// The range of the bins comes from the first samples, which are always the same: half a range wider
// on both sides.
void Study::State::find_scales(int threads, const fields::Between& between) {
    const auto chunks_looked_at = static_cast<std::size_t>(first_chunks);
    const bool keep = chunk_size() < least_look;
    if (keep)
        kept = fields::AlignedDoubles(chunks_looked_at * kept_per_chunk());
    std::vector<fields::AlignedDoubles> spaces;
    for (int t = 0; t < fields::thread_count(threads, first_chunks); ++t)
        spaces.push_back(workspace());
    std::vector<std::vector<Partial>> partials(chunks_looked_at,
                                               std::vector<Partial>(watches.size()));
    std::vector<std::int64_t> good(chunks_looked_at);
    const auto look = [&](std::int64_t k, int thread, const fields::Stop& stop) {
        const auto i = static_cast<std::size_t>(k);
        ChunkWork w =
            work_for(k, spaces[static_cast<std::size_t>(thread)].data(), partials[i].data());
        w.kept = keep ? kept.data() + i * kept_per_chunk() : nullptr;
        run(w, stop);
        good[i] = w.valid;
    };
    fields::run_parallel(first_chunks, threads, look, between);
    has_kept = keep;
    for (std::size_t t = 0; t < watches.size(); ++t) {
        double least = 1e300;
        double greatest = -1e300;
        for (std::size_t i = 0; i < chunks_looked_at; ++i)
            if (good[i] > 0) {
                least = std::min(least, partials[i][t].least);
                greatest = std::max(greatest, partials[i][t].greatest);
            }
        if (!(least <= greatest))
            continue;
        const double span = greatest - least;
        const double wide = span > 0.0 ? span : std::max(1e-9 * std::fabs(least), 1e-300);
        watches[t].scale = {least - 0.5 * wide, bin_count / (2.0 * wide), least + 0.5 * span};
    }
}

Study::Study(Subject subject, const std::vector<Spread>& spreads,
             const std::vector<Tracked>& tracked, std::uint64_t seed, std::int64_t count,
             Design design, const std::vector<Correlation>& correlations, const Extras& extras)
    : state_(std::make_unique<State>()) {
    State& state = *state_;
    state.subject = std::move(subject);
    state.stages = state.subject.stage_ends.size() + 1;
    if (state.stages > stage_limit || state.subject.chunk % number::lane_count != 0)
        throw std::invalid_argument("a study of so many parts, or of such chunks, is not possible");
    state.seed = seed;
    state.count = count;
    state.design = design;
    state.mixing = mixing_of(correlations, spreads.size());
    // Dimensions of a Sobol' sequence go by path, not by position.
    std::vector<std::string> paths;
    for (const Spread& s : spreads)
        paths.push_back(s.path);
    std::sort(paths.begin(), paths.end());
    for (const Spread& s : spreads) {
        const auto place = std::lower_bound(paths.begin(), paths.end(), s.path) - paths.begin();
        state.stream_data.push_back(
            data_of(s, design == Design::sobol ? static_cast<int>(place) : -1, seed));
        state.streams.push_back(stream_of(s, state.stream_data.back()));
    }
    for (const int mixed : state.mixing.streams)
        state.streams[static_cast<std::size_t>(mixed)].mixed = true;
    for (const Tracked& t : tracked)
        state.watches.push_back({state.hold_of(t), {0.0, 1.0, 0.0}});
    for (const Tracked& t : extras.held)
        state.holds.push_back(state.hold_of(t));
    state.totals.assign(tracked.size(), {0.0, 0.0, 0.0, 1e300, -1e300, -1.0, -1.0, 0});
    state.bins.assign(tracked.size() * static_cast<std::size_t>(bin_count), 0);
    state.first_chunks =
        std::min(state.chunks(), (least_look + state.chunk_size() - 1) / state.chunk_size());
    if (extras.scales.size() == tracked.size() && !tracked.empty()) {
        for (std::size_t t = 0; t < tracked.size(); ++t)
            state.watches[t].scale = extras.scales[t];
    } else if (count > 0) {
        state.find_scales(extras.threads, extras.between);
    }
}
Study::~Study() = default;
Study::Study(Study&&) noexcept = default;

std::int64_t Study::count() const { return state_->count; }
std::int64_t Study::done() const { return state_->done; }
int Study::stages() const { return static_cast<int>(state_->stages); }
std::int64_t Study::all_passed() const { return state_->passed[state_->stages - 1]; }
std::int64_t Study::passed_to(int stage) const { return state_->passed[stage]; }
std::int64_t Study::chunk_samples() const { return state_->chunk_size(); }
std::int64_t Study::first_samples() const {
    return std::min(state_->count, state_->first_chunks * state_->chunk_size());
}
std::vector<Scale> Study::scales() const {
    std::vector<Scale> found;
    for (const Watch& w : state_->watches)
        found.push_back(w.scale);
    return found;
}
std::int64_t Study::out_of_domain() const { return state_->done - state_->valid; }
std::int64_t Study::first_fault() const { return state_->fault_sample; }
double Study::first_fault_code() const { return state_->fault_code; }
std::vector<FaultKind> Study::faults() const {
    std::vector<FaultKind> all;
    for (const auto& [code, kind] : state_->faults)
        all.push_back(kind);
    std::stable_sort(all.begin(), all.end(), [](const FaultKind& a, const FaultKind& b) {
        return a.count != b.count ? a.count > b.count : a.first < b.first;
    });
    return all;
}

void Study::advance(std::int64_t samples, int threads, const fields::Between& between) {
    const std::int64_t size = state_->chunk_size();
    if (samples > 0 && done() < count())
        merge(run_block(done() / size, (samples + size - 1) / size, threads, {}, between));
}

Block Study::run_block(std::int64_t first_chunk, std::int64_t chunks, int threads,
                       const std::vector<int>& kept, const fields::Between& between) const {
    const State& state = *state_;
    const std::int64_t size = state.chunk_size();
    const std::int64_t end = std::min(first_chunk + chunks, state.chunks());
    if (first_chunk < 0 || first_chunk >= end)
        return {first_chunk, 0, {}, {}, {}, {}, {}, {}};
    const std::size_t watches = state.watches.size();
    const auto n = static_cast<std::size_t>(end - first_chunk);
    const std::int64_t first_sample = first_chunk * size;
    const auto samples = static_cast<std::size_t>(std::min(state.count, end * size) - first_sample);
    const std::size_t head = chunk_counts + state.stages;
    Block block{first_chunk,
                end - first_chunk,
                std::vector<double>(n * watches * sums_per_watch),
                std::vector<std::int64_t>(n * (head + watches)),
                std::vector<double>(n),
                std::vector<std::int64_t>(watches * static_cast<std::size_t>(bin_count)),
                std::vector<double>(kept.size() * samples),
                {}};
    std::vector<std::vector<FaultCount>> broken(n); // of each chunk
    struct Bench {
        fields::AlignedDoubles workspace;
        std::vector<std::uint32_t> bins;
        std::vector<double> columns;
        std::vector<Partial> partials;
    };
    std::vector<Bench> benches;
    for (int t = 0; t < fields::thread_count(threads, end - first_chunk); ++t)
        benches.push_back(
            {state.workspace(), std::vector<std::uint32_t>(block.bins.size()),
             std::vector<double>(kept.empty() ? 0 : watches * static_cast<std::size_t>(size)),
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
        std::int64_t* counts = block.counts.data() + i * (head + watches);
        for (const Partial& p : bench.partials) {
            for (const double x :
                 {p.sum, p.square_sum, p.cube_sum, p.least, p.greatest, p.least_at, p.greatest_at})
                *sums++ = x;
            counts[head + static_cast<std::size_t>(&p - bench.partials.data())] = p.passed;
        }
        counts[0] = w.count;
        counts[1] = w.valid;
        counts[2] = w.fault_sample;
        std::copy_n(w.passed, state.stages, counts + chunk_counts);
        block.fault_codes[i] = w.fault_code;
        broken[i].assign(w.faults, w.faults + w.fault_count);
        for (std::size_t c = 0; c < kept.size(); ++c) {
            const double* from = bench.columns.data() + kept[c] * size;
            std::copy(from, from + w.count,
                      block.columns.data() + c * samples + static_cast<std::size_t>(k * size));
        }
    };
    fields::run_parallel(end - first_chunk, threads, run, between);
    for (const Bench& bench : benches)
        for (std::size_t i = 0; i < block.bins.size(); ++i)
            block.bins[i] += bench.bins[i];
    std::map<double, FaultKind> kinds;
    for (const auto& of_chunk : broken)
        for (const FaultCount& f : of_chunk)
            add_fault(kinds, {f.code, f.first, f.count});
    for (const auto& [code, kind] : kinds)
        for (const double x :
             {code, static_cast<double>(kind.first), static_cast<double>(kind.count)})
            block.faults.push_back(x);
    return block;
}

std::string Study::problem_of(const Block& block, std::size_t kept) const {
    const State& state = *state_;
    const std::int64_t all = state.chunks();
    if (block.first_chunk < 0 || block.chunks < 1 || block.first_chunk >= all ||
        block.chunks > all - block.first_chunk)
        return "is outside the study";
    const auto n = static_cast<std::size_t>(block.chunks);
    const std::size_t watches = state.watches.size();
    const std::size_t head = chunk_counts + state.stages;
    const std::int64_t chunk_size = state.chunk_size();
    const std::int64_t from = block.first_chunk * chunk_size;
    const std::int64_t samples =
        std::min(state.count, (block.first_chunk + block.chunks) * chunk_size) - from;
    if (block.bins.size() != state.bins.size() ||
        block.sums.size() != n * watches * sums_per_watch ||
        block.counts.size() != n * (head + watches) || block.fault_codes.size() != n ||
        block.columns.size() != kept * static_cast<std::size_t>(samples))
        return "has other sizes";
    double broken = 0.0;
    for (std::size_t i = 0; i < block.faults.size(); i += 3) {
        if (block.faults.size() % 3 != 0)
            return "has other sizes";
        const double* f = block.faults.data() + i;
        if (!(std::isfinite(f[0]) && f[0] > 0.0 && f[1] >= double(from) &&
              f[1] < double(from + samples) && f[2] >= 1.0 && f[2] <= double(samples)))
            return "has counts that do not agree";
        broken += f[2];
    }
    std::int64_t valid = 0;
    for (std::size_t i = 0; i < n; ++i) {
        const std::int64_t* c = block.counts.data() + i * (head + watches);
        const std::int64_t begin = from + static_cast<std::int64_t>(i) * chunk_size;
        const std::int64_t size = std::min(chunk_size, state.count - begin);
        bool good = c[0] == size && c[1] >= 0 && c[1] <= size &&
                    (c[1] == size ? c[2] < 0 : c[2] >= begin && c[2] < begin + size) &&
                    std::isfinite(block.fault_codes[i]) && block.fault_codes[i] >= 0.0;
        // What passes up to a part has passed up to those before it.
        std::int64_t passed_so_far = size;
        for (std::size_t s = 0; s < state.stages; ++s) {
            good = good && c[chunk_counts + s] >= 0 && c[chunk_counts + s] <= passed_so_far;
            passed_so_far = c[chunk_counts + s];
        }
        for (std::size_t t = 0; t < watches; ++t) {
            const double* x = block.sums.data() + (i * watches + t) * sums_per_watch;
            const std::int64_t passed = c[head + t];
            good = good && passed >= passed_so_far && passed <= c[1] && std::isfinite(x[0]) &&
                   x[1] >= 0.0 && std::isfinite(x[1]) && std::isfinite(x[2]);
            if (c[1] > 0)
                good = good && x[3] <= x[4] && x[5] >= double(begin) &&
                       x[5] < double(begin + size) && x[6] >= double(begin) &&
                       x[6] < double(begin + size);
        }
        if (!good)
            return "has counts that do not agree";
        valid += c[1];
    }
    if (broken != double(samples - valid))
        return "has counts that do not agree";
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
    const std::size_t head = chunk_counts + state.stages;
    if (block.first_chunk * state.chunk_size() != state.done ||
        block.bins.size() != state.bins.size() ||
        block.sums.size() != n * watches * sums_per_watch ||
        block.counts.size() != n * (head + watches) || block.fault_codes.size() != n)
        throw std::invalid_argument("a block of another study, or out of order");
    for (std::size_t i = 0; i + 2 < block.faults.size(); i += 3)
        add_fault(state.faults, {block.faults[i], static_cast<std::int64_t>(block.faults[i + 1]),
                                 static_cast<std::int64_t>(block.faults[i + 2])});
    for (std::size_t i = 0; i < n; ++i) {
        const double* sums = block.sums.data() + i * watches * sums_per_watch;
        const std::int64_t* counts = block.counts.data() + i * (head + watches);
        state.done += counts[0];
        state.valid += counts[1];
        for (std::size_t k = 0; k < state.stages; ++k)
            state.passed[k] += counts[chunk_counts + k];
        if (state.fault_sample < 0 && counts[2] >= 0) {
            state.fault_sample = counts[2];
            state.fault_code = block.fault_codes[i];
        }
        for (std::size_t t = 0; t < watches; ++t, sums += sums_per_watch) {
            Partial& total = state.totals[t];
            total.sum += sums[0];
            total.square_sum += sums[1];
            total.cube_sum += sums[2];
            total.passed += counts[head + t];
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
        s.mean = watch.scale.shift + first;
        s.deviation = std::sqrt(std::max(0.0, second * n / std::max(1.0, n - 1.0)));
        s.skewness = second > 0.0 ? third / (second * std::sqrt(second)) : 0.0;
    }
    s.least = p.least;
    s.greatest = p.greatest;
    s.least_at = static_cast<std::int64_t>(p.least_at);
    s.greatest_at = static_cast<std::int64_t>(p.greatest_at);
    s.passed = p.passed;
    s.bins_from = watch.scale.bins_from;
    s.bin_width = 1.0 / watch.scale.bins_per_unit;
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
                                     std::size_t spread_count,
                                     const std::vector<Correlation>& correlations) {
    std::vector<double> result;
    for (std::size_t k = 0; spread_count > 0 && k < contributions.size(); k += spread_count) {
        double sum = 0.0;
        for (std::size_t i = 0; i < spread_count; ++i)
            sum += contributions[k + i] * contributions[k + i];
        for (const Correlation& c : correlations)
            sum += 2.0 * c.value * contributions[k + static_cast<std::size_t>(c.first)] *
                   contributions[k + static_cast<std::size_t>(c.second)];
        result.push_back(std::sqrt(std::max(0.0, sum)));
    }
    return result;
}

std::vector<double> linear_shares(const std::vector<double>& contributions,
                                  std::size_t spread_count,
                                  const std::vector<Correlation>& correlations) {
    const std::vector<double> whole = linear_deviation(contributions, spread_count, correlations);
    std::vector<double> shares;
    for (std::size_t o = 0; o < whole.size(); ++o) {
        const double* parts = contributions.data() + o * spread_count;
        const std::size_t begin = shares.size();
        for (std::size_t i = 0; i < spread_count; ++i)
            shares.push_back(parts[i] * parts[i]);
        for (const Correlation& c : correlations) {
            const double product = c.value * parts[c.first] * parts[c.second];
            shares[begin + static_cast<std::size_t>(c.first)] += product;
            shares[begin + static_cast<std::size_t>(c.second)] += product;
        }
        for (std::size_t i = begin; i < shares.size(); ++i)
            shares[i] = whole[o] > 0.0 ? shares[i] / (whole[o] * whole[o]) : 0.0;
    }
    return shares;
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
