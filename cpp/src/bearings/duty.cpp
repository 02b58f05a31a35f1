// Lives that need lists: the loads of all balls, the states of a duty cycle.
#include "detail/reference_life.hpp"
#include <cmath>

namespace fitwright::bearings {

namespace {

using Problems = std::vector<Problem>;

void hold_list(const char* name, std::span<const double> values, double low, bool low_excluded,
               fields::Quantity quantity, Problems& problems) {
    for (std::size_t i = 0; i < values.size(); ++i) {
        const double x = values[i];
        if (std::isfinite(x) && (low_excluded ? x > low : x >= low))
            continue;
        const std::string rule = std::isfinite(x)
                                     ? show(x, quantity) + " must " +
                                           (low_excluded ? "be above " : "not be below ") +
                                           show(low, quantity)
                                     : std::string("must be a finite number");
        problems.push_back({std::string(name) + "[" + std::to_string(i) + "]", rule});
    }
}
void hold_count(const char* name, std::size_t found, std::size_t wanted, Problems& problems) {
    if (found != wanted)
        problems.push_back({name, "has " + std::to_string(found) + " entries, wanted are " +
                                      std::to_string(wanted)});
}

} // namespace

ReferenceLifeOutputs<double> ring_life(ReferenceLifeInputs<double> in, BearingKind kind,
                                       Arrangement arrangement, Grooves grooves,
                                       TurningRing turning, std::span<const double> inner_loads,
                                       std::span<const double> outer_loads) {
    Problems problems;
    const auto balls = static_cast<std::size_t>(std::lround(std::abs(in.row.balls)));
    hold_count("inner_loads", inner_loads.size(), balls, problems);
    hold_count("outer_loads", outer_loads.size(), balls, problems);
    hold_list("inner_loads", inner_loads, 0.0, false, fields::Quantity::force, problems);
    hold_list("outer_loads", outer_loads, 0.0, false, fields::Quantity::force, problems);
    if (!problems.empty())
        throw DomainError(std::move(problems));
    in.inner_load = in.outer_load = 0.0;
    // The ratings, and every check on the rest.
    ReferenceLifeOutputs<double> out = reference_life(in, kind, arrangement, grooves, turning);
    const auto lives =
        race_lives(inner_loads.data(), outer_loads.data(), static_cast<int>(inner_loads.size()),
                   RaceRatings<double>{out.inner_rating, out.outer_rating}, in.row.rows, turning);
    out.inner_life = lives.inner;
    out.outer_life = lives.outer;
    out.life = lives.both;
    out.running_time = running_time(out.life, in.speed);
    out.reference_load = reference_load(out.dynamic_rating, out.life);
    return out;
}

DutyLife duty_life(std::span<const double> shares, std::span<const double> speeds,
                   std::span<const double> lives) {
    Problems problems;
    if (shares.empty())
        problems.push_back({"shares", "is empty: a duty cycle has at least one state"});
    hold_count("speeds", speeds.size(), shares.size(), problems);
    hold_count("lives", lives.size(), shares.size(), problems);
    hold_list("shares", shares, 0.0, false, fields::Quantity::ratio, problems);
    hold_list("speeds", speeds, 0.0, false, fields::Quantity::speed, problems);
    hold_list("lives", lives, 0.0, true, fields::Quantity::revolutions, problems);
    double time = 0.0;
    for (const double share : shares)
        time += share;
    if (problems.empty() && !(time > 0.0))
        problems.push_back({"shares", "are all 0: some state must take time"});
    if (!problems.empty())
        throw DomainError(std::move(problems));
    DutyCycle<double> cycle;
    for (std::size_t i = 0; i < shares.size(); ++i)
        cycle.add(shares[i], speeds[i], lives[i]);
    DutyLife out{cycle.life(), cycle.time(), {}};
    double used = 0.0;
    for (std::size_t i = 0; i < shares.size(); ++i) {
        out.damage.push_back(shares[i] * speeds[i] / lives[i]);
        used += out.damage.back();
    }
    for (double& d : out.damage)
        d = used > 0.0 ? d / used : 0.0;
    return out;
}

} // namespace fitwright::bearings
