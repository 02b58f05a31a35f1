#include "explain/detail/formulas.hpp"
// before the formulas
#include "heat/detail/chill.hpp"
#include "heat/detail/oven.hpp"
#include "heat/detail/seating.hpp"
#include "heat/detail/take_off.hpp"
#include "threads/detail/friction.hpp"
#include "threads/detail/locking.hpp"
#include "threads/detail/nut_body.hpp"
#include "threads/detail/preload.hpp"
#include "threads/detail/stripping.hpp"
#include "threads/detail/tightening.hpp"

namespace fitwright::explain {

std::span<const NamedFormula> heat_and_thread_formulas() {
    static constexpr NamedFormula all[] = {
        {"heat.oven", &heat::Oven::run<Number>},
        {"heat.chill", &heat::Chill::run<Number>},
        {"heat.seating", &heat::Seating::run<Number>},
        {"heat.take_off", &heat::TakeOff::run<Number>},
        {"threads.tighten", &threads::Tighten::run<Number>},
        {"threads.torque", &threads::Torque::run<Number>},
        {"threads.friction", &threads::Friction::run<Number>},
        {"threads.breakaway", &threads::Breakaway::run<Number>},
        {"threads.turn_of_nut", &threads::TurnOfNut::run<Number>},
        {"threads.stretch", &threads::Stretch::run<Number>},
        {"threads.scatter", &threads::Scatter::run<Number>},
        {"threads.stripping", &threads::Stripping::run<Number>},
        {"threads.nut_growth", &threads::NutGrowth::run<Number>},
        {"threads.lock_tabs", &threads::LockTabs::run<Number>},
        {"threads.hand", &threads::Handed::run<Number>},
    };
    return all;
}

} // namespace fitwright::explain
