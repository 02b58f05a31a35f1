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
    const auto design = static_cast<Design>(work.design);
    if (design != Design::sobol)
        all_plain_uniforms(work.streams, work.stream_count, work.seed, first, values);
    if (design != Design::plain)
        for (int j = 0; j < work.stream_count; ++j)
            values[j] = uniforms(work.streams[j], work, first, values[j]);
    // Correlated inputs: their normal scores are mixed, and turned back into uniform numbers.
    L scores[correlation_limit];
    for (int i = 0; i < work.mixed_count; ++i)
        scores[i] = normal_quantile(values[work.mixed[i]]);
    const double* row = work.mixing;
    for (int i = 0; i < work.mixed_count; ++i) {
        L score(0.0);
        for (int k = 0; k <= i; ++k)
            score += scores[k] * row[k];
        row += i + 1;
        values[work.mixed[i]] = normal_probability(score);
    }
    for (int j = 0; j < work.stream_count; ++j)
        values[j] = value_at(work.streams[j], values[j]);
}

} // namespace

template <class Level>
void run_chunk(fields::Formulas<Level> formulas, ChunkWork& work, const fields::Context& context) {
    using Pack = typename fields::Formulas<Level>::L;
    using L = Lanes<lane_count, Level>; // drawn and added up side by side
    L* drawn = reinterpret_cast<L*>(work.workspace);
    // per watch: sum, squares, cubes, least, greatest, where each was, how many passed
    L* sums = drawn + work.stream_count;
    L* watched = sums + 8 * work.watch_count;
    Pack* in = reinterpret_cast<Pack*>(watched + work.watch_count);
    Pack* out = in + work.input_count;
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
    L all_count(0.0);
    work.fault_sample = -1;
    work.fault_code = 0.0;

    for (std::int64_t k = 0; k < work.count && !fields::asked_to_stop(work.stop); k += L::width) {
        const std::int64_t first = work.first + k;
        Faults<L> faults;
        draw(work, first, drawn);
        for (int j = 0; j < work.stream_count; ++j) {
            const Stream& s = work.streams[j];
            const L& x = drawn[j];
            faults.place = s.leaf;
            faults.require((x >= L(work.low[s.leaf])) & (x <= L(work.high[s.leaf])),
                           rules::in_range, x);
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
            of_pack.code = Pack::load(part(faults.code));
            formulas.lanes(in, out, context, of_pack);
            of_pack.code.store(part(faults.code));
            for (int t = 0; t < work.watch_count; ++t)
                out[work.watches[t].output].store(part(watched[t]));
        }

        const auto within = lane_number < L(static_cast<double>(work.count - k));
        const auto valid = (faults.code == L(0.0)) & within;
        if (work.fault_sample < 0 && any(within & !valid)) {
            for (int w = L::width - 1; w >= 0; --w)
                if (k + w < work.count && faults.code.lane(w) != 0.0) {
                    work.fault_sample = first + w;
                    work.fault_code = faults.code.lane(w);
                }
        }
        const bool all_valid = !any(!valid);
        const L sample = lane_number + static_cast<double>(first);
        auto all = valid;
        for (int t = 0; t < work.watch_count; ++t) {
            const Watch& watch = work.watches[t];
            const L x = select(valid, watched[t], L(watch.shift));
            const L d = x - watch.shift;
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
            const auto good = valid & (x >= L(watch.at_least)) & (x <= L(watch.at_most));
            s[7] += select(good, L(1.0), L(0.0));
            all = all & good;
            if (work.bins != nullptr) {
                const L place = (x - watch.bins_from) * watch.bins_per_unit;
                const L held = smaller(larger(place, L(0.0)), L(bin_count - 0.5));
                double index[L::width];
                held.store(index);
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
                        work.columns[t * chunk + k + w] = x.lane(w);
            }
        }
        valid_count += select(valid, L(1.0), L(0.0));
        all_count += select(all, L(1.0), L(0.0));
    }

    work.valid = 0;
    work.all_passed = 0;
    for (int w = 0; w < L::width; ++w) {
        work.valid += static_cast<std::int64_t>(valid_count.lane(w));
        work.all_passed += static_cast<std::int64_t>(all_count.lane(w));
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
