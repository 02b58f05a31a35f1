// The quick level on double, compiled once (quick.cpp) for those who call it.
#pragma once

#include "detail/history.hpp"

namespace fitwright::job {
extern template void Quick::run(const double*, double*, const fields::Context&, Faults<double>&);
}
