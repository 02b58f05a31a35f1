#include "detail/creep.hpp"
#include "detail/frequencies.hpp"
#include "fields/level_file.hpp"

FITWRIGHT_SERVE_AT_LEVEL(fitwright::bearings::Creep)
FITWRIGHT_SERVE_AT_LEVEL(fitwright::bearings::Frequencies)
