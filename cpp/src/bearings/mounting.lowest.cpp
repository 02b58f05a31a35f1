#include "detail/mounting.hpp"
#include "fields/level_file.hpp"

FITWRIGHT_SERVE_AT_LEVEL(fitwright::bearings::HousingFit)
FITWRIGHT_SERVE_AT_LEVEL(fitwright::bearings::Pair)
