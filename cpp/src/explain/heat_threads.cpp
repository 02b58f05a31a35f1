#include "explain/detail/formulas.hpp"
// before the formulas
#include "heat/detail/formulas.hpp"
#include "threads/detail/formulas.hpp"

namespace fitwright::explain {

std::span<const NamedFormula> heat_and_thread_formulas() {
    static constexpr NamedFormula all[] = {
        FITWRIGHT_HEAT_MODELS(FITWRIGHT_NAMED, FITWRIGHT_NO_FORMULA)
            FITWRIGHT_THREADS_MODELS(FITWRIGHT_NAMED, FITWRIGHT_NO_FORMULA)};
    return all;
}

} // namespace fitwright::explain
