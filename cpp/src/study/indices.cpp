#include "chunk_work.hpp"
#include "fields/at_level.hpp"
#include "fields/parallel.hpp"
#include "spread.hpp"
#include <algorithm>
#include <cmath>
#include <fitwright/fields/level.hpp>
#include <fitwright/number/number.hpp>
#include <fitwright/study/indices.hpp>
#include <limits>

namespace fitwright::study {

namespace {

constexpr auto columns = static_cast<std::size_t>(chunk);
std::size_t at(int number) { return static_cast<std::size_t>(number); }

// Sums over samples of v, u and w (see reduce) and of their products; `off` is how far the middle of
// A and B lies from where they are counted from.
struct Sums {
    double n = 0.0, off = 0.0;
    double v = 0.0, u = 0.0, w = 0.0;
    double vv = 0.0, uv = 0.0, uu = 0.0, wv = 0.0, ww = 0.0;

    void add(const Sums& s) {
        n += s.n;
        off += s.off;
        v += s.v;
        u += s.u;
        w += s.w;
        vv += s.vv;
        uv += s.uv;
        uu += s.uu;
        wv += s.wv;
        ww += s.ww;
    }
};

// Outputs are counted from about their mean, in about deviations: their units cannot spoil a sum.
struct Measure {
    double middle = 0.0, per_unit = 1.0;
    bool varies = false;
};

Sums reduce(const double* as, const double* bs, const double* abs, std::int64_t count,
            const Measure& m) {
    Sums s;
    for (std::int64_t i = 0; i < count; ++i) {
        const double a = (as[i] - m.middle) * m.per_unit;
        const double b = (bs[i] - m.middle) * m.per_unit;
        const double ab = (abs[i] - m.middle) * m.per_unit;
        const double v = 0.5 * (a * a + b * b);
        const double u = b * (ab - a);
        const double w = 0.5 * (a - ab) * (a - ab);
        if (std::isnan(u) || std::isnan(w)) // out of domain: see run
            continue;
        s.n += 1.0;
        s.off += 0.5 * (a + b);
        s.v += v;
        s.u += u;
        s.w += w;
        s.vv += v * v;
        s.uv += u * v;
        s.uu += u * u;
        s.wv += w * v;
        s.ww += w * w;
    }
    return s;
}

// Value and half interval of (sum / n) / variance; sums of its squares and products with v.
Index ratio(double sum, double squares, double products, const Sums& s, double variance) {
    const double value = sum / s.n / variance;
    const double scatter =
        std::max(0.0, squares - 2.0 * value * products + value * value * s.vv) / s.n;
    return {value, number::normal_quantile(0.975) * std::sqrt(scatter / s.n) / variance};
}

} // namespace

struct IndexStudy::State {
    Subject subject;
    std::vector<StreamData> data; // A and B share them
    std::vector<Stream> a, b;
    Mixing mixing;
    std::vector<std::vector<int>> groups; // streams that are tied go together
    std::vector<Watch> watches;
    std::vector<Measure> measures;
    std::uint64_t seed = 0;
    std::int64_t count = 0, done = 0, lost = 0;
    std::vector<Sums> totals; // outputs x spreads

