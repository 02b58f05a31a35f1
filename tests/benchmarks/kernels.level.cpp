#include "kernels.hpp"
#include "fields/level_file.hpp"

namespace fitwright::bench {

template <class Level>
void run_packs(fields::Formulas<Level> formulas, PackRun& run, const fields::Context& context) {
    using L = typename fields::Formulas<Level>::L;
    const L* in = reinterpret_cast<const L*>(run.inputs);
    L* out = reinterpret_cast<L*>(run.outputs);
    L code(0.0);
    for (int p = 0; p < run.packs; ++p) {
        number::Faults<L> faults;
        formulas.lanes(in + p * run.input_count, out, context, faults);
        code = larger(code, faults.code);
    }
    run.faulty = any(code > L(0.0));
}

template void run_packs(fields::Formulas<AtLevel>, PackRun&, const fields::Context&);

} // namespace fitwright::bench

FITWRIGHT_SERVE_AT_LEVEL(fitwright::bench::Nothing)
