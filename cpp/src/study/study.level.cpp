#include "chunk.hpp"
#include "detail/draw.hpp"
#include "detail/uniform.hpp"
#include "fields/level_file.hpp"

namespace fitwright::rules {
extern const number::Rule in_range;
} // namespace fitwright::rules

namespace fitwright::study {

namespace {

// Values of every input that scatters, for the lanes from sample `first`.
template <class L>
void draw(const ChunkWork& work, std::int64_t first, L* values) {
    if (work.given != nullptr) {
        for (int j = 0; j < work.stream_count; ++j)
            values[j] = L::load(work.given + j * chunk + (first - work.first));
        return;
    }
    const auto design = static_cast<Design>(work.design);
    if (design != Design::sobol)
        all_plain_uniforms(work.streams, work.stream_count, work.seed, first, values);
    if (design != Design::plain)
        for (int j = 0; j < work.stream_count; ++j)
            values[j] = uniforms(work.streams[j], work, first, values[j]);
    for (int j = 0; j < work.stream_count; ++j)
        if (!work.streams[j].mixed)
            values[j] = value_at(work.streams[j], values[j]);
    // Tied inputs: their normal scores are mixed, each by its row of the triangle.
    L scores[correlation_limit];
    for (int i = 0; i < work.mixed_count; ++i)
        scores[i] = normal_quantile(values[work.mixed[i]]);
    const double* row = work.mixing;
    for (int i = 0; i < work.mixed_count; ++i) {
        L score(0.0);
        for (int k = work.mixing_from[i]; k <= i; ++k)
            score += scores[k] * *row++;
        const Stream& s = work.streams[work.mixed[i]];
        values[work.mixed[i]] =
            comes_from_score(s) ? value_of_score(s, score) : value_at(s, normal_probability(score));
    }
}

// Draws the samples from `first` on and evaluates them: what is seen of them.
template <class Level, class Pack, class L>
void look(fields::Formulas<Level> formulas, const ChunkWork& work, const fields::Context& context,
          std::int64_t first, L* drawn, Pack* in, Pack* out, L* seen) {
    L* held = seen + work.watch_count;
    L* codes = held + work.hold_count;
    Faults<L> faults;
    draw(work, first, drawn);
    for (int j = 0; j < work.stream_count; ++j) {
        const Stream& s = work.streams[j];
        const L& x = drawn[j];
        faults.place = s.leaf;
        faults.require((x >= L(work.low[s.leaf])) & (x <= L(work.high[s.leaf])), rules::in_range,
                       x);
    }
    for (int from = 0; from < L::width; from += Pack::width) {
        const auto part = [from](L& all) { return reinterpret_cast<double*>(&all) + from; };
        for (int j = 0; j < work.stream_count; ++j) {
            const Stream& s = work.streams[j];
            in[s.leaf] = Pack::load(part(drawn[j]));
            if (s.low_leaf >= 0)
                in[s.low_leaf] = in[s.high_leaf] = in[s.leaf];
        }
        Faults<Pack> of_pack;
        Pack stages[stage_limit] = {Pack(0.0), Pack(0.0), Pack(0.0)};
        of_pack.stages = stages;
        of_pack.code = Pack::load(part(faults.code));
        formulas.lanes(in, out, context, of_pack);
        stages[work.stages - 1] = of_pack.code;
        for (int s = 0; s < work.stages; ++s)
            stages[s].store(part(codes[s]));
        for (int t = 0; t < work.watch_count; ++t)
            out[work.watches[t].hold.output].store(part(seen[t]));
        for (int t = 0; t < work.hold_count; ++t)
            out[work.holds[t].output].store(part(held[t]));
    }
}

void count_fault(ChunkWork& work, double code, std::int64_t sample) {
    if (work.fault_sample < 0) {
        work.fault_sample = sample;
        work.fault_code = code;
    }
    int k = 0;
    while (k < work.fault_count && work.faults[k].code != code)
        ++k;
    if (k == work.fault_count) {
        if (k == fault_kinds)
            --k;
        else
            work.faults[work.fault_count++] = {code, sample, 0};
    }
    work.faults[k].count += 1;
}

} // namespace

template <class Level>
void run_chunk(fields::Formulas<Level> formulas, ChunkWork& work, const fields::Context& context) {
    using Pack = typename fields::Formulas<Level>::L;
    using L = Lanes<lane_count, Level>; // drawn and added up side by side
    L* drawn = reinterpret_cast<L*>(work.workspace);
    // per watch: sum, squares, cubes, least, greatest, where each was, how many passed
    L* sums = drawn + work.stream_count;
    // What is looked at of a sample: outputs that are watched or held, codes after each part.
    const int seen_count = seen_packs(work.watch_count, work.hold_count, work.stages);
    L* seen = sums + 8 * work.watch_count;
    Pack* in = reinterpret_cast<Pack*>(seen + seen_count);
    Pack* out = in + work.input_count;
    L* kept = reinterpret_cast<L*>(work.kept);
    for (int i = 0; i < work.input_count; ++i)
        in[i] = Pack(work.nominal[i]);
    for (int t = 0; t < work.watch_count; ++t) {
        for (int k = 0; k < 8; ++k)
            sums[8 * t + k] = L(0.0);
        sums[8 * t + 3] = L(1e300);
        sums[8 * t + 4] = L(-1e300);
    }
    L lane_number(0.0);
    for (int w = 0; w < L::width; ++w)
        lane_number.set_lane(w, double(w));
    L valid_count(0.0);
    L passed_count[stage_limit] = {L(0.0), L(0.0), L(0.0)};
    work.fault_sample = -1;
    work.fault_code = 0.0;
    work.fault_count = 0;

    for (std::int64_t k = 0; k < work.count && !fields::asked_to_stop(work.stop); k += L::width) {
        const std::int64_t first = work.first + k;
        if (kept != nullptr) {
            seen = kept;
            kept += seen_count;
        }
        L* held = seen + work.watch_count;
        L* codes = held + work.hold_count;
        if (!work.taken_again)
            look(formulas, work, context, first, drawn, in, out, seen);

        const L& code = codes[work.stages - 1];
        auto within = lane_number < L(static_cast<double>(work.count - k));
        const auto valid = (code == L(0.0)) & within;
        if (any(within & !valid)) {
            for (int w = 0; w < L::width; ++w)
                if (k + w < work.count && code.lane(w) != 0.0)
                    count_fault(work, code.lane(w), first + w);
        }
        const bool all_valid = !any(!valid);
        const L sample = lane_number + static_cast<double>(first);
        // Which lanes keep every limit of each part.
        decltype(within) all[stage_limit] = {within, within, within};
        for (int s = 0; s < work.stages; ++s)
            all[s] = within & (codes[s] == L(0.0));
        const auto keeps = [](const Hold& hold, const L& x) {
            return (x >= L(hold.at_least)) & (x <= L(hold.at_most));
        };
        for (int t = 0; t < work.hold_count; ++t)
            all[work.holds[t].stage] = all[work.holds[t].stage] & keeps(work.holds[t], held[t]);
        for (int t = 0; t < work.watch_count; ++t) {
            const Watch& watch = work.watches[t];
            const Scale& scale = watch.scale;
            const L x = select(valid, seen[t], L(scale.shift));
            const L d = x - scale.shift;
            L* s = sums + 8 * t;
            s[0] += d;
            s[1] += d * d;
            s[2] += d * d * d;
            const auto lower = valid & (x < s[3]);
            const auto higher = valid & (x > s[4]);
            s[3] = select(lower, x, s[3]);
            s[5] = select(lower, sample, s[5]);
            s[4] = select(higher, x, s[4]);
            s[6] = select(higher, sample, s[6]);
            const auto good = keeps(watch.hold, seen[t]);
            s[7] += select(valid & good, L(1.0), L(0.0));
            all[watch.hold.stage] = all[watch.hold.stage] & good;
            if (work.bins != nullptr) {
                const L place = (x - scale.bins_from) * scale.bins_per_unit;
                const L within_bins = smaller(larger(place, L(0.0)), L(bin_count - 0.5));
                double index[L::width];
                within_bins.store(index);
                std::uint32_t* bins = work.bins + t * bin_count;
                if (all_valid)
                    for (int w = 0; w < L::width; ++w)
                        bins[static_cast<int>(index[w])] += 1U;
                else
                    for (int w = 0; w < L::width; ++w)
                        bins[static_cast<int>(index[w])] += valid.lane(w) ? 1U : 0U;
            }
            if (work.columns != nullptr) {
                for (int w = 0; w < L::width; ++w)
                    if (k + w < work.count)
                        work.columns[t * work.column_length + k + w] = x.lane(w);
            }
        }
        valid_count += select(valid, L(1.0), L(0.0));
        auto so_far = all[0];
        for (int s = 0; s < work.stages; ++s) {
            so_far = so_far & all[s];
            passed_count[s] += select(so_far, L(1.0), L(0.0));
        }
    }

    work.valid = 0;
    for (int s = 0; s < stage_limit; ++s)
        work.passed[s] = 0;
    for (int w = 0; w < L::width; ++w) {
        work.valid += static_cast<std::int64_t>(valid_count.lane(w));
        for (int s = 0; s < work.stages; ++s)
            work.passed[s] += static_cast<std::int64_t>(passed_count[s].lane(w));
    }
    for (int t = 0; t < work.watch_count; ++t) {
        const L* s = sums + 8 * t;
        Partial p{0.0, 0.0, 0.0, 1e300, -1e300, -1.0, -1.0, 0};
        for (int w = 0; w < L::width; ++w) { // always in the order of the lanes
            p.sum += s[0].lane(w);
            p.square_sum += s[1].lane(w);
            p.cube_sum += s[2].lane(w);
            p.passed += static_cast<std::int64_t>(s[7].lane(w));
            if (s[3].lane(w) < p.least) {
                p.least = s[3].lane(w);
                p.least_at = s[5].lane(w);
            }
            if (s[4].lane(w) > p.greatest) {
                p.greatest = s[4].lane(w);
                p.greatest_at = s[6].lane(w);
            }
        }
        work.partials[t] = p;
    }
}

template <class Level>
void draw_sample(const ChunkWork& work, std::int64_t index, double* inputs) {
    using L = Lanes<lane_count, Level>;
    const std::int64_t first = index - index % L::width;
    L* drawn = reinterpret_cast<L*>(work.workspace);
    draw(work, first, drawn);
    for (int j = 0; j < work.stream_count; ++j) {
        const Stream& s = work.streams[j];
        const double x = drawn[j].lane(static_cast<int>(index - first));
        inputs[s.leaf] = x;
        if (s.low_leaf >= 0)
            inputs[s.low_leaf] = inputs[s.high_leaf] = x;
    }
}

template void run_chunk(fields::Formulas<AtLevel>, ChunkWork&, const fields::Context&);
template void draw_sample<AtLevel>(const ChunkWork&, std::int64_t, double*);

} // namespace fitwright::study
