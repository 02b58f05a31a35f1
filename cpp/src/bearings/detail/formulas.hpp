// The formulas of this room, for what instantiates all of them on one more number type.
#pragma once

#include "bearings/detail/mounted.hpp"
#include "bearings/detail/mounting.hpp"
#include "bearings/detail/service.hpp"
#include "bearings/detail/shear.hpp"
#include "bearings/detail/thrust.hpp"
#include "bearings/models.hpp"
