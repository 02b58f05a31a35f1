#include "detail/locking.hpp"
#include "detail/stripping.hpp"
#include "fields/level_file.hpp"

FITWRIGHT_SERVE_AT_LEVEL(fitwright::threads::TurnOfNut)
FITWRIGHT_SERVE_AT_LEVEL(fitwright::threads::Stretch)
FITWRIGHT_SERVE_AT_LEVEL(fitwright::threads::Scatter)
FITWRIGHT_SERVE_AT_LEVEL(fitwright::threads::Stripping)
FITWRIGHT_SERVE_AT_LEVEL(fitwright::threads::NutGrowth)
FITWRIGHT_SERVE_AT_LEVEL(fitwright::threads::LockTabs)
FITWRIGHT_SERVE_AT_LEVEL(fitwright::threads::Handed)
