// The formulas of this room, for what instantiates all of them on one more number type.
#pragma once

#include "tooling/detail/holding_fixture.hpp"
#include "tooling/detail/nut_driver.hpp"
#include "tooling/detail/press_sleeve.hpp"
#include "tooling/detail/puller.hpp"
#include "tooling/detail/weld.hpp"
#include "tooling/detail/wrench.hpp"
#include "tooling/models.hpp"
