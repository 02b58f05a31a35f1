#include "detail/fit.hpp"
#include "fields/level_file.hpp"

FITWRIGHT_SERVE_AT_LEVEL(fitwright::rings::ThickRing)
FITWRIGHT_SERVE_AT_LEVEL(fitwright::rings::Fit)
