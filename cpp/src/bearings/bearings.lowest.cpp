#include "detail/mounted.hpp"
#include "detail/shear.hpp"
#include "fields/level_file.hpp"

FITWRIGHT_SERVE_AT_LEVEL(fitwright::bearings::Hertz)
FITWRIGHT_SERVE_AT_LEVEL(fitwright::bearings::Mounted)
FITWRIGHT_SERVE_AT_LEVEL(fitwright::bearings::LineContact)
