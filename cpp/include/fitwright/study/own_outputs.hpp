// Outputs of one's own: expressions over the inputs and outputs of a system, held against limits, studied and
// derived like those it has by itself.
#pragma once

#include <fitwright/study/system.hpp>

namespace fitwright::study {

enum class Operation : int {
    output, // of the system, by number
    input,
    number,
    add,
    subtract,
    multiply,
    divide,
    negate,
    absolute,
    root,
    least,
    greatest
};
// An expression is its steps in the order they are done (Polish, turned round): each takes what it needs
// from the last values and leaves one.
struct Step {
    Operation what;
    int place = 0;      // of an input or output
    double value = 0.0; // of a number
};
inline constexpr int expression_depth = 32; // values that wait at a time
inline constexpr int own_output_limit = 200;

struct OwnOutput {
    std::string state, name, meaning;
    fields::Quantity quantity;
    double scale; // of a reserve where the limit is 0
    std::vector<Step> steps;
    double at_least, at_most; // none: no such side
};

// The system with more outputs, which come first and have no bounds over a box. They can use outputs of the
// quick level only. Throws DomainError where an expression does not come out, or names what is not there.
System with_own_outputs(const System&, const std::vector<OwnOutput>&);

} // namespace fitwright::study
