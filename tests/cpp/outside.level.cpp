#include "outside.hpp"
#include "../../cpp/src/fields/level_file.hpp"

FITWRIGHT_SERVE_AT_LEVEL(fitwright::outside::Ishigami)
FITWRIGHT_SERVE_AT_LEVEL(fitwright::outside::SobolG)
FITWRIGHT_SERVE_AT_LEVEL(fitwright::outside::Sum)
FITWRIGHT_SERVE_AT_LEVEL(fitwright::outside::SumAboveMinusOne)
FITWRIGHT_SERVE_AT_LEVEL(fitwright::outside::MassInAir)
