#include "detail/history.hpp"
#include "fields/level_file.hpp"

// The quick part of these is in job.level.cpp.
#define FITWRIGHT_QUICK_IS_THERE(T)                                                                \
    extern template void fitwright::job::Quick::run(                                               \
        const T*, T*, const fitwright::fields::Context&, fitwright::number::Faults<T>&);
FITWRIGHT_QUICK_IS_THERE(fitwright::fields::Formulas<fitwright::AtLevel>::L)
FITWRIGHT_QUICK_IS_THERE(fitwright::fields::Formulas<fitwright::AtLevel>::D)

FITWRIGHT_SERVE_AT_LEVEL(fitwright::job::History)
FITWRIGHT_SERVE_AT_LEVEL(fitwright::job::Heating)
