#include "explain/detail/formulas.hpp"
// before the formulas
#include "rings/detail/yielding.hpp"

namespace fitwright::explain {

// As for a root (number.hpp): rooms call it by its plain name.
template <class F>
Number root_between(const F& f, Number low, Number high, double tolerance, double none) {
    const Number found = [&] {
        const Recording::Open silent(nullptr);
        return rings::root_between<Number, F>(f, low, high, tolerance, none);
    }();
    return recorded_root([&](const Number& x) { return number::Residual<Number>{f(x), 1.0}; },
                         number::Root<Number>{found, Truth(true)}, high)
        .x;
}

} // namespace fitwright::explain

#include "rings/detail/formulas.hpp"
#include "stack/detail/formulas.hpp"

namespace fitwright::explain {

std::span<const NamedFormula> ring_formulas() {
    static constexpr NamedFormula all[] = {
        FITWRIGHT_RINGS_MODELS(FITWRIGHT_NAMED, FITWRIGHT_NO_FORMULA)
            FITWRIGHT_STACK_MODELS(FITWRIGHT_NAMED, FITWRIGHT_NO_FORMULA)};
    return all;
}

} // namespace fitwright::explain
