// The formulas of this room, for what instantiates all of them on one more number type.
#pragma once

#include "threads/detail/friction.hpp"
#include "threads/detail/locking.hpp"
#include "threads/detail/nut_body.hpp"
#include "threads/detail/preload.hpp"
#include "threads/detail/stripping.hpp"
#include "threads/detail/tightening.hpp"
#include "threads/models.hpp"
