#include "detail/dynamic_rating.hpp"
#include "detail/roller_rating.hpp"
#include "fields/level_file.hpp"

FITWRIGHT_SERVE_AT_LEVEL(fitwright::bearings::StaticRating)
FITWRIGHT_SERVE_AT_LEVEL(fitwright::bearings::DynamicRating)
FITWRIGHT_SERVE_AT_LEVEL(fitwright::bearings::RollerRating)
