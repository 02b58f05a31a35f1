#include "detail/equilibrium.hpp"
#include "fields/level_file.hpp"

FITWRIGHT_SERVE_AT_LEVEL(fitwright::bearings::Equilibrium)
