// How often any limit fails, counted about where each fails first.
#include "chunk_work.hpp"
#include "fields/at_level.hpp"
#include "fields/parallel.hpp"
#include "scores.hpp"
#include <algorithm>
#include <cmath>
#include <fitwright/fields/level.hpp>
#include <fitwright/number/number.hpp>
#include <fitwright/study/rare.hpp>
#include <limits>

namespace fitwright::study {

namespace {

constexpr double about_middle = 0.1; // share of the samples
constexpr std::size_t most_points = 32;

// What counts as failed: sum of weights, of their squares, the greatest, how many.
struct Weighed {
    double sum = 0.0, squares = 0.0, greatest = 0.0;
    std::int64_t count = 0;
    void add(double w) {
        sum += w;
        squares += w * w;
        greatest = std::max(greatest, w);
        ++count;
    }
    void add(const Weighed& o) {
        sum += o.sum;
        squares += o.squares;
        greatest = std::max(greatest, o.greatest);
        count += o.count;
    }
};

struct Component {
    std::vector<double> middle;
    double share, up_to; // of the samples; added up
    double half_square;  // of its distance from the middle of all
};

} // namespace

struct RareStudy::State {
    State(const System& system, const std::vector<Spread>& spreads,
          const std::vector<Correlation>& correlations)
        : subject(system.subject())
        , scores(spreads, correlations) {}

    Subject subject;
    Scores scores;
    std::vector<Side> sides;
    std::vector<std::uint64_t> keys;
    std::uint64_t own_key = 0, seed = 0;
    std::vector<Watch> watches; // outputs, each once
    std::vector<std::size_t> watch_of;
    std::vector<Component> components;
    std::int64_t done = 0; // samples
    // any side or out of domain, out of domain, then each side
    std::vector<Weighed> totals;

