// The lines of a calculation: conditions in words, and what stands where in a line.
#include "explain/detail/expression.hpp"
#include <algorithm>

namespace fitwright::explain {

// Of a comparison: what has no line of its own is told by its name, or by its value alone.
Expression Writer::side(int node, int other) {
    const int x = plan_.stands_for(node);
    const auto simple = [&](int part) { return part < 0 || plan_.is_atom(plan_.stands_for(part)); };
    const Node& n = plan_.at(x);
    if (plan_.is_atom(x) || (n.name == nullptr && simple(n.arguments[0]) &&
                             simple(n.arguments[1]) && simple(n.arguments[2])))
        return beside(node, other);
    Expression e = number(n.value, plan_.unit(x), 7);
    if (const int output = plan_.output_of(x); output >= 0)
        e.symbols.text = symbol(plan_.words().outputs[static_cast<std::size_t>(output)].path);
    else if (n.name != nullptr)
        e.symbols.text = symbol(n.name);
    return e;
}

// A comparison in words: "ring.bore > 0 mm (80 mm)".
std::string Writer::words(int truth, bool told, int joined) {
    const Node& n = plan_.at(truth);
    const int* a = n.arguments;
    const auto holds = [&](int which) { return plan_.at(a[which]).value != 0.0; };
    const char* compares = nullptr;
    if (joined == 0)
        return {};
    switch (n.operation) {
    case Operation::not_so:
        return words(a[0], !told, joined - 1);
    case Operation::both:
        if (told)
            return words(a[0], true, joined - 1) + " and " + words(a[1], true, joined - 1);
        return holds(0) ? words(a[1], false, joined - 1) : words(a[0], false, joined - 1);
    case Operation::either:
        if (!told)
            return words(a[0], false, joined - 1) + " and " + words(a[1], false, joined - 1);
        return holds(0) ? words(a[0], true, joined - 1) : words(a[1], true, joined - 1);
    case Operation::less:
        compares = told ? " < " : " >= ";
        break;
    case Operation::less_equal:
        compares = told ? " <= " : " > ";
        break;
    case Operation::greater_than:
        compares = told ? " > " : " <= ";
        break;
    case Operation::greater_equal:
        compares = told ? " >= " : " < ";
        break;
    case Operation::equal:
        compares = told ? " is equal to " : " differs from ";
        break;
    default:
        return {};
    }
    const int x = plan_.stands_for(a[0]);
    const int y = plan_.stands_for(a[1]);
    if (plan_.is_constant(x) && plan_.is_constant(y))
        return {};
    if (plan_.is_constant(y) && plan_.at(y).value == 1e300 && n.operation == Operation::less)
        return symbol(plan_.is_input(x) ? plan_.name(x) : "it") +
               (told ? " is told" : " is left out");
    const Expression left = side(a[0], a[1]);
    const Expression right = side(a[1], a[0]);
    std::string text = left.symbols.text + compares + right.symbols.text;
    const bool zero = plan_.is_constant(y);
    text += zero ? " (" + left.numbers.text + ")"
                 : " (" + left.numbers.text + compares + right.numbers.text + ")";
    return text;
}

std::string Writer::condition(int truth) {
    noting_ = true;
    std::string text = words(truth, plan_.at(truth).value != 0.0, most_joined);
    noting_ = false;
    return text;
}

void Writer::note(int truth) {
    if (noting_) // what a condition compares went its own way
        return;
    std::string text = condition(truth);
    while (text.starts_with(" and "))
        text.erase(0, 5);
    while (text.ends_with(" and "))
        text.erase(text.size() - 5);
    if (!text.empty() && text.size() < 200 &&
        std::find(because_.begin(), because_.end(), text) == because_.end())
        because_.push_back(std::move(text));
}

Line Writer::input(int node) const {
    const auto leaf = static_cast<std::size_t>(plan_.at(node).number);
    const InputName& told = plan_.words().inputs[leaf];
    const ShownUnit unit = plan_.unit(node);
    const double value = plan_.at(node).value;
    const std::string result = number_text(value * unit.factor, 12);
    return {Kind::input,
            told.path,
            told.meaning,
            {},
            {},
            {},
            {},
            value,
            result,
            unit.label,
            latex_number(result, unit.label),
            {},
            static_cast<int>(leaf),
            plan_.words().where(plan_.at(node))};
}

Line Writer::line(int node) {
    because_.clear();
    const Node& n = plan_.at(node);
    Line line;
    line.name = plan_.name(node);
    line.value = n.value;
    const ShownUnit unit = plan_.unit(node);
    line.result = number_text(n.value * unit.factor);
    line.unit = unit.label;
    line.latex_result = latex_number(line.result, unit.label);
    const int output = plan_.output_of(node);
    line.leaf = output;
    line.where = plan_.words().where(n);
    if (output >= 0)
        line.meaning = plan_.words().outputs[static_cast<std::size_t>(output)].meaning;
    if (const std::string whole = plan_.part_of(node); !whole.empty())
        line.meaning = "for " + whole;
    line.kind = plan_.is_equation(node) ? Kind::equation : Kind::formula;

    std::vector<int> conditions;
    const int shows = plan_.shown(node, &conditions);
    for (const int c : conditions)
        note(c);
    Expression e;
    if (plan_.is_constant(shows)) {
        e = number(n.value, unit, 7);
    } else if (shows != node) {
        e = of(shows);
    } else {
        e = formula(node);
    }
    const Node& done = plan_.at(node);
    switch (shows == node ? done.operation : Operation::same) {
    case Operation::property: {
        line.kind = Kind::property;
        if (const Metal* metal = plan_.reading(node).metal)
            line.meaning = metal->name;
        break;
    }
    case Operation::root:
        line.kind = Kind::root;
        e = reference(n.arguments[0]);
        e.latex = {latex_words(plan_.name(n.arguments[0])) + " = 0", 0};
        e.symbols = {symbol(plan_.name(n.arguments[0])) + " = 0", 0};
        break;
    case Operation::searched:
        line.kind = Kind::searched;
        break;
    case Operation::stepped:
        line.kind = Kind::stepped;
        e = found_from(node);
        break;
    default:
        break;
    }
    line.formula = e.symbols.text;
    line.numbers = e.numbers.text;
    line.latex = e.latex.text;
    line.latex_numbers = e.latex_numbers.text;
    line.because = because_;
    return line;
}

} // namespace fitwright::explain
