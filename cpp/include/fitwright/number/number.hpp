// Everything a formula may be written with.
#pragma once

#include <fitwright/number/basic.hpp>
#include <fitwright/number/dual.hpp>
#include <fitwright/number/elliptic.hpp>
#include <fitwright/number/exponential.hpp>
#include <fitwright/number/isa.hpp>
#include <fitwright/number/lanes.hpp>
#include <fitwright/number/philox.hpp>
#include <fitwright/number/power.hpp>
#include <fitwright/number/quantile.hpp>
#include <fitwright/number/scalar.hpp>
#include <fitwright/number/trigonometric.hpp>

#include <fitwright/number/faults.hpp>
#include <fitwright/number/per_lane.hpp>
#include <fitwright/number/root.hpp>