    static constexpr std::size_t length = static_cast<std::size_t>(study::chunk);
    struct Desk {
        fields::AlignedDoubles workspace, given;
        std::vector<double> columns, weights, u, z;
        std::vector<Partial> partials;
    };
    Desk desk() const {
        const int packs = workspace_packs(static_cast<int>(subject.nominal.size()),
                                          subject.output_count, static_cast<int>(scores.count()),
                                          static_cast<int>(watches.size()), 0, 1);
        return {fields::AlignedDoubles(static_cast<std::size_t>(packs) *
                                       static_cast<std::size_t>(number::lane_count)),
                fields::AlignedDoubles(length * scores.count()),
                std::vector<double>(length * watches.size()),
                std::vector<double>(length),
                std::vector<double>(scores.count()),
                std::vector<double>(scores.count()),
                std::vector<Partial>(watches.size())};
    }
    static double uniform(std::uint64_t key, std::uint64_t seed, std::int64_t sample) {
        const auto i = static_cast<std::uint64_t>(sample);
        return number::uniform_open(number::philox({{i / 4, 0, 0, 0}}, {key, seed}).word[i % 4]);
    }
    // Values of the inputs of one chunk, and what each sample weighs.
    void draw(std::int64_t k, Desk& desk) const {
        const std::size_t n = scores.count();
        for (std::size_t i = 0; i < length; ++i) {
            const std::int64_t sample = k * study::chunk + static_cast<std::int64_t>(i);
            const double v = uniform(own_key, seed, sample);
            std::size_t c = 0;
            while (c + 1 < components.size() && v > components[c].up_to)
                ++c;
            for (std::size_t j = 0; j < n; ++j)
                desk.u[j] = components[c].middle[j] +
                            number::normal_quantile(uniform(keys[j], seed, sample));
            double density = 0.0; // of the mixture, over the normal one
            for (const Component& m : components) {
                double along = -m.half_square;
                for (std::size_t j = 0; j < n; ++j)
                    along += desk.u[j] * m.middle[j];
                density += m.share * number::exp(std::clamp(along, -700.0, 700.0));
            }
            desk.weights[i] = 1.0 / density;
            scores.mix(desk.u.data(), desk.z.data());
            for (std::size_t j = 0; j < n; ++j)
                desk.given.data()[j * length + i] = scores.value(j, desk.z[j]);
        }
    }
    std::vector<Weighed> run(std::int64_t k, Desk& desk, const fields::Stop& stop) const {
        draw(k, desk);
        ChunkWork w = work_on(subject, scores.streams(), watches);
        w.stages = 1;
        w.design = static_cast<int>(Design::plain);
        w.first = k * study::chunk;
        w.count = study::chunk;
        w.total = w.first + w.count;
        w.workspace = desk.workspace.data();
        w.columns = desk.columns.data();
        w.column_length = study::chunk;
        w.partials = desk.partials.data();
        w.given = desk.given.data();
        fields::Context context = subject.context;
        context.stop = w.stop = &stop;
        fields::at_level(*subject.formulas, fields::active_level(),
                         [&](auto formulas) { run_chunk(formulas, w, context); });
        std::vector<Weighed> sums(2 + sides.size());
        for (std::size_t i = 0; i < length; ++i) {
            const double weight = desk.weights[i];
            bool any = false;
            bool lost = false;
            for (std::size_t s = 0; s < sides.size(); ++s) {
                const double x = desk.columns[watch_of[s] * length + i];
                lost = lost || std::isnan(x); // out of domain: see the scale of a watch
                if (!std::isnan(x) &&
                    (sides[s].is_least ? x < sides[s].limit : x > sides[s].limit)) {
                    sums[2 + s].add(weight);
                    any = true;
                }
            }
            if (lost)
                sums[1].add(weight);
            if (any || lost)
                sums[0].add(weight);
        }
        return sums;
    }
    RareEstimate estimate(const Weighed& w) const {
        RareEstimate e{};
        e.probability = std::numeric_limits<double>::quiet_NaN();
        e.high = 1.0;
        e.samples = done;
        e.failed = w.count;
        if (done == 0)
            return e;
        const auto n = static_cast<double>(done);
        e.probability = w.sum / n;
        const double variance = std::max(0.0, w.squares / n - e.probability * e.probability);
        e.half = number::normal_quantile(0.975) * std::sqrt(variance / n);
        e.low = std::max(0.0, e.probability - e.half);
        e.high = std::min(1.0, w.count > 0 ? e.probability + e.half : 3.0 / n);
        if (w.count > 0) {
            e.effective = w.sum * w.sum / w.squares;
            e.greatest_share = w.greatest / w.sum;
        }
        e.out_of_domain = totals[1].sum / n;
        return e;
    }
};

RareStudy::RareStudy(const System& system, const std::vector<Spread>& spreads,
                     const std::vector<Correlation>& correlations, const std::vector<Side>& sides,
                     const std::vector<DesignPoint>& points, std::uint64_t seed)
    : state_(std::make_unique<State>(system, spreads, correlations)) {
    State& state = *state_;
    state.sides = sides;
    state.seed = seed;
    const auto key_of = [](const std::string& name) {
        return number::stream_key(name.data(), name.size());
    };
    for (const Spread& s : spreads)
        state.keys.push_back(key_of(s.path + " rare"));
    state.own_key = key_of("rare: about which point");
    constexpr double infinity = std::numeric_limits<double>::infinity();
    constexpr double lost = std::numeric_limits<double>::quiet_NaN();
    for (const Side& s : sides) {
        std::size_t place = 0;
        while (place < state.watches.size() && state.watches[place].hold.output != s.output)
            ++place;
        if (place == state.watches.size())
            state.watches.push_back({{s.output, 0, -infinity, infinity}, {0.0, 1.0, lost}});
        state.watch_of.push_back(place);
    }
    state.totals.resize(2 + sides.size());
    // Each point by how likely it is, the middle beside them.
    std::vector<const DesignPoint*> used;
    for (const DesignPoint& p : points)
        if (p.beta > 0.0 && used.size() < most_points)
            used.push_back(&p);
    double all = 0.0;
    for (const DesignPoint* p : used)
        all += p->first_order;
    state.components.push_back(
        {std::vector<double>(spreads.size(), 0.0), used.empty() ? 1.0 : about_middle, 0.0, 0.0});
    for (const DesignPoint* p : used) {
        double square = 0.0;
        for (const double u : p->scores)
            square += u * u;
        // A point that is far less likely still gets some samples: its limit is told as well.
        const double even = 1.0 / static_cast<double>(used.size());
        const double share = all > 0.0 ? 0.9 * p->first_order / all + 0.1 * even : even;
        state.components.push_back({p->scores, (1.0 - about_middle) * share, 0.0, 0.5 * square});
    }
    double up_to = 0.0;
    for (Component& c : state.components)
        c.up_to = up_to += c.share;
}
RareStudy::~RareStudy() = default;
RareStudy::RareStudy(RareStudy&&) noexcept = default;

void RareStudy::advance(std::int64_t samples, int threads, const fields::Between& between) {
    State& state = *state_;
    const std::int64_t begin = state.done / study::chunk;
    const std::int64_t chunks = (samples + study::chunk - 1) / study::chunk;
    if (chunks <= 0)
        return;
    std::vector<std::vector<Weighed>> found(static_cast<std::size_t>(chunks));
    std::vector<State::Desk> desks;
    for (int t = 0; t < fields::thread_count(threads, chunks); ++t)
        desks.push_back(state.desk());
    const auto work = [&](std::int64_t k, int thread, const fields::Stop& stop) {
        found[static_cast<std::size_t>(k)] =
            state.run(begin + k, desks[static_cast<std::size_t>(thread)], stop);
    };
    fields::run_parallel(chunks, threads, work, between);
    for (const auto& sums : found) // in the order of the samples
        for (std::size_t i = 0; i < sums.size(); ++i)
            state.totals[i].add(sums[i]);
    state.done += chunks * study::chunk;
}

RareEstimate RareStudy::estimate() const { return state_->estimate(state_->totals[0]); }
RareEstimate RareStudy::estimate(std::size_t side) const {
    return state_->estimate(state_->totals[2 + side]);
}

} // namespace fitwright::study
