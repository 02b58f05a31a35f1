#include "explain/detail/formulas.hpp"
// before the formulas
#include "joints/detail/formulas.hpp"
#include "tooling/detail/formulas.hpp"

namespace fitwright::explain {

std::span<const NamedFormula> joint_and_tooling_formulas() {
    static constexpr NamedFormula all[] = {
        FITWRIGHT_JOINTS_MODELS(FITWRIGHT_NAMED, FITWRIGHT_NO_FORMULA)
            FITWRIGHT_TOOLING_MODELS(FITWRIGHT_NAMED, FITWRIGHT_NO_FORMULA)};
    return all;
}

} // namespace fitwright::explain
