// The models of this room by the names users know, each with its formula (src/all_models.hpp).
#pragma once

// clang-format off
#define FITWRIGHT_BEARINGS_MODELS(FORMULA, STEPPED) \
    FORMULA(bearings, hertz, Hertz) \
    FORMULA(bearings, line_contact, LineContact) \
    FORMULA(bearings, mounted, Mounted) \
    FORMULA(bearings, static_rating, StaticRating) \
    FORMULA(bearings, dynamic_rating, DynamicRating) \
    FORMULA(bearings, roller_rating, RollerRating) \
    FORMULA(bearings, basic_life, BasicLife) \
    FORMULA(bearings, modified_life, ModifiedLife) \
    FORMULA(bearings, reference_life, ReferenceLife) \
    FORMULA(bearings, creep, Creep) \
    FORMULA(bearings, frequencies, Frequencies) \
    FORMULA(bearings, service, ServiceModel) \
    FORMULA(bearings, housing_fit, HousingFit) \
    FORMULA(bearings, pair, Pair) \
    FORMULA(bearings, thrust_equilibrium, Thrust) \
    STEPPED(bearings, equilibrium)
// clang-format on
