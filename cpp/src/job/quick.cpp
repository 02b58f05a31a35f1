#include "detail/quick.hpp"

namespace fitwright::job {
template void Quick::run(const double*, double*, const fields::Context&, Faults<double>&);
}
