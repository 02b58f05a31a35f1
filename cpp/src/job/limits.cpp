#include <fitwright/job/limits.hpp>

namespace fitwright::job {

std::span<const CountLimit> count_limits() {
    static constexpr CountLimit limits[] = {
        {"rings", ring_limit, "rings and slices of rings on one shaft"},
        {"slices", slice_limit, "slices in a ring"},
        {"seals", seal_limit, "seals in a job"},
        {"seats", seat_limit, "seats in a job"},
        {"states", state_limit, "states in a job"},
        {"steps", step_limit, "steps"},
        {"name", name_limit, "letters in a name"},
        {"repeats", repeat_limit, "steps done again"},
        // of a job file
        {"limits", 1000, "limits in a job file"},
        {"materials", 100, "materials of one's own in a job file"},
        {"correlations", 2016, "correlations in a job file"}, // of 64 inputs, each with each
        {"readings", 10'000, "readings of one input"},
        {"characters", 500'000, "characters in a job file"},
        {"line", 1000, "characters in a line of a job file"},
        {"depth", 8, "tables within tables in a job file"},
    };
    return limits;
}

} // namespace fitwright::job
