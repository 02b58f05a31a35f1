// The formulas of this room, for what instantiates all of them on one more number type.
#pragma once

#include "rings/detail/elastic_plastic.hpp"
#include "rings/detail/fit.hpp"
#include "rings/detail/hot_ring.hpp"
#include "rings/detail/nest.hpp"
#include "rings/detail/overhang.hpp"
#include "rings/detail/seal.hpp"
#include "rings/detail/slip.hpp"
#include "rings/detail/stepped.hpp"
#include "rings/models.hpp"
