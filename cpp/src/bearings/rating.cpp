// The rating models: told to users, and instantiated for double.
#include "all_models.hpp"
#include "detail/dynamic_rating.hpp"
#include "detail/roller_rating.hpp"
#include "fields/at_level.hpp"

namespace fitwright::bearings {

const fields::Model& static_rating_model() {
    static constexpr const char* places[] = {"", "row"};
    static const fields::Model model{
        {"bearings", "static_rating",
         "Static load rating and safety of a ball bearing by its internal geometry.",
         "C0 = f0 i Z D^2 cos a radial, f0 Z D^2 sin a thrust, f0 from 4200 MPa at the weaker "
         "raceway; P0 = X0 Fr + Y0 Fa, at least Fr; s0 = C0/P0",
         "Steel, grooves close to the standard's, the load at rest or turning slowly. The maker's "
         "catalogue comes first. A static safety of 1 allows a dent of a ten-thousandth of the "
         "ball; quiet running wants 2, a shock load 1.5 or more.",
         "ISO 76 (formulas and factors from memory)",
         "fw.bearings.static_rating(row=fw.BallRow(balls=9, ball_diameter=\"12.7 mm\", "
         "pitch_diameter=\"65 mm\"), radial_load=\"5 kN\").static_safety"},
        &fields::Declared<StaticRatingInputs>::declaration,
        &fields::Declared<StaticRatingOutputs>::declaration,
        fields::all_formulas<StaticRating>(&StaticRating::run<double>),
        places};
    return model;
}

const fields::Model& dynamic_rating_model() {
    static constexpr const char* places[] = {"", "row"};
    static const fields::Model model{
        {"bearings", "dynamic_rating",
         "Dynamic load rating and basic life of a ball bearing by its internal geometry.",
         "C = bm fc (i cos a)^0.7 Z^(2/3) D^1.8 radial, bm fc cos^0.7 a tan a Z^(2/3) D^1.8 "
         "thrust (3.647 D^1.4 above 25.4 mm); P = X Fr + Y Fa; L10 = (C/P)^3 million revolutions",
         "Good steel, well lubricated, P up to half of C, rings held round, no speed effects. A "
         "life is a statistic: nine of ten reach it, this bearing may not. The maker's catalogue "
         "comes first. A single angular contact bearing needs thrust to carry a radial load.",
         "ISO 281; ISO/TR 1281-1 for fc (from memory)",
         "fw.bearings.dynamic_rating(row=fw.BallRow(balls=9, ball_diameter=\"12.7 mm\", "
         "pitch_diameter=\"65 mm\"), radial_load=\"5 kN\", speed=\"3000 rpm\").running_time"},
        &fields::Declared<DynamicRatingInputs>::declaration,
        &fields::Declared<DynamicRatingOutputs>::declaration,
        fields::all_formulas<DynamicRating>(&DynamicRating::run<double>),
        places};
    return model;
}

const fields::Model& roller_rating_model() {
    static constexpr const char* places[] = {"", "row"};
    static const fields::Model model{
        {"bearings", "roller_rating",
         "Load ratings and basic life of a cylindrical or tapered roller bearing.",
         "C0 = 44 (1 - g) i Z L D cos a radial, 220 (1 - g) Z L D sin a thrust; "
         "C = bm fc (i L cos a)^(7/9) Z^(3/4) D^(29/27) radial, tan a for the row count thrust; "
         "L10 = (C/P)^(10/3) million revolutions",
         "Rollers with a profile that keeps their ends unloaded, no tilting, P up to half of C. A "
         "life is a statistic; the maker's catalogue comes first. The fatigue limit is an "
         "estimate.",
         "ISO 76, ISO 281; ISO/TR 1281-1 for fc (from memory)",
         "fw.bearings.roller_rating(row=fw.RollerRow(rollers=14, roller_diameter=\"12 mm\", "
         "effective_length=\"11 mm\", pitch_diameter=\"65 mm\"), radial_load=\"10 kN\").life"},
        &fields::Declared<RollerRatingInputs>::declaration,
        &fields::Declared<RollerRatingOutputs>::declaration,
        fields::all_formulas<RollerRating>(&RollerRating::run<double>),
        places};
    return model;
}

StaticRatingOutputs<double> static_rating(const StaticRatingInputs<double>& in, BearingKind kind,
                                          Arrangement arrangement, Grooves grooves) {
    return fields::evaluate<StaticRatingOutputs<double>>(
        static_rating_model(), in, {},
        {static_cast<int>(kind), static_cast<int>(arrangement), static_cast<int>(grooves)});
}
DynamicRatingOutputs<double> dynamic_rating(const DynamicRatingInputs<double>& in, BearingKind kind,
                                            Arrangement arrangement, Grooves grooves) {
    return fields::evaluate<DynamicRatingOutputs<double>>(
        dynamic_rating_model(), in, {},
        {static_cast<int>(kind), static_cast<int>(arrangement), static_cast<int>(grooves)});
}
RollerRatingOutputs<double> roller_rating(const RollerRatingInputs<double>& in, BearingKind kind,
                                          Arrangement arrangement) {
    return fields::evaluate<RollerRatingOutputs<double>>(
        roller_rating_model(), in, {}, {static_cast<int>(kind), static_cast<int>(arrangement)});
}

} // namespace fitwright::bearings