    // What one thread needs.
    struct Desk {
        fields::AlignedDoubles workspace;
        std::vector<double> a, b, ab; // outputs x chunk
        std::vector<Partial> partials;
        std::vector<Stream> mixed;
    };
    Desk desk() const {
        const int packs =
            workspace_packs(static_cast<int>(subject.nominal.size()), subject.output_count,
                            static_cast<int>(a.size()), static_cast<int>(watches.size()), 0, 1);
        const std::vector<double> column(watches.size() * columns);
        return {fields::AlignedDoubles(static_cast<std::size_t>(packs) *
                                       static_cast<std::size_t>(number::lane_count)),
                column,
                column,
                column,
                std::vector<Partial>(watches.size()),
                a};
    }
    // Fills the columns of chunk k; returns how many evaluations were out of domain. Those are NaN:
    // the shift of every watch is.
    std::int64_t run(std::int64_t k, const std::vector<Stream>& streams, Desk& desk,
                     double* answers, const fields::Stop& stop) const {
        ChunkWork w = work_on(subject, streams, watches);
        w.seed = seed;
        w.design = static_cast<int>(Design::plain);
        w.total = count;
        w.first = k * chunk;
        w.count = size_of(k);
        w.workspace = desk.workspace.data();
        w.stages = 1;
        w.mixed = mixing.streams.data();
        w.mixing_from = mixing.from.data();
        w.mixed_count = static_cast<int>(mixing.streams.size());
        w.mixing = mixing.triangle.data();
        w.columns = answers;
        w.column_length = chunk;
        w.partials = desk.partials.data();
        fields::Context context = subject.context;
        context.stop = w.stop = &stop;
        fields::at_level(*subject.formulas, fields::active_level(),
                         [&](auto formulas) { run_chunk(formulas, w, context); });
        return w.count - w.valid;
    }
    std::int64_t size_of(std::int64_t k) const { return std::min(chunk, count - k * chunk); }
    void find_measures(const fields::Between& between);
};

// From the first chunk, which is always the same.
void IndexStudy::State::find_measures(const fields::Between& between) {
    Desk d = desk();
    fields::with_pauses(between,
                        [&](const fields::Stop& stop) { return run(0, a, d, d.a.data(), stop); });
    for (std::size_t t = 0; t < watches.size(); ++t) {
        const double* from = d.a.data() + t * columns;
        const auto over = [&](auto term) {
            double sum = 0.0;
            double n = 0.0;
            for (std::int64_t i = 0; i < size_of(0); ++i)
                if (!std::isnan(from[i])) {
                    sum += term(from[i]);
                    n += 1.0;
                }
            return n > 0.0 ? sum / n : 0.0;
        };
        Measure& m = measures[t];
        m.middle = over([](double x) { return x; });
        const double deviation =
            std::sqrt(over([&](double x) { return (x - m.middle) * (x - m.middle); }));
        m.varies = deviation > 1e-12 * std::fabs(m.middle); // rounding is no scatter
        m.per_unit = m.varies ? 1.0 / deviation : 1.0;
    }
}

IndexStudy::IndexStudy(Subject subject, const std::vector<Spread>& spreads,
                       const std::vector<int>& outputs, std::uint64_t seed, std::int64_t count,
                       const std::vector<Correlation>& correlations, const fields::Between& between)
    : state_(std::make_unique<State>()) {
    State& state = *state_;
    state.subject = std::move(subject);
    state.mixing = mixing_of(correlations, spreads.size());
    state.seed = seed;
    state.count = count;
    for (const Spread& s : spreads) {
        state.data.push_back(data_of(s, -1, seed));
        state.a.push_back(
            stream_of(s, state.data.back())); // what a plain study with this seed draws
        const std::string again = s.path + " again";
        const std::vector<int>& mixed = state.mixing.streams;
        const auto own = static_cast<int>(state.a.size()) - 1;
        state.a.back().mixed = std::find(mixed.begin(), mixed.end(), own) != mixed.end();
        if (!state.a.back().mixed)
            state.groups.push_back({own});
        Stream other = state.a.back();
        other.key = number::stream_key(again.data(), again.size());
        state.b.push_back(other);
    }
    for (std::size_t i = 0; i < state.mixing.streams.size(); ++i) {
        if (state.mixing.from[i] == static_cast<int>(i))
            state.groups.emplace_back();
        state.groups.back().push_back(state.mixing.streams[i]);
    }
    std::sort(state.groups.begin(), state.groups.end());
    constexpr double infinity = std::numeric_limits<double>::infinity();
    constexpr double lost = std::numeric_limits<double>::quiet_NaN();
    for (const int output : outputs)
        state.watches.push_back({{output, 0, -infinity, infinity}, {0.0, 1.0, lost}});
    state.measures.resize(outputs.size());
    state.totals.resize(outputs.size() * state.groups.size());
    if (count > 0)
        state.find_measures(between);
}
IndexStudy::~IndexStudy() = default;
IndexStudy::IndexStudy(IndexStudy&&) noexcept = default;

std::int64_t IndexStudy::count() const { return state_->count; }
std::int64_t IndexStudy::done() const { return state_->done; }
std::int64_t IndexStudy::out_of_domain() const { return state_->lost; }
std::int64_t IndexStudy::evaluations() const {
    return state_->done * (static_cast<std::int64_t>(state_->groups.size()) + 2);
}
const std::vector<std::vector<int>>& IndexStudy::groups() const { return state_->groups; }
bool IndexStudy::varies(std::size_t output) const { return state_->measures[output].varies; }

void IndexStudy::advance(std::int64_t samples, int threads, const fields::Between& between) {
    State& state = *state_;
    if (state.done >= state.count || samples <= 0)
        return;
    const std::int64_t begin = state.done / chunk;
    const std::int64_t end =
        std::min((state.done + samples + chunk - 1) / chunk, (state.count + chunk - 1) / chunk);
    const std::size_t inputs = state.groups.size();
    const std::size_t each = state.totals.size();
    std::vector<Sums> sums(static_cast<std::size_t>(end - begin) * each);
    std::vector<std::int64_t> lost(static_cast<std::size_t>(end - begin));
    std::vector<State::Desk> desks;
    for (int t = 0; t < fields::thread_count(threads, end - begin); ++t)
        desks.push_back(state.desk());

    const auto work = [&](std::int64_t i, int thread, const fields::Stop& stop) {
        State::Desk& desk = desks[static_cast<std::size_t>(thread)];
        const std::int64_t k = begin + i;
        const auto place = static_cast<std::size_t>(i);
        std::int64_t bad = state.run(k, state.a, desk, desk.a.data(), stop) +
                           state.run(k, state.b, desk, desk.b.data(), stop);
        for (std::size_t j = 0; j < inputs; ++j) {
            for (const int one : state.groups[j])
                desk.mixed[at(one)] = state.b[at(one)];
            bad += state.run(k, desk.mixed, desk, desk.ab.data(), stop);
            for (const int one : state.groups[j])
                desk.mixed[at(one)] = state.a[at(one)];
            for (std::size_t t = 0; t < state.watches.size(); ++t)
                sums[place * each + t * inputs + j] =
                    reduce(desk.a.data() + t * columns, desk.b.data() + t * columns,
                           desk.ab.data() + t * columns, state.size_of(k), state.measures[t]);
        }
        lost[place] = bad;
    };
    fields::run_parallel(end - begin, threads, work, between);

    for (std::int64_t i = 0; i < end - begin; ++i) { // in the order of the samples
        const auto place = static_cast<std::size_t>(i);
        for (std::size_t k = 0; k < each; ++k)
            state.totals[k].add(sums[place * each + k]);
        state.lost += lost[place];
        state.done += state.size_of(begin + i);
    }
}

InputIndices IndexStudy::indices(std::size_t output, std::size_t group) const {
    const Sums& s = state_->totals[output * state_->groups.size() + group];
    InputIndices found{{0.0, 0.0}, {0.0, 0.0}, static_cast<std::int64_t>(s.n)};
    if (s.n < 2.0 || !varies(output))
        return found;
    const double off = s.off / s.n;
    const double variance = s.v / s.n - off * off;
    if (!(variance > 0.0))
        return found;
    found.first = ratio(s.u, s.uu, s.uv, s, variance);
    found.total = ratio(s.w, s.ww, s.wv, s, variance);
    return found;
}

} // namespace fitwright::study
