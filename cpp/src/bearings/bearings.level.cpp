#include "detail/mounted.hpp"
#include "fields/level_file.hpp"

FITWRIGHT_SERVE_AT_LEVEL(fitwright::bearings::Hertz)
FITWRIGHT_SERVE_AT_LEVEL(fitwright::bearings::Mounted)
