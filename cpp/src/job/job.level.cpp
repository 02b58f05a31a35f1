#include "detail/history.hpp"
#include "fields/level_file.hpp"

FITWRIGHT_SERVE_AT_LEVEL(fitwright::job::Quick)
FITWRIGHT_SERVE_AT_LEVEL(fitwright::job::History)
FITWRIGHT_SERVE_AT_LEVEL(fitwright::job::Heating)
