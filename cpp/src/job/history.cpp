// What the history level adds to the quick one, on doubles and on duals of the baseline.
#include "history.hpp"
#include <algorithm>
#include <fitwright/fields/error.hpp>
#include <fitwright/number/number.hpp>
#include <vector>

namespace fitwright::job {

namespace {

// The baseline's own dual: the same bits whatever the active level is.
using Slope = number::Dual<8, number::Isa<0>>;

template <class T>
void beyond_quick(const T*, T*, const fields::Context&, number::Faults<T>&) {}

void values(const double* inputs, double* outputs, const fields::Context& context, double& code) {
    std::vector<Fault> broken;
    number::Faults<double> faults;
    faults.collected = &broken;
    beyond_quick(inputs, outputs, context, faults);
    if (!broken.empty())
        code = broken.front().rule + 4096.0 * broken.front().place;
}

void slopes(const double* inputs, const double* input_slopes, int directions, double* outputs,
            double* output_slopes, const fields::Context& context, double& code, bool& one_sided) {
    const Layout& at = *static_cast<const Layout*>(context.layout);
    std::vector<Slope> in(static_cast<std::size_t>(at.input_count));
    std::vector<Slope> out(static_cast<std::size_t>(at.history_count));
    for (int first = 0; first < directions; first += Slope::directions) {
        const int count = std::min(Slope::directions, directions - first);
        for (std::size_t i = 0; i < in.size(); ++i) {
            in[i] = Slope(inputs[i]);
            for (int k = 0; k < count; ++k)
                in[i].d.set_lane(k, input_slopes[i * static_cast<std::size_t>(directions) +
                                                 static_cast<std::size_t>(first + k)]);
        }
        number::Faults<Slope> faults;
        beyond_quick(in.data(), out.data(), context, faults);
        code = code == 0.0 ? faults.code : code;
        one_sided = one_sided || faults.one_sided;
        for (std::size_t i = 0; i < out.size(); ++i) {
            outputs[i] = out[i].value;
            for (int k = 0; k < count; ++k)
                output_slopes[i * static_cast<std::size_t>(directions) +
                              static_cast<std::size_t>(first + k)] = out[i].d.lane(k);
        }
    }
}

} // namespace

HistoryCalls history_calls() { return {&values, &slopes}; }

} // namespace fitwright::job
