#include "detail/column.hpp"
#include "detail/press_sleeve.hpp"
#include "detail/puller.hpp"
#include "detail/weld.hpp"
#include "detail/wrench.hpp"
#include "fields/level_file.hpp"

FITWRIGHT_SERVE_AT_LEVEL(fitwright::tooling::ColumnModel)
FITWRIGHT_SERVE_AT_LEVEL(fitwright::tooling::Weld)
FITWRIGHT_SERVE_AT_LEVEL(fitwright::tooling::PressSleeve)
FITWRIGHT_SERVE_AT_LEVEL(fitwright::tooling::Puller)
FITWRIGHT_SERVE_AT_LEVEL(fitwright::tooling::WrenchAdapter)
FITWRIGHT_SERVE_AT_LEVEL(fitwright::tooling::Multiplier)
