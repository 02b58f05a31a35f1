#include "slopes.hpp"
#include "level_file.hpp"

namespace fitwright::fields {

using namespace number;

template <class Level>
void slope_passes(Formulas<Level> formulas, SlopeWork& w, const Context& context) {
    using D = typename Formulas<Level>::D;
    D* in = reinterpret_cast<D*>(w.workspace);
    D* out = in + w.input_count;
    w.one_sided = false;
    w.code = 0.0;
    for (int first = 0; first < w.directions; first += D::directions) {
        const int count =
            w.directions - first < D::directions ? w.directions - first : D::directions;
        for (int i = 0; i < w.input_count; ++i) {
            const double* from = w.inputs + i * w.stride;
            in[i] = D(from[0]);
            for (int k = 0; k < count; ++k)
                in[i].d.set_lane(k, from[w.slope_at + first + k]);
        }
        Faults<D> faults;
        formulas.dual(in, out, context, faults);
        w.one_sided = w.one_sided || faults.one_sided;
        if (w.code == 0.0)
            w.code = faults.code;
        for (int j = 0; j < w.output_count; ++j) {
            double* to = w.outputs + j * w.stride;
            to[0] = out[j].value;
            for (int k = 0; k < count; ++k)
                to[w.slope_at + first + k] = out[j].d.lane(k);
        }
    }
}

template void slope_passes(Formulas<AtLevel>, SlopeWork&, const Context&);

} // namespace fitwright::fields
