#include "kernels.hpp"
#include "level_file.hpp"

namespace fitwright::rules {
extern const number::Rule in_range;
} // namespace fitwright::rules

namespace fitwright::fields {

using namespace number;

template <class Level>
FaultPlace batch_slice(Formulas<Level> formulas, const BatchSlice& s, const Context& context) {
    using L = typename Formulas<Level>::L;
    L* in = reinterpret_cast<L*>(s.workspace);
    L* out = in + s.input_count;
    for (int i = 0; i < s.input_count; ++i)
        if (s.strides[i] == 0)
            in[i] = L(s.columns[i][0]);
    constexpr int seldom = 16; // packs of a quick formula between two questions
    int packs = 0;
    for (std::int64_t k = s.begin; k < s.end; k += L::width) {
        if (++packs % seldom == 0 && asked_to_stop(s.stop))
            return {-1, 0.0};
        const std::int64_t left = s.end - k < L::width ? s.end - k : L::width;
        Faults<L> faults;
        for (int i = 0; i < s.input_count; ++i) {
            if (s.strides[i] == 0)
                continue;
            const double* from = s.columns[i] + k;
            if (left == L::width) {
                in[i] = L::load(from);
            } else { // the tail repeats its last sample
                for (int w = 0; w < L::width; ++w)
                    in[i].set_lane(w, from[w < left ? w : left - 1]);
            }
            faults.place = i;
            auto within = (in[i] >= L(s.low[i])) & (in[i] <= L(s.high[i]));
            if ((s.flags[i] & low_excluded) != 0)
                within = within & (in[i] > L(s.low[i]));
            if ((s.flags[i] & or_worked_out) != 0)
                within = within | (in[i] > L(1e308));
            faults.require(within, rules::in_range, in[i]);
        }
        faults.place = 0;
        formulas.lanes(in, out, context, faults);
        for (int w = 0; w < left; ++w)
            if (faults.code.lane(w) != 0.0)
                return {k + w, faults.code.lane(w)};
        for (int j = 0; j < s.output_count; ++j) {
            if (s.results[j] == nullptr)
                continue;
            double* to = s.results[j] + k;
            if (left == L::width) {
                out[j].store(to);
            } else {
                for (int w = 0; w < left; ++w)
                    to[w] = out[j].lane(w);
            }
        }
    }
    return {-1, 0.0};
}

template <class Level>
void jacobian_passes(Formulas<Level> formulas, JacobianWork& w, const Context& context) {
    using D = typename Formulas<Level>::D;
    D* in = reinterpret_cast<D*>(w.workspace);
    D* out = in + w.input_count;
    for (int i = 0; i < w.input_count; ++i)
        in[i] = D(w.inputs[i]);
    w.one_sided = false;
    w.code = 0.0;
    const int leaves = w.leaves == nullptr ? w.input_count : w.leaf_count;
    const int rows = w.rows == nullptr ? w.output_count : w.row_count;
    for (int first = 0; first < leaves; first += D::directions) {
        const int last = first + D::directions < leaves ? first + D::directions : leaves;
        for (int i = first; i < last; ++i)
            in[w.leaves == nullptr ? i : w.leaves[i]].d.set_lane(i - first, 1.0);
        Faults<D> faults;
        formulas.dual(in, out, context, faults);
        if (context.stopped())
            return;
        w.one_sided = w.one_sided || faults.one_sided;
        if (w.code == 0.0)
            w.code = faults.code;
        for (int j = 0; j < w.output_count; ++j)
            w.outputs[j] = out[j].value;
        for (int j = 0; j < rows; ++j) {
            const D& row = out[w.rows == nullptr ? j : w.rows[j]];
            double* to = w.derivatives + static_cast<std::int64_t>(j) * leaves;
            for (int i = first; i < last; ++i)
                to[i] = row.d.lane(i - first);
        }
        for (int i = first; i < last; ++i)
            in[w.leaves == nullptr ? i : w.leaves[i]].d = typename D::Directions(0.0);
    }
}

template <class Level>
int doubles_per_dual() {
    return static_cast<int>(sizeof(typename Formulas<Level>::D) / sizeof(double));
}

template FaultPlace batch_slice(Formulas<AtLevel>, const BatchSlice&, const Context&);
template void jacobian_passes(Formulas<AtLevel>, JacobianWork&, const Context&);
template int doubles_per_dual<AtLevel>();

} // namespace fitwright::fields
