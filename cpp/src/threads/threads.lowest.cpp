#include "detail/friction.hpp"
#include "detail/tightening.hpp"
#include "fields/level_file.hpp"

FITWRIGHT_SERVE_AT_LEVEL(fitwright::threads::Tighten)
FITWRIGHT_SERVE_AT_LEVEL(fitwright::threads::Torque)
FITWRIGHT_SERVE_AT_LEVEL(fitwright::threads::Friction)
FITWRIGHT_SERVE_AT_LEVEL(fitwright::threads::Breakaway)
