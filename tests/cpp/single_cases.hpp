// One model asked as a job is.
#pragma once

#include "cases.hpp"

#include <fitwright/study/system.hpp>
#include <limits>

namespace single_cases {

inline constexpr double none = std::numeric_limits<double>::quiet_NaN();
inline std::size_t at(int number) { return static_cast<std::size_t>(number); }

// A cold smooth fit: interference left = seat - bore, exactly linear.
inline fitwright::study::System fit() {
    using namespace fitwright;
    study::System system(study::SingleModel{&fields::model_named("rings.fit"),
                                            {materials::find("4340"), materials::find("52100")},
                                            {}});
    system.set(system.leaf("shaft.seat"), 0.080040);
    system.set(system.leaf("ring.bore"), 0.080000);
    system.set(system.leaf("ring.outside"), 0.105);
    system.set(system.leaf("ring.length"), 0.030);
    return system;
}

} // namespace single_cases
