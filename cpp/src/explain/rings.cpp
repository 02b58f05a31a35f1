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

#include "rings/detail/elastic_plastic.hpp"
#include "rings/detail/fit.hpp"
#include "rings/detail/hot_ring.hpp"
#include "rings/detail/nest.hpp"
#include "rings/detail/overhang.hpp"
#include "rings/detail/seal.hpp"
#include "rings/detail/slip.hpp"
#include "rings/detail/stepped.hpp"
#include "stack/detail/squareness.hpp"

namespace fitwright::explain {

std::span<const NamedFormula> ring_formulas() {
    static constexpr NamedFormula all[] = {
        {"rings.thick_ring", &rings::ThickRing::run<Number>},
        {"rings.fit", &rings::Fit::run<Number>},
        {"rings.seal", &rings::Seal::run<Number>},
        {"rings.face_gap", &rings::FaceGap::run<Number>},
        {"rings.overhang", &rings::Overhang::run<Number>},
        {"rings.slip", &rings::Slip::run<Number>},
        {"rings.elastic_plastic_fit", &rings::ElasticPlasticFit::run<Number>},
        {"rings.stepped", &rings::Stepped::run<Number>},
        {"rings.nest", &rings::Nest::run<Number>},
        {"rings.hot_ring", &rings::HotRing::run<Number>},
        {"stack.wedge", &stack::Squareness::run<Number>},
    };
    return all;
}

} // namespace fitwright::explain
