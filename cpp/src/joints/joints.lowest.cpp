#include "detail/bolt_pattern.hpp"
#include "detail/bolted_joint.hpp"
#include "fields/level_file.hpp"

FITWRIGHT_SERVE_AT_LEVEL(fitwright::joints::BoltedJoint)
FITWRIGHT_SERVE_AT_LEVEL(fitwright::joints::BoltPattern)
