#include "explain/detail/formulas.hpp"
// before the formulas
#include "bearings/detail/formulas.hpp"

namespace fitwright::explain {

std::span<const NamedFormula> bearing_formulas() {
    static constexpr NamedFormula all[] = {
        FITWRIGHT_BEARINGS_MODELS(FITWRIGHT_NAMED, FITWRIGHT_NO_FORMULA)};
    return all;
}

} // namespace fitwright::explain
