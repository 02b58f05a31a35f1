// The service model: told to users, and instantiated for double.
#include "detail/service.hpp"
#include "all_models.hpp"
#include "fields/at_level.hpp"

namespace fitwright::bearings {

const fields::Model& service_model() {
    static constexpr const char* places[] = {"", "row", "service", "oil"};
    static const fields::Model model{
        {"bearings", "service",
         "Safety, life with its oil, creep and frequencies of a ball bearing in one state.",
         "static_rating, reference_life, modified_life with P = C L10r^(-1/3), creep and "
         "frequencies in one",
         "As each of them; the inner ring turns, all balls alike, the outer raceway controls the "
         "spin; friction as of an angular contact or thrust bearing, filtered oil as by jet. A "
         "life is a statistic; the maker's figures come first.",
         "ISO 76, ISO 281, ISO/TS 16281; Palmgren; Harris & Kotzalas (from memory)",
         "fw.bearings.service(row=fw.BallRow(balls=15, ball_diameter=\"17.462 mm\", "
         "pitch_diameter=\"115.5 mm\", contact_angle=\"30 deg\"), "
         "service=fw.Service(), oil=fw.Lubricant(viscosity_40=\"46 mm^2/s\", viscosity_100=\"6.8 "
         "mm^2/s\"), speed=\"11000 rpm\", axial_load=\"9 kN\", inner_load=\"1.2 kN\", "
         "outer_load=\"1.5 kN\", inner_holding=\"400 N m\").running_time"},
        &fields::Declared<ServiceInputs>::declaration,
        &fields::Declared<ServiceOutputs>::declaration,
        fields::all_formulas<ServiceModel>(&ServiceModel::run<double>),
        places};
    return model;
}

ServiceOutputs<double> service(const ServiceInputs<double>& in, BearingKind kind,
                               Arrangement arrangement, Grooves grooves, Lubrication lubrication,
                               Cleanliness cleanliness) {
    return fields::evaluate<ServiceOutputs<double>>(
        service_model(), in, {},
        {static_cast<int>(kind), static_cast<int>(arrangement), static_cast<int>(grooves),
         static_cast<int>(lubrication), static_cast<int>(cleanliness)});
}

} // namespace fitwright::bearings
