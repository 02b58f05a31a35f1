#include <fitwright/explain/lines.hpp>

#include "explain/detail/expression.hpp"
#include <algorithm>
#include <cmath>

namespace fitwright::explain {

std::vector<Line> lines_of(const Recording& recording, const Words& words,
                           const std::vector<int>& outputs) {
    const Plan plan(recording, words, outputs);
    Writer writer(plan);
    std::vector<Line> lines;
    for (const int node : plan.order())
        lines.push_back(plan.is_input(node) ? writer.input(node) : writer.line(node));
    return lines;
}

namespace {

// Where the nearest of the comparisons that a truth is made of stands.
double room_of(const Plan& plan, int truth, int joined) {
    const Node& n = plan.at(truth);
    if (joined == 0 || n.operation == Operation::constant)
        return 1.0;
    const int* a = n.arguments;
    const auto deeper = [&](int which) { return room_of(plan, a[which], joined - 1); };
    if (n.operation == Operation::not_so)
        return deeper(0);
    if (n.operation == Operation::both)
        return std::min(deeper(0), deeper(1));
    if (n.operation == Operation::either)
        return std::max(deeper(0), deeper(1));
    if (plan.is_of(a[0]) == plan.is_of(a[1])) // a standard value is not near itself
        return 1.0;
    const double x = plan.at(a[0]).value;
    const double y = plan.at(a[1]).value;
    const double size = std::max(std::abs(x), std::abs(y));
    return size > 0.0 && size < 1e300 ? std::min(std::abs(x - y) / size, 1.0) : 1.0;
}

} // namespace

std::vector<Held> limits_of(const Recording& recording, const Words& words) {
    const Plan plan(recording, words, {});
    Writer writer(plan);
    std::vector<Held> all;
    for (const Check& check : recording.checks) {
        Held held{check.rule, check.place, check.value, writer.condition(check.truth),
                  room_of(plan, check.truth, most_joined)};
        if (!held.compared.empty())
            all.push_back(std::move(held));
    }
    return all;
}

std::string printed(const std::vector<Line>& lines) {
    std::string text;
    for (const Line& line : lines) {
        const std::string name = symbol(line.name);
        const std::string margin(name.size() > 24 ? 4 : name.size(), ' ');
        const std::string result = with_unit(line.result, line.unit);
        text += name;
        switch (line.kind) {
        case Kind::input:
            text += " = " + result;
            break;
        case Kind::root:
            text += " = " + result + ", which makes " + line.formula + " (below)";
            break;
        case Kind::searched:
            text += " = " + result + ", found in steps; what it does stands in the lines below";
            break;
        case Kind::stepped:
            text += " = " + result + ", found in steps of time or of a search\n" + margin +
                    "   from " + line.formula + "\n" + margin + "   that is " + line.numbers;
            break;
        default:
            if (line.formula != result)
                text += " = " + line.formula + "\n" + margin;
            if (line.numbers != result)
                text += " = " + line.numbers + "\n" + margin;
            text += " = " + result;
        }
        if (!line.meaning.empty())
            text += "    (" + line.meaning + ")";
        text += '\n';
        for (const std::string& because : line.because)
            text += margin + "   because " + because + "\n";
    }
    return text;
}

} // namespace fitwright::explain
