// The errors a user can meet. Each names the field by path, the value with its unit, and the rule.
#pragma once

#include <fitwright/fields/quantity.hpp>
#include <stdexcept>
#include <string>
#include <vector>

namespace fitwright {

// A broken rule as the core throws it: the owner of the places turns it into a DomainError.
struct Fault : std::exception {
    Fault(int broken, int where, double offending)
        : rule(broken)
        , place(where)
        , value(offending) {}
    int rule;
    int place;
    double value;
};

struct Problem {
    std::string path;
    std::string text;
};

class DomainError : public std::runtime_error {
public:
    explicit DomainError(std::vector<Problem> problems);
    const std::vector<Problem>& problems() const { return problems_; }

private:
    std::vector<Problem> problems_;
};

// A value in metric shop units: "79.95 mm".
std::string show(double value, fields::Quantity quantity);
// A user's text as an error shows it: in quotes, and no more than its start (whole characters of UTF-8).
std::string quoted(const std::string& text);
// "79.95 mm must be larger than the seat diameter".
std::string fault_text(const Fault& fault);

} // namespace fitwright
