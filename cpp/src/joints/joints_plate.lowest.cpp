#include "detail/outer_ring.hpp"
#include "detail/plate.hpp"
#include "detail/ring_plate.hpp"
#include "fields/level_file.hpp"

FITWRIGHT_SERVE_AT_LEVEL(fitwright::joints::BentPlate)
FITWRIGHT_SERVE_AT_LEVEL(fitwright::joints::RingPlate)
FITWRIGHT_SERVE_AT_LEVEL(fitwright::joints::OuterRing)
