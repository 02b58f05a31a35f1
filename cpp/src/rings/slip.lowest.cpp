#include "detail/slip.hpp"
#include "detail/overhang.hpp"
#include "fields/level_file.hpp"

FITWRIGHT_SERVE_AT_LEVEL(fitwright::rings::Overhang)
FITWRIGHT_SERVE_AT_LEVEL(fitwright::rings::Slip)
