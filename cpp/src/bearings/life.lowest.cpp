#include "detail/modified_life.hpp"
#include "detail/reference_life.hpp"
#include "fields/level_file.hpp"

FITWRIGHT_SERVE_AT_LEVEL(fitwright::bearings::BasicLife)
FITWRIGHT_SERVE_AT_LEVEL(fitwright::bearings::ModifiedLife)
FITWRIGHT_SERVE_AT_LEVEL(fitwright::bearings::ReferenceLife)
