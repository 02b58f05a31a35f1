#include "detail/body.hpp"
#include "detail/loosen.hpp"
#include "detail/slip_on.hpp"
#include "detail/warming.hpp"
#include "fields/level_file.hpp"

FITWRIGHT_SERVE_AT_LEVEL(fitwright::heat::SlipOn)
FITWRIGHT_SERVE_AT_LEVEL(fitwright::heat::Soak)
FITWRIGHT_SERVE_AT_LEVEL(fitwright::heat::Induction)
FITWRIGHT_SERVE_AT_LEVEL(fitwright::heat::Loosen)
FITWRIGHT_SERVE_AT_LEVEL(fitwright::heat::Body)
