// The formulas of this room, for what instantiates all of them on one more number type.
#pragma once

#include "joints/detail/bolt_pattern.hpp"
#include "joints/detail/bolted_joint.hpp"
#include "joints/detail/outer_ring.hpp"
#include "joints/detail/plate.hpp"
#include "joints/detail/ring_plate.hpp"
#include "joints/models.hpp"
