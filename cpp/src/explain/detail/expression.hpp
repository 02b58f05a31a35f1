// A formula written out four times: in symbols and with numbers, as text and for LaTeX.
#pragma once

#include "plan.hpp"

namespace fitwright::explain {

struct Expression {
    // How tightly the last operation of each holds: sum 0, product 1, number with a unit 2, power 3, name 4.
    struct Written {
        std::string text;
        int holds = 4;
    };
    Written symbols, numbers, latex, latex_numbers;
};

class Writer {
public:
    explicit Writer(const Plan& plan)
        : plan_(plan) {}
    // Of a line; notes which way its branches went.
    Line line(int node);
    Line input(int node) const;
    std::string condition(int truth); // in words, as it came out

private:
    Expression of(int node);      // as a part of a formula
    Expression formula(int node); // of the operation itself
    Expression reference(int node) const;
    Expression constant(int node) const;
    Expression number(double value, const ShownUnit& unit, int most) const;
    Expression beside(int node, int other); // a constant takes the unit of what it is added to
    int inverse(int node) const;
    Expression found_from(int node);
    Expression side(int node, int other);
    Expression table(int node);
    void note(int truth);
    std::string words(int truth, bool told, int joined);

    const Plan& plan_;
    std::vector<std::string> because_;
    bool noting_ = false;
};

} // namespace fitwright::explain
