// The formulas of this room, for what instantiates all of them on one more number type.
#pragma once

#include "stack/detail/squareness.hpp"
#include "stack/models.hpp"
