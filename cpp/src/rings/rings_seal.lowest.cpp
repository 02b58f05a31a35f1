#include "detail/seal.hpp"
#include "fields/level_file.hpp"

FITWRIGHT_SERVE_AT_LEVEL(fitwright::rings::Seal)
FITWRIGHT_SERVE_AT_LEVEL(fitwright::rings::FaceGap)
