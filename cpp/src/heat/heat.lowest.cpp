#include "detail/chill.hpp"
#include "detail/oven.hpp"
#include "detail/seating.hpp"
#include "detail/slip_on.hpp"
#include "detail/take_off.hpp"
#include "fields/level_file.hpp"

FITWRIGHT_SERVE_AT_LEVEL(fitwright::heat::Oven)
FITWRIGHT_SERVE_AT_LEVEL(fitwright::heat::Chill)
FITWRIGHT_SERVE_AT_LEVEL(fitwright::heat::Seating)
FITWRIGHT_SERVE_AT_LEVEL(fitwright::heat::TakeOff)
