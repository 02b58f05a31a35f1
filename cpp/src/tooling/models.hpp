// The models of this room by the names users know, each with its formula (src/all_models.hpp).
#pragma once

// clang-format off
#define FITWRIGHT_TOOLING_MODELS(FORMULA, STEPPED) \
    FORMULA(tooling, column, ColumnModel) \
    FORMULA(tooling, weld, Weld) \
    FORMULA(tooling, press_sleeve, PressSleeve) \
    FORMULA(tooling, puller, Puller) \
    FORMULA(tooling, holding_fixture, HoldingFixture) \
    FORMULA(tooling, nut_driver, NutDriver) \
    FORMULA(tooling, wrench_adapter, WrenchAdapter) \
    FORMULA(tooling, multiplier, Multiplier)
// clang-format on
