// The formulas of this room, for what instantiates all of them on one more number type.
#pragma once

#include "heat/detail/chill.hpp"
#include "heat/detail/oven.hpp"
#include "heat/detail/seating.hpp"
#include "heat/detail/take_off.hpp"
#include "heat/models.hpp"
