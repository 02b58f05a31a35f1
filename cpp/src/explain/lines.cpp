#include <fitwright/explain/lines.hpp>

#include "explain/detail/expression.hpp"

namespace fitwright::explain {

std::vector<Line> lines_of(const Recording& recording, const Words& words, int output) {
    const Plan plan(recording, words, output);
    Writer writer(plan);
    std::vector<Line> lines;
    for (const int node : plan.order())
        lines.push_back(plan.is_input(node) ? writer.input(node) : writer.line(node));
    return lines;
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
