// A job over a whole box of inputs: bounds of outputs and of their derivatives, with proof.
#pragma once

#include <fitwright/job/job.hpp>
#include <fitwright/number/interval.hpp>

namespace fitwright::job {

// Inputs that move together as one number between two ends.
struct BoxSide {
    std::vector<int> leaves;
    double low, high;
};

struct Enclosed {
    number::Interval value;
    std::vector<number::Interval> slopes; // by each side; hull of both sides of a kink
    // A formula says that some derivative may not exist in the box.
    bool kinked = false;
    // Outputs of the balls at speed and of the bearing in service have no bounds.
    bool bounded() const { return value.size() < number::unbounded; }
    // The quantity between that the output hangs on most, and its range; -1: none.
    int hub = -1;
    number::Interval hub_range{};
    number::Interval hub_slope{}; // where the hub is held
};

// Holds every value of the exact formula at the inputs of the box, and the rounded one to some ulp.
// Sides without width move nothing and cost nothing. `values` are those of the other inputs.
class Encloser {
public:
    explicit Encloser(const Job& job)
        : job_(job) {}
    std::vector<Enclosed> all(const std::vector<double>& values,
                              const std::vector<BoxSide>& box) const;
    // One output alone: of the states only its own and the first. `finely`: the quantities it hangs
    // on most (a force, a pressure) are taken piece by piece, which costs some twenty times as much.
    Enclosed one(const std::vector<double>& values, const std::vector<BoxSide>& box, int output,
                 bool finely) const;
    // For those inputs of the box alone that bring a hub into a part of its range. Slopes are those
    // with the hub held, and by the hub.
    Enclosed within(const std::vector<double>& values, const std::vector<BoxSide>& box, int output,
                    int hub, const number::Interval& part) const;

private:
    const Job& job_;
};

} // namespace fitwright::job
