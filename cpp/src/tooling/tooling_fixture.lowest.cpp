#include "detail/holding_fixture.hpp"
#include "detail/nut_driver.hpp"
#include "fields/level_file.hpp"

FITWRIGHT_SERVE_AT_LEVEL(fitwright::tooling::HoldingFixture)
FITWRIGHT_SERVE_AT_LEVEL(fitwright::tooling::NutDriver)
