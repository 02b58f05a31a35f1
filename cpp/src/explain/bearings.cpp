#include "explain/detail/formulas.hpp"
// before the formulas
#include "bearings/detail/mounted.hpp"
#include "bearings/detail/mounting.hpp"
#include "bearings/detail/service.hpp"
#include "bearings/detail/shear.hpp"
#include "bearings/detail/thrust.hpp"

namespace fitwright::explain {

std::span<const NamedFormula> bearing_formulas() {
    static constexpr NamedFormula all[] = {
        {"bearings.hertz", &bearings::Hertz::run<Number>},
        {"bearings.line_contact", &bearings::LineContact::run<Number>},
        {"bearings.mounted", &bearings::Mounted::run<Number>},
        {"bearings.thrust_equilibrium", &bearings::Thrust::run<Number>},
        {"bearings.housing_fit", &bearings::HousingFit::run<Number>},
        {"bearings.pair", &bearings::Pair::run<Number>},
        {"bearings.dynamic_rating", &bearings::DynamicRating::run<Number>},
        {"bearings.static_rating", &bearings::StaticRating::run<Number>},
        {"bearings.reference_life", &bearings::ReferenceLife::run<Number>},
        {"bearings.roller_rating", &bearings::RollerRating::run<Number>},
        {"bearings.basic_life", &bearings::BasicLife::run<Number>},
        {"bearings.modified_life", &bearings::ModifiedLife::run<Number>},
        {"bearings.creep", &bearings::Creep::run<Number>},
        {"bearings.frequencies", &bearings::Frequencies::run<Number>},
        {"bearings.service", &bearings::ServiceModel::run<Number>},
    };
    return all;
}

} // namespace fitwright::explain
