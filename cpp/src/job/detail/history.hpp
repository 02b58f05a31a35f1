// The whole job at the levels above quick: the quick level, then what only the baseline can do,
// reached through the pointers of the layout.
#pragma once

#include "job/detail/arch.hpp"
#include "job/detail/in_baseline.hpp"
#include "job/detail/quick.hpp"

namespace fitwright::job {

template <Level Last>
struct Beyond {
    template <class T>
    static void run(const T* inputs, T* outputs, const fields::Context& context,
                    Faults<T>& faults) {
        Quick::run<T>(inputs, outputs, context, faults);
        const Layout& at = *static_cast<const Layout*>(context.layout);
        for (int level = 1; level <= static_cast<int>(Last); ++level) {
            faults.stage(level - 1);
            in_baseline(at.calls[level], inputs,
                        outputs + at.outputs_at(static_cast<Level>(level - 1)),
                        at.level_counts[level], context, 0, faults);
            if (level == static_cast<int>(Level::history) && at.has_arch)
                write_arches(inputs, outputs, at, faults);
        }
    }
};

using History = Beyond<Level::history>;
using Heating = Beyond<Level::heating>;

} // namespace fitwright::job
