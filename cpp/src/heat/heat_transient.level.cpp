#include "detail/slip_on.hpp"
#include "fields/level_file.hpp"

FITWRIGHT_SERVE_AT_LEVEL(fitwright::heat::SlipOn)
